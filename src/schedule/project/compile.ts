import { commonFactor, type ProjectProblem } from './problem.ts';

/** One direction of the precedence graph as flat rows: the members before node j are `items[row[j]] .. items[row[j+1]-1]`. */
export interface Rows {
  readonly row: Int32Array;
  readonly items: Int32Array;
}

/** A project in flat arrays; demands are packed several to a 32-bit word with a guard bit above each field. */
export interface CompiledProject {
  readonly count: number;
  /** What one time unit here is in the units of the problem. */
  readonly unit: number;
  readonly durations: Int32Array;
  readonly before: Rows;
  readonly after: Rows;
  /** A topological order of the activities. */
  readonly order: Int32Array;
  /** Per word of the profile: packed demand per activity, guard bits, and the empty profile's value. */
  readonly words: readonly { readonly demand: Int32Array; readonly guard: number; readonly full: number }[];
  /** Work of an activity summed over resources as a share of capacity, per time unit it runs. */
  readonly weight: Float64Array;
  readonly horizon: number;
}

/**
 * Lays a project out in flat arrays for the decoder.
 *
 * @param problem  a checked project
 * @returns        the same project, compiled
 * @source         arithmetic
 */
export function compileProject(problem: ProjectProblem): CompiledProject {
  const unit = commonFactor(problem.durations);
  const count = problem.durations.length;
  const durations = Int32Array.from(problem.durations, (d) => d / unit);
  const after = toRows(problem.successors);
  const predecessors: number[][] = Array.from({ length: count }, () => []);
  problem.successors.forEach((row, i) => {
    for (const s of row) predecessors[s]!.push(i);
  });
  return {
    count,
    unit,
    durations,
    before: toRows(predecessors),
    after,
    order: topologicalOrder(problem.successors, predecessors),
    words: packWords(problem),
    weight: Float64Array.from(problem.demands, (row, i) =>
      problem.durations[i] === 0
        ? 0
        : row.reduce((sum, d, k) => sum + (problem.capacities[k]! > 0 ? d / problem.capacities[k]! : 0), 0),
    ),
    horizon: durations.reduce((sum, d) => sum + d, 0) + 1,
  };
}

function toRows(lists: readonly (readonly number[])[]): Rows {
  const row = new Int32Array(lists.length + 1);
  lists.forEach((list, i) => {
    row[i + 1] = row[i]! + list.length;
  });
  return { row, items: Int32Array.from(lists.flat()) };
}

/**
 * Puts nodes so that each stands behind everything it waits for.
 *
 * @param followers  per node what waits for it
 * @param before     per node what it waits for; only the counts are read
 * @returns          the order
 * @source           arithmetic
 */
export function topologicalOrder(
  followers: readonly (readonly number[])[],
  before: readonly (readonly unknown[])[],
): Int32Array {
  const waiting = Int32Array.from(before, (list) => list.length);
  const order: number[] = [];
  waiting.forEach((w, i) => {
    if (w === 0) order.push(i);
  });
  for (let head = 0; head < order.length; head++)
    for (const f of followers[order[head]!]!) if (--waiting[f]! === 0) order.push(f);
  return Int32Array.from(order);
}

/** Resources that are never short are left out; the rest go four to a word (up to 127), two to a word (up to 32,767) or alone. */
function packWords(problem: ProjectProblem): CompiledProject['words'] {
  const used = problem.capacities.map((_, k) => k).filter((k) => !isAlwaysEnough(problem, k));
  const bitsOf = (k: number): number =>
    problem.capacities[k]! <= 127 ? 8 : problem.capacities[k]! <= 32767 ? 16 : 32;
  const words: { resources: number[]; bits: number }[] = [];
  for (const bits of [8, 16, 32]) {
    const fitting = used.filter((k) => bitsOf(k) === bits);
    for (let i = 0; i < fitting.length; i += 32 / bits)
      words.push({ resources: fitting.slice(i, i + 32 / bits), bits });
  }
  return words.map(({ resources, bits }) => packWord(problem, resources, bits));
}

function packWord(
  problem: ProjectProblem,
  resources: readonly number[],
  bits: number,
): CompiledProject['words'][number] {
  const pack = (values: readonly number[]): number =>
    values.reduce((word, value, f) => word | (value << (f * bits)), 0);
  const guard = resources.reduce((word, _, f) => word | (1 << (f * bits + bits - 1)), 0);
  return {
    guard,
    full: pack(resources.map((k) => problem.capacities[k]!)) | guard,
    demand: Int32Array.from(problem.demands, (row, i) =>
      problem.durations[i] === 0 ? 0 : pack(resources.map((k) => row[k]!)),
    ),
  };
}

function isAlwaysEnough(problem: ProjectProblem, k: number): boolean {
  let sum = 0;
  problem.demands.forEach((row, i) => {
    if (problem.durations[i]! > 0) sum += row[k]!;
  });
  return sum <= problem.capacities[k]!;
}
