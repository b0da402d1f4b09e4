import { busyStretches, type ClassProblem } from './problem.ts';

/** What one resource is asked for and what there is of it. */
export interface MinutesRow {
  /** Id of the station, person or jig, or `learners COURSE`. */
  readonly resourceId: string;
  readonly name: string;
  readonly askedMin: number;
  readonly thereMin: number;
  /** By what it is over-full; 0 when it suffices. */
  readonly overFullMin: number;
}

/**
 * The sum the planner prints first: minutes asked and minutes there are of every resource, the fullest first.
 * Work counts at the first way of each activity; one set-up is counted for each setting of a station.
 *
 * @param problem  the class problem, with the sessions that are given
 * @returns        one row per resource that is asked for, and one for the learners of each course
 * @assumes        rests that hold a station count with the session minutes that fall into a rest of that length on average
 * @source         arithmetic
 */
export function minutesAsked(problem: ClassProblem): MinutesRow[] {
  const asked = new Map<string, number>();
  const add = (id: string, minutes: number): void => {
    asked.set(id, (asked.get(id) ?? 0) + minutes);
  };
  const now = problem.state?.nowMin ?? Number.NEGATIVE_INFINITY;
  const done = new Set((problem.state?.fixed ?? []).map((e) => e.activityId));
  const settings = new Set<string>();
  for (const activity of problem.activities) {
    if (done.has(activity.id)) continue;
    const way = activity.ways[0]!;
    add(
      `learners ${activity.courseId}`,
      activity.memberIds.reduce(
        (sum, id) => sum + busyStretches(way, id).reduce((m, t) => m + t.toMin - t.fromMin, 0),
        Math.min(activity.helperMin, way.durationMin),
      ),
    );
    for (const jig of activity.jigIds) add(jig, way.durationMin);
    for (const need of way.attendance)
      if (need.onlyAtSetUp !== true)
        add(need.anyOf[0]!, Math.min(need.toMin, way.durationMin) - need.fromMin);
    if (way.stationId === undefined) continue;
    add(way.stationId, way.durationMin);
    if (way.setting === undefined || settings.has(`${way.stationId} ${way.setting}`)) continue;
    settings.add(`${way.stationId} ${way.setting}`);
    add(way.stationId, way.setUpMin ?? 0);
    for (const need of way.attendance)
      if (need.onlyAtSetUp === true) add(need.anyOf[0]!, need.toMin - need.fromMin);
  }
  const prepared = usedInPreparation(problem);
  const rows = [...asked].map(([resourceId, askedMin]): MinutesRow => {
    const thereMin = minutesThere(problem, resourceId, now, prepared.has(resourceId));
    return {
      resourceId,
      name: nameOf(problem, resourceId),
      askedMin,
      thereMin,
      overFullMin: Math.max(0, askedMin - thereMin),
    };
  });
  return rows.sort(
    (a, b) =>
      b.overFullMin - a.overFullMin ||
      b.askedMin / Math.max(1, b.thereMin) - a.askedMin / Math.max(1, a.thereMin),
  );
}

function nameOf(problem: ClassProblem, id: string): string {
  const course = problem.courses.find((c) => `learners ${c.id}` === id);
  return course === undefined
    ? (problem.resources.find((r) => r.id === id)?.name ?? id)
    : `learners of ${course.name}`;
}

/** Places times minutes in the sessions left; what is used in preparation also has the preparation hours. */
function minutesThere(problem: ClassProblem, id: string, now: number, isPrepared: boolean): number {
  const course = problem.courses.find((c) => `learners ${c.id}` === id);
  const resource = problem.resources.find((r) => r.id === id);
  const windows = problem.windows.filter((w) =>
    course === undefined
      ? w.kind === 'session' || isPrepared
      : w.kind === 'session' && w.courseId === course.id,
  );
  return windows.reduce((sum, w) => {
    const from = Math.max(w.beginMin, now);
    const minutes = Math.max(0, w.endMin - from);
    if (course !== undefined)
      return (
        sum +
        minutes *
          problem.learners.filter((l) => l.courseId === course.id && !(l.awayWindowIds ?? []).includes(w.id))
            .length
      );
    const closed = (resource?.closures ?? []).reduce(
      (c, k) => c + Math.max(0, Math.min(k.endMin, w.endMin) - Math.max(k.beginMin, from)),
      0,
    );
    return sum + (resource?.capacity ?? 0) * Math.max(0, minutes - closed);
  }, 0);
}

/** Stations and people that work in preparation hours asks for. */
function usedInPreparation(problem: ClassProblem): ReadonlySet<string | undefined> {
  return new Set(
    problem.activities
      .filter((a) => a.where === 'preparation')
      .flatMap((a) => [a.ways[0]!.stationId, ...a.ways[0]!.attendance.flatMap((n) => n.anyOf)]),
  );
}
