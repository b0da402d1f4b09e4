import { useState } from 'react';
import { Link } from 'wouter';
import { type ClassState, labelOf } from '../../course/class-state.ts';
import { closingListFault } from '../../course/closing-list.ts';
import { operationsOfStep, type WallCell, wallOf } from '../../course/ring.ts';
import { Says } from '../parts/says.tsx';
import { withdraw } from '../record/record.ts';
import { coarseDone } from './acts.ts';
import { buildName, numberOfBuild } from './class-names.ts';
import { type CoarseCell, CoarseTable } from './coarse-table.tsx';

interface StepsWallProps {
  readonly state: ClassState;
  readonly nowMs: number;
  /** The teacher ticks; others look. */
  readonly canTick: boolean;
}

/** What was ticked last, so that a slip can be taken back at once. */
interface Ticked {
  readonly build: string;
  readonly step: string;
  readonly event: string;
}

function lookOf(cell: WallCell): CoarseCell {
  if (cell.before) return { look: 'before', words: 'done before the record began' };
  if (cell.doneFrac >= 1) return { look: 'done', words: 'done' };
  if (cell.state === 'resting') return { look: 'resting', words: 'resting' };
  if (cell.state === 'to sign') return { look: 'to sign', words: 'to sign' };
  if (cell.doneFrac > 0) {
    const percent = Math.round(cell.doneFrac * 100);
    return { look: 'part', doneFrac: cell.doneFrac, words: `${percent} percent done` };
  }
  if (cell.state === 'ready') return { look: 'ready', words: 'ready' };
  return { look: 'open', words: 'not started' };
}

/** Learners down, coarse steps across; a touch ticks all steps of a cell. */
export function StepsWall({ state, nowMs, canTick }: StepsWallProps) {
  const wall = wallOf(state, nowMs);
  const [ticked, setTicked] = useState<Ticked>();
  const [says, setSays] = useState('');
  const cells = new Map(wall.rows.map((r) => [r.build, new Map(r.cells.map((c) => [c.step, c]))]));
  const nameOf = (step: string) => wall.steps.find((s) => s.id === step)?.name ?? '';
  const tick = async (build: string, step: string) => {
    const facts = state.builds.get(build);
    if (!canTick || !facts) return;
    setTicked(undefined);
    const ops = operationsOfStep(state, facts, step);
    const fault = closingListFault(state.route, facts, ops);
    setSays(fault ? `${buildName(state, build)}: ${fault}` : '');
    if (fault || ops.length === 0) return;
    const [event] = await coarseDone(build, step, ops);
    if (event) setTicked({ build, step, event });
  };
  return (
    <div className="steps-wall">
      <p className="q" role="status">
        {ticked ? (
          <>
            {nameOf(ticked.step)} is done for {buildName(state, ticked.build)}.{' '}
            <button
              type="button"
              className="link"
              onClick={() => {
                void withdraw(`build:${ticked.build}`, ticked.event);
                setTicked(undefined);
              }}
            >
              Take it back
            </button>
          </>
        ) : (
          canTick && 'A touch ticks a coarse step with all its steps.'
        )}
      </p>
      <Says words={says} isFault />
      <CoarseTable
        label="Coarse steps, learners down"
        steps={wall.steps}
        rows={wall.rows.map((r) => ({
          id: r.build,
          name: labelOf(state, r.person),
          head: (
            <Link href={`/bench/${r.build}`}>
              {numberOfBuild(state, r.build)} {labelOf(state, r.person)}
            </Link>
          ),
        }))}
        cell={(build, step) => {
          const cell = cells.get(build)?.get(step);
          return cell ? lookOf(cell) : { look: 'open', words: 'not started' };
        }}
        onTouch={(build, step) => void tick(build, step)}
      />
    </div>
  );
}
