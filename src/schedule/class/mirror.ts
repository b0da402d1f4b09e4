import type { Activity, ClassProblem, Link } from './problem.ts';

/**
 * The class seen from its end: time runs backwards and what followed comes first. A plan made for it pushes
 * everything as late as it goes; its order, turned round, is a good order to plan forwards with.
 *
 * @param problem  the class problem
 * @returns        a problem whose plans are only used for their order
 * @assumes        rests hold behind the work instead of before it, and what is fixed is free; both only shift the order
 * @source         from memory
 */
export function mirrorClass(problem: ClassProblem): ClassProblem {
  const end = Math.max(...problem.windows.map((w) => w.endMin));
  const turn = (piece: {
    readonly beginMin: number;
    readonly endMin: number;
  }): { beginMin: number; endMin: number } => ({
    beginMin: end - piece.endMin,
    endMin: end - piece.beginMin,
  });
  const before = new Map<string, Link[]>(problem.activities.map((a) => [a.id, []]));
  for (const activity of problem.activities)
    for (const link of activity.after)
      before
        .get(link.activityId)!
        .push({ activityId: activity.id, lagMin: link.from === 'start' ? 0 : link.lagMin });
  return {
    courses: problem.courses,
    learners: problem.learners,
    windows: problem.windows.map((w) => ({ ...w, ...turn(w) })),
    resources: problem.resources.map((r) => ({ ...r, closures: (r.closures ?? []).map(turn) })),
    activities: problem.activities.map((a) => mirrorActivity(a, before.get(a.id)!)),
  };
}

function mirrorActivity(activity: Activity, after: readonly Link[]): Activity {
  const { releaseMin: _, dueMin: __, ...rest } = activity;
  return {
    ...rest,
    after,
    ways: activity.ways.map((way) => ({
      ...way,
      ...(way.turns === undefined
        ? {}
        : {
            turns: way.turns.map((t) => ({
              ...t,
              fromMin: way.durationMin - t.toMin,
              toMin: way.durationMin - t.fromMin,
            })),
          }),
      attendance: way.attendance.map((need) =>
        need.onlyAtSetUp === true
          ? need
          : {
              ...need,
              fromMin: Math.max(0, way.durationMin - need.toMin),
              toMin: way.durationMin - need.fromMin,
            },
      ),
    })),
  };
}
