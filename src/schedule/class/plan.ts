import { makeRandom, type Random } from '../../numeric/random.ts';
import { InputError } from '../../quantity/input-error.ts';
import { type ClassBound, classBound } from './bounds.ts';
import { withMoreSessions } from './calendar.ts';
import { type CompiledClass, compileClass } from './compile.ts';
import { type ClassDecoder, makeClassDecoder } from './decode.ts';
import { type Measurer, type Measures, makeMeasurer, type Objective, usualObjectives } from './measure.ts';
import { mirrorClass } from './mirror.ts';
import type { Placement } from './placement.ts';
import { listByKeys, tailMinutes } from './priority.ts';
import { beginOf, type ClassProblem, endOf, type PlanEntry } from './problem.ts';
import { makeShaker } from './shake.ts';
import { validateClass } from './validate.ts';

/** How long to search, towards what, and whom to tell. */
export interface ClassSearch {
  readonly seed?: number;
  /** Plans to make at most. */
  readonly iterations?: number;
  /** Seconds to search at most, as told by `elapsedS`; the core has no clock of its own. */
  readonly seconds?: number;
  readonly elapsedS?: () => number;
  readonly objectives?: readonly Objective[];
  /** Clock minute by which each course should be finished, by course id. */
  readonly dueMin?: Readonly<Record<string, number>>;
  readonly onProgress?: (progress: { readonly makespanMin: number; readonly iterations: number }) => void;
  readonly isCancelled?: () => boolean;
  /** A plan to begin from: its order is tried first. */
  readonly from?: readonly PlanEntry[];
  /** How much each minute that a published begin moves costs, against a minute of the finish; 0 lets everything move. */
  readonly keepWeight?: number;
}

/** A plan with everything needed to judge it. */
export interface PlannedClass {
  /** The problem that was planned: with more sessions behind the last when the course needs them. */
  readonly problem: ClassProblem;
  readonly entries: readonly PlanEntry[];
  readonly measures: Measures;
  readonly bound: ClassBound;
  /** Session in which the last build of each course is finished, counted from 1. */
  readonly sessionsByCourse: readonly {
    readonly courseId: string;
    readonly sessions: number;
    readonly given: number;
  }[];
  /** What the steps of this plan wait for behind their forerunners, the most first; the own other work is left out. */
  readonly waitedFor: readonly {
    readonly resourceId: string;
    readonly name: string;
    readonly minutes: number;
  }[];
  readonly iterations: number;
  readonly isCancelled: boolean;
}

/**
 * Plans a class: who does what, where and when, feasible at any time and better with time. When the sessions do not
 * suffice, sessions are added behind the last one and the answer says how many it takes.
 *
 * @param problem  the class problem
 * @param search   budget, seed, objectives, progress and cancel
 * @returns        the best plan found and the bound it stands against
 * @throws InputError when the problem cannot be meant, or no number of sessions suffices
 * @source         from memory
 */
export function planClass(problem: ClassProblem, search: ClassSearch): PlannedClass {
  validateClass(problem);
  const { compiled, placement, measures, entries, iterations, isCancelled } = searchPlan(problem, search);
  return {
    problem: compiled.problem,
    entries,
    measures,
    bound: classBound(compiled),
    sessionsByCourse: sessionsByCourse(problem, compiled.problem, entries),
    waitedFor: waitedFor(compiled, placement),
    iterations,
    isCancelled,
  };
}

/** A plan without what is said about it. */
interface Searched {
  readonly compiled: CompiledClass;
  readonly placement: Placement;
  readonly measures: Measures;
  readonly entries: readonly PlanEntry[];
  readonly iterations: number;
  readonly isCancelled: boolean;
}

/** @param isBegunInTurn  courses are first planned one after the other; not again within such a plan */
function searchPlan(problem: ClassProblem, search: ClassSearch, isBegunInTurn = true): Searched {
  const { compiled, decoder, list } = firstPlan(problem, search);
  const measurer = makeMeasurer(
    compiled,
    search.objectives ?? usualObjectives,
    problem.courses.map((c) => search.dueMin?.[c.id]),
  );
  search.onProgress?.({ makespanMin: measurer.measures(decoder.placement).makespanMin, iterations: 1 });
  const inTurn = isBegunInTurn ? courseAfterCourse(compiled, search) : [];
  const starts = inTurn.map((plan) => {
    const order = new Int32Array(list.length);
    listByKeys(compiled, keysOfPlan(compiled, plan.entries), order);
    return order;
  });
  const random = makeRandom(search.seed ?? 1);
  const outcome = improve({ compiled, decoder, measurer, random, search, list, starts });
  const placement = decoder.decode(outcome.list);
  const together: Searched = {
    compiled,
    placement,
    measures: measurer.measures(placement),
    entries: decoder.entries(),
    iterations: outcome.iterations,
    isCancelled: outcome.isCancelled,
  };
  // laid out anew a plan may come out differently: the one that was made stands when it is the better
  return inTurn
    .map((plan) => ({ ...together, ...plan, measures: measurer.measures(plan.placement) }))
    .reduce((best, plan) => (isBetter(plan.measures, best.measures) ? plan : best), together);
}

