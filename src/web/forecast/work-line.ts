import { type ClassState, planOf } from '../../course/class-state.ts';
import { partDoneMs } from '../../course/progress.ts';

/** How much of a build was done at a moment, 0..1 of its likely minutes. */
export interface WorkPoint {
  readonly ms: number;
  readonly shareFrac: number;
}

/** The work done on a build over time, from its first entry to now. */
export function workLine(state: ClassState, build: string, nowMs: number): readonly WorkPoint[] {
  const facts = state.builds.get(build);
  if (!facts) return [];
  const parts = planOf(state, facts).operations.flatMap((p) =>
    p.parts.map((x) => ({ min: x.minutes.likely, doneMs: partDoneMs(facts, p.op.id, x.id) })),
  );
  const total = parts.reduce((sum, p) => sum + p.min, 0);
  const done = parts
    .flatMap((p) => (p.doneMs === undefined || p.doneMs > nowMs ? [] : [{ min: p.min, doneMs: p.doneMs }]))
    .sort((a, b) => a.doneMs - b.doneMs);
  let sum = 0;
  const points = done.map((d) => ({ ms: d.doneMs, shareFrac: (sum += d.min) / Math.max(1, total) }));
  const first = points[0];
  return first ? [{ ms: first.ms, shareFrac: 0 }, ...points, { ms: nowMs, shareFrac: sum / total }] : [];
}
