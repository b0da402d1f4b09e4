import type { Belief, LearnedMinutes } from './minutes.ts';
import { type Activity, type ClassProblem, hasTurns, type PlanEntry, type Way } from './problem.ts';

/** Published minutes stand while the learned ones are no further from them than this factor. */
const keptWithin = 4 / 3;

/**
 * The class with the minutes that were learned: those of the route times what the operation and the pace of its learners
 * turned out to be. A published step keeps the minutes it was published with unless they are off by more than a third, so
 * that not every timed piece of work moves the plan.
 *
 * @param problem    the class problem with the minutes of the route
 * @param learned    what was learned
 * @param published  the plan that is followed
 * @returns          the problem to plan with; what stands as it is is left alone
 * @assumes          no piece of work is longer than a session: longer ones are broken off and gone on with
 * @source           common practice, no published source
 */
export function withLearnedMinutes(
  problem: ClassProblem,
  learned: LearnedMinutes,
  published: readonly PlanEntry[] = [],
): ClassProblem {
  const factors = (list: readonly Belief[]): ReadonlyMap<string, number> =>
    new Map(list.map((b) => [b.id, b.factor]));
  const operations = factors(learned.operations);
  const paces = factors(learned.learners);
  const fixed = new Set((problem.state?.fixed ?? []).map((e) => e.activityId));
  const planned = new Map(published.map((e) => [e.activityId, e]));
  return {
    ...problem,
    activities: problem.activities.map((activity) => {
      if (fixed.has(activity.id) || hasTurns(activity)) return activity;
      const pace =
        activity.memberIds.reduce((sum, id) => sum + (paces.get(id) ?? 1), 0) /
        Math.max(1, activity.memberIds.length);
      const factor =
        (operations.get(`${activity.operationId}.${activity.partIndex + 1}`) ?? 1) *
        (activity.memberIds.length === 0 ? 1 : pace);
      const entry = planned.get(activity.id);
      const most = longestMin(problem, activity);
      return {
        ...activity,
        ways: activity.ways.map((way, i) =>
          withDuration(
            way,
            minutesOf(way, factor, most - (way.setUpMin ?? 0), i === entry?.wayIndex ? entry : undefined),
          ),
        ),
      };
    }),
  };
}

function minutesOf(way: Way, factor: number, most: number, entry: PlanEntry | undefined): number {
  const learned = Math.min(
    Math.max(way.durationMin, most),
    Math.max(1, Math.round(way.durationMin * factor)),
  );
  if (entry === undefined) return learned;
  const published = entry.pieces.reduce((sum, p) => sum + p.endMin - p.beginMin, 0);
  const isNear = learned <= published * keptWithin && learned >= published / keptWithin;
  return isNear ? published : learned;
}

/** Minutes of the shortest window the work may be done in. */
function longestMin(problem: ClassProblem, activity: Activity): number {
  const lengths = problem.windows
    .filter((w) => w.kind === activity.where && (w.courseId ?? activity.courseId) === activity.courseId)
    .map((w) => w.endMin - w.beginMin);
  return lengths.length === 0 ? 0 : Math.min(...lengths);
}

/** The way with other minutes: who stays throughout stays throughout, who comes for the end comes for the end. */
function withDuration(way: Way, durationMin: number): Way {
  if (durationMin === way.durationMin) return way;
  return {
    ...way,
    durationMin,
    attendance: way.attendance.map((need) => {
      if (need.onlyAtSetUp === true) return need;
      const minutes = Math.min(durationMin, need.toMin - need.fromMin);
      if (need.fromMin === 0)
        return { ...need, toMin: need.toMin >= way.durationMin ? durationMin : minutes };
      const toMin = Math.min(durationMin, durationMin - (way.durationMin - need.toMin));
      return { ...need, fromMin: Math.max(0, toMin - minutes), toMin };
    }),
  };
}
