import type { Random } from '../../numeric/random.ts';
import type { CompiledProject, Rows } from './compile.ts';

/** Longest ways through the precedence graph without resources, in compiled time units. */
export interface LongestWays {
  /** Earliest start: longest way before the activity. */
  readonly heads: Int32Array;
  /** Longest way after the activity is done. */
  readonly tails: Int32Array;
  readonly criticalPath: number;
}

/**
 * Longest ways before and behind every activity.
 *
 * @param project  the compiled project
 * @returns        heads, tails and the critical path
 * @source         from memory
 */
export function longestWays(project: CompiledProject): LongestWays {
  const heads = longest(project.order, project.before, project.durations);
  const tails = longest(project.order.slice().reverse(), project.after, project.durations);
  let criticalPath = 0;
  for (let j = 0; j < project.count; j++)
    criticalPath = Math.max(criticalPath, heads[j]! + project.durations[j]! + tails[j]!);
  return { heads, tails, criticalPath };
}

function longest(order: Int32Array, before: Rows, durations: Int32Array): Int32Array {
  const way = new Int32Array(durations.length);
  for (const j of order)
    for (let p = before.row[j]!; p < before.row[j + 1]!; p++) {
      const other = before.items[p]!;
      way[j] = Math.max(way[j]!, way[other]! + durations[other]!);
    }
  return way;
}

/**
 * Fills a list by drawing again and again from the activities whose forerunners are in the list, the smaller
 * the key the likelier (chance by regret: the worst key's distance plus one).
 *
 * @param project  the compiled project
 * @param before   who has to be in the list first
 * @param after    the other direction of `before`
 * @param keys     priority, smaller first
 * @param random   seeded chance; undefined takes the smallest key always
 * @param power    how strongly the regret counts
 * @param list     receives the order
 * @source         from memory
 */
export function drawList(
  project: CompiledProject,
  before: Rows,
  after: Rows,
  keys: Int32Array,
  random: Random | undefined,
  power: number,
  list: Int32Array,
): void {
  const waiting = new Int32Array(project.count);
  const ready: number[] = [];
  for (let j = 0; j < project.count; j++) {
    waiting[j] = before.row[j + 1]! - before.row[j]!;
    if (waiting[j] === 0) ready.push(j);
  }
  for (let at = 0; at < project.count; at++) {
    const chosen = random === undefined ? smallest(ready, keys) : byRegret(ready, keys, random, power);
    const job = ready[chosen]!;
    ready[chosen] = ready[ready.length - 1]!;
    ready.pop();
    list[at] = job;
    for (let p = after.row[job]!; p < after.row[job + 1]!; p++)
      if (--waiting[after.items[p]!]! === 0) ready.push(after.items[p]!);
  }
}

function smallest(ready: readonly number[], keys: Int32Array): number {
  let best = 0;
  for (let i = 1; i < ready.length; i++) {
    const difference = keys[ready[i]!]! - keys[ready[best]!]!;
    if (difference < 0 || (difference === 0 && ready[i]! < ready[best]!)) best = i;
  }
  return best;
}

function byRegret(ready: readonly number[], keys: Int32Array, random: Random, power: number): number {
  let worst = -1;
  for (const job of ready) worst = Math.max(worst, keys[job]!);
  let total = 0;
  for (const job of ready) total += (worst - keys[job]! + 1) ** power;
  let left = random.next() * total;
  for (let i = 0; i < ready.length; i++) {
    left -= (worst - keys[ready[i]!]! + 1) ** power;
    if (left < 0) return i;
  }
  return ready.length - 1;
}
