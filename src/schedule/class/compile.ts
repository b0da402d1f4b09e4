import { topologicalOrder } from '../project/compile.ts';
import { type Calendar, makeCalendar, makeSlotGrid, type SlotGrid } from './calendar.ts';
import type { Activity, ClassProblem, Way } from './problem.ts';

/** One way of an activity in row numbers. */
export interface CompiledWay {
  readonly stationRow: number;
  readonly durationMin: number;
  /** Number of the setting, -1 when the station may stand as it is. */
  readonly setting: number;
  readonly setUpMin: number;
  /** Held on afterwards; a station is held only where the work was done. */
  readonly rests: readonly { readonly row: number; readonly restMin: number; readonly places: number }[];
  readonly attendance: readonly {
    readonly rows: readonly number[];
    readonly fromMin: number;
    readonly toMin: number;
    readonly onlyAtSetUp: boolean;
  }[];
  /** Who is busy when, in minutes of the work; `toMin` is `wholeWork` for a member who is busy throughout. */
  readonly busy: readonly { readonly row: number; readonly fromMin: number; readonly toMin: number }[];
}

/** Longer than any work: a member is busy until its end, however long it turns out. */
const wholeWork = 1_000_000;

/** A class problem in row numbers and flat arrays. Rows are the resources, then the learners. */
export interface CompiledClass {
  readonly problem: ClassProblem;
  readonly grid: SlotGrid;
  readonly rowCount: number;
  readonly learnerRow0: number;
  readonly capacity: Uint8Array;
  /** Use of every row in every slot before anything is planned: closures, absences, people outside their sessions. */
  readonly baseUse: Uint8Array;
  /** Rows of stations that remember what they are set to. */
  readonly statefulRows: readonly number[];
  readonly firstSetting: Int32Array;
  readonly activityIndex: ReadonlyMap<string, number>;
  readonly activities: readonly Activity[];
  readonly ways: readonly (readonly CompiledWay[])[];
  /** Least minutes of each activity in any way; of a lot the shortest turn, since a build may go on after its own. */
  readonly leastMinutes: Int32Array;
  readonly members: readonly (readonly number[])[];
  readonly builds: readonly (readonly number[])[];
  readonly jigs: readonly (readonly number[])[];
  readonly before: readonly (readonly {
    readonly activity: number;
    readonly lagMin: number;
    readonly isFromStart: boolean;
  }[])[];
  readonly followers: readonly (readonly number[])[];
  /** Followers that may not wait longer than so much. */
  readonly tight: readonly (readonly {
    readonly activity: number;
    readonly mostLagMin: number;
    readonly isFromStart: boolean;
  }[])[];
  readonly calendar: readonly Calendar[];
  readonly sessionCalendar: readonly Calendar[];
  readonly courseOf: Int32Array;
  readonly courseLearners: readonly (readonly number[])[];
  readonly learnerCourse: Int32Array;
  readonly releaseSlot: Int32Array;
  /** Spans that can run short, by the activity that begins or ends them. */
  readonly spansFrom: readonly (readonly number[])[];
  readonly spansUntil: readonly (readonly number[])[];
  readonly spans: readonly {
    readonly row: number;
    readonly isUntilStart: boolean;
    readonly restMin: number;
  }[];
  readonly order: Int32Array;
  readonly cells: Cells;
}

/** Stretches of slots in which no calendar begins or ends a window. */
export interface Cells {
  readonly cellOf: Int32Array;
  readonly cellEnd: Int32Array;
  readonly cellCount: number;
  /** Per row and cell the slots in which the row has a place left before anything is planned. */
  readonly baseRoom: Int32Array;
}

/**
 * Lays a class problem out in flat arrays.
 *
 * @param problem  a checked class problem
 * @returns        the same problem, compiled
 * @source         arithmetic
 */
