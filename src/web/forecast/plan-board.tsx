import { type KeyboardEvent, memo, type PointerEvent, useMemo, useRef, useState } from 'react';
import type { ClassState } from '../../course/class-state.ts';
import type { Board, BoardSession, BoardStep } from '../../course/plan-board.ts';
import { buildName, numberOfBuild, operationName, placeName } from '../class/class-names.ts';
import './plan-board.css';
import { civilDay, shortDay, shortTime } from './wall-clock.ts';

export type BoardView = 'stations' | 'learners';

/** A step and the session it is to go to. */
export interface Target {
  readonly step: BoardStep;
  readonly session: BoardSession;
}

interface PlanBoardProps {
  readonly state: ClassState;
  readonly board: Board;
  readonly view: BoardView;
  /** Sessions from this one on are shown. */
  readonly fromSession: number;
  readonly picked: BoardStep | undefined;
  readonly target: BoardSession | undefined;
  readonly pick: (step: BoardStep) => void;
  /** undefined: this plan can only be looked at. */
  readonly move: ((target: Target) => void) | undefined;
  readonly drop: () => void;
}

const PREPARATION = 'preparation';
/** Pixels a pointer moves before it drags. */
const DRAG_FROM = 6;

/** Sessions side by side, a row for each station or for each learner. Steps are dragged, or moved with the arrow keys. */
export function PlanBoard(props: PlanBoardProps) {
  const { state, board, view, fromSession, picked, target } = props;
  const latest = useRef(props);
  latest.current = props;
  const acts = useMemo(
    (): ChipActs => ({
      pick: (step) => latest.current.pick(step),
      move: (to) => latest.current.move?.(to),
      drop: () => latest.current.drop(),
    }),
    [],
  );
  const { sessions, rows } = useMemo(() => {
    const steps = board.steps.filter((s) => s.session >= fromSession);
    return {
      sessions: board.sessions.filter((s) => s.number >= fromSession && hasWork(board, s)),
      rows: rowsOf(state, steps, view).map((row) => ({
        ...row,
        bySession: bySession(steps.filter(row.has)),
      })),
    };
  }, [state, board, view, fromSession]);
  const isMovable = props.move !== undefined;
  return (
    <section className="plan-board table-scroll" aria-label="Plan, session by session">
      <table>
        <thead>
          <tr>
            <th scope="col">{view === 'stations' ? 'Station' : 'Learner'}</th>
            {sessions.map((s) => (
              <th
                key={s.number}
                scope="col"
                data-session={s.number}
                className={s.number === target?.number ? 'to' : ''}
              >
                {s.number} <span className="q">{shortDay(civilDay(s.beginMin))}</span>
                {s.isExtra && <span className="q"> not there yet</span>}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.key}>
              <th scope="row">{row.name}</th>
              {sessions.map((s) => (
                <td
                  key={s.number}
                  data-session={s.number}
                  className={s.number === target?.number ? 'to' : ''}
                >
                  {row.bySession.get(s.number)?.map((x) => (
                    <Chip
                      key={x.id}
                      state={state}
                      view={view}
                      step={x}
                      sessions={sessions}
                      isPicked={picked?.id === x.id}
                      toSession={picked?.id === x.id ? target?.number : undefined}
                      isMovable={isMovable && !x.isPast}
                      acts={acts}
                    />
                  ))}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

const hasWork = (board: Board, s: BoardSession): boolean =>
  !s.isExtra || board.steps.some((x) => x.session === s.number);

interface Row {
  readonly key: string;
  readonly name: string;
  readonly has: (step: BoardStep) => boolean;
}

function rowsOf(state: ClassState, steps: readonly BoardStep[], view: BoardView): readonly Row[] {
  if (view === 'learners') {
    const builds = [...new Set(steps.flatMap((s) => s.builds))].sort(
      (a, b) => (numberOfBuild(state, a) ?? 0) - (numberOfBuild(state, b) ?? 0),
    );
    return builds.map((b) => ({ key: b, name: buildName(state, b), has: (s) => s.builds.includes(b) }));
  }
  const order = new Map(state.route.stations.map((s, i) => [s.id, i]));
  const stations = [...new Set(steps.filter((s) => !s.isPreparation).map((s) => s.station ?? ''))].sort(
    (a, b) => (order.get(a) ?? 99) - (order.get(b) ?? 99),
  );
  const rows: Row[] = stations.map((id) => ({
    key: id,
    name: id === '' ? 'no station' : placeName(state, id),
    has: (s) => !s.isPreparation && (s.station ?? '') === id,
  }));
  const hours: Row = { key: PREPARATION, name: 'preparation hours', has: (s) => s.isPreparation };
  return steps.some((s) => s.isPreparation) ? [...rows, hours] : rows;
}

function bySession(steps: readonly BoardStep[]): ReadonlyMap<number, readonly BoardStep[]> {
  const groups = new Map<number, BoardStep[]>();
  for (const s of steps) {
    const group = groups.get(s.session);
    if (group === undefined) groups.set(s.session, [s]);
    else group.push(s);
  }
  return groups;
}

interface ChipActs {
  readonly pick: (step: BoardStep) => void;
  readonly move: (to: Target) => void;
  readonly drop: () => void;
}

interface ChipProps {
  readonly state: ClassState;
  readonly view: BoardView;
  readonly step: BoardStep;
  readonly sessions: readonly BoardSession[];
  readonly isPicked: boolean;
  /** Where a picked step is to go. */
  readonly toSession: number | undefined;
  readonly isMovable: boolean;
  readonly acts: ChipActs;
}

/** A step on the board; drawn anew only when something of its own has changed. */
const Chip = memo(function Chip(props: ChipProps) {
  const { state, view, step, sessions, isPicked, toSession, isMovable, acts } = props;
  const press = useRef<{ readonly x: number; readonly y: number }>(undefined);
  const [isDragged, setDragged] = useState(false);
  /** The browser tells of a click behind the end of a drag; that one picks nothing. */
  const endsDrag = useRef(false);
  const sessionAt = (x: number, y: number): BoardSession | undefined => {
    const cell = document.elementFromPoint(x, y)?.closest('[data-session]');
    return sessions.find((s) => String(s.number) === cell?.getAttribute('data-session') && !s.isExtra);
  };
  const onPointerMove = (e: PointerEvent<HTMLButtonElement>) => {
    const from = press.current;
    if (!from || !isMovable || e.pointerType === 'touch') return;
    if (!isDragged && Math.hypot(e.clientX - from.x, e.clientY - from.y) < DRAG_FROM) return;
    if (!isDragged) {
      setDragged(true);
      e.currentTarget.setPointerCapture(e.pointerId);
    }
    e.currentTarget.style.translate = `${e.clientX - from.x}px ${e.clientY - from.y}px`;
  };
  const end = (e: PointerEvent<HTMLButtonElement>) => {
    press.current = undefined;
    if (!isDragged) return;
    endsDrag.current = true;
    setDragged(false);
    e.currentTarget.style.translate = '';
    const session = sessionAt(e.clientX, e.clientY);
    if (session && session.number !== step.session) acts.move({ step, session });
  };
  const onKeyDown = (e: KeyboardEvent) => {
    if (e.key === 'Escape') acts.drop();
    const by = e.key === 'ArrowRight' ? 1 : e.key === 'ArrowLeft' ? -1 : 0;
    if (by === 0 || !isMovable) return;
    e.preventDefault();
    const open = sessions.filter((s) => !s.isExtra);
    const now = (isPicked && toSession) || step.session;
    const session = open.find((s) => s.number === now + by);
    if (session) acts.move({ step, session });
  };
  const who = step.builds.map((b) => buildName(state, b));
  const names = who.length > 3 ? `${who.length} learners` : who.join(', ');
  const what = operationName(state, step.op);
  return (
    <button
      type="button"
      className={`chip${step.isPast ? ' past' : ''}${step.pin ? ' pinned' : ''}${isDragged ? ' dragged' : ''}`}
      data-step={step.id}
      aria-pressed={isPicked}
      aria-label={`${what}, ${who.join(', ')}, ${shortTime(step.beginMin)}${step.pin ? ', put here by you' : ''}`}
      onClick={() => {
        if (!endsDrag.current) acts.pick(step);
        endsDrag.current = false;
      }}
      onKeyDown={onKeyDown}
      onPointerDown={(e) => {
        endsDrag.current = false;
        press.current = { x: e.clientX, y: e.clientY };
      }}
      onPointerMove={onPointerMove}
      onPointerUp={end}
      onPointerCancel={end}
    >
      <strong>{view === 'stations' ? names : what}</strong>
      <span>{view === 'stations' ? what : step.station ? placeName(state, step.station) : ''}</span>
    </button>
  );
});
