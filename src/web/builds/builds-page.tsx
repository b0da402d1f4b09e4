import { Link } from 'wouter';
import { buildsOf, type ClassState, labelOf } from '../../course/class-state.ts';
import { ringOf } from '../../course/ring.ts';
import { opening } from '../../course/tonight.ts';
import { MINUTE_MS } from '../../quantity/time.ts';
import { segmentsOf } from '../class/build-ring.tsx';
import { courseNameBesideMark, numberOfBuild, operationName } from '../class/class-names.ts';
import { when } from '../class/clock-words.ts';
import { DemoMark } from '../class/demo-mark.tsx';
import { NoCourse } from '../class/no-course.tsx';
import { type CourseNow, useCourse } from '../class/use-course.ts';
import { Ring } from '../parts/ring.tsx';
import './builds.css';
import { newerOf } from './revisions.ts';

/** All builds of the course, in the order of their numbers. */
export function BuildsPage() {
  const course = useCourse();
  if (course.record.state === 'loading') return <main id="main" className="builds" data-state="loading" />;
  if (!course.state) return <NoCourse course={course} />;
  return <Builds course={course} state={course.state} />;
}

function Builds({ course, state }: { readonly course: CourseNow; readonly state: ClassState }) {
  const { nowMs } = course;
  const isTeacher = course.record.me.role === 'teacher';
  const assigned = opening(state, nowMs).assigned;
  const builds = buildsOf(state);
  const classMin = minutesToCome(state, nowMs);
  return (
    <main id="main" className="builds" data-state="ready">
      <h1>
        Builds of {courseNameBesideMark(state)} <DemoMark isDemo={course.isDemo} />
      </h1>
      {isTeacher && <NewerRevisions course={course} state={state} />}
      {builds.length === 0 && (
        <p className="says">No builds yet. Choose a pattern, then add the first learner.</p>
      )}
      {course.record.me.role !== 'learner' && builds.length > 1 && (
        <p>
          <Link className="btn" href="/builds/compare">
            Compare two builds
          </Link>
        </p>
      )}
      <ol className="build-list">
        {builds.map(({ id, person, facts }) => {
          const ring = ringOf(state, id, facts, nowMs);
          const next = assigned.find((a) => a.build === id);
          const mayOpen = isTeacher || course.record.me.role === 'helper' || course.record.me.build === id;
          const number = numberOfBuild(state, id);
          const name = labelOf(state, person);
          const row = (
            <>
              <Ring
                size="small"
                segments={segmentsOf(state, id, nowMs)}
                name={name}
                {...(number === undefined ? {} : { number })}
              />
              <strong className="nm">
                {number} {name}
              </strong>
              <span className="next">{nextWords(state, next, nowMs)}</span>
              <span className="n share">{Math.round(ring.doneFrac * 100)} % done</span>
              {isTeacher && (
                <span className="q pace">
                  about {hours(ring.likelyMinLeft)} h of work left, {hours(classMin)} h of class to come
                  {ring.likelyMinLeft > classMin ? ': more than there is time for' : ''}
                </span>
              )}
            </>
          );
          return (
            <li key={id}>
              {mayOpen ? (
                <Link className="build-row" href={`/builds/${id}`}>
                  {row}
                </Link>
              ) : (
                <div className="build-row">{row}</div>
              )}
            </li>
          );
        })}
      </ol>
      {!isTeacher && <p className="q">Touch your own build for everything that is known of it.</p>}
    </main>
  );
}

const hours = (minutes: number): string =>
  minutes < 600 ? (minutes / 60).toFixed(1) : String(Math.round(minutes / 60));

/** Minutes of sessions that are still to come, the present one from now on. */
function minutesToCome(state: ClassState, nowMs: number): number {
  return [...state.course.sessions.values()]
    .filter((s) => s.cancelled === undefined)
    .reduce((sum, s) => sum + Math.max(0, s.endMs - Math.max(nowMs, s.startMs)) / MINUTE_MS, 0);
}

function nextWords(
  state: ClassState,
  next: ReturnType<typeof opening>['assigned'][number] | undefined,
  nowMs: number,
): string {
  if (next?.first)
    return `${operationName(state, next.first.op)}${next.first.signFirst ? ', to sign first' : ''}`;
  const waits = next?.next.withheld[0];
  if (!waits) return 'Nothing next';
  const until = waits.untilMs === undefined ? 'waits' : `rests to ${when(waits.untilMs, nowMs)}`;
  return `${operationName(state, waits.op)}, ${until}`;
}

/** Says that a pattern has gone on since builds began to follow it. */
function NewerRevisions({ course, state }: { readonly course: CourseNow; readonly state: ClassState }) {
  const followed = [...new Set(buildsOf(state).flatMap((b) => b.facts.pattern ?? []))];
  const newer = followed.flatMap((from) => {
    const to = newerOf(course.record, state, from);
    return to ? [{ from, to }] : [];
  });
  if (newer.length === 0) return null;
  return (
    <ul className="newer">
      {newer.map(({ from, to }) => (
        <li key={from}>
          A pattern has a newer revision: {to.name ?? 'unnamed'}, followed in its older form by{' '}
          {buildsOf(state).filter((b) => b.facts.pattern === from).length} builds.{' '}
          <Link
            className="btn"
            href={`/builds/change/${encodeURIComponent(from)}/${encodeURIComponent(to.revision)}`}
          >
            Look what it touches
          </Link>
        </li>
      ))}
    </ul>
  );
}
