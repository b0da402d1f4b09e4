import { makeRandom, type Random } from '../../numeric/random.ts';
import { InputError } from '../../quantity/input-error.ts';
import { type ClassBound, classBound } from './bounds.ts';
import { withMoreSessions } from './calendar.ts';
import { type CompiledClass, compileClass } from './compile.ts';
import { type ClassDecoder, makeClassDecoder } from './decode.ts';
import { type Measurer, type Measures, makeMeasurer, type Objective, usualObjectives } from './measure.ts';
import { makePushBack, openingLists } from './openings.ts';
import type { Placement } from './placement.ts';
import { type PlannedClass, sessionsByCourse, waitedFor } from './planned-class.ts';
import { listByKeys, tailMinutes } from './priority.ts';
import { beginOf, type ClassProblem, endOf, type PlanEntry } from './problem.ts';
import { makeRepair } from './repair.ts';
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
  /** A published plan: it is repaired, each step stays where it is if it can. */
  readonly from?: readonly PlanEntry[];
  /** Session minutes of a later finish that are as bad as moving every published step; 0 lets everything move. */
  readonly keepMin?: number;
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

/**
 * The bound of one course of a plan: as if the others were not there.
 *
 * @param plan      the plan
 * @param courseId  the course
 * @returns         what no plan of that course can be under
 * @source          from memory
 */
export function courseBound(plan: PlannedClass, courseId: string): ClassBound {
  const { problem } = plan;
  if (problem.courses.length === 1) return plan.bound;
  const own = new Set(problem.activities.filter((a) => a.courseId === courseId).map((a) => a.id));
  const state = problem.state && {
    ...problem.state,
    fixed: problem.state.fixed.filter((e) => own.has(e.activityId)),
  };
  return classBound(compileClass(onlyCourse({ ...problem, ...(state && { state }) }, courseId)));
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
  if (search.from !== undefined) return repairPlan(problem, search.from, search);
  const { compiled, decoder, list } = firstPlan(problem);
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

/** A published plan made to hold again, moving as little as it can. */
function repairPlan(problem: ClassProblem, published: readonly PlanEntry[], search: ClassSearch): Searched {
  for (const more of moreSessions) {
    const compiled = compileClass(more === 0 ? problem : withMoreSessions(problem, more));
    if (!reaches(compiled.problem, problem.state?.fixed ?? [])) continue;
    const decoder = makeClassDecoder(compiled);
    decoder.fix(problem.state?.fixed ?? []);
    const measurer = makeMeasurer(
      compiled,
      search.objectives ?? usualObjectives,
      problem.courses.map((c) => search.dueMin?.[c.id]),
    );
    const random = makeRandom(search.seed ?? 1);
    const keepMin = search.keepMin ?? usualKeepMin;
    const repair = makeRepair({ compiled, decoder, measurer, random, published, keepMin });
    if (repair === undefined) continue;
    search.onProgress?.({ makespanMin: repair.best().measures.makespanMin, iterations: 1 });
    const used = makeUsed(search);
    let iterations = 1;
    let isCancelled = false;
    for (let usedFrac = used(iterations); usedFrac < 1; usedFrac = used(iterations)) {
      isCancelled = search.isCancelled?.() === true;
      if (isCancelled) break;
      const isBest = repair.step(usedFrac);
      iterations++;
      if (isBest) search.onProgress?.({ makespanMin: repair.best().measures.makespanMin, iterations });
    }
    const { entries, measures, list } = repair.best();
    // laid out once more without regard for what was published, to see what the steps wait for
    return { compiled, placement: decoder.decode(list), measures, entries, iterations, isCancelled };
  }
  // nothing can stay: planned from the beginning, which also says what fits nowhere
  const { from: _, ...rest } = search;
  return searchPlan(problem, rest);
}

/** What moving everything is worth when the search does not say: about two evenings. */
const usualKeepMin = 250;

/** Whether what stands lies within the calendar. */
function reaches(problem: ClassProblem, fixed: readonly PlanEntry[]): boolean {
  const last = problem.windows.reduce((end, w) => Math.max(end, w.endMin), Number.NEGATIVE_INFINITY);
  return fixed.every((e) => endOf(e) <= last);
}

/** Share of the budget that is used after so many plans. */
function makeUsed(search: ClassSearch): (done: number) => number {
  const limit = search.iterations ?? (search.seconds === undefined ? 1 : Number.MAX_SAFE_INTEGER);
  const { seconds, elapsedS } = search;
  return (done) =>
    Math.max(done / limit, seconds === undefined || elapsedS === undefined ? 0 : elapsedS() / seconds);
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
  if (problem.courses.length < 2 || !hasBudget || iterations < leastInTurn) return [];
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

interface FirstPlan {
  readonly compiled: CompiledClass;
  readonly decoder: ClassDecoder;
  readonly list: Int32Array;
}

/** Sessions that may be added before the planner gives up. */
const moreSessions = [0, 12, 60, 200];

function firstPlan(problem: ClassProblem): FirstPlan {
  for (const more of moreSessions) {
    const isLast = more === moreSessions[moreSessions.length - 1];
    const compiled = compileClass(more === 0 ? problem : withMoreSessions(problem, more));
    if (!isLast && !reaches(compiled.problem, problem.state?.fixed ?? [])) continue;
    const decoder = makeClassDecoder(compiled);
    decoder.fix(problem.state?.fixed ?? []);
    const list = new Int32Array(compiled.activities.length);
    listByKeys(
      compiled,
      tailMinutes(compiled).map((t) => -t),
      list,
    );
    if (decoder.decode(list).isComplete) return { compiled, decoder, list };
    if (isLast) throw neverFits(compiled, decoder);
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

/** Share of the plans that are pushed back to the end and laid out again; rarer, the search soon finds nothing shorter. */
const pushedBackFrac = 0.5;
/** Session minutes by which a plan may be worse and still be gone on with now and then, at the beginning. */
const firstHeatMin = 20;

/** Shakes the order of the plan at hand, keeps what is better and now and then what is hardly worse. */
function improve({ compiled, decoder, measurer, random, search, list, starts }: Improvement): {
  list: Int32Array;
  iterations: number;
  isCancelled: boolean;
} {
  let best = list.slice();
  // the first plan has just been laid out
  let bestCost = measurer.cost(decoder.placement);
  let current = best.slice();
  let currentCost = bestCost;
  let currentStarts = decoder.placement.start.slice();
  const shake = makeShaker(compiled, random);
  let pushBack: ReturnType<typeof makePushBack> | undefined;
  const openings = [...starts, ...openingLists(compiled)];
  const trial = new Int32Array(list.length);
  const usedFrac = makeUsed(search);
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
    else if (random.next() < pushedBackFrac) {
      pushBack ??= makePushBack(compiled);
      pushBack(decoder.placement, trial);
    } else shake(currentStarts, trial);
    const cost = measurer.cost(decoder.decode(trial));
    iterations++;
    const heat = firstHeatMin * (1 - used);
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
