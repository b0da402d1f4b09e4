import type { CompiledClass } from './compile.ts';
import { hasTurns } from './problem.ts';

/**
 * Windows of activities made narrower by each learner's own work: what has to come before a step on the same build has
 * to be done by the same two hands, one thing after the other, in the sessions the learner comes to.
 */
export interface OwnWork {
  /** Raises the earliest starts (slots). */
  raiseHeads(heads: Int32Array): void;
  /** Lowers the latest ends (exclusive slots); an end below the work of what comes before refutes the date. */
  lowerLatest(latest: Int32Array): void;
}

/** Minutes of clock time that a group of forerunners lies before a step at least: one group for each. */
const distancesMin = [0, 60, 480, 1440, 5760];

/** One learner's activities in the order of what comes before what. */
interface Own {
  readonly list: Int32Array;
  /** Minutes in which the learner's own hands are busy with each. */
  readonly minutes: Int32Array;
  /** Last group of distance in which i lies before j at `i * count + j`; -1 when i need not come before j. */
  readonly group: Int8Array;
  /** Least clock minutes from a step to what is behind it (before it), group by group; -1 when there is nothing. */
  readonly leastBehind: Int32Array;
  readonly leastBefore: Int32Array;
  /** Free slots of the learner before each slot, and the slot of each. */
  readonly freeBefore: Int32Array;
  readonly freeSlot: Int32Array;
  /** Learners of one kind have the same work, order and sessions. */
  readonly kind: string;
}

/**
 * Looks through the class once.
 *
 * @param compiled      the compiled class
 * @param isFixed       whether an activity stands as it is
 * @param ownMinutes    least minutes in which a learner's row is busy with an activity
 * @returns             what narrows windows
 * @assumes             a learner does one thing at a time and only in the own sessions; work could be cut at will
 * @source              from memory: the preemptive one-machine bound with heads and tails
 */
export function makeOwnWork(
  compiled: CompiledClass,
  isFixed: (activity: number) => boolean,
  ownMinutes: (activity: number, row: number) => number,
): OwnWork {
  const owns = Array.from(compiled.learnerCourse, (_, l) => ownOf(compiled, l, isFixed, ownMinutes));
  return {
    raiseHeads: (heads) => {
      const known = new Map<string, Int32Array>();
      for (const own of owns) {
        const before = Int32Array.from(own.list, (a) => heads[a]!);
        const key = `${own.kind} ${before.join(' ')}`;
        const raised = known.get(key) ?? earlierDone(compiled, own, before);
        known.set(key, raised);
        own.list.forEach((a, i) => {
          if (!isFixed(a) && raised[i]! > heads[a]!) heads[a] = raised[i]!;
        });
      }
    },
    lowerLatest: (latest) => {
      const known = new Map<string, Int32Array>();
      for (const own of owns) {
        const before = Int32Array.from(own.list, (a) => latest[a]!);
        const key = `${own.kind} ${before.join(' ')}`;
        const lowered = known.get(key) ?? laterDone(compiled, own, before);
        known.set(key, lowered);
        own.list.forEach((a, i) => {
          if (!isFixed(a) && lowered[i]! < latest[a]!) latest[a] = lowered[i]!;
        });
      }
    },
  };
}

function ownOf(
  compiled: CompiledClass,
  learner: number,
  isFixed: (activity: number) => boolean,
  ownMinutes: (activity: number, row: number) => number,
): Own {
  const row = compiled.learnerRow0 + learner;
  const list = inNamedOrder(
    compiled,
    Array.from(compiled.order.filter((a) => compiled.builds[a]!.includes(learner))),
  );
  const count = list.length;
  const at = new Map(Array.from(list, (a, i) => [a, i]));
  const least = Int32Array.from(list, (a) => compiled.leastMinutes[a]!);
  const minutes = Int32Array.from(list, (a) => (isFixed(a) ? 0 : ownMinutes(a, row)));
  const distance = new Int32Array(count * count).fill(-1);
  const links: string[] = [];
  list.forEach((a, j) => {
    // what stands as it is waits for nothing any more, and a lot counts turn by turn
    if (isFixed(a) || hasTurns(compiled.activities[a]!)) return;
    for (const link of compiled.before[a]!) {
      const k = at.get(link.activity);
      // what only has to have begun says nothing about what has to be done
      if (k === undefined || link.isFromStart || hasTurns(compiled.activities[link.activity]!)) continue;
      links.push(`${k}>${j}+${link.lagMin}`);
      raise(distance, k * count + j, link.lagMin);
      for (let i = 0; i < k; i++)
        if (distance[i * count + k]! >= 0)
          raise(distance, i * count + j, distance[i * count + k]! + least[k]! + link.lagMin);
    }
  });
  const slots = compiled.grid.slotCount;
  const freeBefore = new Int32Array(slots + 1);
  const free: number[] = [];
  for (let s = 0; s < slots; s++) {
    freeBefore[s] = free.length;
    if (compiled.baseUse[row * slots + s] === 0) free.push(s);
  }
  freeBefore[slots] = free.length;
  const away = (compiled.problem.learners[learner]!.awayWindowIds ?? []).join();
  return {
    list,
    minutes,
    ...groupsOf(distance, minutes),
    freeBefore,
    freeSlot: Int32Array.from(free),
    kind: `${compiled.learnerCourse[learner]} ${away} ${minutes.join()} ${least.join()} ${links.join()}`,
  };
}

