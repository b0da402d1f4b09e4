import type { CompiledClass } from './compile.ts';
import type { Placement } from './placement.ts';
import { tailMinutes } from './priority.ts';

/** What a teacher may put in order: the first named counts most. */
export type Objective =
  | 'by the date'
  | 'earliest finish'
  | 'few machine changes'
  | 'even teacher load'
  | 'nobody idle'
  | 'no rest ends unattended';

/** The order when the teacher sets none. */
export const usualObjectives: readonly Objective[] = [
  'by the date',
  'earliest finish',
  'few machine changes',
  'even teacher load',
  'nobody idle',
  'no rest ends unattended',
];

/** What a plan is judged by. */
export interface Measures {
  /** Session minutes of each learner's course that pass until the build is done. */
  readonly finishMin: readonly number[];
  /** The latest of them. */
  readonly makespanMin: number;
  /** Session minutes beyond the due dates, summed over the builds and over steps that have a date of their own. */
  readonly lateMin: number;
  readonly changeOverMin: number;
  /** Minutes of the busiest person in the fullest session beyond the mean session. */
  readonly unevenMin: number;
  /** Minutes in gaps of over 10 minutes inside sessions before the learner's last piece of work that day. */
  readonly idleMin: number;
  /** Rests of up to four hours that end when no session and no preparation is on. */
  readonly unattendedRests: number;
}

/** Judges placements; keeps its own working store. */
export interface Measurer {
  /** One number, smaller is better, smooth enough to search on. */
  cost(placement: Placement): number;
  measures(placement: Placement): Measures;
}

const idleFromMin = 10;
const shortRestMin = 240;

/**
 * Makes the judge of plans for one class.
 *
 * @param compiled    the compiled class
 * @param objectives  in order, the first counts most; each weighs a third of the one before
 * @param dueMin      clock minute by which each course should be finished; undefined when there is no date
 * @returns           the measurer
 * @source            common practice, no published source
 */
export function makeMeasurer(
  compiled: CompiledClass,
  objectives: readonly Objective[],
  dueMin: readonly (number | undefined)[],
): Measurer {
  const { grid, activities } = compiled;
  const learnerCount = compiled.learnerCourse.length;
  const ends = new Int32Array(learnerCount);
  const dueSession = dueMin.map((due, c) =>
    due === undefined ? undefined : compiled.sessionCalendar[c]!.minutesBefore[grid.slotAtOrAfter(due)]!,
  );
  const weights = new Map(objectives.map((o, i) => [o, 3 ** -i]));
  const weight = (o: Objective): number => weights.get(o) ?? 0;
  const needsMore =
    weight('nobody idle') + weight('even teacher load') + weight('no rest ends unattended') > 0.2;

  const finishes = (placement: Placement): number[] => {
    ends.fill(0);
    for (let a = 0; a < activities.length; a++)
      for (const l of compiled.builds[a]!) if (placement.end[a]! > ends[l]!) ends[l] = placement.end[a]!;
    return Array.from(
      ends,
      (slot, l) => compiled.sessionCalendar[compiled.learnerCourse[l]!]!.minutesBefore[slot]!,
    );
  };
  const late = (finish: readonly number[]): number =>
    finish.reduce((sum, f, l) => {
      const due = dueSession[compiled.learnerCourse[l]!];
      return sum + (due === undefined ? 0 : Math.max(0, f - due));
    }, 0);
  const dated = activities.flatMap((activity, a) =>
    activity.dueMin === undefined
      ? []
      : [
          {
            a,
            due: compiled.sessionCalendar[compiled.courseOf[a]!]!.minutesBefore[
              grid.slotAtOrAfter(activity.dueMin)
            ]!,
          },
        ],
  );
  const lateSteps = (placement: Placement): number =>
    dated.reduce(
      (sum, { a, due }) =>
        sum +
        Math.max(0, compiled.sessionCalendar[compiled.courseOf[a]!]!.minutesBefore[placement.end[a]!]! - due),
      0,
    );
  const tails = tailMinutes(compiled);
  const horizon = Math.max(1, ...compiled.sessionCalendar.map((c) => c.minutesBefore[grid.slotCount]!));
  /**
   * Session minutes at which the steps threaten to end the course: a twelfth-power mean of end plus what has to follow, so
   * that the steps nearest to the end of the course count most long before its last session changes.
   */
  const pressure = (placement: Placement): number => {
    let sum = 0;
    for (let a = 0; a < activities.length; a++) {
      const end = compiled.sessionCalendar[compiled.courseOf[a]!]!.minutesBefore[placement.end[a]!]!;
      const x = (end + tails[a]! - compiled.ways[a]![0]!.durationMin) / horizon;
      const x4 = x * x * x * x;
      sum += x4 * x4 * x4;
    }
    return horizon * (sum / activities.length) ** (1 / 12);
  };
  const cost = (placement: Placement): number => {
    if (!placement.isComplete) return Number.MAX_SAFE_INTEGER;
    const finish = finishes(placement);
    const last = Math.max(...finish);
    const mean = finish.reduce((a, b) => a + b, 0) / finish.length;
    let value =
      3 * weight('by the date') * (late(finish) + lateSteps(placement)) +
      3 * weight('earliest finish') * (last + 0.3 * mean + 0.5 * pressure(placement)) +
      0.1 * weight('few machine changes') * placement.setUpMin;
    if (needsMore) {
      const more = further(compiled, placement);
      value +=
        weight('even teacher load') * more.unevenMin +
        0.1 * weight('nobody idle') * more.idleMin +
        weight('no rest ends unattended') * more.unattendedRests;
    }
    return value;
  };
  return {
    cost,
    measures: (placement) => {
      const finishMin = finishes(placement);
      return {
        finishMin,
        makespanMin: Math.max(0, ...finishMin),
        lateMin: late(finishMin) + lateSteps(placement),
        changeOverMin: placement.setUpMin,
        ...further(compiled, placement),
      };
    },
  };
}