function isBetter(one: Measures, other: Measures): boolean {
  return (
    one.lateMin < other.lateMin || (one.lateMin === other.lateMin && one.makespanMin < other.makespanMin)
  );
}

/** Share of the budget that goes into planning one course after the other. */
const inTurnFrac = 0.5;
/** Plans below which it is not worth while. */
const leastInTurn = 4;

/**
 * Plans of several courses made one after the other: each course first and alone, then the others around what it has. They
 * are where planning together begins, so that it is never worse.
 */
function courseAfterCourse(
  compiled: CompiledClass,
  search: ClassSearch,
): Pick<Searched, 'placement' | 'entries'>[] {
  const { problem } = compiled;
  const shareFrac = inTurnFrac / (2 * problem.courses.length);
  const iterations = Math.floor((search.iterations ?? Number.MAX_SAFE_INTEGER) * shareFrac);
  const hasBudget = search.iterations !== undefined || search.seconds !== undefined;
  if (problem.courses.length < 2 || search.from !== undefined || !hasBudget || iterations < leastInTurn)
    return [];
  const part = (): ClassSearch => {
    const { onProgress: _, ...rest } = search;
    const begunS = search.elapsedS?.() ?? 0;
    return {
      ...rest,
      ...(search.iterations === undefined ? {} : { iterations }),
      ...(search.seconds === undefined ? {} : { seconds: search.seconds * shareFrac }),
      ...(search.elapsedS === undefined ? {} : { elapsedS: () => search.elapsedS!() - begunS }),
    };
  };
  return problem.courses.flatMap(({ id }) => {
    const alone = onlyCourse(problem, id);
    if (alone.activities.length === 0 || alone.activities.length === problem.activities.length) return [];
    const given = problem.state?.fixed ?? [];
    const known = new Set(given.map((e) => e.activityId));
    const own = searchPlan(alone, part(), false).entries.filter((e) => !known.has(e.activityId));
    const nowMin = problem.state?.nowMin ?? Math.min(...problem.windows.map((w) => w.beginMin));
    const around = { ...problem, state: { nowMin, fixed: [...given, ...own] } };
    const { placement, entries, compiled: planned } = searchPlan(around, part(), false);
    // one that needs more sessions than together is no better
    return planned.grid.slotCount === compiled.grid.slotCount ? [{ placement, entries }] : [];
  });
}

/** The course as if it were the only one; what stands of the others stays where it is. */
function onlyCourse(problem: ClassProblem, courseId: string): ClassProblem {
  const fixed = new Set((problem.state?.fixed ?? []).map((e) => e.activityId));
  const activities = problem.activities.filter((a) => a.courseId === courseId || fixed.has(a.id));
  const kept = new Set(activities.map((a) => a.id));
  const courses = new Set(activities.map((a) => a.courseId));
  return {
    ...problem,
    courses: problem.courses.filter((c) => courses.has(c.id)),
    learners: problem.learners.filter((l) => courses.has(l.courseId)),
    windows: problem.windows.filter((w) => w.courseId === undefined || courses.has(w.courseId)),
    activities: activities.map((a) => ({ ...a, after: a.after.filter((l) => kept.has(l.activityId)) })),
    spans: (problem.spans ?? []).filter((s) => kept.has(s.fromActivityId) && kept.has(s.untilActivityId)),
  };
}

function waitedFor(compiled: CompiledClass, placement: Placement): PlannedClass['waitedFor'] {
  const waited = new Float64Array(compiled.rowCount + 1);
  for (let a = 0; a < compiled.activities.length; a++)
    if (placement.blockedBy[a]! >= 0) waited[placement.blockedBy[a]!]! += placement.waited[a]!;
  return [
    ...compiled.problem.resources.map((r, row) => ({
      resourceId: r.id,
      name: r.name,
      minutes: waited[row]!,
    })),
    { resourceId: 'helping hand', name: 'a second pair of hands', minutes: waited[compiled.rowCount]! },
  ]
    .filter((w) => w.minutes > 0)
    .sort((a, b) => b.minutes - a.minutes);
}

