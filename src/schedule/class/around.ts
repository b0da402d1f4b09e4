import type { CompiledClass } from './compile.ts';
import { endClockMin, type PlacedEntry, type Placement, placeOf, restEndSlot } from './placement.ts';
import type { RowUse } from './row-use.ts';
import type { StationBlocks } from './station-blocks.ts';

/** What a decoder lends so that a plan can be laid out around what stays. */
export interface AroundParts {
  readonly compiled: CompiledClass;
  readonly placement: Placement;
  readonly use: RowUse;
  readonly blocks: StationBlocks;
  readonly takeBack: (a: number) => void;
  readonly earliest: (a: number) => number;
  /** Whether an activity may lie where it is wished. */
  readonly isFree: (a: number, wish: PlacedEntry, from: number) => boolean;
  /** Lays an activity where it was just found free. */
  readonly put: (a: number, wayIndex: number) => void;
  /** Lays an activity where it was, free or not. */
  readonly putBack: (place: PlacedEntry) => void;
}

/** Keeps places free for what stays, so that what has to move takes only what nobody has. */
export interface Around {
  /** Lays down whatever may lie where it is wished, before anything else; what was let go before is not kept. */
  keep(list: Int32Array, places: readonly (PlacedEntry | undefined)[], isLetGo: Uint8Array): void;
  /** After an activity was placed so late that what follows it cannot stay: takes it up again and gives its builds their time back. */
  makeWay(a: number, from: number, isLetGo: Uint8Array): boolean;
  /** Before an activity is placed: takes it up again when what comes before it is not over in time. */
  settle(a: number, isLetGo: Uint8Array): void;
}

/**
 * Makes the keeper of places.
 *
 * @param parts  of the decoder
 * @returns      the keeper
 * @source       from memory
 */
export function makeAround(parts: AroundParts): Around {
  const { compiled, placement, use, blocks, takeBack, earliest, isFree, put, putBack } = parts;
  const { grid } = compiled;
  const slots = grid.slotCount;
  const isKept = new Uint8Array(compiled.activities.length);
  const isTight = new Uint8Array(compiled.activities.length);
  compiled.tight.forEach((links, a) => {
    for (const link of links) isTight[a] = isTight[link.activity] = 1;
  });
  const untilOf = new Int32Array(compiled.spans.length).fill(-1);
  compiled.spansUntil.forEach((spans, a) => {
    for (const s of spans) untilOf[s] = a;
  });

  const letGo = (a: number, isLetGo: Uint8Array): void => {
    isKept[a] = 0;
    isLetGo[a] = 1;
    // a thing held until a later step is given back from its end
    for (const s of compiled.spansFrom[a]!) if (isKept[untilOf[s]!] === 1) letGo(untilOf[s]!, isLetGo);
    const row = compiled.ways[a]![placement.way[a]!]!.stationRow;
    const start = placement.start[a]!;
    takeBack(a);
    const relying = row < 0 ? -1 : blocks.relyingAfter(row, start);
    if (relying >= 0) handOn(relying, isLetGo);
  };

  /** Lets work that relied on the setting of what was taken away set the station itself, at the same time. */
  const handOn = (a: number, isLetGo: Uint8Array): void => {
    if (compiled.spansFrom[a]!.length > 0 || compiled.spansUntil[a]!.length > 0) return;
    const as = placeOf(placement, a);
    takeBack(a);
    if (isFree(a, as, compiled.releaseSlot[a]!)) put(a, as.wayIndex);
    else if (isKept[a] === 1) {
      putBack(as);
      letGo(a, isLetGo);
    } else putBack(as);
  };

  /** Whether a thing the activity holds until a later step is held by too many meanwhile. */
  const isSpanOver = (a: number): boolean =>
    compiled.spansFrom[a]!.some((s) => {
      const { row, isUntilStart, restMin } = compiled.spans[s]!;
      const until = untilOf[s]!;
      const start = placement.start[until]!;
      if (start < 0) return use.isOver(row, placement.start[a]!, slots);
      const end = isUntilStart ? start : restEndSlot(compiled, start, placement.end[until]!, restMin);
      return use.isOver(row, placement.start[a]!, end);
    });

  const ofLearner: number[][] = Array.from(compiled.learnerCourse, () => []);
  compiled.builds.forEach((builds, a) => {
    if (builds.length === 1) ofLearner[builds[0]!]!.push(a);
  });
  /** Who has to wait with one step gets the whole own time behind it back, so that the rest can follow closely. */
  const letTailGo = (a: number, from: number, isLetGo: Uint8Array): void => {
    for (const learner of compiled.builds[a]!)
      for (const other of ofLearner[learner]!)
        if (isKept[other] === 1 && placement.start[other]! >= from) letGo(other, isLetGo);
  };
  const isKeptLate = (a: number): boolean =>
    compiled.followers[a]!.some((f) => {
      if (isKept[f] === 0) return false;
      const setUp = placement.setUpStart[f]!;
      return earliestBehind(a, f) > (setUp >= 0 ? setUp : placement.start[f]!);
    });
  const earliestBehind = (a: number, follower: number): number => {
    let from = 0;
    for (const link of compiled.before[follower]!) {
      if (link.activity !== a) continue;
      const minute = link.isFromStart
        ? grid.clockMin[placement.start[a]!]!
        : endClockMin(compiled, placement.start[a]!, placement.end[a]!);
      from = Math.max(from, grid.slotAtOrAfter(minute + link.lagMin));
    }
    return from;
  };

  return {
    keep: (list, places, isLetGo) => {
      isKept.fill(0);
      for (const a of list) {
        const wish = places[a];
        if (wish === undefined || placement.start[a]! >= 0 || isLetGo[a] === 1 || isTight[a] === 1) continue;
        if (!isFree(a, wish, compiled.releaseSlot[a]!)) continue;
        put(a, wish.wayIndex);
        isKept[a] = 1;
      }
    },
    makeWay: (a, from, isLetGo) => {
      if (!isKeptLate(a)) return false;
      takeBack(a);
      letTailGo(a, from, isLetGo);
      return true;
    },
    settle: (a, isLetGo) => {
      if (isKept[a] === 0) return;
      const setUp = placement.setUpStart[a]!;
      const block = setUp >= 0 ? setUp : placement.start[a]!;
      let isReady = true;
      for (const link of compiled.before[a]!) if (placement.start[link.activity]! < 0) isReady = false;
      if (!isReady || earliest(a) > block || isSpanOver(a)) letGo(a, isLetGo);
      // from here on it stands
      isKept[a] = 0;
    },
  };
}
