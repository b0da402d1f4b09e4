import type { CompiledClass, CompiledWay } from './compile.ts';
import { type PlacedEntry, restEndSlot } from './placement.ts';
import type { RowUse } from './row-use.ts';
import type { StationBlocks } from './station-blocks.ts';

/** A place found for an activity. Slots and rows; -1 where something does not apply. */
export interface Place {
  /** First slot of the change-over, or of the work when there is none. */
  block: number;
  work: number;
  end: number;
  second: number;
  helper: number;
  /** Row that made it wait last, -1 when nothing did. */
  blocker: number;
  readonly attendants: Int32Array;
}

/** A place not yet found. */
export function makePlace(attendanceWidth: number): Place {
  return {
    block: -1,
    work: -1,
    end: -1,
    second: -1,
    helper: -1,
    blocker: -1,
    attendants: new Int32Array(attendanceWidth),
  };
}

/**
 * Finds the earliest place of an activity done in one way, from `from`, if it ends before `limit`, and writes it into
 * `trial`. The people of `wish` are asked first.
 */
export type EarliestPlace = (
  trial: Place,
  a: number,
  way: CompiledWay,
  durationMin: number,
  from: number,
  limit: number,
  wish?: PlacedEntry,
) => boolean;

/** Least minutes worth beginning before a session's end when work may be broken off. */
const leastPieceMin = 10;

/**
 * Makes the search for the earliest place. This is one algorithm and is kept together on purpose: each thing the work needs
 * is looked at in turn, and what is in the way says from when on it is worth looking again.
 *
 * @param compiled  the compiled class
 * @param use       who is using what
 * @param blocks    what stands on the stations
 * @param helped    minutes each row has lent a hand so far
 * @returns         the search
 * @source          from memory
 */
export function makeEarliestPlace(
  compiled: CompiledClass,
  use: RowUse,
  blocks: StationBlocks,
  helped: Int32Array,
): EarliestPlace {
  const slots = compiled.grid.slotCount;
  const { cellOf, cellEnd, cellCount } = compiled.cells;
  const { room, lastConflict } = use;

  return (trial, a, way, duration, from, limit, wish) => {
    const trialAttendants = trial.attendants;
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
          const held =
            end > slots ? slots : stationRest > 0 ? restEndSlot(compiled, t + setUp, end, stationRest) : end;
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
        const until = restEndSlot(compiled, work, end, rest.restMin);
        const c = lastConflict(rest.row, end, until, rest.places);
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
        const wished = wish?.attendants[k] ?? -1;
        if (wished >= 0 && need.rows.includes(wished) && lastConflict(wished, begin, last) < 0) {
          trialAttendants[k] = wished;
          continue;
        }
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
            if (row === wish?.helper) {
              helper = row;
              break;
            }
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
}
