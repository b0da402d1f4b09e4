import type { Calendar } from './calendar.ts';
import { type CompiledClass, idOfRow } from './compile.ts';
import { makeOwnWork, type OwnWork } from './own-work.ts';
import { beginOf, endOf, hasTurns, type PlanEntry } from './problem.ts';

/** Session minutes that no plan can be under, and why. */
export interface ClassBound {
  readonly makespanMin: number;
  /** The session in which no plan can be over, counted from 1, of the course that decides. */
  readonly session: number;
  /** One sentence for the teacher. */
  readonly reason: string;
  /** What decides: an id of a learner, person, station or jig, or `chain`. */
  readonly limit: string;
}

interface Job {
  /** The slots it may be done in. */
  readonly calendar: Calendar;
  readonly head: number;
  readonly minutes: number;
  /** Last slot (exclusive) by which this work has to be done. */
  readonly latest: number;
}

/**
 * Lower bound: the earliest date that cannot be refuted. For a date, every activity gets the earliest start and the
 * latest end that its chain, the calendar and the learner's own work before and behind it leave; then the work of each
 * learner, person, station and jig, and of the course's hands together, has to fit between them.
 *
 * @param compiled  the compiled class
 * @returns         the bound and its reason
 * @assumes         set-ups, jigs held by hand and who helps whom are left out: they only make a plan longer
 * @source          from memory
 */
export function classBound(compiled: CompiledClass): ClassBound {
  const fixed = fixedEntries(compiled);
  const isFixed = (a: number): boolean => fixed.has(a);
  const own = makeOwnWork(compiled, isFixed, (a, row) => ownMinutes(compiled, a, row));
  const heads = headSlots(compiled, fixed, own);
  const places = placesStore(compiled);
  let low = chainEnd(compiled, heads, fixed);
  const chain = low;
  let high = compiled.grid.slotCount;
  let reason = 'chain';
  const refutedBy = (date: number): string | undefined =>
    refuted(compiled, heads, latestEnds(compiled, date, own, isFixed), fixed, places);
  const first = refutedBy(low);
  if (first !== undefined) {
    reason = first;
    // low is refuted, high is not (or is the end of the calendar)
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      const why = refutedBy(middle);
      if (why === undefined) high = middle;
      else {
        low = middle;
        reason = why;
      }
    }
    low = high;
  }
  return describe(compiled, low, chain === low ? 'chain' : reason);
}

/** Earliest start of every activity by chain, calendar and what has happened. */
function headSlots(compiled: CompiledClass, fixed: Fixed, own: OwnWork): Int32Array {
  const heads = new Int32Array(compiled.activities.length);
  chainHeads(compiled, fixed, heads);
  own.raiseHeads(heads);
  chainHeads(compiled, fixed, heads);
  return heads;
}

function chainHeads(compiled: CompiledClass, fixed: Fixed, heads: Int32Array): void {
  const { grid } = compiled;
  for (const a of compiled.order) {
    const given = fixed.get(a);
    if (given !== undefined) {
      heads[a] = grid.slotAtOrAfter(beginOf(given));
      continue;
    }
    let from = Math.max(heads[a]!, compiled.releaseSlot[a]!);
    if (!hasTurns(compiled.activities[a]!))
      for (const link of compiled.before[a]!) from = Math.max(from, readyAfter(compiled, fixed, heads, link));
    heads[a] = firstFit(
      compiled.calendar[a]!,
      from,
      compiled.leastMinutes[a]!,
      compiled.activities[a]!.mayStop,
      grid.slotCount,
    );
  }
}

/** What stands as it is, by activity. */
type Fixed = ReadonlyMap<number, PlanEntry>;

function fixedEntries(compiled: CompiledClass): Fixed {
  return new Map(
    (compiled.problem.state?.fixed ?? []).flatMap((entry) => {
      const a = compiled.activityIndex.get(entry.activityId);
      return a === undefined ? [] : [[a, entry] as const];
    }),
  );
}

