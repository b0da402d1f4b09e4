import type { Activity, ClassProblem, PlanEntry, Resource } from './problem.ts';

/** The problem of one course, under the name it has among the others. */
export interface NamedClass {
  readonly courseId: string;
  readonly name: string;
  readonly problem: ClassProblem;
}

/** Running courses of one shop as one problem. */
export interface JoinedClasses {
  readonly problem: ClassProblem;
  /** Id of an activity of a course in the joined problem. */
  readonly activityId: (courseId: string, id: string) => string;
  /** Id of a learner of a course in the joined problem. */
  readonly learnerId: (courseId: string, id: string) => string;
  /** An entry of a course's own plan in the terms of the joined problem. */
  readonly entry: (courseId: string, entry: PlanEntry) => PlanEntry;
}

/**
 * Makes one problem of all running courses of a shop: stations, jigs and people are the same things in each, everything else
 * belongs to its course. A learner whose name another course, a person or a station has too is named with the course.
 *
 * @param classes  one problem per course, each with its own name; the same resource has the same number of places in each
 * @returns        the joined problem and how ids are found in it; a single class keeps its ids
 * @throws RangeError when a resource has different numbers of places
 * @source         arithmetic
 */
export function joinClasses(classes: readonly NamedClass[]): JoinedClasses {
  const isAlone = classes.length === 1;
  const activityId = (courseId: string, id: string): string => (isAlone ? id : `${courseId}: ${id}`);
  const names = makeLearnerNames(classes);
  const learnerId = (courseId: string, id: string): string => names.get(`${courseId}|${id}`) ?? id;
  const entry = (courseId: string, e: PlanEntry): PlanEntry => ({
    ...e,
    activityId: activityId(courseId, e.activityId),
    ...(e.helperId === undefined ? {} : { helperId: learnerId(courseId, e.helperId) }),
  });
  const fixed = classes.flatMap(({ courseId, problem }) =>
    (problem.state?.fixed ?? []).map((e) => entry(courseId, e)),
  );
  const now = classes.flatMap(({ problem }) => problem.state?.nowMin ?? []);
  const problem: ClassProblem = {
    courses: classes.map(({ courseId, name }) => ({ id: courseId, name })),
    windows: classes.flatMap(({ courseId, problem: own }) =>
      own.windows.map((w) => ({ ...w, id: activityId(courseId, w.id), courseId })),
    ),
    learners: classes.flatMap(({ courseId, problem: own }) =>
      own.learners.map((l) => ({
        ...l,
        id: learnerId(courseId, l.id),
        courseId,
        ...(l.awayWindowIds === undefined
          ? {}
          : { awayWindowIds: l.awayWindowIds.map((id) => activityId(courseId, id)) }),
      })),
    ),
    resources: joinResources(classes),
    activities: classes.flatMap(({ courseId, problem: own }) =>
      own.activities.map((a) => joinActivity(a, courseId, activityId, learnerId)),
    ),
    spans: classes.flatMap(({ courseId, problem: own }) =>
      (own.spans ?? []).map((s) => ({
        ...s,
        ...(s.buildId === undefined ? {} : { buildId: learnerId(courseId, s.buildId) }),
        fromActivityId: activityId(courseId, s.fromActivityId),
        untilActivityId: activityId(courseId, s.untilActivityId),
      })),
    ),
    ...(now.length === 0 ? {} : { state: { nowMin: Math.max(...now), fixed } }),
  };
  return { problem, activityId, learnerId, entry };
}

function makeLearnerNames(classes: readonly NamedClass[]): ReadonlyMap<string, string> {
  const taken = new Map<string, number>();
  for (const { problem } of classes)
    for (const { id } of problem.learners) taken.set(id, (taken.get(id) ?? 0) + 1);
  const things = new Set(classes.flatMap(({ problem }) => problem.resources.map((r) => r.id)));
  return new Map(
    classes.flatMap(({ courseId, problem }) =>
      problem.learners.map(({ id }): [string, string] => [
        `${courseId}|${id}`,
        classes.length > 1 && (taken.get(id)! > 1 || things.has(id)) ? `${id} (${courseId})` : id,
      ]),
    ),
  );
}

function joinResources(classes: readonly NamedClass[]): Resource[] {
  const byId = new Map<string, Resource>();
  for (const { problem } of classes)
    for (const resource of problem.resources) {
      const known = byId.get(resource.id);
      if (known === undefined) {
        byId.set(resource.id, resource);
        continue;
      }
      if (known.capacity !== resource.capacity)
        throw new RangeError(
          `joinClasses: "${resource.id}" has ${known.capacity} and ${resource.capacity} places; it is the same thing in every course`,
        );
      const closures = [...(known.closures ?? []), ...(resource.closures ?? [])].filter(
        (c, i, all) => all.findIndex((d) => d.beginMin === c.beginMin && d.endMin === c.endMin) === i,
      );
      byId.set(resource.id, { ...known, ...(closures.length === 0 ? {} : { closures }) });
    }
  return [...byId.values()];
}

function joinActivity(
  activity: Activity,
  courseId: string,
  activityId: JoinedClasses['activityId'],
  learnerId: JoinedClasses['learnerId'],
): Activity {
  const learner = (id: string): string => learnerId(courseId, id);
  return {
    ...activity,
    id: activityId(courseId, activity.id),
    courseId,
    memberIds: activity.memberIds.map(learner),
    buildIds: activity.buildIds.map(learner),
    ...(activity.batch === undefined ? {} : { batch: activityId(courseId, activity.batch) }),
    after: activity.after.map((l) => ({ ...l, activityId: activityId(courseId, l.activityId) })),
    ways: activity.ways.map((way) =>
      way.turns === undefined
        ? way
        : { ...way, turns: way.turns.map((t) => ({ ...t, buildId: learner(t.buildId) })) },
    ),
  };
}
