import { makeRandom, type Random } from '../../numeric/random.ts';
import { mean, quantile } from '../../numeric/statistics.ts';
import { withMoreSessions } from './calendar.ts';
import { coarseClass } from './coarse.ts';
import { type CompiledClass, compileClass } from './compile.ts';
import { type ClassDecoder, makeClassDecoder } from './decode.ts';
import { logSpread } from './minutes.ts';
import { listByKeys } from './priority.ts';
import { beginOf, type ClassProblem, endOf, type PlanEntry } from './problem.ts';
import type { Closed } from './row-use.ts';

/** What is uncertain in a course. Shares and chances 0..1. */
export interface Uncertainty {
  /** Factor on the minutes of each operation part, by `operation.part`; 1 when left out. */
  readonly minutesFactor?: Readonly<Record<string, number>>;
  /** Each learner's pace as a factor on the minutes (median), and how sure that is. */
  readonly pace?: Readonly<Record<string, { readonly factor: number; readonly logSd: number }>>;
  /** Chance that a learner misses a session; `absentChance` for those not named. */
  readonly absentOf?: Readonly<Record<string, number>>;
  readonly absentChance?: number;
  /** Chance that a piece of work is scrapped and done again. */
  readonly scrapChance?: number;
  /** Chance per session that a station of one place fails; it is then out for one to three sessions. */
  readonly failChance?: number;
  /** 0 takes all chance out of the minutes. */
  readonly minutesSpread?: number;
}

export interface ForecastSetUp {
  readonly problem: ClassProblem;
  /** The plan whose order is followed. */
  readonly entries: readonly PlanEntry[];
  readonly uncertainty?: Uncertainty;
  /** Clock minute by which each course has to be done, by course id. */
  readonly dueMin?: Readonly<Record<string, number>>;
  readonly seed?: number;
}

/** Finishes of many courses played through; rows can be made in parts and joined. */
export interface PlayedCourses {
  readonly runs: number;
  /** Clock minute at which each build was done, run after run. */
  readonly finishMin: Float64Array;
  /** Minutes of waiting that each resource caused, summed over the runs; the last one is waiting for a helping hand. */
  readonly lostMin: Float64Array;
}

/** One learner's prospects. Sessions are counted from 1. */
export interface LearnerForecast {
  readonly id: string;
  readonly p10Min: number;
  readonly p50Min: number;
  readonly p90Min: number;
  readonly p10Session: number;
  readonly p50Session: number;
  readonly p90Session: number;
  /** Chance to be done by the date; undefined without a date. */
  readonly chance: number | undefined;
}

export interface Forecast {
  readonly learners: readonly LearnerForecast[];
  readonly courses: readonly LearnerForecast[];
  /** What made work wait, the largest share first. */
  readonly bottlenecks: readonly { readonly id: string; readonly name: string; readonly shareFrac: number }[];
  readonly runs: number;
}

/** Minutes of one tick of the clock the courses are played on. */
export const forecastTickMin = 5;
/** Sessions behind the last one of the course, or of the plan when that needs more, in which a late course may end. */
const spareSessions = 15;

/** The forecast made ready: plays runs one by one. */
export interface CoursePlayer {
  /** Plays the runs `from <= run < to`; each run depends only on the seed and its number, so ranges can be split between workers. */
  play(from: number, to: number): PlayedCourses;
  readonly problem: ClassProblem;
}

/**
 * Makes a player of courses: each run draws minutes, pace, absences, scrap and failures, and lets the class follow the
 * order of the plan; everything starts as soon as its people, station and forerunners allow.
 *
 * @param setUp  the problem, the plan, what is uncertain
 * @param shift  moves operations of the order by session minutes (negative is earlier), by operation id
 * @returns      the player
 * @assumes      work is laid on a clock of 5 minutes; minutes are lognormal (minutes.ts); the order of the plan is kept, and a gap
 *               is filled by what fits into it as it turns out to take
 * @source       from memory
 */
export function makeCoursePlayer(
  setUp: ForecastSetUp,
  shift: Readonly<Record<string, number>> = {},
): CoursePlayer {
  const problem = coarseClass(withRoom(setUp), forecastTickMin);
  const compiled = compileClass(problem);
  const decoder = makeClassDecoder(compiled);
  decoder.fix(problem.state?.fixed ?? []);
  const list = orderOf(compiled, setUp, shift);
  const draw = makeDraw(compiled, setUp);
  const learnerCount = problem.learners.length;
  return {
    problem,
    play: (from, to) => {
      const finishMin = new Float64Array((to - from) * learnerCount);
      const lostMin = new Float64Array(compiled.rowCount + 1);
      for (let run = from; run < to; run++) {
        const { durations, closed } = draw(makeRandom((setUp.seed ?? 1) * 1_000_003 + run));
        playOne(
          compiled,
          decoder,
          list,
          durations,
          closed,
          finishMin.subarray((run - from) * learnerCount, (run - from + 1) * learnerCount),
          lostMin,
        );
      }
      return { runs: to - from, finishMin, lostMin };
    },
  };
}