function further(
  compiled: CompiledClass,
  placement: Placement,
): Pick<Measures, 'unevenMin' | 'idleMin' | 'unattendedRests'> {
  return {
    unevenMin: uneven(compiled, placement),
    idleMin: idle(compiled, placement),
    unattendedRests: unattended(compiled, placement),
  };
}

function uneven(compiled: CompiledClass, placement: Placement): number {
  const { cellOf, cellCount } = compiled.cells;
  const busy = new Float64Array(compiled.rowCount * cellCount);
  compiled.activities.forEach((activity, a) => {
    const start = placement.start[a]!;
    if (start < 0 || activity.where !== 'session') return;
    compiled.ways[a]![placement.way[a]!]!.attendance.forEach((need, k) => {
      const row = placement.attendants[a * placement.attendanceWidth + k]!;
      if (row >= 0) busy[row * cellCount + cellOf[start]!]! += need.toMin - need.fromMin;
    });
  });
  let worst = 0;
  compiled.problem.resources.forEach((r, row) => {
    if (r.kind !== 'person') return;
    const own = busy.subarray(row * cellCount, (row + 1) * cellCount).filter((m) => m > 0);
    if (own.length > 0)
      worst = Math.max(worst, Math.max(...own) - own.reduce((x, y) => x + y, 0) / own.length);
  });
  return worst;
}

function idle(compiled: CompiledClass, placement: Placement): number {
  const { cellOf } = compiled.cells;
  const busy: [number, number][][] = Array.from({ length: compiled.learnerCourse.length }, () => []);
  const add = (row: number, from: number, to: number): void => {
    busy[row - compiled.learnerRow0]!.push([from, to]);
  };
  compiled.activities.forEach((activity, a) => {
    const start = placement.start[a]!;
    if (start < 0) return;
    for (const { row, fromMin, toMin } of compiled.ways[a]![placement.way[a]!]!.busy)
      add(row, start + fromMin, Math.min(placement.end[a]!, start + toMin));
    if (placement.helper[a]! >= 0) add(placement.helper[a]!, start, start + activity.helperMin);
  });
  let total = 0;
  for (const list of busy) {
    list.sort((x, y) => x[0] - y[0]);
    for (let i = 1; i < list.length; i++) {
      const gap = list[i]![0] - list[i - 1]![1];
      if (gap > idleFromMin && cellOf[list[i]![0]] === cellOf[list[i - 1]![1] - 1]) total += gap;
    }
  }
  return total;
}

function unattended(compiled: CompiledClass, placement: Placement): number {
  const { grid } = compiled;
  let total = 0;
  compiled.activities.forEach((activity, a) => {
    const end = placement.end[a]!;
    if (placement.start[a]! < 0 || end === 0) return;
    const minute = grid.clockMin[end - 1]! + 1;
    for (const rest of activity.rests) {
      if (rest.restMin > shortRestMin || rest.restMin === 0) continue;
      const slot = grid.slotAtOrAfter(minute + rest.restMin);
      if (slot >= grid.slotCount || grid.clockMin[slot]! > minute + rest.restMin) total++;
    }
  });
  return total;
}