/** What comes before stands before; otherwise by operation and part, so that learners with the same work have the same list. */
function inNamedOrder(compiled: CompiledClass, list: readonly number[]): Int32Array {
  const own = new Set(list);
  const depth = new Map<number, number>();
  for (const a of list) {
    let least = 0;
    for (const link of compiled.before[a]!)
      if (own.has(link.activity)) least = Math.max(least, depth.get(link.activity)! + 1);
    depth.set(a, least);
  }
  const name = (a: number): string =>
    `${compiled.activities[a]!.operationId}.${compiled.activities[a]!.partIndex}`;
  return Int32Array.from(
    list.toSorted(
      (a, b) => depth.get(a)! - depth.get(b)! || (name(a) < name(b) ? -1 : name(a) > name(b) ? 1 : a - b),
    ),
  );
}

function raise(values: Int32Array, at: number, to: number): void {
  if (to > values[at]!) values[at] = to;
}

function groupsOf(
  distance: Int32Array,
  minutes: Int32Array,
): Pick<Own, 'group' | 'leastBehind' | 'leastBefore'> {
  const count = minutes.length;
  const groups = distancesMin.length;
  const group = new Int8Array(count * count).fill(-1);
  const leastBehind = new Int32Array(count * groups).fill(-1);
  const leastBefore = new Int32Array(count * groups).fill(-1);
  const lower = (values: Int32Array, at: number, to: number): void => {
    if (values[at]! < 0 || to < values[at]!) values[at] = to;
  };
  for (let i = 0; i < count; i++)
    for (let j = 0; j < count; j++) {
      const away = distance[i * count + j]!;
      for (let g = 0; g < groups && away >= distancesMin[g]!; g++) {
        group[i * count + j] = g;
        if (minutes[j]! > 0) lower(leastBehind, i * groups + g, away);
        if (minutes[i]! > 0) lower(leastBefore, j * groups + g, away);
      }
    }
  return { group, leastBehind, leastBefore };
}

/** Earliest starts with each learner's work before each step laid end to end, group by group of distance. */
function earlierDone({ grid }: CompiledClass, own: Own, heads: Int32Array): Int32Array {
  const { minutes, group, leastBefore, freeBefore, freeSlot } = own;
  const count = minutes.length;
  const groups = distancesMin.length;
  const raised = heads.slice();
  const done = new Int32Array(groups);
  /** Steps looked at so far with work of their own, the earliest first. */
  const byStart: number[] = [];
  for (let j = 0; j < count; j++) {
    done.fill(0);
    for (const i of byStart) {
      const last = group[i * count + j]!;
      const from = freeBefore[Math.min(grid.slotCount, raised[i]!)]!;
      for (let g = 0; g <= last; g++) done[g] = Math.max(done[g]!, from) + minutes[i]!;
    }
    for (let g = 0; g < groups && done[g]! > 0; g++) {
      const ready =
        done[g]! > freeSlot.length
          ? grid.slotCount
          : grid.slotAtOrAfter(grid.clockMin[freeSlot[done[g]! - 1]!]! + 1 + leastBefore[j * groups + g]!);
      if (ready > raised[j]!) raised[j] = ready;
    }
    if (minutes[j]! > 0) insert(byStart, j, (x) => raised[x]!);
  }
  return raised;
}

/** Latest ends with each learner's work behind each step laid end to end from the date backwards. */
function laterDone({ grid }: CompiledClass, own: Own, latest: Int32Array): Int32Array {
  const { minutes, group, leastBehind, freeBefore, freeSlot } = own;
  const count = minutes.length;
  const groups = distancesMin.length;
  const lowered = latest.slice();
  const left = new Int32Array(groups);
  /** Steps looked at so far with work of their own, the latest first. */
  const byEnd: number[] = [];
  for (let i = count - 1; i >= 0; i--) {
    left.fill(freeSlot.length);
    let most = -1;
    for (const j of byEnd) {
      const last = group[i * count + j]!;
      if (last > most) most = last;
      const to = freeBefore[Math.max(0, lowered[j]!)]!;
      for (let g = 0; g <= last; g++) left[g] = Math.min(left[g]!, to) - minutes[j]!;
    }
    for (let g = 0; g <= most; g++) {
      const over =
        left[g]! < 0
          ? 0
          : grid.slotAtOrAfter(grid.clockMin[freeSlot[left[g]!]!]! - leastBehind[i * groups + g]!);
      if (over < lowered[i]!) lowered[i] = over;
    }
    if (minutes[i]! > 0) insert(byEnd, i, (x) => -lowered[x]!);
  }
  return lowered;
}

/** Keeps a list sorted by rising key. */
function insert(list: number[], item: number, keyOf: (item: number) => number): void {
  const key = keyOf(item);
  let at = list.length;
  while (at > 0 && keyOf(list[at - 1]!) > key) at--;
  list.splice(at, 0, item);
}
