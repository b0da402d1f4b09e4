import type { Context, CourseLearner, CourseSetUp } from './class-set-up.ts';
import type { RouteOperation, RoutePart } from './route-form.ts';

/** A lot: the builds that go through a part as one activity. */
export interface Lot {
  readonly id: string;
  readonly builds: readonly string[];
  /** Position of the lot's first build in its batch: 0 bears the set-up where the station cannot remember it. */
  readonly positionInBatch: number;
}

/** Share of the sessions a learner may miss and still be counted on when a lot is formed. */
const mostMissedFrac = 0.5;

/**
 * The lots in which the builds of a course go through a part. Who has done it already, who misses most sessions, and who
 * misses the next session with which the class begins, goes through alone, so that nobody waits for them.
 *
 * @param course    the course
 * @param context    the set-up
 * @param operation  the operation
 * @param part      the part
 * @param learners  learners who do it alike, in the order of the course
 * @param partId    end of the ids
 * @param isDone    whether a learner has done it already
 * @returns         lots that hold every learner once
 * @source          common practice, no published source
 */
export function lotsOf(
  course: CourseSetUp,
  context: Context,
  operation: RouteOperation,
  part: RoutePart,
  learners: readonly CourseLearner[],
  partId: string,
  isDone: (learner: CourseLearner) => boolean,
): Lot[] {
  const { batch } = part;
  const most = Math.max(1, Math.min(batch.most, placesFor(context, operation, part)));
  const together = batch.scope === 'class' || batch.scope === 'group';
  const nowMin = context.setUp.nowMin ?? Number.NEGATIVE_INFINITY;
  const next = course.sessions.find((s) => s.endMin > nowMin);
  const isOpening = operation.after.every((id) => context.isOfClass(id)) && part.prep?.usual !== true;
  const size = together ? lotSize(course, part, most) : 1;
  const isApart = (l: CourseLearner): boolean =>
    size > 1 &&
    (isDone(l) ||
      (l.awayWindowIds?.length ?? 0) > mostMissedFrac * course.sessions.length ||
      (isOpening && (l.awayWindowIds ?? []).includes(next?.id ?? '')));
  const sorted = [...learners.filter((l) => !isApart(l)), ...learners.filter(isApart)];
  const counted = sorted.filter((l) => !isApart(l)).length;
  const lots: Lot[] = [];
  for (let at = 0; at < sorted.length; ) {
    const left = most - (at % most);
    const builds = sorted
      .slice(at, at < counted ? Math.min(counted, at + Math.min(size, left)) : at + 1)
      .map((l) => l.id);
    const number = 1 + course.learners.findIndex((l) => l.id === builds[0]);
    const id = builds.length === 1 ? `${builds[0]}/${partId}` : `${course.id}/${partId}.${number}`;
    lots.push({ id, builds, positionInBatch: at % most });
    at += builds.length;
  }
  return lots;
}

/** Members of one activity: all who work at the same time, or as many as fit into one stretch of preparation. */
function lotSize(course: CourseSetUp, part: RoutePart, most: number): number {
  const { setUpMin, eachMin } = part.batch;
  if (eachMin === 0) return most;
  if (part.prep?.usual !== true) return 1;
  const stretch = Math.max(0, ...course.preparation.map((p) => p.endMin - p.beginMin));
  return Math.max(1, Math.min(most, Math.floor((stretch - setUpMin) / eachMin)));
}

/** Places there are for what rests behind a part: a lot is no larger. */
function placesFor(context: Context, operation: RouteOperation, part: RoutePart): number {
  const holds = [...(part.rest?.holds ?? []), ...(operation.rest?.holds ?? [])];
  const covered = new Set((context.setUp.route.longHolds ?? []).map((h) => h.what));
  const places = holds
    .filter((h) => !covered.has(h.what))
    .map((h) => context.capacityOf(h.what))
    .filter((places) => places > 0);
  return Math.min(Number.MAX_SAFE_INTEGER, ...places);
}
