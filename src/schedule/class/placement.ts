import { type CompiledClass, idOfRow } from './compile.ts';
import { beginOf, type PlanEntry } from './problem.ts';

/** Where everything lies after decoding a list. Slots; -1 where something does not apply. */
export interface Placement {
  readonly start: Int32Array;
  /** End of the work, exclusive. */
  readonly end: Int32Array;
  /** First slot of the second piece when the work was broken off at a session's end, else -1. */
  readonly secondStart: Int32Array;
  /** First slot of the change-over, else -1. */
  readonly setUpStart: Int32Array;
  readonly way: Int32Array;
  readonly helper: Int32Array;
  /** Rows of the attendants, `attendanceWidth` to each activity; -1 where nobody is needed. */
  readonly attendants: Int32Array;
  /** Most attendances any way has. */
  readonly attendanceWidth: number;
  /** Row that made the activity wait last, -1 when nothing did, and the slots it waited behind its forerunners. */
  readonly blockedBy: Int32Array;
  readonly waited: Int32Array;
  isComplete: boolean;
  setUpMin: number;
}

/**
 * Room for one placement.
 *
 * @param compiled  the compiled class
 * @returns         a placement to be filled by a decoder
 * @source          arithmetic
 */
export function makePlacement(compiled: CompiledClass): Placement {
  const count = compiled.activities.length;
  const attendanceWidth = Math.max(1, ...compiled.ways.flat().map((w) => w.attendance.length));
  return {
    start: new Int32Array(count),
    end: new Int32Array(count),
    secondStart: new Int32Array(count),
    setUpStart: new Int32Array(count),
    way: new Int32Array(count),
    helper: new Int32Array(count),
    attendants: new Int32Array(count * attendanceWidth),
    attendanceWidth,
    blockedBy: new Int32Array(count),
    waited: new Int32Array(count),
    isComplete: false,
    setUpMin: 0,
  };
}

/** Clock minute at which work in the slots `start` to `end` (exclusive) is over. @source arithmetic */
export function endClockMin({ grid }: CompiledClass, start: number, end: number): number {
  return end > start ? grid.clockMin[end - 1]! + 1 : grid.clockMin[start]!;
}

/** First slot at or after a rest that begins when work in the slots `start` to `end` (exclusive) is over. @source arithmetic */
export function restEndSlot(compiled: CompiledClass, start: number, end: number, restMin: number): number {
  return compiled.grid.slotAtOrAfter(endClockMin(compiled, start, end) + restMin);
}

/**
 * A placement as people read it.
 *
 * @param compiled   the compiled class
 * @param placement  where everything lies
 * @returns          one entry for each activity that is placed
 * @source           arithmetic
 */
export function entriesOf(compiled: CompiledClass, placement: Placement): PlanEntry[] {
  const { clockMin } = compiled.grid;
  const idOf = (row: number): string | undefined => (row < 0 ? undefined : idOfRow(compiled, row));
  return compiled.activities.flatMap((activity, a) => {
    const begin = placement.start[a]!;
    if (begin < 0) return [];
    const end = placement.end[a]!;
    const second = placement.secondStart[a]!;
    const firstEnd = second >= 0 ? compiled.calendar[a]!.windowEnd[begin]! : end;
    const piece = (from: number, to: number): { beginMin: number; endMin: number } => ({
      beginMin: clockMin[from]!,
      endMin: endClockMin(compiled, from, to),
    });
    const setUp = placement.setUpStart[a]!;
    const way = compiled.ways[a]![placement.way[a]!]!;
    const helperId = idOf(placement.helper[a]!);
    return [
      {
        activityId: activity.id,
        pieces: second >= 0 ? [piece(begin, firstEnd), piece(second, end)] : [piece(begin, end)],
        wayIndex: placement.way[a]!,
        attendantIds: way.attendance.map((_, k) =>
          idOf(placement.attendants[a * placement.attendanceWidth + k]!),
        ),
        ...(setUp >= 0 ? { setUpBeginMin: clockMin[setUp]! } : {}),
        ...(helperId === undefined ? {} : { helperId }),
      },
    ];
  });
}

/** An entry in slots and rows. */
export interface PlacedEntry {
  readonly activity: number;
  readonly wayIndex: number;
  /** First slot of the change-over, or of the work when there is none. */
  readonly block: number;
  readonly work: number;
  readonly end: number;
  readonly second: number;
  readonly helper: number;
  readonly attendants: readonly number[];
}

/**
 * An entry of a plan laid back on the slots.
 *
 * @param compiled  the compiled class
 * @param entry     one entry
 * @returns         its slots and rows; undefined when the class has no such activity
 * @source          arithmetic
 */
export function placedEntry(compiled: CompiledClass, entry: PlanEntry): PlacedEntry | undefined {
  const { grid, problem, learnerRow0 } = compiled;
  const activity = compiled.activityIndex.get(entry.activityId);
  if (activity === undefined) return undefined;
  const last = entry.pieces[entry.pieces.length - 1]!;
  const work = grid.slotAtOrAfter(beginOf(entry));
  const rowOf = (id: string | undefined): number => {
    if (id === undefined) return -1;
    const resource = problem.resources.findIndex((r) => r.id === id);
    return resource >= 0 ? resource : learnerRow0 + problem.learners.findIndex((l) => l.id === id);
  };
  return {
    activity,
    wayIndex: entry.wayIndex,
    block: entry.setUpBeginMin === undefined ? work : grid.slotAtOrAfter(entry.setUpBeginMin),
    work,
    end: grid.slotAtOrAfter(last.endMin - 1) + (last.endMin > last.beginMin ? 1 : 0),
    second: entry.pieces.length > 1 ? grid.slotAtOrAfter(last.beginMin) : -1,
    helper: rowOf(entry.helperId),
    attendants: entry.attendantIds.map(rowOf),
  };
}

/**
 * Where everything lies, kept apart from the decoder's store.
 *
 * @param placement  a placement
 * @returns          one place per activity; undefined where it is not placed
 * @source           arithmetic
 */
export function placesOf(placement: Placement): (PlacedEntry | undefined)[] {
  return Array.from(placement.start, (work, a) => (work < 0 ? undefined : placeOf(placement, a)));
}

/** Where one placed activity lies. @source arithmetic */
export function placeOf(placement: Placement, a: number): PlacedEntry {
  const { attendanceWidth: width } = placement;
  const work = placement.start[a]!;
  const setUp = placement.setUpStart[a]!;
  return {
    activity: a,
    wayIndex: placement.way[a]!,
    block: setUp >= 0 ? setUp : work,
    work,
    end: placement.end[a]!,
    second: placement.secondStart[a]!,
    helper: placement.helper[a]!,
    attendants: Array.from(placement.attendants.subarray(a * width, (a + 1) * width)),
  };
}
