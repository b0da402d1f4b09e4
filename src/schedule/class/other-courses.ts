import { compileClass } from './compile.ts';
import { makeClassDecoder } from './decode.ts';
import { makeMeasurer, usualObjectives } from './measure.ts';
import { listByKeys } from './priority.ts';
import { type Activity, beginOf, type ClassProblem, endOf, type PlanEntry } from './problem.ts';

/** What another course holds in its published sessions and this one waits for. */
export interface HeldElsewhere {
  readonly courseId: string;
  readonly resourceId: string;
  /** Session minutes by which the last learner who is still planned would be done earlier, at most. */
  readonly savedMin: number;
  /** Session minutes by which those learners would be done earlier together, at most. */
  readonly savedTogetherMin: number;
}

/** Things tried, the most waited for first. */
const mostTried = 3;

/**
 * What would help but touches another course: each station, jig, rest or person that published work of another course
 * holds while open work of this one waits for it. The things most waited for are taken from that course and the plan is
 * laid out once more in the same order; what is then over earlier is named.
 *
 * @param problem  the problem with its state; published work begins at or after now and stands
 * @param entries  the plan made around it
 * @returns        what would help, the most helpful first
 * @assumes        the other course finds another time for it: the savings are the most there can be
 * @source         arithmetic
 */
export function heldElsewhere(problem: ClassProblem, entries: readonly PlanEntry[]): HeldElsewhere[] {
  const now = problem.state?.nowMin ?? Number.NEGATIVE_INFINITY;
  const published = (problem.state?.fixed ?? []).filter((e) => beginOf(e) >= now);
  if (published.length === 0) return [];
  const plain = finishes(problem, entries);
  return waitedFor(problem, entries, published)
    .slice(0, mostTried)
    .map(({ courseId, resourceId }) => {
      const ids = new Set(published.map((e) => e.activityId));
      const freed = {
        ...problem,
        activities: problem.activities.map((a) =>
          ids.has(a.id) && a.courseId === courseId ? without(a, resourceId) : a,
        ),
        spans: (problem.spans ?? []).filter((s) => s.resourceId !== resourceId || !ids.has(s.fromActivityId)),
      };
      const then = finishes(freed, entries);
      return {
        courseId,
        resourceId,
        savedMin: Math.max(0, ...plain) - Math.max(0, ...then),
        savedTogetherMin: sum(plain) - sum(then),
      };
    })
    .filter((h) => h.savedMin > 0 || (h.savedMin === 0 && h.savedTogetherMin > 0))
    .sort((a, b) => b.savedMin - a.savedMin || b.savedTogetherMin - a.savedTogetherMin);
}

const sum = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0);

/** Session minutes at which the learners who still have open work are done, when the plan's order is laid out. */
function finishes(problem: ClassProblem, entries: readonly PlanEntry[]): number[] {
  const compiled = compileClass(problem);
  const decoder = makeClassDecoder(compiled);
  decoder.fix(problem.state?.fixed ?? []);
  const keys = new Float64Array(compiled.activities.length).fill(1e12);
  for (const entry of entries) {
    const a = compiled.activityIndex.get(entry.activityId);
    if (a !== undefined) keys[a] = beginOf(entry);
  }
  const list = new Int32Array(keys.length);
  listByKeys(compiled, keys, list);
  const measurer = makeMeasurer(
    compiled,
    usualObjectives,
    problem.courses.map(() => undefined),
  );
  const { finishMin } = measurer.measures(decoder.decode(list));
  const fixed = new Set((problem.state?.fixed ?? []).map((e) => e.activityId));
  const open = new Set(problem.activities.filter((a) => !fixed.has(a.id)).flatMap((a) => a.buildIds));
  return finishMin.filter((_, l) => open.has(problem.learners[l]!.id));
}

/** The activity as if it did not need the thing. */
function without(activity: Activity, resourceId: string): Activity {
  return {
    ...activity,
    jigIds: activity.jigIds.filter((id) => id !== resourceId),
    rests: activity.rests.filter((r) => r.resourceId !== resourceId),
    ways: activity.ways.map((way) => {
      const { stationId, setting, setUpMin, ...rest } = way;
      const kept = {
        ...rest,
        // somebody who is not asked for stays in the list, so that the entry's people keep their places
        attendance: way.attendance.map((n) =>
          n.anyOf.includes(resourceId) ? { ...n, fromMin: 0, toMin: 0 } : n,
        ),
      };
      if (stationId === resourceId || stationId === undefined) return kept;
      return {
        ...kept,
        stationId,
        ...(setting === undefined ? {} : { setting }),
        ...(setUpMin === undefined ? {} : { setUpMin }),
      };
    }),
  };
}