function readyAfter(
  compiled: CompiledClass,
  fixed: Fixed,
  heads: Int32Array,
  link: { readonly activity: number; readonly lagMin: number; readonly isFromStart: boolean },
): number {
  const { clockMin, slotCount } = compiled.grid;
  const given = fixed.get(link.activity);
  if (given !== undefined)
    return compiled.grid.slotAtOrAfter((link.isFromStart ? beginOf(given) : endOf(given)) + link.lagMin);
  const head = heads[link.activity]!;
  if (head >= slotCount) return slotCount;
  const minutes = compiled.leastMinutes[link.activity]!;
  const last = Math.min(slotCount - 1, head + Math.max(0, minutes - 1));
  const from = link.isFromStart ? clockMin[head]! : clockMin[last]! + (minutes > 0 ? 1 : 0);
  return compiled.grid.slotAtOrAfter(from + link.lagMin);
}

/** Least minutes in which a learner is busy with an activity. */
function ownMinutes(compiled: CompiledClass, a: number, row: number): number {
  let least = Number.MAX_SAFE_INTEGER;
  for (const way of compiled.ways[a]!) {
    let own = 0;
    for (const b of way.busy) if (b.row === row) own += Math.min(b.toMin, way.durationMin) - b.fromMin;
    least = Math.min(least, own);
  }
  return least;
}

function firstFit(
  calendar: Calendar,
  from: number,
  minutes: number,
  mayStop: boolean,
  slots: number,
): number {
  let t = from;
  while (t < slots) {
    t = calendar.nextAllowed[t]!;
    if (t >= slots) return slots;
    if (mayStop || t + minutes <= calendar.windowEnd[t]!) return t;
    t = calendar.windowEnd[t]!;
  }
  return slots;
}

/** End of the longest chain: the date before which nothing can be over. */
function chainEnd(compiled: CompiledClass, heads: Int32Array, fixed: Fixed): number {
  let end = 0;
  for (let a = 0; a < heads.length; a++) {
    const given = fixed.get(a);
    const over =
      given === undefined
        ? heads[a]! + compiled.leastMinutes[a]!
        : compiled.grid.slotAtOrAfter(endOf(given) - 1) + 1;
    end = Math.max(end, over);
  }
  return Math.min(end, compiled.grid.slotCount);
}

/** Latest end (exclusive slot) of every activity when everything has to be over by `date`. */
function latestEnds(
  compiled: CompiledClass,
  date: number,
  own: OwnWork,
  isFixed: (a: number) => boolean,
): Int32Array {
  const latest = new Int32Array(compiled.activities.length).fill(date);
  chainLatest(compiled, latest, isFixed);
  own.lowerLatest(latest);
  chainLatest(compiled, latest, isFixed);
  return latest;
}

function chainLatest(compiled: CompiledClass, latest: Int32Array, isFixed: (a: number) => boolean): void {
  const { clockMin, slotCount } = compiled.grid;
  for (let i = compiled.order.length - 1; i >= 0; i--) {
    const a = compiled.order[i]!;
    const minutes = compiled.leastMinutes[a]!;
    latest[a] = lastFit(compiled.calendar[a]!, latest[a]!, minutes, compiled.activities[a]!.mayStop);
    const start = latest[a]! - minutes;
    // what stands as it is waits for nothing any more, and a lot counts turn by turn
    if (isFixed(a) || hasTurns(compiled.activities[a]!)) continue;
    for (const link of compiled.before[a]!) {
      if (hasTurns(compiled.activities[link.activity]!)) continue;
      const minute =
        (start < 0 ? Number.NEGATIVE_INFINITY : clockMin[Math.min(start, slotCount - 1)]!) - link.lagMin;
      // work of the other may go on until this minute, so its last slot is the one before
      const slot = minute === Number.NEGATIVE_INFINITY ? 0 : compiled.grid.slotAtOrAfter(minute);
      const bound = link.isFromStart ? slot + 1 + compiled.leastMinutes[link.activity]! : slot;
      latest[link.activity] = Math.min(latest[link.activity]!, bound);
    }
  }
}

