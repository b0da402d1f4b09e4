import { useEffect, useRef } from 'react';
import type { ClassState } from '../../course/class-state.ts';
import type { BoardSession, BoardStep } from '../../course/plan-board.ts';
import { buildName, operationName, placeName } from '../class/class-names.ts';
import type { ForecastNews } from './forecast-messages.ts';
import { civilDay, shortDay, shortTime } from './wall-clock.ts';

export type Moved = Extract<ForecastNews, { readonly kind: 'moved' }>;

interface MovePanelProps {
  readonly state: ClassState;
  readonly step: BoardStep;
  readonly sessions: readonly BoardSession[];
  /** Where it is to go, while that is asked. */
  readonly target: BoardSession | undefined;
  readonly moved: Moved | undefined;
  readonly isLooking: boolean;
  readonly isMovable: boolean;
  readonly move: (session: BoardSession) => void;
  readonly keep: (moved: Moved) => void;
  readonly takeBack: (event: string) => void;
  readonly close: () => void;
}

/** One step of the plan: where it lies, what moving it breaks, and the choice to keep it there all the same. */
export function MovePanel(props: MovePanelProps) {
  const { state, step, sessions, target, moved, isLooking, isMovable, move, keep, takeBack, close } = props;
  const place = useRef<HTMLElement>(null);
  // the arrow keys leave the focus on the step, and the panel comes into view below it
  useEffect(() => {
    if (target || moved) place.current?.scrollIntoView({ block: 'nearest' });
  }, [moved, target]);
  const who = step.builds.map((b) => buildName(state, b)).join(', ');
  return (
    <section
      className="move-panel"
      ref={place}
      aria-label="The step that is picked"
      data-state={isLooking ? 'looking' : moved ? 'moved' : 'ready'}
      data-breaks={moved?.breaks.length}
    >
      <h3 className="nm">
        {operationName(state, step.op)}: {who}
      </h3>
      <p className="q">
        {step.what}. {step.station ? `${placeName(state, step.station)}, ` : ''}
        {shortTime(step.beginMin)}, {step.endMin - step.beginMin} min
        {step.pin ? '. You put it there.' : ''}
      </p>
      {step.isPast && <p>It is done or at work, and stands as it is.</p>}
      {!step.isPast && !isMovable && <p>Publish the plan first; then its steps can be moved.</p>}
      {!step.isPast && isMovable && (
        <label>
          Move to session{' '}
          <select
            className="fld"
            value={target?.number ?? step.session}
            onChange={(e) => {
              const session = sessions.find((s) => String(s.number) === e.target.value);
              if (session) move(session);
            }}
          >
            {sessions
              .filter((s) => !s.isExtra)
              .map((s) => (
                <option key={s.number} value={s.number}>
                  {s.number}, {shortDay(civilDay(s.beginMin))}
                </option>
              ))}
          </select>
        </label>
      )}
      <div role="status">
        {isLooking && <p>Looking what it breaks …</p>}
        {moved && target && <Breaks moved={moved} session={target} />}
      </div>
      <div className="acts">
        {moved && (
          <button type="button" className="btn go" onClick={() => keep(moved)}>
            {moved.breaks.length === 0 ? 'Keep it there' : 'Keep it all the same'}
          </button>
        )}
        {step.pin && (
          <button type="button" className="btn" onClick={() => takeBack(step.pin as string)}>
            Take your choice back
          </button>
        )}
        <button type="button" className="btn" onClick={close}>
          {moved ? 'Leave it where it was' : 'Close'}
        </button>
      </div>
    </section>
  );
}

function Breaks({ moved, session }: { readonly moved: Moved; readonly session: BoardSession }) {
  if (moved.breaks.length === 0)
    return (
      <p>
        In session {session.number} it fits, {shortTime(moved.beginMin)}, and breaks nothing.
      </p>
    );
  return (
    <>
      <p>
        <strong>
          In session {session.number} it breaks{' '}
          {moved.breaks.length === 1 ? 'this' : `${moved.breaks.length} things`}:
        </strong>
      </p>
      <ul className="breaks">
        {moved.breaks.map((b) => (
          <li key={b}>{b}</li>
        ))}
      </ul>
    </>
  );
}
