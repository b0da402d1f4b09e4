import type { Random } from '../../numeric/random.ts';
import type { CompiledClass } from './compile.ts';
import { listByKeys } from './priority.ts';

/** Fills `list` with a neighbour of the plan whose starts are given. */
export type Shake = (starts: Int32Array, list: Int32Array) => void;

/**
 * Makes the moves of the search: pull a learner, an operation, a setting or what is late forward or back, mix one
 * session, let two learners change places.
 *
 * @param compiled  the compiled class
 * @param random    seeded chance
 * @returns         the move
 * @source          from memory
 */
export function makeShaker(compiled: CompiledClass, random: Random): Shake {
  const count = compiled.activities.length;
  const keys = new Float64Array(count);
  const learnerCount = compiled.learnerCourse.length;
  const operations = groups(compiled.activities.map((a) => `${a.courseId} ${a.operationId}`));
  const settings = groups(compiled.ways.map((w) => (w[0]!.setting < 0 ? undefined : String(w[0]!.setting))));
  const ofLearner: number[][] = Array.from({ length: learnerCount }, () => []);
  compiled.builds.forEach((list, a) => {
    for (const l of list) ofLearner[l]!.push(a);
  });
  const session = Math.max(
    1,
    Math.round(compiled.grid.slotCount / Math.max(1, compiled.problem.windows.length)),
  );
  const shift = (): number => (random.next() - 0.5) * 2 * session * (random.next() < 0.3 ? 12 : 3);

  const moves: readonly ((starts: Int32Array) => void)[] = [
    // one learner earlier or later, all of it or from some session on
    (starts) => {
      const by = shift();
      const from = random.next() < 0.5 ? 0 : random.below(compiled.grid.slotCount);
      for (const a of ofLearner[random.below(learnerCount)]!) if (starts[a]! >= from) keys[a]! += by;
    },
    // one operation earlier or later for everybody, or for some
    () => {
      const list = operations[random.below(operations.length)]!;
      const by = shift();
      const share = random.next();
      for (const a of list) if (share > 0.7 || random.next() < share) keys[a]! += by;
    },
    // what one setting of a machine is wanted for, together
    (starts) => {
      if (settings.length === 0) return;
      const list = settings[random.below(settings.length)]!;
      const at = starts[list[random.below(list.length)]!]!;
      for (const a of list) if (Math.abs(starts[a]! - at) < 6 * session) keys[a] = at + random.next();
    },
    // one stretch of time mixed
    (starts) => {
      const length = session * (1 + random.below(4));
      const from = random.below(compiled.grid.slotCount);
      for (let a = 0; a < count; a++)
        if (starts[a]! >= from && starts[a]! < from + length) keys[a]! += (random.next() - 0.5) * length;
    },
    // some activities a little
    () => {
      const share = 0.002 + 0.05 * random.next();
      for (let a = 0; a < count; a++) if (random.next() < share) keys[a]! += shift();
    },
    // two learners change places from some session on
    (starts) => {
      const one = ofLearner[random.below(learnerCount)]!;
      const other = ofLearner[random.below(learnerCount)]!;
      const from = random.below(compiled.grid.slotCount);
      const own = new Map(one.map((a) => [partOf(compiled, a), a]));
      for (const b of other) {
        const a = own.get(partOf(compiled, b));
        if (a === undefined || starts[a]! < from || starts[b]! < from) continue;
        const key = keys[a]!;
        keys[a] = keys[b]!;
        keys[b] = key;
      }
    },
    // the learner who is done last earlier
    (starts) => {
      let last = 0;
      for (let l = 1; l < learnerCount; l++)
        if (endOf(ofLearner[l]!, starts) > endOf(ofLearner[last]!, starts)) last = l;
      const by = Math.abs(shift());
      const from = random.below(compiled.grid.slotCount);
      for (const a of ofLearner[last]!) if (starts[a]! >= from && random.next() < 0.8) keys[a]! -= by;
    },
  ];
  return (starts, list) => {
    for (let a = 0; a < count; a++) keys[a] = starts[a]!;
    moves[random.below(moves.length)]!(starts);
    if (random.next() < 0.2) moves[random.below(moves.length)]!(starts);
    listByKeys(compiled, keys, list);
  };
}

function endOf(list: readonly number[], starts: Int32Array): number {
  return list.reduce((end, a) => Math.max(end, starts[a]!), 0);
}

function partOf(compiled: CompiledClass, a: number): string {
  const { operationId, partIndex } = compiled.activities[a]!;
  return `${operationId}.${partIndex}`;
}

function groups(names: readonly (string | undefined)[]): number[][] {
  const byName = new Map<string, number[]>();
  names.forEach((name, i) => {
    if (name === undefined) return;
    if (!byName.has(name)) byName.set(name, []);
    byName.get(name)!.push(i);
  });
  return [...byName.values()];
}
