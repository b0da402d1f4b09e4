import { makeAround } from './around.ts';
import type { CompiledClass } from './compile.ts';
import { makeEarliestPlace, makePlace, type Place } from './earliest-place.ts';
import { makeLayDown } from './lay-down.ts';
import {
  endClockMin,
  entriesOf,
  makePlacement,
  type PlacedEntry,
  type Placement,
  placedEntry,
} from './placement.ts';
import type { PlanEntry } from './problem.ts';
import { type Closed, makeRowUse } from './row-use.ts';
import { makeStationBlocks } from './station-blocks.ts';

/** Turns a list into a plan. The same function plans, replans and plays courses through. */
export interface ClassDecoder {
  readonly placement: Placement;
  /**
   * Places the activities in the order of the list, each as early as everything it needs allows.
   * `durations` gives other minutes of work than the ways' own (one per activity, below 0 keeps the way's own).
   */
  decode(list: Int32Array, durations?: Int32Array, closed?: readonly Closed[]): Placement;
  /**
   * Leaves each activity where `places` has it (by its number) if that still holds, and places the others as early as may be,
   * in the order of the list. With `areKeptFree` nothing else may take the places of what comes later in the list.
   */
  decodeAround(
    list: Int32Array,
    places: readonly (PlacedEntry | undefined)[],
    areKeptFree: boolean,
  ): Placement;
  /** Takes these entries as they are before anything else is placed. */
  fix(entries: readonly PlanEntry[]): void;
  entries(): PlanEntry[];
}

/** Times a pair that has to stay together is moved before it is given up. */
const mostAttempts = 200;

/** Times what stays is laid out anew because a setting was lost. */
const mostRounds = 4;

/**
 * Makes a decoder with its own working store.
 *
 * Serial generation on the minutes of the sessions laid end to end: because a rest in clock time ends no earlier
 * when the work ends later, no step has to be taken back, but for pairs that may wait only so long for each other.
 *
 * @param compiled  the compiled class
 * @returns         the decoder
 * @source          from memory
 */