/** The problem with sessions behind those the plan needs. */
function withRoom({ problem, entries }: ForecastSetUp): ClassProblem {
  const last = entries.reduce((end, e) => Math.max(end, endOf(e)), Number.NEGATIVE_INFINITY);
  let needed = 0;
  while (needed < mostNeeded && lastSessionEnd(withMoreSessions(problem, needed)) < last)
    needed += spareSessions;
  // a course that is far over time is also further from certain
  return withMoreSessions(problem, needed + Math.max(spareSessions, needed >> 1));
}

/** More sessions than the planner ever adds. */
const mostNeeded = 210;

function lastSessionEnd(problem: ClassProblem): number {
  return problem.windows.reduce(
    (end, w) => (w.kind === 'session' ? Math.max(end, w.endMin) : end),
    Number.NEGATIVE_INFINITY,
  );
}

function orderOf(
  compiled: CompiledClass,
  setUp: ForecastSetUp,
  shift: Readonly<Record<string, number>>,
): Int32Array {
  const keys = new Float64Array(compiled.activities.length).fill(1e12);
  for (const entry of setUp.entries) {
    const a = compiled.activityIndex.get(entry.activityId);
    if (a !== undefined) keys[a] = beginOf(entry) + (shift[compiled.activities[a]!.operationId] ?? 0);
  }
  const list = new Int32Array(keys.length);
  listByKeys(compiled, keys, list);
  return list;
}

function playOne(
  compiled: CompiledClass,
  decoder: ClassDecoder,
  list: Int32Array,
  durations: Int32Array,
  closed: readonly Closed[],
  finish: Float64Array,
  lost: Float64Array,
): void {
  const placement = decoder.decode(list, durations, closed);
  const { clockMin, slotCount } = compiled.grid;
  const late = (clockMin[slotCount - 1] ?? 0) + 1;
  for (let a = 0; a < compiled.activities.length; a++) {
    const end = placement.end[a]!;
    const minute = placement.start[a]! < 0 ? late : end > 0 ? clockMin[end - 1]! + 1 : 0;
    for (const l of compiled.builds[a]!) if (minute > finish[l]!) finish[l] = minute;
    const blocker = placement.blockedBy[a]!;
    if (blocker >= 0 && placement.start[a]! >= 0) lost[blocker]! += placement.waited[a]!;
  }
  for (let l = 0; l < finish.length; l++) finish[l]! *= forecastTickMin;
}

type Draw = (random: Random) => { readonly durations: Int32Array; readonly closed: readonly Closed[] };

function makeDraw(compiled: CompiledClass, setUp: ForecastSetUp): Draw {
  const { uncertainty = {} } = setUp;
  const { activities, problem } = compiled;
  const exact = new Map(setUp.problem.activities.map((a) => [a.id, a.ways[0]!.durationMin]));
  const median = Float64Array.from(
    activities,
    (a) =>
      (exact.get(a.id)! * (uncertainty.minutesFactor?.[`${a.operationId}.${a.partIndex + 1}`] ?? 1)) /
      forecastTickMin,
  );
  const spread = Float64Array.from(
    activities,
    (a) => (a.uncertainty === undefined ? 0 : logSpread(a.uncertainty)) * (uncertainty.minutesSpread ?? 1),
  );
  const paces = problem.learners.map(
    (l) => uncertainty.pace?.[l.id] ?? { factor: 1, logSd: 0.15 * (uncertainty.minutesSpread ?? 1) },
  );
  const scrap = uncertainty.scrapChance ?? 0.01;
  const closures = makeClosures(compiled, uncertainty);
  const durations = new Int32Array(activities.length);
  const pace = new Float64Array(paces.length);
  return (random) => {
    for (let l = 0; l < pace.length; l++)
      pace[l] = paces[l]!.factor * Math.exp(paces[l]!.logSd * random.normal());
    const closed = closures(random);
    for (let a = 0; a < durations.length; a++) {
      const members = compiled.members[a]!;
      let factor = spread[a]! > 0 ? Math.exp(spread[a]! * random.normal()) : 1;
      if (members.length > 0) {
        let sum = 0;
        for (const row of members) sum += pace[row - compiled.learnerRow0]!;
        factor *= sum / members.length;
      }
      if (random.next() < scrap) factor *= 2;
      // rounded up or down by chance, so that the mean is kept
      durations[a] = Math.min(longest(compiled, a), Math.floor(median[a]! * factor + random.next()));
    }
    return { durations, closed };
  };
}

/** No piece of work is drawn longer than a session: it would be broken off and gone on with in the next. */
function longest(compiled: CompiledClass, a: number): number {
  const { calendar } = compiled;
  const windowEnd = calendar[a]!.windowEnd;
  const first = calendar[a]!.nextAllowed[0] ?? 0;
  const setUp = compiled.ways[a]![0]!.setUpMin;
  return Math.max(1, (windowEnd[first] ?? 1) - first - setUp);
}