export function compileClass(problem: ClassProblem): CompiledClass {
  const grid = makeSlotGrid(problem.windows);
  const rows = new Map(problem.resources.map((r, i) => [r.id, i]));
  const learnerRow0 = problem.resources.length;
  const learners = new Map(problem.learners.map((l, i) => [l.id, i]));
  const courses = new Map(problem.courses.map((c, i) => [c.id, i]));
  const activityIndex = new Map(problem.activities.map((a, i) => [a.id, i]));
  const sessionCalendar = problem.courses.map((c) => makeCalendar(grid, problem.windows, c.id, 'session'));
  const prepCalendar = problem.courses.map((c) => makeCalendar(grid, problem.windows, c.id, 'preparation'));
  const settings = new Map<string, number>();
  const settingOf = (name: string | undefined): number => {
    if (name === undefined) return -1;
    if (!settings.has(name)) settings.set(name, settings.size);
    return settings.get(name)!;
  };
  const learnerRow = (id: string): number => learnerRow0 + learners.get(id)!;
  const ways = problem.activities.map((a) =>
    a.ways.map((w) => compileWay(a, w, rows, settingOf, learnerRow)),
  );
  const stateful = new Set<number>();
  for (const list of ways)
    for (const w of list)
      if (w.setting >= 0 && w.stationRow >= 0 && problem.resources[w.stationRow]!.capacity === 1)
        stateful.add(w.stationRow);
  const before = problem.activities.map((a) =>
    a.after.map((link) => ({
      activity: activityIndex.get(link.activityId)!,
      lagMin: link.lagMin,
      isFromStart: link.from === 'start',
    })),
  );
  const followers: number[][] = problem.activities.map(() => []);
  before.forEach((list, i) => {
    for (const link of list) followers[link.activity]!.push(i);
  });
  const tight: { activity: number; mostLagMin: number; isFromStart: boolean }[][] = problem.activities.map(
    () => [],
  );
  problem.activities.forEach((activity, i) => {
    for (const link of activity.after)
      if (link.mostLagMin !== undefined)
        tight[activityIndex.get(link.activityId)!]!.push({
          activity: i,
          mostLagMin: link.mostLagMin,
          isFromStart: link.from === 'start',
        });
  });
  const courseOf = Int32Array.from(problem.activities, (a) => courses.get(a.courseId)!);
  const nowMin = problem.state?.nowMin;
  const capacity = Uint8Array.from([
    ...problem.resources.map((r) => r.capacity),
    ...problem.learners.map(() => 1),
  ]);
  const use = baseUse(problem, grid, sessionCalendar, courses);
  const spans = (problem.spans ?? []).filter((span) => isSpanShort(problem, span.resourceId));
  const spansFrom: number[][] = problem.activities.map(() => []);
  const spansUntil: number[][] = problem.activities.map(() => []);
  spans.forEach((span, i) => {
    spansFrom[activityIndex.get(span.fromActivityId)!]!.push(i);
    spansUntil[activityIndex.get(span.untilActivityId)!]!.push(i);
  });
  return {
    problem,
    grid,
    rowCount: learnerRow0 + problem.learners.length,
    learnerRow0,
    capacity,
    baseUse: use,
    cells: makeCells(problem, [...sessionCalendar, ...prepCalendar], grid.slotCount, use, capacity),
    statefulRows: [...stateful],
    firstSetting: Int32Array.from(problem.resources, (r) => settingOf(r.setting)),
    activityIndex,
    activities: problem.activities,
    ways,
    leastMinutes: Int32Array.from(problem.activities, leastOf),
    members: problem.activities.map((a) => a.memberIds.map(learnerRow)),
    builds: problem.activities.map((a) => a.buildIds.map((id) => learners.get(id)!)),
    jigs: problem.activities.map((a) => a.jigIds.map((id) => rows.get(id)!)),
    before,
    followers,
    tight,
    calendar: problem.activities.map(
      (a, i) => (a.where === 'session' ? sessionCalendar : prepCalendar)[courseOf[i]!]!,
    ),
    sessionCalendar,
    courseOf,
    courseLearners: problem.courses.map((c) =>
      problem.learners.flatMap((l, i) => (l.courseId === c.id ? [learnerRow0 + i] : [])),
    ),
    learnerCourse: Int32Array.from(problem.learners, (l) => courses.get(l.courseId)!),
    releaseSlot: Int32Array.from(problem.activities, (a) =>
      Math.max(
        a.releaseMin === undefined ? 0 : grid.slotAtOrAfter(a.releaseMin),
        nowMin === undefined ? 0 : grid.slotAtOrAfter(nowMin),
      ),
    ),
    spansFrom,
    spansUntil,
    spans: spans.map((s) => ({
      row: rows.get(s.resourceId)!,
      isUntilStart: s.untilEdge === 'start',
      restMin: s.restMin,
    })),
    order: topologicalOrder(followers, before),
  };
}

function leastOf(activity: Activity): number {
  let least = Number.MAX_SAFE_INTEGER;
  for (const way of activity.ways)
    for (const turn of way.turns ?? [{ fromMin: 0, toMin: way.durationMin }])
      least = Math.min(least, turn.toMin - turn.fromMin);
  return least;
}

/** Id of the resource or learner in a row. @source arithmetic */
export function idOfRow({ problem, learnerRow0 }: CompiledClass, row: number): string {
  return row < learnerRow0 ? problem.resources[row]!.id : problem.learners[row - learnerRow0]!.id;
}

