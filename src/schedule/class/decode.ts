import type { CompiledClass, CompiledWay } from './compile.ts';
import { endClockMin, entriesOf, makePlacement, type Placement, placedEntry } from './placement.ts';
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
  /** Takes these entries as they are before anything else is placed. */
  fix(entries: readonly PlanEntry[]): void;
  entries(): PlanEntry[];
}

/** Times a pair that has to stay together is moved before it is given up. */
const mostAttempts = 200;

/** Least minutes worth beginning before a session's end when work may be broken off. */
const leastPieceMin = 10;

/**
 * Makes a decoder with its own working store.
 *
 * Serial generation on the minutes of the sessions laid end to end: because a rest in clock time ends no earlier
 * when the work ends later, no step has to be taken back, but for pairs that may wait only so long for each other.
 * This is one algorithm and is kept together on purpose.
 *
 * @param compiled  the compiled class
 * @returns         the decoder
 * @source          from memory
 */
export function makeClassDecoder(compiled: CompiledClass): ClassDecoder {
  const { grid } = compiled;
  const slots = grid.slotCount;
  const clock = grid.clockMin;
  const { cellOf, cellEnd, cellCount } = compiled.cells;
  const { room, reset, lastConflict, take, give, close } = makeRowUse(compiled);
  const placement = makePlacement(compiled);
  const { attendanceWidth } = placement;
  const blocks = makeStationBlocks(compiled.statefulRows);
  const helped = new Int32Array(compiled.rowCount);
  const spanStart = new Int32Array(compiled.spans.length);
  let fixedEntries: readonly PlanEntry[] = [];
  const trialAttendants = new Int32Array(attendanceWidth);
  const foundAttendants = new Int32Array(attendanceWidth);
  let found = { block: -1, work: -1, end: -1, second: -1, helper: -1, blocker: -1 };
  let trial = { block: -1, work: -1, end: -1, second: -1, helper: -1, blocker: -1 };

  const endClock = (work: number, end: number): number => endClockMin(compiled, work, end);
  const restEnd = (work: number, end: number, restMin: number): number =>
    grid.slotAtOrAfter(endClock(work, end) + restMin);

  /** Earliest place of an activity done in one way, from `from`, if it ends before `limit`; fills `trial`. */
  const search = (a: number, way: CompiledWay, duration: number, from: number, limit: number): boolean => {
    const { windowEnd, nextAllowed } = compiled.calendar[a]!;
    const members = compiled.members[a]!;
    const { busy } = way;
    const jigs = compiled.jigs[a]!;
    const rests = way.rests;
    const helperMin = Math.min(compiled.activities[a]!.helperMin, duration);
    const mayStop = compiled.activities[a]!.mayStop;
    const list = blocks.of(way.stationRow);
    let stationRest = 0;
    for (const rest of rests) if (rest.row === way.stationRow) stationRest = rest.restMin;
    let t = from;
    let blocker = -1;
    outer: for (;;) {
      if (t >= slots) return false;
      t = nextAllowed[t]!;
      if (t + duration >= limit || t >= slots) return false;
      const windowLast = windowEnd[t]!;
      const cell = cellOf[t]!;
      if (cellEnd[cell] === windowLast) {
        const least = mayStop ? Math.min(duration, leastPieceMin) : duration;
        let hasRoom = true;
        for (let i = 0; i < busy.length; i++) {
          const { row, fromMin, toMin } = busy[i]!;
          if (room[row * cellCount + cell]! < Math.min(least, toMin - fromMin)) {
            hasRoom = false;
            blocker = row;
          }
        }
        if (way.stationRow >= 0 && room[way.stationRow * cellCount + cell]! < least) {
          hasRoom = false;
          blocker = way.stationRow;
        }
        for (let k = 0; k < way.attendance.length && hasRoom && !mayStop; k++) {
          const need = way.attendance[k]!;
          if (need.onlyAtSetUp || need.rows.length > 1) continue;
          if (room[need.rows[0]! * cellCount + cell]! < Math.min(need.toMin, duration) - need.fromMin) {
            hasRoom = false;
            blocker = need.rows[0]!;
          }
        }
        if (!hasRoom) {
          t = windowLast;
          continue;
        }
      }
      let setUp = 0;
      if (list !== undefined) {
        let at = list.length - 1;
        while (at >= 0 && list[at]!.start > t) at--;
        if (at >= 0 && list[at]!.end > t) {
          blocker = way.stationRow;
          t = list[at]!.end;
          continue;
        }
        const next = list[at + 1];
        if (way.setting >= 0) {
          let p = at;
          while (p >= 0 && list[p]!.setting < 0) p--;
          const set = p >= 0 ? list[p]!.setting : compiled.firstSetting[way.stationRow]!;
          if (set !== way.setting) {
            setUp = way.setUpMin;
            let n = at + 1;
            while (n < list.length && list[n]!.setting < 0) n++;
            // the next piece of work relies on the setting that stands: it may not be changed in between
            if (n < list.length && !list[n]!.hasSetUp) {
              blocker = way.stationRow;
              t = list[n]!.end;
              continue;
            }
          }
        }
        const end = t + setUp + duration;
        if (end > windowLast && !mayStop) {
          t = windowLast;
          continue;
        }
        if (next !== undefined) {
          const held = end > slots ? slots : stationRest > 0 ? restEnd(t + setUp, end, stationRest) : end;
          if (held > next.start) {
            blocker = way.stationRow;
            t = next.end;
            continue;
          }
        }
      }
      const work = t + setUp;
      let end = work + duration;
      let second = -1;
      let firstEnd = end;
      if (end > windowLast) {
        // broken off at the session's end: the rest at the beginning of the next
        const rest = end - windowLast;
        const next = nextAllowed[windowLast] ?? slots;
        if (
          !mayStop ||
          setUp > 0 ||
          windowLast - work < leastPieceMin ||
          next >= slots ||
          next + rest > windowEnd[next]! ||
          list !== undefined
        ) {
          t = windowLast;
          continue;
        }
        firstEnd = windowLast;
        second = next;
        end = next + rest;
        if (end >= limit) return false;
      }
      for (let i = 0; i < busy.length; i++) {
        const { row, fromMin, toMin } = busy[i]!;
        const c = lastConflict(row, work + fromMin, Math.min(firstEnd, work + toMin));
        if (c >= 0) {
          blocker = row;
          t = Math.max(t + 1, c + 1 - fromMin - setUp);
          continue outer;
        }
      }
      if (list === undefined && way.stationRow >= 0) {
        const c = lastConflict(way.stationRow, work, firstEnd);
        if (c >= 0) {
          blocker = way.stationRow;
          t = Math.max(t + 1, c + 1);
          continue;
        }
      }
      for (const row of jigs) {
        const c = lastConflict(row, work, firstEnd);
        if (c >= 0) {
          blocker = row;
          t = Math.max(t + 1, c + 1 - setUp);
          continue outer;
        }
      }
      if (second >= 0) {
        let isClear = way.stationRow < 0 || lastConflict(way.stationRow, second, end) < 0;
        for (const row of members) isClear &&= lastConflict(row, second, end) < 0;
        for (const row of jigs) isClear &&= lastConflict(row, second, end) < 0;
        if (!isClear) {
          t = windowLast;
          continue;
        }
      }
      for (const rest of rests) {
        const until = restEnd(work, end, rest.restMin);
        const c = lastConflict(rest.row, end, until);
        if (c >= 0) {
          blocker = rest.row;
          t = second >= 0 ? windowLast : Math.max(t + 1, c + 1 - duration - setUp);
          continue outer;
        }
      }
      for (let k = 0; k < way.attendance.length; k++) {
        const need = way.attendance[k]!;
        trialAttendants[k] = -1;
        if (need.onlyAtSetUp && setUp === 0) continue;
        const origin = need.onlyAtSetUp ? t : work;
        let begin = origin + need.fromMin;
        let last = Math.min(origin + need.toMin, need.onlyAtSetUp ? end : Number.MAX_SAFE_INTEGER);
        if (second >= 0) {
          const first = firstEnd - work;
          if (need.fromMin >= first) {
            begin = second + need.fromMin - first;
            last = second + need.toMin - first;
          } else if (need.toMin > first) {
            t = windowLast;
            continue outer;
          }
        } else if (last > end) last = end;
        let soonest = Number.MAX_SAFE_INTEGER;
        for (const row of need.rows) {
          const c = lastConflict(row, begin, last);
          if (c < 0) {
            trialAttendants[k] = row;
            break;
          }
          if (c + 1 - (begin - t) < soonest) soonest = c + 1 - (begin - t);
        }
        if (trialAttendants[k]! < 0) {
          blocker = need.rows[0]!;
          t = second >= 0 ? windowLast : Math.max(t + 1, soonest);
          continue outer;
        }
      }
      let helper = -1;
      if (helperMin > 0) {
        if (work + helperMin > firstEnd) {
          t = windowLast;
          continue;
        }
        let soonest = Number.MAX_SAFE_INTEGER;
        for (const row of compiled.courseLearners[compiled.courseOf[a]!]!) {
          if (members.includes(row)) continue;
          const c = lastConflict(row, work, work + helperMin);
          if (c < 0) {
            if (helper < 0 || helped[row]! < helped[helper]!) helper = row;
          } else if (c + 1 - setUp < soonest) soonest = c + 1 - setUp;
        }
        if (helper < 0) {
          if (soonest === Number.MAX_SAFE_INTEGER) return false;
          blocker = compiled.rowCount;
          t = Math.max(t + 1, soonest);
          continue;
        }
      }
      for (const s of compiled.spansFrom[a]!) {
        const c = lastConflict(compiled.spans[s]!.row, work, slots);
        if (c >= 0) {
          if (c >= slots - 1) return false;
          blocker = compiled.spans[s]!.row;
          t = Math.max(t + 1, c + 1 - setUp);
          continue outer;
        }
      }
      trial.block = t;
      trial.work = work;
      trial.end = end;
      trial.second = second;
      trial.helper = helper;
      trial.blocker = blocker;
      return true;
    }
  };

  /** Writes one placed activity into the use of every row. */
  const commit = (
    a: number,
    wayIndex: number,
    block: number,
    work: number,
    end: number,
    second: number,
    helper: number,
    attendants: ArrayLike<number>,
  ): void => {
    placement.start[a] = work;
    placement.end[a] = end;
    placement.secondStart[a] = second;
    placement.setUpStart[a] = block < work ? block : -1;
    placement.way[a] = wayIndex;
    placement.helper[a] = helper;
    placement.setUpMin += work - block;
    const width = compiled.ways[a]![wayIndex]!.attendance.length;
    for (let k = 0; k < attendanceWidth; k++)
      placement.attendants[a * attendanceWidth + k] = k < width ? (attendants[k] ?? -1) : -1;
    applyUse(a, block, false);
  };

  /** Counts a placed activity into the use of every row, or out of it when it is taken back. */
  const applyUse = (a: number, block: number, isTakingBack: boolean): void => {
    const occupy = isTakingBack ? give : take;
    const free = isTakingBack ? take : give;
    const way = compiled.ways[a]![placement.way[a]!]!;
    const work = placement.start[a]!;
    const end = placement.end[a]!;
    const second = placement.secondStart[a]!;
    const helper = placement.helper[a]!;
    const firstEnd = second >= 0 ? compiled.calendar[a]!.windowEnd[work]! : end;
    const { busy } = way;
    const jigs = compiled.jigs[a]!;
    // loops and no helper function: this runs once for every activity of every list
    for (let i = 0; i < busy.length; i++)
      occupy(busy[i]!.row, work + busy[i]!.fromMin, Math.min(firstEnd, work + busy[i]!.toMin));
    for (let i = 0; i < jigs.length; i++) occupy(jigs[i]!, work, firstEnd);
    if (way.stationRow >= 0) occupy(way.stationRow, work, firstEnd);
    if (second >= 0) {
      for (let i = 0; i < busy.length; i++) occupy(busy[i]!.row, second, end);
      for (let i = 0; i < jigs.length; i++) occupy(jigs[i]!, second, end);
      if (way.stationRow >= 0) occupy(way.stationRow, second, end);
    }
    let held = end;
    for (const rest of way.rests) {
      const until = restEnd(work, end, rest.restMin);
      occupy(rest.row, end, until);
      if (rest.row === way.stationRow) held = until;
    }
    if (way.stationRow >= 0) {
      if (block < work) occupy(way.stationRow, block, work);
      if (isTakingBack) blocks.remove(way.stationRow, block);
      else
        blocks.add(way.stationRow, { start: block, end: held, setting: way.setting, hasSetUp: block < work });
    }
    for (let k = 0; k < way.attendance.length; k++) {
      const need = way.attendance[k]!;
      const row = placement.attendants[a * attendanceWidth + k]!;
      if (row < 0) continue;
      const origin = need.onlyAtSetUp ? block : work;
      const first = firstEnd - work;
      if (second >= 0 && need.fromMin >= first)
        occupy(row, second + need.fromMin - first, Math.min(end, second + need.toMin - first));
      else occupy(row, origin + need.fromMin, Math.min(second >= 0 ? firstEnd : end, origin + need.toMin));
    }
    if (helper >= 0) {
      const minutes = Math.min(compiled.activities[a]!.helperMin, end - work);
      occupy(helper, work, work + minutes);
      helped[helper]! += isTakingBack ? -minutes : minutes;
    }
    for (const s of compiled.spansFrom[a]!) {
      spanStart[s] = work;
      occupy(compiled.spans[s]!.row, work, slots);
    }
    for (const s of compiled.spansUntil[a]!) {
      const span = compiled.spans[s]!;
      const until = span.isUntilStart ? work : restEnd(work, end, span.restMin);
      free(span.row, Math.max(until, spanStart[s]!), slots);
    }
  };

  const takeBack = (a: number): void => {
    const setUp = placement.setUpStart[a]!;
    const block = setUp >= 0 ? setUp : placement.start[a]!;
    applyUse(a, block, true);
    placement.setUpMin -= placement.start[a]! - block;
    placement.start[a] = -1;
  };

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

  /** Tries every way and commits the one that ends first. */
  const place = (a: number, duration: number, notBefore: number): boolean => {
    const ways = compiled.ways[a]!;
    const from = Math.max(earliest(a), notBefore);
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
      if (!search(a, way, minutes, from, limit)) continue;
      best = w;
      limit = trial.end;
      [found, trial] = [trial, found];
      foundAttendants.set(trialAttendants);
    }
    if (best < 0) return false;
    commit(a, best, found.block, found.work, found.end, found.second, found.helper, foundAttendants);
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

  const commitFixed = (entry: PlanEntry): void => {
    const placed = placedEntry(compiled, entry);
    if (placed === undefined) return;
    const { activity, wayIndex, block, work, end, second, helper, attendants } = placed;
    commit(activity, wayIndex, block, work, end, second, helper, attendants);
  };

  const decode = (list: Int32Array, durations?: Int32Array, closed: readonly Closed[] = []): Placement => {
    reset();
    blocks.clear();
    helped.fill(0);
    placement.start.fill(-1);
    placement.setUpMin = 0;
    placement.waited.fill(0);
    placement.blockedBy.fill(-1);
    for (const c of closed) close(c);
    for (const entry of fixedEntries) commitFixed(entry);
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

  return {
    placement,
    decode,
    fix: (list) => {
      fixedEntries = list;
    },
    entries: () => entriesOf(compiled, placement),
  };
}