interface Hold {
  readonly courseId: string;
  readonly resourceId: string;
  readonly fromMin: number;
  readonly toMin: number;
}

/** Things published work of another course holds, by the session minutes open work waits while they are held. */
function waitedFor(
  problem: ClassProblem,
  entries: readonly PlanEntry[],
  published: readonly PlanEntry[],
): { readonly courseId: string; readonly resourceId: string; readonly waitedMin: number }[] {
  const activities = new Map(problem.activities.map((a) => [a.id, a]));
  const entryOf = new Map(entries.map((e) => [e.activityId, e]));
  const fixed = new Set((problem.state?.fixed ?? []).map((e) => e.activityId));
  const holds = published.flatMap((e) => holdsOf(activities.get(e.activityId), e));
  const byThing = groupHolds(holds);
  const waited = new Map<string, { courseId: string; resourceId: string; waitedMin: number }>();
  for (const activity of problem.activities) {
    const entry = entryOf.get(activity.id);
    if (entry === undefined || fixed.has(activity.id)) continue;
    const ready = Math.max(
      problem.state?.nowMin ?? 0,
      activity.releaseMin ?? 0,
      ...activity.after.map((l) => {
        const other = entryOf.get(l.activityId);
        return other === undefined ? 0 : (l.from === 'start' ? beginOf(other) : endOf(other)) + l.lagMin;
      }),
    );
    for (const id of wantedBy(activity))
      for (const hold of byThing.get(id) ?? []) {
        if (hold.courseId === activity.courseId) continue;
        const minutes = sessionMinutes(
          problem,
          activity.courseId,
          Math.max(ready, hold.fromMin),
          Math.min(beginOf(entry), hold.toMin),
        );
        if (minutes <= 0) continue;
        const key = `${hold.courseId} ${id}`;
        const own = waited.get(key) ?? { courseId: hold.courseId, resourceId: id, waitedMin: 0 };
        own.waitedMin += minutes;
        waited.set(key, own);
      }
  }
  return [...waited.values()].sort((a, b) => b.waitedMin - a.waitedMin);
}

function groupHolds(holds: readonly Hold[]): Map<string, Hold[]> {
  const groups = new Map<string, Hold[]>();
  for (const hold of holds) groups.set(hold.resourceId, [...(groups.get(hold.resourceId) ?? []), hold]);
  return groups;
}

/** Everything an entry holds: its station and jigs while it is worked, its people, and what rests. */
function holdsOf(activity: Activity | undefined, entry: PlanEntry): Hold[] {
  const way = activity?.ways[entry.wayIndex];
  if (activity === undefined || way === undefined) return [];
  const { courseId } = activity;
  const begin = entry.setUpBeginMin ?? beginOf(entry);
  const worked = [way.stationId, ...activity.jigIds, ...entry.attendantIds].flatMap((id): Hold[] =>
    id === undefined ? [] : [{ courseId, resourceId: id, fromMin: begin, toMin: endOf(entry) }],
  );
  const rests = activity.rests
    .filter((r) => r.resourceId === way.stationId || !activity.ways.some((w) => w.stationId === r.resourceId))
    .map(
      (r): Hold => ({
        courseId,
        resourceId: r.resourceId,
        fromMin: endOf(entry),
        toMin: endOf(entry) + r.restMin,
      }),
    );
  return [...worked, ...rests];
}

/** Everything an activity may wait for. */
function wantedBy(activity: Activity): ReadonlySet<string> {
  return new Set([
    ...activity.jigIds,
    ...activity.rests.map((r) => r.resourceId),
    ...activity.ways.flatMap((w) => [
      ...(w.stationId === undefined ? [] : [w.stationId]),
      ...w.attendance.flatMap((n) => n.anyOf),
    ]),
  ]);
}

/** Minutes of a course's windows between two clock minutes. */
function sessionMinutes(problem: ClassProblem, courseId: string, fromMin: number, toMin: number): number {
  if (toMin <= fromMin) return 0;
  return problem.windows.reduce(
    (minutes, w) =>
      (w.courseId ?? courseId) === courseId
        ? minutes + Math.max(0, Math.min(toMin, w.endMin) - Math.max(fromMin, w.beginMin))
        : minutes,
    0,
  );
}