function makeClosures(compiled: CompiledClass, uncertainty: Uncertainty): (random: Random) => Closed[] {
  const { problem, grid } = compiled;
  const sessions = problem.courses.map((course) =>
    problem.windows
      .filter(
        (w) =>
          w.kind === 'session' &&
          w.courseId === course.id &&
          w.endMin > (problem.state?.nowMin ?? Number.NEGATIVE_INFINITY),
      )
      .map((w) => ({
        from: grid.slotAtOrAfter(w.beginMin),
        to: grid.slotAtOrAfter(w.beginMin) + w.endMin - w.beginMin,
      })),
  );
  const machines = problem.resources.flatMap((r, row) =>
    r.kind === 'station' && r.capacity === 1 ? [row] : [],
  );
  const fail = uncertainty.failChance ?? 0.004;
  const absent = problem.learners.map(
    (l) => uncertainty.absentOf?.[l.id] ?? uncertainty.absentChance ?? 0.05,
  );
  return (random) => {
    const closed: Closed[] = [];
    for (let l = 0; l < absent.length; l++)
      for (const s of sessions[compiled.learnerCourse[l]!]!)
        if (absent[l]! > 0 && random.next() < absent[l]!)
          closed.push({ row: compiled.learnerRow0 + l, from: s.from, to: s.to });
    if (fail > 0)
      for (const row of machines)
        for (const list of sessions)
          for (let s = 0; s < list.length; s++)
            if (random.next() < fail)
              closed.push({
                row,
                from: list[s]!.from,
                to: list[Math.min(list.length - 1, s + random.below(3))]!.to,
              });
    return closed;
  };
}

/** Joins runs played in parts. */
export function joinPlayed(parts: readonly PlayedCourses[]): PlayedCourses {
  const finishMin = new Float64Array(parts.reduce((sum, p) => sum + p.finishMin.length, 0));
  const lostMin = new Float64Array(parts[0]?.lostMin.length ?? 0);
  let at = 0;
  for (const part of parts) {
    finishMin.set(part.finishMin, at);
    at += part.finishMin.length;
    for (let i = 0; i < lostMin.length; i++) lostMin[i]! += part.lostMin[i]!;
  }
  return { runs: parts.reduce((sum, p) => sum + p.runs, 0), finishMin, lostMin };
}

/**
 * What the played courses say: per learner and per course the finish as a distribution and the chance to be done in time, and
 * what made work wait.
 *
 * @param setUp   the same set-up the courses were played with
 * @param played  the runs
 * @returns       the forecast
 * @source        arithmetic
 */
export function readForecast(setUp: ForecastSetUp, played: PlayedCourses): Forecast {
  const { problem } = setUp;
  const count = problem.learners.length;
  const own = problem.learners.map((_, l) =>
    Float64Array.from({ length: played.runs }, (__, run) => played.finishMin[run * count + l]!),
  );
  const extended = withRoom(setUp);
  const learners = problem.learners.map((learner, l) =>
    prospects(extended, learner.id, learner.courseId, own[l]!, setUp.dueMin?.[learner.courseId]),
  );
  const courses = problem.courses.map((course) => {
    const members = problem.learners.flatMap((l, i) => (l.courseId === course.id ? [i] : []));
    const last = Float64Array.from({ length: played.runs }, (_, run) =>
      Math.max(0, ...members.map((l) => own[l]![run]!)),
    );
    return prospects(extended, course.id, course.id, last, setUp.dueMin?.[course.id]);
  });
  return { learners, courses, bottlenecks: bottlenecks(problem, played), runs: played.runs };
}

function prospects(
  problem: ClassProblem,
  id: string,
  courseId: string,
  finish: Float64Array,
  due: number | undefined,
): LearnerForecast {
  const sorted = finish.toSorted();
  const sessions = problem.windows
    .filter((w) => w.kind === 'session' && w.courseId === courseId)
    .map((w) => w.beginMin);
  const sessionOf = (minute: number): number => sessions.filter((begin) => begin < minute).length;
  const [p10Min, p50Min, p90Min] = [0.1, 0.5, 0.9].map((q) => quantile(sorted, q)) as [
    number,
    number,
    number,
  ];
  return {
    id,
    p10Min,
    p50Min,
    p90Min,
    p10Session: sessionOf(p10Min),
    p50Session: sessionOf(p50Min),
    p90Session: sessionOf(p90Min),
    chance: due === undefined ? undefined : mean(finish.map((f) => (f <= due ? 1 : 0))),
  };
}

/** Waiting for the learner's own other work is no bottleneck of the shop and is left out. */
function bottlenecks(problem: ClassProblem, played: PlayedCourses): Forecast['bottlenecks'] {
  const list = [
    ...problem.resources.map((r, row) => ({ id: r.id, name: r.name, lost: played.lostMin[row]! })),
    { id: 'helping hand', name: 'a second pair of hands', lost: played.lostMin[played.lostMin.length - 1]! },
  ].filter((r) => r.lost > 0);
  const total = list.reduce((sum, r) => sum + r.lost, 0);
  return list
    .map(({ id, name, lost }) => ({ id, name, shareFrac: lost / total }))
    .sort((a, b) => b.shareFrac - a.shareFrac);
}
