import { classFaults } from './check.ts';
import type { Measures } from './measure.ts';
import { heldElsewhere } from './other-courses.ts';
import { type ClassSearch, planClass } from './plan.ts';
import { judgedPlan, type PlannedClass } from './planned-class.ts';
import { beginOf, type ClassProblem, type LiveState, type PlanEntry } from './problem.ts';

/** What really happened to a step. */
export interface Happened {
  readonly activityId: string;
  readonly beginMin: number;
  /** End of the work; undefined while it is still running. */
  readonly endMin?: number;
}

/**
 * Makes the state a class is in: what is done or running stands as it was, everything else is open again. What rests or is
 * clamped follows from what is done.
 *
 * @param problem    the class problem
 * @param published  the plan that was followed
 * @param nowMin     clock minute
 * @param happened   what really happened; a step that is not named is open
 * @returns          the state, for `problem.state`
 * @assumes          a running step goes on for the minutes planned, at least until now
 * @source           arithmetic
 */
export function liveState(
  problem: ClassProblem,
  published: readonly PlanEntry[],
  nowMin: number,
  happened: readonly Happened[],
): LiveState {
  const planned = new Map(published.map((e) => [e.activityId, e]));
  const activities = new Map(problem.activities.map((a) => [a.id, a]));
  const fixed = happened.map((h): PlanEntry => {
    const way = activities.get(h.activityId)?.ways[planned.get(h.activityId)?.wayIndex ?? 0];
    const endMin = h.endMin ?? Math.max(nowMin, h.beginMin + (way?.durationMin ?? 0));
    const base = planned.get(h.activityId) ?? { activityId: h.activityId, wayIndex: 0, attendantIds: [] };
    const { setUpBeginMin: _, ...rest } = base as PlanEntry;
    return { ...rest, pieces: [{ beginMin: h.beginMin, endMin }] };
  });
  return { nowMin, fixed };
}

/**
 * The state when everything went as planned until now and the sessions of other courses may not be touched.
 *
 * @param problem           the class problem
 * @param published         the plan
 * @param nowMin            clock minute
 * @param frozenCourseIds   courses whose published sessions stand whole
 * @returns                 the state
 * @source                  arithmetic
 */
export function stateAsPlanned(
  problem: ClassProblem,
  published: readonly PlanEntry[],
  nowMin: number,
  frozenCourseIds: readonly string[] = [],
): LiveState {
  const courseOf = new Map(problem.activities.map((a) => [a.id, a.courseId]));
  return {
    nowMin,
    fixed: published.filter(
      (e) => beginOf(e) < nowMin || frozenCourseIds.includes(courseOf.get(e.activityId) ?? ''),
    ),
  };
}

/** A new plan beside the published one. */
export interface Replanned extends PlannedClass {
  /** Whether the published plan still holds and was kept. */
  readonly isKept: boolean;
  /** Steps that were moved, and how many of them into another session. */
  readonly movedCount: number;
  /** What would help but touches another course: named, not done. */
  readonly wouldHelp: readonly string[];
}

/** Session minutes a new plan has to be over earlier before a plan that still holds is given up for it. */
const worthMin = 30;

/**
 * Plans what is left from a live state. A published plan that still holds is kept unless a new one is over at least half an
 * hour of session time earlier; a new one moves as little as it can.
 *
 * @param problem    the class problem with its state
 * @param published  the plan that was followed
 * @param search     budget and seed
 * @returns          the plan, and whether it is the published one
 * @source           from memory
 */
export function replanClass(
  problem: ClassProblem,
  published: readonly PlanEntry[],
  search: ClassSearch,
): Replanned {
  const known = new Set(problem.activities.map((a) => a.id));
  const fixed = new Map((problem.state?.fixed ?? []).map((e) => [e.activityId, e]));
  const inPlan = new Set(published.map((e) => e.activityId));
  const merged = [
    ...published.filter((e) => known.has(e.activityId)).map((e) => fixed.get(e.activityId) ?? e),
    ...[...fixed.values()].filter((e) => !inPlan.has(e.activityId)),
  ];
  const planned = planClass(problem, { ...search, from: merged });
  const wouldHelp = helpFromOthers(planned);
  if (classFaults(problem, merged).length === 0) {
    const isSame = planned.problem.windows.length === problem.windows.length;
    const kept = judgedPlan(problem, merged, search.dueMin, isSame ? planned.bound : undefined);
    if (!isWorthIt(kept.measures, planned.measures)) {
      const { waitedFor, iterations, isCancelled } = planned;
      return { ...kept, waitedFor, iterations, isCancelled, isKept: true, movedCount: 0, wouldHelp };
    }
  }
  const before = new Map(published.map((e) => [e.activityId, beginOf(e)]));
  const moved = planned.entries.filter(
    (e) => !fixed.has(e.activityId) && before.get(e.activityId) !== beginOf(e),
  );
  return { ...planned, isKept: false, movedCount: moved.length, wouldHelp };
}

/** Whether the new plan is over, or in time, by so much sooner that the published one is given up for it. */
function isWorthIt(kept: Measures, planned: Measures): boolean {
  return (
    planned.makespanMin <= kept.makespanMin - worthMin ||
    (planned.makespanMin <= kept.makespanMin && planned.lateMin <= kept.lateMin - worthMin)
  );
}

/** What published work of another course holds and this one waits for, in words. */
function helpFromOthers(planned: PlannedClass): string[] {
  const { problem, entries } = planned;
  return heldElsewhere(problem, entries).map((held) => {
    const course = problem.courses.find((c) => c.id === held.courseId)?.name ?? held.courseId;
    const thing = problem.resources.find((r) => r.id === held.resourceId)?.name ?? held.resourceId;
    const saved =
      held.savedMin > 0
        ? `the last learner here would be done up to ${held.savedMin} minutes of session time earlier`
        : `the learners here would be done up to ${held.savedTogetherMin} minutes of session time earlier together`;
    return `Course ${course} holds ${thing} in its published sessions; with that at another time ${saved}. It is not moved without asking.`;
  });
}
