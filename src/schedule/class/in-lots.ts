import { type Activity, beginOf, type ClassProblem, endOf, type Link, type PlanEntry } from './problem.ts';

/** A plan whose runs of the same work are one activity each, and the problem it is a plan of. */
export interface PlanInLots {
  readonly problem: ClassProblem;
  readonly entries: readonly PlanEntry[];
}

interface Piece {
  readonly activity: Activity;
  readonly entry: PlanEntry;
}

/**
 * The plan as it is posted: builds that go through the same part at a station one right after the other, at one setting and
 * with the same people, are one activity with members and turns. The planner decides who is in a lot by where it puts
 * them, so that nobody waits for a lot that was formed beforehand; teacher, machine and set-up are counted once per lot.
 *
 * @param problem  the problem that was planned, one activity for each build
 * @param entries  its plan
 * @returns        problem and plan with lots; what is done stays as it is
 * @source         common practice, no published source
 */
export function inLots(problem: ClassProblem, entries: readonly PlanEntry[]): PlanInLots {
  const runs = runsOf(problem, entries);
  if (runs.length === 0) return { problem, entries };
  const lotOf = new Map<string, string>();
  const lots = runs.map((run) => {
    const id = `${run[0]!.activity.id}+${run.length - 1}`;
    for (const { activity } of run) lotOf.set(activity.id, id);
    return { run, id };
  });
  const renamed = (activityId: string): string => lotOf.get(activityId) ?? activityId;
  const linksOf = (links: readonly Link[]): Link[] =>
    unique(links.map((l) => ({ ...l, activityId: renamed(l.activityId) })));
  const entriesInLots = (list: readonly PlanEntry[]): PlanEntry[] => {
    const known = new Set(list.map((e) => e.activityId));
    return [
      ...list.filter((e) => !lotOf.has(e.activityId)),
      ...lots.filter(({ run }) => known.has(run[0]!.activity.id)).map(({ run, id }) => lotEntry(run, id)),
    ];
  };
  return {
    problem: {
      ...problem,
      ...(problem.state === undefined
        ? {}
        : { state: { ...problem.state, fixed: entriesInLots(problem.state.fixed) } }),
      activities: [
        ...problem.activities.filter((a) => !lotOf.has(a.id)).map((a) => ({ ...a, after: linksOf(a.after) })),
        ...lots.map(({ run, id }) => lotActivity(run, id, linksOf)),
      ],
      spans: (problem.spans ?? []).map((s) => ({
        ...s,
        fromActivityId: renamed(s.fromActivityId),
        untilActivityId: renamed(s.untilActivityId),
      })),
    },
    entries: entriesInLots(entries),
  };
}

/** Runs of at least two builds that touch each other at a station of one place. */
function runsOf(problem: ClassProblem, entries: readonly PlanEntry[]): Piece[][] {
  const fixed = new Set((problem.state?.fixed ?? []).map((e) => e.activityId));
  const activities = new Map(problem.activities.map((a) => [a.id, a]));
  const ofOne = new Set(problem.resources.filter((r) => r.capacity === 1).map((r) => r.id));
  const byStation = new Map<string, Piece[]>();
  const isPast = (p: Piece): boolean =>
    fixed.has(p.activity.id) && beginOf(p.entry) < (problem.state?.nowMin ?? Number.NEGATIVE_INFINITY);
  for (const entry of entries) {
    const activity = activities.get(entry.activityId);
    const stationId = activity?.ways[entry.wayIndex]?.stationId;
    if (activity === undefined || stationId === undefined || !ofOne.has(stationId)) continue;
    byStation.set(stationId, [...(byStation.get(stationId) ?? []), { activity, entry }]);
  }
  return [...byStation.values()].flatMap((pieces) => {
    const runs: Piece[][] = [];
    for (const piece of pieces.sort((a, b) => beginOf(a.entry) - beginOf(b.entry))) {
      const run = runs[runs.length - 1];
      const last = run?.[run.length - 1];
      const standsAlike = last !== undefined && fixed.has(last.activity.id) === fixed.has(piece.activity.id);
      if (standsAlike && !isPast(piece) && !isPast(last) && goesOn(last, piece)) run!.push(piece);
      else runs.push([piece]);
    }
    return runs.filter((run) => run.length > 1);
  });
}

