import { useState } from 'react';
import { Link } from 'wouter';
import { labelOf } from '../../course/class-state.ts';
import { during, opening, sessionNow } from '../../course/tonight.ts';
import { Switch } from '../parts/switch.tsx';
import { clock, day, evening } from './clock-words.ts';
import { ClosingPanel } from './closing-panel.tsx';
import { DuringPanel } from './during-panel.tsx';
import { EveningRule } from './evening-rule.tsx';
import { NoCourse } from './no-course.tsx';
import { OpeningPanel } from './opening-panel.tsx';
import './session.css';
import { WallRing } from './build-ring.tsx';
import { RingKey } from './ring-key.tsx';
import { type CourseNow, useCourse } from './use-course.ts';

type Part = 'opening' | 'during' | 'closing';

const PARTS = [
  { value: 'opening', words: 'Opening' },
  { value: 'during', words: 'During' },
  { value: 'closing', words: 'Closing' },
] as const satisfies readonly { readonly value: Part; readonly words: string }[];

/** Tonight: who is here, what each does next, what needs a hand. */
export function SessionPage() {
  const course = useCourse();
  if (course.record.state === 'loading') return <main id="main" className="session" data-state="loading" />;
  if (!course.state) return <NoCourse course={course} />;
  return <Session course={course} />;
}

function Session({ course }: { readonly course: CourseNow }) {
  const { nowMs, courseId, isDemo } = course;
  const state = course.state as NonNullable<CourseNow['state']>;
  const session = sessionNow(state, nowMs);
  const isOpen = session?.openedMs !== undefined && session.closedMs === undefined;
  const [picked, pick] = useState<Part | undefined>(undefined);
  const part = picked ?? (isOpen ? 'during' : 'opening');
  const live = during(state, nowMs);
  const start = opening(state, nowMs);
  const isTeacher = course.record.me.role === 'teacher';
  const here = start.people.filter((p) => p.here !== false).length;
  const away = start.people.length - here;
  const number = session
    ? [...state.course.sessions.values()].filter(
        (s) => s.startMs <= session.startMs && s.cancelled === undefined,
      ).length
    : undefined;
  return (
    <main id="main" className="session" data-state="ready" data-part={part}>
      <header className="session-head">
        <div>
          <h1>{session ? `${evening(session.startMs)}, session ${number}` : 'No session planned'}</h1>
          <p className="q">
            {state.course.setUp?.name}
            {session && `, ${day(session.startMs)}, ${clock(session.startMs)} to ${clock(session.endMs)}`}
            {isDemo && <strong className="demo"> Demo</strong>}
          </p>
        </div>
        <p className="counts">
          <strong>{here}</strong> here, <strong>{away}</strong> away
        </p>
        <p className={`room is-${start.room.state}`}>
          {start.room.humidityFrac === undefined
            ? 'Room not read'
            : `${Math.round(start.room.humidityFrac * 100)} % humidity`}
        </p>
        {isTeacher && <Switch label="Part of the evening" options={PARTS} value={part} onChange={pick} />}
      </header>
      {session && <EveningRule session={session} nowMs={nowMs} />}
      <div className="session-body">
        <section className="wall" aria-label="Builds">
          {start.people.map((p) => {
            const assigned = (part === 'during' ? live.assigned : start.assigned).find(
              (a) => a.build === p.build,
            );
            return (
              <Link
                key={p.build}
                href={`/bench/${p.build}`}
                className="wall-cell"
                aria-label={`Bench page of ${labelOf(state, p.person)}`}
              >
                <WallRing
                  state={state}
                  build={p.build}
                  nowMs={nowMs}
                  isAway={p.here === false}
                  {...(assigned ? { assigned } : {})}
                />
              </Link>
            );
          })}
        </section>
        <aside className="side">
          {!isTeacher && <p className="says">The board of your class. Touch your ring for your own page.</p>}
          {isTeacher && part === 'opening' && (
            <OpeningPanel
              state={state}
              courseId={courseId}
              nowMs={nowMs}
              isDemo={isDemo}
              view={start}
              isOpen={isOpen}
              goOn={() => pick('during')}
            />
          )}
          {isTeacher && part === 'during' && (
            <DuringPanel state={state} nowMs={nowMs} isDemo={isDemo} view={live} release={start.release} />
          )}
          {isTeacher && part === 'closing' && (
            <ClosingPanel state={state} courseId={courseId} nowMs={nowMs} isDemo={isDemo} isOpen={isOpen} />
          )}
        </aside>
      </div>
      <RingKey />
    </main>
  );
}
