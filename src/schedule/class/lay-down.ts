import type { CompiledClass } from './compile.ts';
import { type Placement, restEndSlot } from './placement.ts';
import type { RowUse } from './row-use.ts';
import type { StationBlocks } from './station-blocks.ts';

/** Writes placed activities into the use of every row, and takes them back. */
export interface LayDown {
  commit(
    a: number,
    wayIndex: number,
    block: number,
    work: number,
    end: number,
    second: number,
    helper: number,
    attendants: ArrayLike<number>,
  ): void;
  takeBack(a: number): void;
}

/**
 * Makes what keeps the count of a placement.
 *
 * @param compiled   the compiled class
 * @param placement  where everything lies; filled here
 * @param use        who is using what
 * @param blocks     what stands on the stations
 * @param helped     minutes each row has lent a hand so far
 * @returns          commit and take back
 * @source           arithmetic
 */
export function makeLayDown(
  compiled: CompiledClass,
  placement: Placement,
  use: RowUse,
  blocks: StationBlocks,
  helped: Int32Array,
): LayDown {
  const slots = compiled.grid.slotCount;
  const { take, give } = use;
  const { attendanceWidth } = placement;
  const spanStart = new Int32Array(compiled.spans.length);

  /** Writes one placed activity into the use of every row. */
  const commit: LayDown['commit'] = (a, wayIndex, block, work, end, second, helper, attendants) => {
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
      const until = restEndSlot(compiled, work, end, rest.restMin);
      for (let p = 0; p < rest.places; p++) occupy(rest.row, end, until);
      if (rest.row === way.stationRow) held = until;
    }
    if (way.stationRow >= 0) {
      if (block < work) occupy(way.stationRow, block, work);
      if (isTakingBack) blocks.remove(way.stationRow, block);
      else
        blocks.add(way.stationRow, {
          start: block,
          end: held,
          setting: way.setting,
          hasSetUp: block < work,
          activity: a,
        });
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
      const until = span.isUntilStart ? work : restEndSlot(compiled, work, end, span.restMin);
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

  return { commit, takeBack };
}