/** Whether the second build follows the first in the same lot. */
function goesOn(first: Piece, second: Piece): boolean {
  const [a, b] = [first.activity, second.activity];
  const [wayA, wayB] = [a.ways[first.entry.wayIndex]!, b.ways[second.entry.wayIndex]!];
  return (
    a.batch !== undefined &&
    a.batch === b.batch &&
    a.courseId === b.courseId &&
    a.where === b.where &&
    wayA.setting === wayB.setting &&
    a.memberIds.length === b.memberIds.length &&
    endOf(first.entry) === beginOf(second.entry) &&
    second.entry.setUpBeginMin === undefined &&
    [first, second].every(isPlain) &&
    !b.buildIds.some((id) => a.buildIds.includes(id)) &&
    a.jigIds.join() === b.jigIds.join()
  );
}

/** One build in one piece, with no rest on anything, no second pair of hands and no date of its own. */
function isPlain({ activity, entry }: Piece): boolean {
  return (
    activity.buildIds.length === 1 &&
    activity.helperMin === 0 &&
    activity.rests.length === 0 &&
    activity.releaseMin === undefined &&
    activity.dueMin === undefined &&
    activity.after.every((l) => l.mostLagMin === undefined) &&
    entry.pieces.length === 1
  );
}

function lotActivity(
  run: readonly Piece[],
  id: string,
  linksOf: (links: readonly Link[]) => Link[],
): Activity {
  const first = run[0]!;
  const begin = beginOf(first.entry);
  const way = first.activity.ways[first.entry.wayIndex]!;
  return {
    ...first.activity,
    id,
    memberIds: run.flatMap((p) => p.activity.memberIds),
    buildIds: run.flatMap((p) => p.activity.buildIds),
    after: linksOf(run.flatMap((p) => p.activity.after)),
    mayStop: false,
    ways: [
      {
        ...way,
        durationMin: endOf(run[run.length - 1]!.entry) - begin,
        turns: run.map((p) => ({
          buildId: p.activity.buildIds[0]!,
          fromMin: beginOf(p.entry) - begin,
          toMin: endOf(p.entry) - begin,
        })),
        attendance: attended(run).map(({ who: _, ...need }) => need),
      },
    ],
  };
}

function lotEntry(run: readonly Piece[], id: string): PlanEntry {
  const first = run[0]!.entry;
  return {
    activityId: id,
    pieces: [{ beginMin: beginOf(first), endMin: endOf(run[run.length - 1]!.entry) }],
    wayIndex: 0,
    attendantIds: attended(run).map((a) => a.who),
    ...(first.setUpBeginMin === undefined ? {} : { setUpBeginMin: first.setUpBeginMin }),
  };
}

/** Who attends when, in minutes of the lot; somebody who stays from one turn to the next is named once. */
function attended(
  run: readonly Piece[],
): (Activity['ways'][number]['attendance'][number] & { readonly who: string | undefined })[] {
  const begin = beginOf(run[0]!.entry);
  const list: (Activity['ways'][number]['attendance'][number] & { readonly who: string | undefined })[] = [];
  for (const { activity, entry } of run) {
    const way = activity.ways[entry.wayIndex]!;
    const at = beginOf(entry) - begin;
    way.attendance.forEach((need, k) => {
      const who = entry.attendantIds[k];
      if (need.onlyAtSetUp === true) {
        if (entry.setUpBeginMin !== undefined) list.push({ ...need, who });
        return;
      }
      const fromMin = at + need.fromMin;
      const toMin = at + Math.min(need.toMin, way.durationMin);
      const last = list.findIndex((x) => x.onlyAtSetUp !== true && x.who === who && x.toMin === fromMin);
      if (last >= 0) list[last] = { ...list[last]!, toMin };
      else list.push({ ...need, fromMin, toMin, who });
    });
  }
  return list;
}

/** Links to the same activity become one, the longest. */
function unique(links: readonly Link[]): Link[] {
  const kept = new Map<string, Link>();
  for (const link of links) {
    const key = `${link.activityId} ${link.from ?? 'end'}`;
    if ((kept.get(key)?.lagMin ?? -1) < link.lagMin) kept.set(key, link);
  }
  return [...kept.values()];
}
