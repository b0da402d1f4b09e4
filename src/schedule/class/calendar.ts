import type { ClassProblem, WorkWindow } from './problem.ts';

/** The minutes in which anything may be done, laid end to end: slot 0 is the first minute of the first window. */
export interface SlotGrid {
  readonly slotCount: number;
  /** Clock minute of each slot. */
  readonly clockMin: Int32Array;
  /** First slot at or after a clock minute; slotCount when there is none. */
  slotAtOrAfter(clockMin: number): number;
}

/** The slots one kind of work may use. */
export interface Calendar {
  /** End (exclusive) of the window a slot lies in, 0 where the work may not be done. */
  readonly windowEnd: Int32Array;
  /** First allowed slot at or after each slot, slotCount when there is none. */
  readonly nextAllowed: Int32Array;
  /** Allowed slots before each slot. */
  readonly minutesBefore: Int32Array;
}

/** Minutes of the clock between two entries of the index of runs. */
const stretchMin = 720;

/**
 * Lays the windows of all courses end to end.
 *
 * @param windows  sessions and preparation hours, in any order; they may overlap
 * @returns        the grid
 * @source         arithmetic
 */
export function makeSlotGrid(windows: readonly WorkWindow[]): SlotGrid {
  const runs: { begin: number; end: number; slot: number }[] = [];
  for (const w of windows.toSorted((a, b) => a.beginMin - b.beginMin)) {
    const last = runs[runs.length - 1];
    if (last !== undefined && w.beginMin <= last.end) last.end = Math.max(last.end, w.endMin);
    else runs.push({ begin: w.beginMin, end: w.endMin, slot: 0 });
  }
  let slotCount = 0;
  for (const run of runs) {
    run.slot = slotCount;
    slotCount += run.end - run.begin;
  }
  const clockMin = new Int32Array(slotCount);
  for (const run of runs) for (let m = run.begin; m < run.end; m++) clockMin[run.slot + m - run.begin] = m;
  const begins = Int32Array.from(runs, (r) => r.begin);
  const ends = Int32Array.from(runs, (r) => r.end);
  const firsts = Int32Array.from(runs, (r) => r.slot);
  const base = runs.length === 0 ? 0 : begins[0]!;
  /** For each stretch of the clock the first run that is not over at its begin. */
  const runOf = new Int32Array(
    runs.length === 0 ? 0 : Math.floor((ends[ends.length - 1]! - base) / stretchMin) + 1,
  );
  for (let i = 0, r = 0; i < runOf.length; i++) {
    while (r < runs.length && ends[r]! <= base + i * stretchMin) r++;
    runOf[i] = r;
  }
  return {
    slotCount,
    clockMin,
    slotAtOrAfter: (minute) => {
      const at = minute - base;
      if (at < 0) return 0;
      const stretch = Math.floor(at / stretchMin);
      if (stretch >= runOf.length) return slotCount;
      let r = runOf[stretch]!;
      while (r < ends.length && ends[r]! <= minute) r++;
      if (r === ends.length) return slotCount;
      return minute < begins[r]! ? firsts[r]! : firsts[r]! + Math.ceil(minute) - begins[r]!;
    },
  };
}

/**
 * The slots in which a course's work of one kind may be done.
 *
 * @param grid      the grid of all windows
 * @param windows   all windows
 * @param courseId  the course
 * @param kind      session or preparation
 * @returns         the calendar
 * @source          arithmetic
 */
export function makeCalendar(
  grid: SlotGrid,
  windows: readonly WorkWindow[],
  courseId: string,
  kind: WorkWindow['kind'],
): Calendar {
  const windowEnd = new Int32Array(grid.slotCount + 1);
  for (const w of windows) {
    if (w.kind !== kind || (w.courseId !== undefined && w.courseId !== courseId)) continue;
    const from = grid.slotAtOrAfter(w.beginMin);
    const to = from + w.endMin - w.beginMin;
    windowEnd.fill(to, from, to);
  }
  const nextAllowed = new Int32Array(grid.slotCount + 1).fill(grid.slotCount);
  const minutesBefore = new Int32Array(grid.slotCount + 1);
  for (let s = grid.slotCount - 1; s >= 0; s--) nextAllowed[s] = windowEnd[s]! > 0 ? s : nextAllowed[s + 1]!;
  for (let s = 0; s < grid.slotCount; s++)
    minutesBefore[s + 1] = minutesBefore[s]! + (windowEnd[s]! > 0 ? 1 : 0);
  return { windowEnd, nextAllowed, minutesBefore };
}

/**
 * Adds sessions behind the last ones, at the same distance and of the same length as the last two, so that a
 * course that needs longer than it has still gets a plan. Their ids begin with `more-`.
 *
 * @param problem   the problem
 * @param count     sessions to add per course; >= 0
 * @returns         the problem with more windows
 * @source          arithmetic
 */
export function withMoreSessions(problem: ClassProblem, count: number): ClassProblem {
  const added: WorkWindow[] = [];
  const kinds = ['session', 'preparation'] as const;
  for (const courseId of [...problem.courses.map((c) => c.id), undefined])
    for (const kind of kinds) {
      const own = problem.windows
        .filter((w) => w.kind === kind && w.courseId === courseId)
        .toSorted((a, b) => a.beginMin - b.beginMin);
      const last = own[own.length - 1];
      if (last === undefined) continue;
      const before = own[own.length - 2];
      const step =
        before === undefined
          ? 7 * 1440
          : Math.max(last.endMin - last.beginMin, last.beginMin - before.beginMin);
      for (let i = 1; i <= count; i++)
        added.push({
          ...last,
          id: `more-${courseId ?? 'all'}-${kind}-${i}`,
          beginMin: last.beginMin + i * step,
          endMin: last.endMin + i * step,
        });
    }
  return { ...problem, windows: [...problem.windows, ...added] };
}