function lastFit(calendar: Calendar, end: number, minutes: number, mayStop: boolean): number {
  let e = end;
  while (e > 0) {
    if (calendar.windowEnd[e - 1] === 0) {
      e--;
      continue;
    }
    const windowLast = calendar.windowEnd[e - 1]!;
    if (mayStop || minutes === 0) return e;
    const start = e - minutes;
    if (start >= 0 && calendar.windowEnd[start] === windowLast) return e;
    while (e > 0 && calendar.windowEnd[e - 1] === windowLast) e--;
  }
  return 0;
}

/** Says who or what cannot do the work between earliest starts and latest ends, or undefined when nothing refutes it. */
function refuted(
  compiled: CompiledClass,
  heads: Int32Array,
  latest: Int32Array,
  fixed: Fixed,
  places: FreePlaces,
): string | undefined {
  const jobs: Job[][] = Array.from({ length: compiled.rowCount }, () => []);
  for (let a = 0; a < heads.length; a++) {
    const minutes = compiled.leastMinutes[a]!;
    const calendar = compiled.calendar[a]!;
    if (fixed.has(a) || minutes === 0) continue;
    if (heads[a]! + minutes > latest[a]!) return 'chain';
    const ways = compiled.ways[a]!;
    for (const row of compiled.members[a]!) {
      const own = ownMinutes(compiled, a, row);
      if (own > 0) jobs[row]!.push({ calendar, head: heads[a]!, minutes: own, latest: latest[a]! });
    }
    if (ways.length !== 1 || hasTurns(compiled.activities[a]!)) continue;
    const way = ways[0]!;
    if (way.stationRow >= 0)
      jobs[way.stationRow]!.push({ calendar, head: heads[a]!, minutes, latest: latest[a]! });
    for (const need of way.attendance)
      if (!need.onlyAtSetUp && need.rows.length === 1)
        jobs[need.rows[0]!]!.push({
          calendar,
          head: heads[a]! + need.fromMin,
          minutes: Math.min(need.toMin, minutes) - need.fromMin,
          latest: latest[a]!,
        });
  }
  for (let row = 0; row < compiled.rowCount; row++)
    if (isOverfull(places, [row], compiled.capacity[row]!, jobs[row]!)) return idOfRow(compiled, row);
  for (let c = 0; c < compiled.courseLearners.length; c++) {
    const hands = handJobs(compiled, heads, latest, fixed, c);
    if (isOverfull(places, compiled.courseLearners[c]!, 1, hands))
      return `hands ${compiled.problem.courses[c]!.id}`;
  }
  return undefined;
}

function handJobs(
  compiled: CompiledClass,
  heads: Int32Array,
  latest: Int32Array,
  fixed: Fixed,
  course: number,
): Job[] {
  const list: Job[] = [];
  for (let a = 0; a < heads.length; a++) {
    if (compiled.courseOf[a] !== course || fixed.has(a)) continue;
    const minutes = compiled.leastMinutes[a]!;
    const calendar = compiled.calendar[a]!;
    for (const row of compiled.members[a]!) {
      const own = ownMinutes(compiled, a, row);
      if (own > 0) list.push({ calendar, head: heads[a]!, minutes: own, latest: latest[a]! });
    }
    const helperMin = Math.min(minutes, compiled.activities[a]!.helperMin);
    if (helperMin > 0) list.push({ calendar, head: heads[a]!, minutes: helperMin, latest: latest[a]! });
  }
  return list;
}

/**
 * Whether the jobs cannot be done in time even if they could be cut at will: for each deadline, work that must lie
 * behind some head and before it against the free places in between.
 */
