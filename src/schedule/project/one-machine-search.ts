import type { Random } from '../../numeric/random.ts';
import type { CompiledProject } from './compile.ts';
import type { Seen, Side } from './decoder.ts';
import type { ProjectProblem } from './problem.ts';

/** The machine of each activity (-1 for none) when every activity holds at most one machine of one place; else undefined. */
export function machinesOf(problem: ProjectProblem): Int32Array | undefined {
  const count = problem.durations.length;
  const machine = new Int32Array(count).fill(-1);
  const hasBefore = new Uint8Array(count);
  problem.successors.forEach((row) => {
    for (const s of row) hasBefore[s] = 1;
  });
  for (let j = 0; j < count; j++) {
    const used = problem.demands[j]!.flatMap((d, k) => (d > 0 ? [k] : []));
    if (problem.durations[j] === 0) {
      // a step of no length in the middle of a chain would hide a way round from the swap rule below
      if (hasBefore[j] === 1 && problem.successors[j]!.length > 0) return undefined;
      continue;
    }
    if (used.length > 1 || used.some((k) => 2 * problem.demands[j]![k]! <= problem.capacities[k]!))
      return undefined;
    if (used.length === 1) machine[j] = used[0]!;
  }
  return machine;
}

/** Local search on the order of the work on each machine. */
export interface OneMachineSearch {
  /** One move. Answers whether it was stopped. */
  step(seen: Seen): boolean;
}

/** Moves without a better schedule before the search goes back to the best and shakes it. */
const patience = 2500;

/**
 * Makes the search for job shops: on a longest way, two neighbours at the edge of a run on one machine change places; the
 * pair may not change back for a while. Changing two neighbours on a longest way never makes a circle.
 *
 * @param project  the compiled project
 * @param machine  machine of each activity from `machinesOf`
 * @param random   seeded chance
 * @param from     schedule to begin with, counted from the beginning
 * @returns        the search; each move counts as one schedule
 * @source         from memory
 */
