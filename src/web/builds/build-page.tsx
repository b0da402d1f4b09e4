import { Link } from 'wouter';
import { labelOf } from '../../course/class-state.ts';
import { ringOf } from '../../course/ring.ts';
import { opening } from '../../course/tonight.ts';
import { useBuildComputed } from '../class/build-context.ts';
import { WallRing } from '../class/build-ring.tsx';
import { buildName, personOfBuild } from '../class/class-names.ts';
import { day } from '../class/clock-words.ts';
import { DemoMark } from '../class/demo-mark.tsx';
import { NoCourse } from '../class/no-course.tsx';
import { useCourse } from '../class/use-course.ts';
import { AgainstPattern } from './against-pattern.tsx';
import type { BuildPartProps } from './build-part.ts';
import './builds.css';
import { HandOver } from './hand-over.tsx';
import { History } from './history.tsx';
import { KeptReadings } from './kept-readings.tsx';
import { OwnChoices } from './own-choices.tsx';
import { Photos } from './photos.tsx';
import { RepairsAndNotes } from './repairs-and-notes.tsx';
import { revisionName } from './revisions.ts';
import { TopThickness } from './top-thickness.tsx';

/** Everything known of one build. */
export function BuildPage({ build }: { readonly build: string }) {
  const course = useCourse();
  if (course.record.state === 'loading') return <main id="main" className="builds" data-state="loading" />;
  const { state } = course;
  if (!state) return <NoCourse course={course} />;
  const facts = state.builds.get(build);
  const { role, build: own } = course.record.me;
  const says = !facts?.setUp
    ? 'There is no build under that address in this course; go back to the list and take one there.'
    : role === 'learner' && own !== build
      ? 'This is the build of somebody else; your own is in the list.'
      : undefined;
  if (says !== undefined || !facts)
    return (
      <main id="main" className="builds" data-state="empty">
        <h1>Build</h1>
        <p className="says bad">{says}</p>
        <Link className="btn" href="/builds">
          To the builds
        </Link>
      </main>
    );
  return <OneBuild course={course} state={state} build={build} facts={facts} />;
}

function OneBuild(props: BuildPartProps) {
  const { course, state, build, facts } = props;
  const { nowMs, record } = course;
  const computed = useBuildComputed(state, facts);
  const ring = ringOf(state, build, facts, nowMs);
  const assigned = opening(state, nowMs).assigned.find((a) => a.build === build);
  return (
    <main id="main" className="builds one" data-state="ready">
      <header className="build-head">
        <div className="build-ring">
          <WallRing
            state={state}
            build={build}
            nowMs={nowMs}
            isAway={false}
            isShared={false}
            {...(assigned ? { assigned } : {})}
          />
        </div>
        <div>
          <h1>
            {buildName(state, build)} <DemoMark isDemo={course.isDemo} />
          </h1>
          <p>
            {revisionName(record, state, facts.pattern ?? '')}, {facts.setUp?.handed}-handed.{' '}
            {Math.round(ring.doneFrac * 100)} % done, about {Math.round(ring.likelyMinLeft / 60)} h of work
            left.
            {facts.handedOverMs !== undefined && ` Handed over on ${day(facts.handedOverMs)}.`}
          </p>
          <div className="acts">
            <Link className="btn" href={`/bench/${build}`}>
              To the bench page
            </Link>
            {(record.me.role === 'teacher' || record.me.build === build) && (
              <>
                <a
                  className="btn"
                  href={`/api/builds/${build}/passport.pdf`}
                  target="_blank"
                  rel="noreferrer"
                >
                  Print passport and certificate
                </a>
                <a className="btn" href={`/api/builds/${build}/record.json`} download>
                  Take the full file
                </a>
              </>
            )}
            {record.me.role !== 'learner' && (
              <Link className="btn" href={`/builds/compare?a=${build}`}>
                Compare with another
              </Link>
            )}
            {record.me.role === 'teacher' && facts.handedOverMs === undefined && (
              <HandOver build={build} name={buildName(state, build)} />
            )}
          </div>
        </div>
      </header>
      <OwnChoices {...props} computed={computed} />
      <AgainstPattern computed={computed} />
      <TopThickness state={state} facts={facts} computed={computed} />
      <KeptReadings state={state} facts={facts} nowMs={nowMs} />
      <Photos {...props} maker={labelOf(state, personOfBuild(state, build))} />
      <RepairsAndNotes {...props} />
      <History {...props} />
    </main>
  );
}