interface FirstPlan {
  readonly compiled: CompiledClass;
  readonly decoder: ClassDecoder;
  readonly list: Int32Array;
}

/** Sessions that may be added before the planner gives up. */
const moreSessions = [0, 12, 60, 200];

function firstPlan(problem: ClassProblem, search: ClassSearch): FirstPlan {
  for (const more of moreSessions) {
    const compiled = compileClass(more === 0 ? problem : withMoreSessions(problem, more));
    const decoder = makeClassDecoder(compiled);
    decoder.fix(problem.state?.fixed ?? []);
    const list = new Int32Array(compiled.activities.length);
    listByKeys(
      compiled,
      search.from === undefined ? tailMinutes(compiled).map((t) => -t) : keysOfPlan(compiled, search.from),
      list,
    );
    if (decoder.decode(list).isComplete) return { compiled, decoder, list };
    if (more === moreSessions[moreSessions.length - 1]) throw neverFits(compiled, decoder);
  }
  throw new RangeError('firstPlan: no number of sessions to try');
}

function neverFits(compiled: CompiledClass, decoder: ClassDecoder): InputError {
  const a = compiled.activities.find(
    (_, i) =>
      decoder.placement.start[i]! < 0 &&
      compiled.before[i]!.every((l) => decoder.placement.start[l.activity]! >= 0),
  );
  const way = a?.ways[0];
  if (
    a?.where === 'preparation' &&
    !compiled.problem.windows.some(
      (w) => w.kind === 'preparation' && (w.courseId ?? a.courseId) === a.courseId,
    )
  )
    return new InputError(
      'class-never-fits',
      `"${a.id}" is done in preparation hours and the course has none; give some outside its sessions.`,
      a.id,
    );
  return new InputError(
    'class-never-fits',
    `"${a?.id}" (${way?.durationMin} minutes${way?.setUpMin ? ` and ${way.setUpMin} to set up` : ''}) fits into no ${a?.where === 'preparation' ? 'preparation hours' : 'session'} with the people, stations and jigs it needs; lengthen one, or give another way.`,
    a?.id,
  );
}

function keysOfPlan(compiled: CompiledClass, entries: readonly PlanEntry[]): Float64Array {
  const keys = new Float64Array(compiled.activities.length).fill(Number.MAX_SAFE_INTEGER / 4);
  for (const entry of entries) {
    const a = compiled.activityIndex.get(entry.activityId);
    if (a !== undefined) keys[a] = beginOf(entry);
  }
  return keys;
}

interface Improvement {
  readonly compiled: CompiledClass;
  readonly decoder: ClassDecoder;
  readonly measurer: Measurer;
  readonly random: Random;
  readonly search: ClassSearch;
  readonly list: Int32Array;
  /** Orders to try before any other. */
  readonly starts: readonly Int32Array[];
}

/** Often at first, now and then later. */
function isPushedBack(iterations: number, random: Random): boolean {
  return iterations < 40 ? iterations % 2 === 0 : random.next() < 0.04;
}

/** Plans to make at most; none beyond the first without a budget. */
function limitOf(search: ClassSearch): number {
  return search.iterations ?? (search.seconds === undefined ? 1 : Number.MAX_SAFE_INTEGER);
}

/** Shakes the order of the plan at hand, keeps what is better and now and then what is hardly worse. */
function improve({ compiled, decoder, measurer, random, search, list, starts }: Improvement): {
  list: Int32Array;
  iterations: number;
  isCancelled: boolean;
} {
  const moved = makeMoveCost(compiled, search);
  const costOf = (placement: Placement): number => measurer.cost(placement) + moved(placement.start);
  const judge = (order: Int32Array): number => costOf(decoder.decode(order));
  let best = list.slice();
  // the first plan has just been laid out
  let bestCost = costOf(decoder.placement);
  let current = best.slice();
  let currentCost = bestCost;
  let currentStarts = decoder.placement.start.slice();
  const shake = makeShaker(compiled, random);
  let pushBack: ReturnType<typeof makePushBack> | undefined;
  const openings = search.from === undefined ? [...starts, ...openingLists(compiled)] : [];
  const trial = new Int32Array(list.length);
  const limit = limitOf(search);
  const usedFrac = (done: number): number =>
    Math.max(
      done / limit,
      search.seconds === undefined || search.elapsedS === undefined ? 0 : search.elapsedS() / search.seconds,
    );
  let iterations = 1;
  let isCancelled = false;
  for (;;) {
    const used = usedFrac(iterations);
    if (used >= 1) break;
    if (search.isCancelled?.() === true) {
      isCancelled = true;
      break;
    }
    const opening = openings.shift();
    if (opening !== undefined) trial.set(opening);
    else if (search.from === undefined && isPushedBack(iterations, random)) {
      pushBack ??= makePushBack(compiled);
      pushBack(decoder.placement, trial);
    } else shake(currentStarts, trial);
    const cost = judge(trial);
    iterations++;
    const heat = 6 * (1 - used);
    if (cost <= currentCost || random.next() < Math.exp((currentCost - cost) / Math.max(heat, 1e-9))) {
      current = trial.slice();
      currentCost = cost;
      currentStarts = decoder.placement.start.slice();
    }
    if (cost < bestCost) {
      bestCost = cost;
      best = current.slice();
      search.onProgress?.({ makespanMin: measurer.measures(decoder.placement).makespanMin, iterations });
    }
  }
  return { list: best, iterations, isCancelled };
}

