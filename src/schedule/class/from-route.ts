import {
  type ClassSetUp,
  type Context,
  type CourseLearner,
  type CourseSetUp,
  makeContext,
  teachersOf,
} from './class-set-up.ts';
import { lotsOf } from './lots.ts';
import { inOrder, type MadeOperation, madeOperations } from './made-operations.ts';
import type { Activity, ClassProblem, Learner, Link, Resource, WorkWindow } from './problem.ts';
import type { RouteOperation, RoutePart } from './route-form.ts';
import { keyLinks, linksToOperation, linksToPart, spansOf } from './route-links.ts';
import { type Making, makeWay } from './route-ways.ts';

/**
 * Makes the class problem out of route data. A jig is counted at the parts done away from the bench; in an
 * operation done wholly at the bench it is counted in the first part (later it is only laid on now and then).
 *
 * @param setUp  route data, courses with sessions and learners, choices
 * @returns      the class problem; ids of activities are `learner/operation.part` or `course/operation.part.lot`
 * @assumes      an operation of setting scope is one activity per learner that shares the station's setting, so that
 *               set-ups are counted once per run of the same setting; class and group scope become one activity with
 *               members of all instruments that do it alike, in lots of at most the route's number; what rests holds
 *               one place for each build. Demonstrations lie in the opening minutes of a session
 * @source       common practice, no published source
 */
export function classProblem(setUp: ClassSetUp): ClassProblem {
  const context = makeContext(setUp);
  const activities = setUp.courses.flatMap((course) => courseActivities(context, course));
  const windows: WorkWindow[] = setUp.courses.flatMap((course) => [
    ...course.sessions.map((s) => ({ ...s, kind: 'session' as const, courseId: course.id })),
    ...course.preparation.map((p) => ({ ...p, kind: 'preparation' as const, courseId: course.id })),
  ]);
  const learners: Learner[] = setUp.courses.flatMap((course) =>
    course.learners.map((l) => ({
      id: l.id,
      courseId: course.id,
      ...(l.awayWindowIds === undefined ? {} : { awayWindowIds: l.awayWindowIds }),
    })),
  );
  return {
    courses: setUp.courses.map(({ id, name }) => ({ id, name })),
    windows,
    learners,
    resources: resourcesOf(setUp, context),
    activities,
    spans: spansOf(context, activities),
  };
}

function resourcesOf(setUp: ClassSetUp, context: Context): Resource[] {
  const closed = (id: string): Partial<Resource> =>
    setUp.closures?.[id] === undefined ? {} : { closures: setUp.closures[id] };
  const people = new Set(setUp.courses.flatMap((c) => [...teachersOf(c), ...(c.helperIds ?? [])]));
  return [
    ...setUp.route.stations.map(
      (s): Resource => ({
        id: s.id,
        name: s.name,
        kind: 'station',
        capacity: context.capacityOf(s.id),
        ...closed(s.id),
      }),
    ),
    ...setUp.route.jigs.map(
      (j): Resource => ({
        id: j.id,
        name: j.name,
        kind: 'jig',
        capacity: context.capacityOf(j.id),
        ...closed(j.id),
      }),
    ),
    ...[...people].map((id): Resource => ({ id, name: id, kind: 'person', capacity: 1, ...closed(id) })),
  ];
}

/** The operations of one instrument as they are made in a course. */
interface Made {
  readonly instrument: string;
  readonly operations: ReadonlyMap<string, MadeOperation>;
}

function courseActivities(context: Context, course: CourseSetUp): Activity[] {
  const usual = context.setUp.route.operations[0]?.instruments?.[0] ?? '';
  const instrumentOf = (l: CourseLearner): string => l.instrument ?? usual;
  const made = new Map<string, Made>();
  for (const instrument of new Set(course.learners.map(instrumentOf)))
    made.set(instrument, { instrument, operations: madeOperations(context, instrument) });
  const byId = new Map(course.learners.map((l) => [l.id, l]));
  const madeOf = (build: string): Made => made.get(instrumentOf(byId.get(build)!))!;
  /** Last activity of an operation for each build. */
  const lastOf = new Map<string, string>();
  const planned: Activity[] = [];
  for (const operation of inOrder([...made.values()].map((m) => m.operations))) {
    const learners = course.learners.filter(
      (l) => madeOf(l.id).operations.has(operation.id) && !hasKeyOf(operation, l),
    );
    const previous = new Map<string, string>();
    const done = new Map<string, RoutePart>();
    for (const group of partGroups(operation, learners, madeOf)) {
      const { part, index, scale, turn, isLast, instrument } = group;
      const turnText = part.repeat === undefined ? '' : `.${turn + 1}`;
      const partId = `${operation.id}.${index + 1}${turnText}`;
      const isDone = (l: CourseLearner): boolean => context.isDone(l.id, operation.id, index);
      for (const lot of lotsOf(course, context, operation, part, group.learners, partId, isDone)) {
        const { builds } = lot;
        const links = unique(
          builds.flatMap((build) => {
            const before = done.get(build);
            return before === undefined
              ? linksToOperation(context, operation, madeOf(build).operations, [build], lastOf)
              : linksToPart(context, before, [build], previous);
          }),
        );
        const activity = makeActivity({
          context,
          course,
          operation,
          part,
          index,
          scale,
          lot,
          instrument,
          isLast,
          byId,
        });
        planned.push({
          ...activity,
          after: [...links, ...keyLinks(context, activity, builds, lastOf, operation)],
        });
        for (const b of builds) previous.set(b, activity.id);
      }
      for (const l of group.learners) done.set(l.id, part);
    }
    for (const [build, id] of previous) lastOf.set(`${build}|${operation.id}`, id);
  }
  return planned;
}

