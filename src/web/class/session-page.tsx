import { useMemo, useState } from 'react';
import type { ClassState } from '../../course/class-state.ts';
import { during, opening } from '../../course/tonight.ts';
import { Switch } from '../parts/switch.tsx';
import { ClosingPanel } from './closing-panel.tsx';
import { CourseDoors } from './course-doors.tsx';
import { DuringPanel } from './during-panel.tsx';
import { EveningRule } from './evening-rule.tsx';
import { NoCourse } from './no-course.tsx';
import { OpeningPanel } from './opening-panel.tsx';
import { RingKey } from './ring-key.tsx';
import { RingsWall } from './rings-wall.tsx';
import './session.css';
import { type Part, SessionHead } from './session-head.tsx';
import { useSharedScreen } from './shared-screen.ts';
import { StepsWall } from './steps-wall.tsx';
import { type CourseNow, useCourse } from './use-course.ts';

const WALLS = [
  { value: 'rings', words: 'Rings' },
  { value: 'steps', words: 'Steps' },
] as const;

/** Tonight: who is here, what each does next, what needs a hand. */
export function SessionPage() {
  const course = useCourse();
  if (course.record.state === 'loading') return <main id="main" className="session" data-state="loading" />;
  if (!course.state) return <NoCourse course={course} />;
  return <Session course={course} state={course.state} />;
}

function Session({ course, state }: { readonly course: CourseNow; readonly state: ClassState }) {
  const { nowMs, courseId, isDemo } = course;
  const start = useMemo(() => opening(state, nowMs), [state, nowMs]);
  const { session } = start;
  const isOpen = session?.openedMs !== undefined && session.closedMs === undefined;
  const [picked, pick] = useState<Part | undefined>(undefined);
  const [wall, showWall] = useState<'rings' | 'steps'>('rings');
  const [isTurned, share] = useSharedScreen();
  const part = picked ?? (isOpen ? 'during' : 'opening');
  const live = useMemo(() => (part === 'during' ? during(state, nowMs) : undefined), [part, state, nowMs]);
  const isTeacher = course.record.me.role === 'teacher';
  const isShared = isTurned || !isTeacher;
  return (
    <main
      id="main"
      className={isShared ? 'session shared' : 'session'}
      data-state="ready"
      data-part={part}
      data-screen={isShared ? 'shared' : 'teacher'}
    >
      <SessionHead
        course={course}
        session={session}
        view={start}
        part={part}
        pick={pick}
        isShared={isShared}
        share={share}
      />
      {session && <EveningRule session={session} nowMs={nowMs} />}
      <div className="session-body" data-wall={wall}>
        <div className="wall-side">
          {!isShared && <Switch label="The class as" options={WALLS} value={wall} onChange={showWall} />}
          {wall === 'steps' && !isShared ? (
            <StepsWall state={state} nowMs={nowMs} canTick={isTeacher} />
          ) : (
            <RingsWall
              state={state}
              people={start.people}
              assigned={(live ?? start).assigned}
              nowMs={nowMs}
              isShared={isShared}
            />
          )}
          <RingKey />
        </div>
        {!isShared && (
          <aside className="side" aria-label="What needs a hand">
            {part === 'opening' && (
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
            {live && (
              <DuringPanel state={state} nowMs={nowMs} isDemo={isDemo} view={live} release={start.release} />
            )}
            {part === 'closing' && (
              <ClosingPanel state={state} courseId={courseId} nowMs={nowMs} isDemo={isDemo} isOpen={isOpen} />
            )}
            {part === 'opening' && (
              <CourseDoors
                courseId={courseId}
                isDemo={isDemo}
                hasPassphrase={course.record.me.passphrase_is_set}
              />
            )}
          </aside>
        )}
      </div>
      {!isTeacher && <p className="says">The board of your class. Touch your ring for your own page.</p>}
    </main>
  );
}
