import type { Context, CourseLearner, CourseSetUp } from './class-set-up.ts';
import type { RoutePart } from './route-form.ts';

/** A lot: the builds that go through a part as one activity. */
export interface Lot {
  readonly id: string;
  readonly builds: readonly string[];
  /** Position of the lot's first build in its batch: 0 bears the set-up where the station cannot remember it. */
  readonly positionInBatch: number;
  readonly batchIndex: number;
}

/** The lots in which the builds of a course go through a part. */
export function lotsOf(
  context: Context,
  course: CourseSetUp,
  part: RoutePart,
  learners: readonly CourseLearner[],
  partId: string,
): Lot[] {
  const { batch } = part;
  const most = Math.max(1, batch.most);
  const together = batch.scope === 'class' || batch.scope === 'group';
  const size = together ? lotSize(course, part, most) : 1;
  const lots: Lot[] = [];
  for (let at = 0; at < learners.length; ) {
    const left = most - (at % most);
    const builds = learners.slice(at, at + Math.min(size, left)).map((l) => l.id);
    const id = size === 1 ? `${builds[0]}/${partId}` : `${course.id}/${partId}.${at + 1}`;
    const ordinal = context.ordinal.get(builds[0]!) ?? at;
    lots.push({ id, builds, positionInBatch: at % most, batchIndex: Math.floor(ordinal / most) });
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