function compileWay(
  activity: Activity,
  way: Way,
  rows: ReadonlyMap<string, number>,
  settingOf: (name: string | undefined) => number,
  learnerRow: (id: string) => number,
): CompiledWay {
  return {
    stationRow: way.stationId === undefined ? -1 : rows.get(way.stationId)!,
    durationMin: way.durationMin,
    setting: settingOf(way.setting),
    setUpMin: way.setUpMin ?? 0,
    rests: activity.rests
      .filter(
        (r) => r.resourceId === way.stationId || !activity.ways.some((w) => w.stationId === r.resourceId),
      )
      .map((r) => ({ row: rows.get(r.resourceId)!, restMin: r.restMin, places: r.places ?? 1 })),
    attendance: way.attendance.map((a) => ({
      rows: a.anyOf.map((id) => rows.get(id)!),
      fromMin: a.fromMin,
      toMin: a.toMin,
      onlyAtSetUp: a.onlyAtSetUp === true,
    })),
    busy:
      way.turns === undefined
        ? activity.memberIds.map((id) => ({ row: learnerRow(id), fromMin: 0, toMin: wholeWork }))
        : way.turns
            .filter((t) => activity.memberIds.includes(t.buildId))
            .map((t) => ({ row: learnerRow(t.buildId), fromMin: t.fromMin, toMin: t.toMin })),
  };
}

/** A span is only watched when more builds want the thing than there are. */
function isSpanShort(problem: ClassProblem, resourceId: string): boolean {
  const capacity = problem.resources.find((r) => r.id === resourceId)?.capacity ?? 0;
  return (problem.spans ?? []).filter((s) => s.resourceId === resourceId).length > capacity;
}

function baseUse(
  problem: ClassProblem,
  grid: SlotGrid,
  sessions: readonly Calendar[],
  courses: ReadonlyMap<string, number>,
): Uint8Array {
  const { slotCount } = grid;
  const use = new Uint8Array((problem.resources.length + problem.learners.length) * slotCount);
  problem.resources.forEach((resource, row) => {
    for (const closure of resource.closures ?? [])
      use.fill(
        resource.capacity,
        row * slotCount + grid.slotAtOrAfter(closure.beginMin),
        row * slotCount + grid.slotAtOrAfter(closure.endMin),
      );
  });
  const windows = new Map(problem.windows.map((w) => [w.id, w]));
  problem.learners.forEach((learner, l) => {
    const offset = (problem.resources.length + l) * slotCount;
    const { windowEnd, nextAllowed } = sessions[courses.get(learner.courseId)!]!;
    // nobody is there outside the sessions of the own course
    use.fill(1, offset, offset + slotCount);
    for (let s = nextAllowed[0] ?? slotCount; s < slotCount; s = nextAllowed[windowEnd[s]!] ?? slotCount)
      use.fill(0, offset + s, offset + windowEnd[s]!);
    for (const id of learner.awayWindowIds ?? []) {
      const window = windows.get(id);
      if (window !== undefined)
        use.fill(1, offset + grid.slotAtOrAfter(window.beginMin), offset + grid.slotAtOrAfter(window.endMin));
    }
  });
  return use;
}

function makeCells(
  problem: ClassProblem,
  calendars: readonly Calendar[],
  slots: number,
  use: Uint8Array,
  capacity: Uint8Array,
): Cells {
  const begins = new Uint8Array(slots + 1);
  if (slots > 0) begins[0] = 1;
  for (const { windowEnd } of calendars)
    for (let s = 1; s < slots; s++) if (windowEnd[s] !== windowEnd[s - 1]) begins[s] = 1;
  const cellOf = new Int32Array(slots);
  const ends: number[] = [];
  for (let s = 0; s < slots; s++) {
    if (begins[s] === 1) ends.push(s);
    cellOf[s] = ends.length - 1;
    ends[ends.length - 1] = s + 1;
  }
  const cellCount = ends.length;
  const baseRoom = new Int32Array(capacity.length * cellCount);
  for (let row = 0; row < capacity.length; row++) {
    const full = capacity[row]!;
    const offset = row * slots;
    const isAlwaysOpen =
      row < problem.resources.length && (problem.resources[row]!.closures ?? []).length === 0;
    for (let cell = 0; cell < cellCount; cell++) {
      const from = cell === 0 ? 0 : ends[cell - 1]!;
      let room = isAlwaysOpen && full > 0 ? ends[cell]! - from : 0;
      if (!isAlwaysOpen) for (let s = from; s < ends[cell]!; s++) if (use[offset + s]! < full) room++;
      baseRoom[row * cellCount + cell] = room;
    }
  }
  return { cellOf, cellEnd: Int32Array.from(ends), cellCount, baseRoom };
}