export function makeOneMachineSearch(
  project: CompiledProject,
  machine: Int32Array,
  random: Random,
  from: Side,
  countOne: () => void,
): OneMachineSearch {
  const { count, durations, before, after } = project;
  const previous = new Int32Array(count).fill(-1);
  const next = new Int32Array(count).fill(-1);
  const heads = new Int32Array(count);
  const tails = new Int32Array(count);
  const waiting = new Int32Array(count);
  const order = new Int32Array(count);
  const tabuUntil = new Map<number, number>();
  const bestNext = new Int32Array(count);
  const shown: Side = { starts: heads, makespan: 0 };
  let bestMakespan = Number.MAX_SAFE_INTEGER;
  let move = 0;
  let sinceBetter = 0;

  const line = (starts: Int32Array): void => {
    const lists = new Map<number, number[]>();
    for (let j = 0; j < count; j++)
      if (machine[j]! >= 0) lists.set(machine[j]!, [...(lists.get(machine[j]!) ?? []), j]);
    for (const list of lists.values()) {
      list.sort((a, b) => starts[a]! - starts[b]!);
      list.forEach((j, i) => {
        previous[j] = list[i - 1] ?? -1;
        next[j] = list[i + 1] ?? -1;
      });
    }
  };

  /** Heads, tails and the makespan of the present order. */
  const evaluate = (): void => {
    let filled = 0;
    for (let j = 0; j < count; j++) {
      waiting[j] = before.row[j + 1]! - before.row[j]! + (previous[j]! >= 0 ? 1 : 0);
      heads[j] = 0;
      if (waiting[j] === 0) order[filled++] = j;
    }
    for (let i = 0; i < filled; i++) {
      const j = order[i]!;
      const done = heads[j]! + durations[j]!;
      for (let p = after.row[j]!; p < after.row[j + 1]!; p++) {
        const s = after.items[p]!;
        if (done > heads[s]!) heads[s] = done;
        if (--waiting[s]! === 0) order[filled++] = s;
      }
      const s = next[j]!;
      if (s >= 0) {
        if (done > heads[s]!) heads[s] = done;
        if (--waiting[s]! === 0) order[filled++] = s;
      }
    }
    let makespan = 0;
    for (let i = count - 1; i >= 0; i--) {
      const j = order[i]!;
      let tail = next[j]! >= 0 ? tails[next[j]!]! + durations[next[j]!]! : 0;
      for (let p = after.row[j]!; p < after.row[j + 1]!; p++) {
        const s = after.items[p]!;
        const way = tails[s]! + durations[s]!;
        if (way > tail) tail = way;
      }
      tails[j] = tail;
      const whole = heads[j]! + durations[j]! + tail;
      if (whole > makespan) makespan = whole;
    }
    shown.makespan = makespan;
    countOne();
  };

  const headWithout = (j: number): number => {
    let head = 0;
    for (let p = before.row[j]!; p < before.row[j + 1]!; p++)
      head = Math.max(head, heads[before.items[p]!]! + durations[before.items[p]!]!);
    return head;
  };
  const tailWithout = (j: number): number => {
    let tail = 0;
    for (let p = after.row[j]!; p < after.row[j + 1]!; p++)
      tail = Math.max(tail, tails[after.items[p]!]! + durations[after.items[p]!]!);
    return tail;
  };

  /** Longest way through both when i and the next on its machine, j, change places. */
  const estimate = (i: number, j: number): number => {
    const p = previous[i]!;
    const s = next[j]!;
    const headJ = Math.max(headWithout(j), p >= 0 ? heads[p]! + durations[p]! : 0);
    const headI = Math.max(headWithout(i), headJ + durations[j]!);
    const tailI = Math.max(tailWithout(i), s >= 0 ? tails[s]! + durations[s]! : 0);
    const tailJ = Math.max(tailWithout(j), tailI + durations[i]!);
    return Math.max(headJ + durations[j]! + tailJ, headI + durations[i]! + tailI);
  };

  const swap = (i: number, j: number): void => {
    const p = previous[i]!;
    const s = next[j]!;
    if (p >= 0) next[p] = j;
    if (s >= 0) previous[s] = i;
    previous[j] = p;
    next[j] = i;
    previous[i] = j;
    next[i] = s;
  };

  /** One longest way, as a list of activities. */
  const longestWay = (): number[] => {
    const way: number[] = [];
    const starts: number[] = [];
    for (let j = 0; j < count; j++)
      if (heads[j] === 0 && durations[j]! + tails[j]! === shown.makespan && durations[j]! > 0) starts.push(j);
    let j = starts[random.below(starts.length)] ?? -1;
    while (j >= 0) {
      way.push(j);
      const done = heads[j]! + durations[j]!;
      const followers: number[] = [];
      const isOn = (s: number): boolean =>
        heads[s] === done && done + durations[s]! + tails[s]! === shown.makespan && durations[s]! > 0;
      if (next[j]! >= 0 && isOn(next[j]!)) followers.push(next[j]!);
      for (let p = after.row[j]!; p < after.row[j + 1]!; p++)
        if (isOn(after.items[p]!) && after.items[p] !== next[j]) followers.push(after.items[p]!);
      j = followers[random.below(followers.length)] ?? -1;
    }
    return way;
  };

  /** Neighbours at both edges of every run on one machine; at the first run only its end, at the last only its beginning. */
  const candidates = (): [number, number][] => {
    const way = longestWay();
    const pairs: [number, number][] = [];
    for (let from = 0; from < way.length; ) {
      let to = from;
      while (
        to + 1 < way.length &&
        machine[way[to + 1]!] === machine[way[from]!] &&
        machine[way[from]!]! >= 0 &&
        next[way[to]!] === way[to + 1]
      )
        to++;
      if (to > from) {
        if (from > 0) pairs.push([way[from]!, way[from + 1]!]);
        if (to < way.length - 1 && (to - from > 1 || from === 0)) pairs.push([way[to - 1]!, way[to]!]);
      }
      from = to + 1;
    }
    return pairs;
  };

  const restart = (): void => {
    next.set(bestNext);
    previous.fill(-1);
    for (let j = 0; j < count; j++) if (next[j]! >= 0) previous[next[j]!] = j;
    evaluate();
    tabuUntil.clear();
    const shakes = 3 + random.below(8);
    for (let k = 0; k < shakes; k++) {
      const pairs = candidates();
      if (pairs.length === 0) break;
      const [i, j] = pairs[random.below(pairs.length)]!;
      swap(i, j);
      evaluate();
    }
    sinceBetter = 0;
  };

  const remember = (): void => {
    if (shown.makespan < bestMakespan) {
      bestMakespan = shown.makespan;
      bestNext.set(next);
      sinceBetter = 0;
    } else sinceBetter++;
  };

  line(from.starts);
  evaluate();
  remember();
  return {
    step: (seen) => {
      move++;
      if (sinceBetter > patience) restart();
      const pairs = candidates();
      // no neighbours to change: the longest way is one run or no run at all, and nothing shorter exists
      if (pairs.length === 0) {
        restart();
        return seen(shown, true);
      }
      let chosen = pairs[random.below(pairs.length)]!;
      let least = Number.MAX_SAFE_INTEGER;
      for (const pair of pairs) {
        const value = estimate(pair[0], pair[1]);
        const isTabu = (tabuUntil.get(pair[0] * count + pair[1]) ?? 0) > move && value >= bestMakespan;
        if (!isTabu && (value < least || (value === least && random.next() < 0.5))) {
          least = value;
          chosen = pair;
        }
      }
      const [i, j] = chosen;
      swap(i, j);
      // i now stands behind j: it may not go before it again for a while
      tabuUntil.set(j * count + i, move + 8 + random.below(8));
      evaluate();
      remember();
      return seen(shown, true);
    },
  };
}