export function makeClassDecoder(compiled: CompiledClass): ClassDecoder {
  const { grid } = compiled;
  const slots = grid.slotCount;
  const clock = grid.clockMin;
  const use = makeRowUse(compiled);
  const placement = makePlacement(compiled);
  const { attendanceWidth } = placement;
  const blocks = makeStationBlocks(compiled.statefulRows);
  const helped = new Int32Array(compiled.rowCount);
  const { commit, takeBack } = makeLayDown(compiled, placement, use, blocks, helped);
  const search = makeEarliestPlace(compiled, use, blocks, helped);
  let fixedEntries: readonly PlanEntry[] = [];
  let wishes: readonly (PlacedEntry | undefined)[] = [];
  let found = makePlace(attendanceWidth);
  let trial = makePlace(attendanceWidth);

  const endClock = (work: number, end: number): number => endClockMin(compiled, work, end);
  const earliest = (a: number): number => {
    let from = compiled.releaseSlot[a]!;
    for (const link of compiled.before[a]!) {
      const other = link.activity;
      const minute = link.isFromStart
        ? clock[placement.start[other]!]!
        : endClock(placement.start[other]!, placement.end[other]!);
      const slot = grid.slotAtOrAfter(minute + link.lagMin);
      if (slot > from) from = slot;
    }
    return from;
  };

  const put = (a: number, wayIndex: number, at: Place): void =>
    commit(a, wayIndex, at.block, at.work, at.end, at.second, at.helper, at.attendants);

  /** Whether an activity may be worked just when it is wished, with or without setting its station; fills `trial`. */
  const isFree = (a: number, wish: PlacedEntry, from: number): boolean => {
    const way = compiled.ways[a]![wish.wayIndex];
    if (way === undefined) return false;
    const fits = (block: number): boolean =>
      block >= from &&
      search(trial, a, way, way.durationMin, block, wish.end + 1, wish) &&
      trial.work === wish.work;
    if (fits(wish.block)) return true;
    return way.setting >= 0 && way.setUpMin > 0 && (fits(wish.work) || fits(wish.work - way.setUpMin));
  };

  /** Tries every way and commits the one that ends first, or leaves the activity where it is wished. */
  const place = (a: number, duration: number, notBefore: number): boolean => {
    const ways = compiled.ways[a]!;
    const from = Math.max(earliest(a), notBefore);
    const wish = wishes[a];
    if (wish !== undefined && duration < 0 && isFree(a, wish, from)) {
      put(a, wish.wayIndex, trial);
      placement.blockedBy[a] = -1;
      placement.waited[a] = 0;
      return true;
    }
    let best = -1;
    let limit = slots + 1;
    for (let w = 0; w < ways.length; w++) {
      const way = ways[w]!;
      // given minutes are those of the first way; another way takes as much longer as its own minutes say
      const minutes =
        duration < 0
          ? way.durationMin
          : w === 0
            ? duration
            : Math.max(1, Math.round((duration * way.durationMin) / Math.max(1, ways[0]!.durationMin)));
      if (!search(trial, a, way, minutes, from, limit)) continue;
      best = w;
      limit = trial.end;
      [found, trial] = [trial, found];
    }
    if (best < 0) return false;
    put(a, best, found);
    placement.blockedBy[a] = found.blocker;
    placement.waited[a] = found.work - from;
    return true;
  };

  /** Places an activity and whatever has to follow it within so many minutes; moves it later until that holds. */
  const placeTogether = (a: number, durations: Int32Array | undefined): number[] | undefined => {
    let notBefore = 0;
    for (let attempt = 0; attempt < mostAttempts; attempt++) {
      if (!place(a, durations?.[a] ?? -1, notBefore)) return undefined;
      const placed = [a];
      let lateMin = 0;
      for (const link of compiled.tight[a]!) {
        if (placement.start[link.activity]! >= 0) continue;
        const chain = placeTogether(link.activity, durations);
        if (chain === undefined) {
          for (const x of placed.reverse()) takeBack(x);
          return undefined;
        }
        placed.push(...chain);
        const origin = link.isFromStart
          ? clock[placement.start[a]!]!
          : endClock(placement.start[a]!, placement.end[a]!);
        lateMin = Math.max(lateMin, clock[placement.start[link.activity]!]! - origin - link.mostLagMin);
      }
      if (lateMin <= 0) return placed;
      const start = placement.start[a]!;
      notBefore = Math.max(start + 1, grid.slotAtOrAfter(clock[start]! + lateMin));
      for (const x of placed.reverse()) takeBack(x);
    }
    return undefined;
  };

  /** Ready when what comes before is placed, and for what must follow at once everything else that comes before that. */
  const isReady = (a: number): boolean => {
    for (const link of compiled.before[a]!) if (placement.start[link.activity]! < 0) return false;
    for (const next of compiled.tight[a]!)
      for (const link of compiled.before[next.activity]!)
        if (
          link.activity !== a &&
          placement.start[link.activity]! < 0 &&
          !compiled.before[link.activity]!.some((l) => l.activity === a)
        )
          return false;
    return true;
  };

  const commitPlace = (p: PlacedEntry): void =>
    commit(p.activity, p.wayIndex, p.block, p.work, p.end, p.second, p.helper, p.attendants);

  const commitFixed = (entry: PlanEntry): void => {
    const placed = placedEntry(compiled, entry);
    if (placed !== undefined) commitPlace(placed);
  };

  const clear = (closed: readonly Closed[]): void => {
    use.reset();
    blocks.clear();
    helped.fill(0);
    placement.start.fill(-1);
    placement.setUpMin = 0;
    placement.waited.fill(0);
    placement.blockedBy.fill(-1);
    for (const c of closed) use.close(c);
    for (const entry of fixedEntries) commitFixed(entry);
  };

  /** Places what is left of a list, going through it until nothing more can be placed. */
  const placeAll = (list: Int32Array, durations: Int32Array | undefined): Placement => {
    let waiting: number[] | Int32Array = list;
    for (;;) {
      const left: number[] = [];
      let placed = 0;
      for (const a of waiting) {
        if (placement.start[a]! >= 0) continue;
        const isPlaced =
          isReady(a) &&
          (compiled.tight[a]!.length === 0
            ? place(a, durations?.[a] ?? -1, 0)
            : placeTogether(a, durations) !== undefined);
        if (isPlaced) placed++;
        else left.push(a);
      }
      if (left.length === 0 || placed === 0) {
        placement.isComplete = left.length === 0;
        return placement;
      }
      waiting = left;
    }
  };

  const decode = (list: Int32Array, durations?: Int32Array, closed: readonly Closed[] = []): Placement => {
    wishes = [];
    clear(closed);
    return placeAll(list, durations);
  };

  const around = makeAround({
    compiled,
    placement,
    use,
    blocks,
    takeBack,
    earliest,
    isFree,
    put: (a, wayIndex) => put(a, wayIndex, trial),
    putBack: commitPlace,
  });

  const decodeAround: ClassDecoder['decodeAround'] = (list, places, areKeptFree) => {
    wishes = places;
    const isLetGo = new Uint8Array(list.length);
    for (let round = areKeptFree ? 0 : mostRounds; ; round++) {
      clear([]);
      const unsetBefore = blocks.unsetCount(compiled.firstSetting);
      around.keep(list, round < mostRounds ? places : [], isLetGo);
      for (const a of list) {
        around.settle(a, isLetGo);
        if (placement.start[a]! >= 0 || !isReady(a) || compiled.tight[a]!.length > 0) continue;
        if (place(a, -1, 0) && around.makeWay(a, earliest(a), isLetGo)) place(a, -1, 0);
      }
      placeAll(list, undefined);
      if (round === mostRounds || blocks.unsetCount(compiled.firstSetting) === unsetBefore) return placement;
    }
  };

  return {
    placement,
    decode,
    decodeAround,
    fix: (list) => {
      fixedEntries = list;
    },
    entries: () => entriesOf(compiled, placement),
  };
}
