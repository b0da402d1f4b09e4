import { classFaults } from './check.ts';
import {
  type Activity,
  beginOf,
  type ClassProblem,
  endOf,
  type PlanEntry,
  type WorkWindow,
} from './problem.ts';

/** A step laid into another session, and what that breaks. */
export interface MovedStep {
  readonly entry: PlanEntry;
  /** Sentences of the checker that were not true before; empty when the plan still holds. */
  readonly breaks: readonly string[];
}

/** Minutes between the places that are tried in a session. */
const tryEveryMin = 5;

/**
 * Lays one step of a plan into a session (or preparation hours): at the first place where it breaks nothing, else where it
 * breaks least. Nothing else is moved.
 *
 * @param problem     the class problem
 * @param entries     the plan
 * @param activityId  which step
 * @param windowId    into which session
 * @returns           the entry and the checker's sentences about what it breaks
 * @throws RangeError when there is no such step or session
 * @source            arithmetic
 */
export function moveStep(
  problem: ClassProblem,
  entries: readonly PlanEntry[],
  activityId: string,
  windowId: string,
): MovedStep {
  const activity = problem.activities.find((a) => a.id === activityId);
  const window = problem.windows.find((w) => w.id === windowId);
  if (activity === undefined || window === undefined)
    throw new RangeError(`moveStep: no step ${activityId} or no session ${windowId}`);
  const was = entries.find((e) => e.activityId === activityId);
  const others = entries.filter((e) => e.activityId !== activityId);
  const near = nearby(problem, others, activity, window);
  const before = new Set(classFaults(near.problem, [...near.entries, ...(was === undefined ? [] : [was])]));
  let best: { readonly entry: PlanEntry; readonly count: number } | undefined;
  for (const entry of places(problem, activity, window, was)) {
    const found = classFaults(near.problem, [...near.entries, entry]);
    const count = found.filter((f) => !before.has(f)).length;
    if (best === undefined || count < best.count) best = { entry, count };
    if (best.count === 0) break;
  }
  const entry = best!.entry;
  const open: ClassProblem = { ...problem, ...withoutFixed(problem, activityId) };
  const known = new Set(classFaults(open, entries));
  const breaks = classFaults(open, [...others, entry]).filter((f) => !known.has(f));
  return { entry, breaks };
}

/** A pinned step that is moved again is fixed no more. */
function withoutFixed(problem: ClassProblem, activityId: string): Pick<ClassProblem, 'state'> {
  return problem.state === undefined
    ? {}
    : {
        state: {
          ...problem.state,
          fixed: problem.state.fixed.filter((e) => e.activityId !== activityId),
        },
      };
}

/** What can get in the way of a step in a session: the neighbours in the route, and whatever holds something then. */
function nearby(
  problem: ClassProblem,
  others: readonly PlanEntry[],
  activity: Activity,
  window: WorkWindow,
): { readonly problem: ClassProblem; readonly entries: readonly PlanEntry[] } {
  const byId = new Map(problem.activities.map((a) => [a.id, a]));
  const linked = new Set(activity.after.map((l) => l.activityId));
  const stations = new Set(activity.ways.flatMap((w) => w.stationId ?? []));
  const isNear = (e: PlanEntry): boolean => {
    const a = byId.get(e.activityId);
    if (a === undefined) return false;
    if (linked.has(a.id) || a.after.some((l) => l.activityId === activity.id)) return true;
    const rest = Math.max(0, ...a.rests.map((r) => r.restMin));
    if (beginOf(e) < window.endMin && endOf(e) + rest > window.beginMin) return true;
    const station = a.ways[e.wayIndex]?.stationId;
    return station !== undefined && stations.has(station) && a.ways[e.wayIndex]?.setting !== undefined;
  };
  const entries = others.filter(isNear);
  const kept = new Set([activity.id, ...entries.map((e) => e.activityId)]);
  return {
    problem: {
      ...problem,
      activities: problem.activities.filter((a) => kept.has(a.id)),
      windows: problem.windows.filter(
        (w) =>
          w.id === window.id ||
          entries.some((e) => beginOf(e) < w.endMin && endOf(e) > w.beginMin) ||
          (w.beginMin < window.endMin && w.endMin > window.beginMin),
      ),
      spans: (problem.spans ?? []).filter((s) => kept.has(s.fromActivityId) && kept.has(s.untilActivityId)),
      ...(problem.state === undefined
        ? {}
        : {
            state: {
              ...problem.state,
              fixed: problem.state.fixed.filter(
                (e) => kept.has(e.activityId) && e.activityId !== activity.id,
              ),
            },
          }),
    },
    entries,
  };
}

function* places(
  problem: ClassProblem,
  activity: Activity,
  window: WorkWindow,
  was: PlanEntry | undefined,
): Generator<PlanEntry> {
  const from = Math.max(window.beginMin, problem.state?.nowMin ?? window.beginMin);
  const helperId =
    was?.helperId ??
    problem.learners.find((l) => l.courseId === activity.courseId && !activity.memberIds.includes(l.id))?.id;
  const ways = activity.ways.map((way, wayIndex) => ({ way, wayIndex }));
  // as it was planned first, then the other ways
  ways.sort((a, b) => Number(b.wayIndex === was?.wayIndex) - Number(a.wayIndex === was?.wayIndex));
  for (const { way, wayIndex } of ways)
    for (const setUp of way.setting === undefined ? [0] : [0, way.setUpMin ?? 0]) {
      const last = Math.max(from, window.endMin - way.durationMin - setUp);
      for (let t = from; t <= last; t += tryEveryMin)
        yield {
          activityId: activity.id,
          pieces: [{ beginMin: t + setUp, endMin: t + setUp + way.durationMin }],
          wayIndex,
          attendantIds: way.attendance.map((need, k) => {
            const before = was?.attendantIds[k];
            return before !== undefined && need.anyOf.includes(before) ? before : need.anyOf[0];
          }),
          ...(setUp > 0 ? { setUpBeginMin: t } : {}),
          ...(activity.helperMin > 0 && helperId !== undefined ? { helperId } : {}),
        };
    }
}
