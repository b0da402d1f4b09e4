import type { Context } from './class-set-up.ts';
import type { MadeOperation } from './made-operations.ts';
import type { Activity, Link, Span } from './problem.ts';
import type { RouteOperation, RoutePart } from './route-form.ts';

/** What a first part waits for: the last parts of the operations before, with their rests. */
export function linksToOperation(
  context: Context,
  operation: RouteOperation,
  made: ReadonlyMap<string, MadeOperation>,
  builds: readonly string[],
  lastOf: ReadonlyMap<string, string>,
): Link[] {
  const links = new Map<string, Link>();
  for (const before of made.get(operation.id)!.after) {
    const { rest } = made.get(before)!.operation;
    const own = rest?.before.find((b) => b.op === operation.id) ?? rest?.beforeOthers;
    for (const build of builds) {
      const id = lastOf.get(`${build}|${before}`);
      if (id !== undefined)
        links.set(id, { activityId: id, lagMin: own === undefined ? 0 : context.minutesOf(own) });
    }
  }
  // a rest may also bind an operation that is not the next one
  for (const other of made.values()) {
    const own = other.operation.rest?.before.find((b) => b.op === operation.id);
    if (own === undefined) continue;
    for (const build of builds) {
      const id = lastOf.get(`${build}|${other.operation.id}`);
      if (id !== undefined) links.set(id, { activityId: id, lagMin: context.minutesOf(own) });
    }
  }
  return [...links.values()];
}

/** What a later part waits for: the part before, with its rest. */
export function linksToPart(
  context: Context,
  part: RoutePart,
  builds: readonly string[],
  previous: ReadonlyMap<string, string>,
): Link[] {
  const rest = part.repeat?.rest ?? part.rest;
  const ids = new Set(builds.flatMap((b) => previous.get(b) ?? []));
  return [...ids].map((activityId) => ({
    activityId,
    lagMin: rest === undefined ? 0 : context.minutesOf(rest),
  }));
}

/** No machine before its key: the key check of the usual station comes first. */
export function keyLinks(
  context: Context,
  activity: Activity,
  builds: readonly string[],
  lastOf: ReadonlyMap<string, string>,
  operation: RouteOperation,
): Link[] {
  if (operation.kind === 'key' || activity.memberIds.length === 0) return [];
  const keys = new Set(activity.ways.map((w) => context.stations.get(w.stationId ?? '')?.key));
  const checks = context.setUp.route.operations.filter(
    (o) => o.givesKey !== undefined && keys.has(o.givesKey),
  );
  const ids = new Set(checks.flatMap((o) => builds.flatMap((b) => lastOf.get(`${b}|${o.id}`) ?? [])));
  return [...ids].map((activityId) => ({ activityId, lagMin: 0 }));
}

/** Things one build holds over many steps, such as a mould. */
export function spansOf({ setUp, minutesOf }: Context, activities: readonly Activity[]): Span[] {
  const first = new Map<string, string>();
  const last = new Map<string, string>();
  for (const a of activities)
    for (const build of a.buildIds) {
      const key = `${build}|${a.operationId}`;
      if (!first.has(key)) first.set(key, a.id);
      last.set(key, a.id);
    }
  const find = (build: string, operationId: string, isLast: boolean): string | undefined =>
    (isLast ? last : first).get(`${build}|${operationId}`);
  return setUp.courses.flatMap((course) =>
    course.learners.flatMap((learner) =>
      (setUp.route.longHolds ?? []).flatMap((hold): Span[] => {
        const from = find(learner.id, hold.fromOp, false);
        const until = hold.untilRestOf ?? hold.untilStartOf;
        const end = until === undefined ? undefined : find(learner.id, until, hold.untilRestOf !== undefined);
        if (from === undefined || end === undefined) return [];
        const rest = setUp.route.operations
          .find((o) => o.id === hold.untilRestOf)
          ?.rest?.holds.find((h) => h.what === hold.what);
        return [
          {
            resourceId: hold.what,
            buildId: learner.id,
            fromActivityId: from,
            untilActivityId: end,
            untilEdge: hold.untilRestOf === undefined ? 'start' : 'end',
            restMin: rest === undefined ? 0 : minutesOf(rest),
          },
        ];
      }),
    ),
  );
}