/**
 * Orders by what has to follow, with one learner a little ahead of the next, so that they do not all want the same
 * station at once; and one course whole before the others.
 */
function openingLists(compiled: CompiledClass): Int32Array[] {
  const tails = tailMinutes(compiled);
  const rank = rankInCourse(compiled);
  const ahead = [10, 20, 30, 45, 60].map((aheadMin) =>
    tails.map(
      (tail, a) => aheadMin * Math.min(...compiled.builds[a]!.map((l) => rank[l]!), rank.length) - tail,
    ),
  );
  const courseCount = compiled.courseLearners.length;
  const oneByOne =
    courseCount === 1
      ? []
      : Array.from({ length: courseCount }, (_, first) =>
          tails.map(
            (tail, a) => (compiled.courseOf[a] === first ? 0 : 1e6 * (1 + compiled.courseOf[a]!)) - tail,
          ),
        );
  return [...ahead, ...oneByOne].map((keys) => {
    const list = new Int32Array(keys.length);
    listByKeys(compiled, keys, list);
    return list;
  });
}

function rankInCourse(compiled: CompiledClass): number[] {
  const seen = new Map<number, number>();
  return Array.from(compiled.learnerCourse, (course) => {
    const rank = seen.get(course) ?? 0;
    seen.set(course, rank + 1);
    return rank;
  });
}

/** Plans the class backwards in the order of the plan's ends; the turned-round order is what it makes of that. */
function makePushBack(compiled: CompiledClass): (placement: Placement, list: Int32Array) => void {
  const mirrored = compileClass(mirrorClass(compiled.problem));
  const decoder = makeClassDecoder(mirrored);
  const keys = new Float64Array(compiled.activities.length);
  return (placement, list) => {
    for (let a = 0; a < keys.length; a++) keys[a] = -placement.end[a]!;
    listByKeys(mirrored, keys, list);
    const late = decoder.decode(list);
    for (let a = 0; a < keys.length; a++)
      keys[a] = late.end[a]! > 0 ? -late.end[a]! : -mirrored.grid.slotCount;
    listByKeys(compiled, keys, list);
  };
}

function makeMoveCost(compiled: CompiledClass, search: ClassSearch): (starts: Int32Array) => number {
  const weight = search.keepWeight ?? 0;
  if (weight === 0 || search.from === undefined) return () => 0;
  const published = search.from.flatMap((entry) => {
    const a = compiled.activityIndex.get(entry.activityId);
    return a === undefined ? [] : [{ a, slot: compiled.grid.slotAtOrAfter(beginOf(entry)) }];
  });
  return (starts) => {
    let sum = 0;
    for (const { a, slot } of published) sum += Math.min(300, Math.abs(starts[a]! - slot));
    return weight * sum;
  };
}

function sessionsByCourse(
  given: ClassProblem,
  planned: ClassProblem,
  entries: readonly PlanEntry[],
): PlannedClass['sessionsByCourse'] {
  const courseOf = new Map(planned.activities.map((a) => [a.id, a.courseId]));
  return given.courses.map((course) => {
    const last = entries.reduce(
      (end, e) => (courseOf.get(e.activityId) === course.id ? Math.max(end, endOf(e)) : end),
      Number.NEGATIVE_INFINITY,
    );
    const sessions = planned.windows.filter((w) => w.kind === 'session' && w.courseId === course.id);
    return {
      courseId: course.id,
      sessions: sessions.filter((w) => w.beginMin < last).length,
      given: given.windows.filter((w) => w.kind === 'session' && w.courseId === course.id).length,
    };
  });
}