/** One part of an operation and who goes through it alike. */
interface PartGroup {
  readonly part: RoutePart;
  readonly index: number;
  readonly scale: number;
  readonly turn: number;
  readonly isLast: boolean;
  /** The instrument it is set for; of work of the whole class the first one's. */
  readonly instrument: string;
  readonly learners: readonly CourseLearner[];
}

/**
 * The parts of an operation in their order. Work of the class or a group takes the learners of all instruments that do it
 * alike; anything else is done instrument by instrument.
 */
function partGroups(
  operation: RouteOperation,
  learners: readonly CourseLearner[],
  madeOf: (build: string) => Made,
): PartGroup[] {
  const groups = new Map<
    string,
    PartGroup & { readonly learners: CourseLearner[]; readonly position: number }
  >();
  for (const learner of learners) {
    const { instrument, operations } = madeOf(learner.id);
    const { parts } = operations.get(operation.id)!;
    parts.forEach(({ part, index, scale, turn }, position) => {
      const isLast = position === parts.length - 1;
      const isTogether = part.batch.scope === 'class' || part.batch.scope === 'group';
      const key = `${position} ${index} ${turn} ${isTogether ? `${scale} ${isLast}` : instrument}`;
      const known = groups.get(key);
      if (known === undefined)
        groups.set(key, { part, index, scale, turn, isLast, instrument, position, learners: [learner] });
      else known.learners.push(learner);
    });
  }
  return [...groups.values()].sort((a, b) => a.position - b.position);
}

/** Links to the same activity become one, the longest. */
function unique(links: readonly Link[]): Link[] {
  const kept = new Map<string, Link>();
  for (const link of links)
    if ((kept.get(link.activityId)?.lagMin ?? -1) < link.lagMin) kept.set(link.activityId, link);
  return [...kept.values()];
}

const hasKeyOf = (operation: RouteOperation, learner: CourseLearner): boolean =>
  operation.givesKey !== undefined && (learner.keys?.includes(operation.givesKey) ?? false);

function makeActivity(m: Making): Activity {
  const { context, course, operation, part, lot } = m;
  const isPreparation = part.prep?.usual === true;
  const learnerWorks = part.who === 'learner' && !isPreparation;
  const isLonely = course.learners.length === 1;
  return {
    id: lot.id,
    name: `${operation.name}: ${part.what}`,
    operationId: operation.id,
    partIndex: m.index,
    courseId: course.id,
    memberIds: learnerWorks ? lot.builds : [],
    buildIds: lot.builds,
    ...(part.batch.scope === 'none' ? {} : { batch: `${course.id} ${operation.id}.${m.index + 1}` }),
    where: isPreparation ? 'preparation' : 'session',
    ways: part.at
      .filter((id, i) => i === 0 || context.capacityOf(id) > 0)
      .map((station, i) => makeWay(m, station, i, learnerWorks, isLonely)),
    jigIds: jigsAt(context, operation, part),
    helperMin: learnerWorks && !isLonely ? part.helperMin : 0,
    rests: restsOf(m),
    after: [],
    mayStop: learnerWorks && mayStop(context, part),
    uncertainty: { lowMin: part.minutes.low, likelyMin: part.minutes.likely, highMin: part.minutes.high },
  };
}

/** Long hand work at a place without a machine may be laid down at the bell and gone on with next time. */
function mayStop(context: Context, part: RoutePart): boolean {
  const key = context.stations.get(part.at[0] ?? '')?.key;
  const isAlone = part.batch.scope === 'none' && part.helperMin === 0;
  return part.then === 'stop' && isAlone && (key === 'hand' || key === 'none') && part.minutes.likely >= 20;
}

function jigsAt(context: Context, operation: RouteOperation, part: RoutePart): string[] {
  const isBench = (p: RoutePart): boolean => p.at[0] === 'bench';
  if (isBench(part) && (part !== operation.parts[0] || !operation.parts.every(isBench))) return [];
  const loose = context.setUp.looseJigIds ?? [];
  return operation.jigs.filter((id) => context.capacityOf(id) > 0 && !loose.includes(id));
}

function restsOf({ context, operation, part, isLast, lot }: Making): Activity['rests'] {
  const covered = new Set((context.setUp.route.longHolds ?? []).map((h) => h.what));
  const holds = [...(part.rest?.holds ?? []), ...(isLast ? (operation.rest?.holds ?? []) : [])];
  return holds
    .filter((h) => !covered.has(h.what) && context.capacityOf(h.what) > 0)
    .map((h) => ({
      resourceId: h.what,
      restMin: context.minutesOf(h),
      ...(lot.builds.length > 1 ? { places: lot.builds.length } : {}),
    }));
}