function isOverfull(
  freePlaces: FreePlaces,
  rows: readonly number[],
  capacity: number,
  jobs: readonly Job[],
): boolean {
  if (jobs.length < 2) return false;
  const places = freePlaces(rows, capacity, [...new Set(jobs.map((j) => j.calendar))]);
  const byHead = jobs.toSorted((x, y) => y.head - x.head);
  const ends = [...new Set(jobs.map((j) => j.latest))].sort((x, y) => x - y);
  const work = new Float64Array(ends.length);
  const endIndex = new Map(ends.map((e, i) => [e, i]));
  // heads from the last to the first; work[i] is the work of jobs with head at or after it and latest at ends[i]
  for (let i = 0; i < byHead.length; i++) {
    const job = byHead[i]!;
    work[endIndex.get(job.latest)!]! += job.minutes;
    if (byHead[i + 1]?.head === job.head) continue;
    let sum = 0;
    for (let e = 0; e < ends.length; e++) {
      sum += work[e]!;
      if (sum > 0 && sum > places(job.head, ends[e]!)) return true;
    }
  }
  return false;
}

/** Free place minutes of some rows between two slots. */
type FreePlaces = (
  rows: readonly number[],
  capacity: number,
  calendars: readonly Calendar[],
) => (from: number, to: number) => number;

/** Sums from the front, made once for each set of rows and calendars. */
function placesStore(compiled: CompiledClass): FreePlaces {
  const slots = compiled.grid.slotCount;
  const numbers = new Map<Calendar, number>();
  const store = new Map<string, Float64Array>();
  return (rows, capacity, calendars) => {
    for (const c of calendars) if (!numbers.has(c)) numbers.set(c, numbers.size);
    const key = `${rows.join(' ')}|${calendars
      .map((c) => numbers.get(c)!)
      .sort((a, b) => a - b)
      .join(' ')}`;
    let sums = store.get(key);
    if (sums === undefined) {
      sums = sumPlaces(compiled, rows, capacity, calendars);
      store.set(key, sums);
    }
    const made = sums;
    return (from, to) => (to <= from ? 0 : made[Math.min(to, slots)]! - made[Math.min(from, slots)]!);
  };
}

function sumPlaces(
  compiled: CompiledClass,
  rows: readonly number[],
  capacity: number,
  calendars: readonly Calendar[],
): Float64Array {
  const slots = compiled.grid.slotCount;
  const sums = new Float64Array(slots + 1);
  for (let s = 0; s < slots; s++) {
    let free = 0;
    let isOpen = false;
    for (const c of calendars) if (c.windowEnd[s]! > 0) isOpen = true;
    if (isOpen) for (const row of rows) free += Math.max(0, capacity - compiled.baseUse[row * slots + s]!);
    sums[s + 1] = sums[s]! + free;
  }
  return sums;
}

function describe(compiled: CompiledClass, date: number, limit: string): ClassBound {
  const calendars = compiled.sessionCalendar;
  const makespanMin = Math.max(
    0,
    Math.min(...calendars.map((c) => c.minutesBefore[Math.min(date, compiled.grid.slotCount)]!)),
  );
  const course = compiled.problem.courses[0]!;
  const clock =
    date === 0
      ? Number.NEGATIVE_INFINITY
      : compiled.grid.clockMin[Math.min(date, compiled.grid.slotCount) - 1]!;
  const session = compiled.problem.windows.filter(
    (w) => w.kind === 'session' && w.courseId === course.id && w.beginMin <= clock,
  ).length;
  return { makespanMin, session, limit, reason: words(compiled, limit, session) };
}

function words(compiled: CompiledClass, limit: string, session: number): string {
  const start = `No plan can be over before session ${session}`;
  if (limit === 'chain')
    return `${start}: the longest chain of steps and rests takes so long even for one learner alone.`;
  if (limit.startsWith('hands '))
    return `${start}: all learners' own work and helping hands together fill every minute until then.`;
  const learner = compiled.problem.learners.find((l) => l.id === limit);
  if (learner !== undefined)
    return `${start}: the own work of ${learner.id} between its rests fills every minute until then.`;
  const resource = compiled.problem.resources.find((r) => r.id === limit);
  return `${start}: ${resource?.name ?? limit} is the limit, its work between the rests fills every minute until then.`;
}
