import type { Activity, ClassProblem, PlanEntry, Way } from './problem.ts';

/**
 * The same class on a coarser clock, for playing many courses through: one tick is `tickMin` minutes. Short
 * attendances, helping hands and set-ups are rounded so that their sum is kept.
 *
 * @param problem  the class problem
 * @param tickMin  minutes of one tick; a whole number >= 1
 * @returns        the problem with every time in ticks
 * @assumes        sessions lose at most one tick at either end
 * @source         arithmetic
 */
export function coarseClass(problem: ClassProblem, tickMin: number): ClassProblem {
  const round = makeCarry(tickMin);
  const up = (minutes: number): number => Math.ceil(minutes / tickMin);
  const down = (minutes: number): number => Math.floor(minutes / tickMin);
  return {
    ...problem,
    windows: problem.windows
      .map((w) => ({ ...w, beginMin: up(w.beginMin), endMin: down(w.endMin) }))
      .filter((w) => w.endMin > w.beginMin),
    resources: problem.resources.map((r) => ({
      ...r,
      closures: (r.closures ?? []).map((c) => ({ beginMin: down(c.beginMin), endMin: up(c.endMin) })),
    })),
    activities: problem.activities.map((a) => coarseActivity(a, round, up)),
    spans: (problem.spans ?? []).map((s) => ({ ...s, restMin: up(s.restMin) })),
    ...(problem.state === undefined
      ? {}
      : {
          state: {
            nowMin: down(problem.state.nowMin),
            fixed: problem.state.fixed.map((e) => coarseEntry(e, tickMin)),
          },
        }),
  };
}

/** Rounds minutes to ticks and carries what was lost on to the next call of the same kind. */
function makeCarry(tickMin: number): (kind: string, minutes: number) => number {
  const carried = new Map<string, number>();
  return (kind, minutes) => {
    const exact = minutes / tickMin + (carried.get(kind) ?? 0);
    const ticks = Math.max(0, Math.round(exact));
    carried.set(kind, exact - ticks);
    return ticks;
  };
}

type Carry = ReturnType<typeof makeCarry>;

function coarseActivity(activity: Activity, round: Carry, up: (minutes: number) => number): Activity {
  return {
    ...activity,
    ways: activity.ways.map((way, i) => coarseWay(way, i, round)),
    helperMin: round('helper', activity.helperMin),
    rests: activity.rests.map((r) => ({ ...r, restMin: up(r.restMin) })),
    after: activity.after.map((l) => ({ ...l, lagMin: up(l.lagMin) })),
    ...(activity.releaseMin === undefined ? {} : { releaseMin: up(activity.releaseMin) }),
  };
}

function coarseWay(way: Way, index: number, round: Carry): Way {
  const durationMin = round(`work ${index}`, way.durationMin);
  return {
    ...way,
    durationMin,
    ...(way.setUpMin === undefined ? {} : { setUpMin: round(`set-up ${index}`, way.setUpMin) }),
    attendance: way.attendance.flatMap((need) => {
      const isWhole = need.fromMin === 0 && need.toMin >= way.durationMin && need.onlyAtSetUp !== true;
      const ticks = isWhole
        ? durationMin
        : Math.min(
            need.onlyAtSetUp === true ? 1000 : durationMin,
            round(`attend ${index}`, need.toMin - need.fromMin),
          );
      if (ticks === 0) return [];
      const fromMin = need.fromMin === 0 ? 0 : Math.max(0, durationMin - ticks);
      return [{ ...need, fromMin, toMin: isWhole ? 1_000_000 : fromMin + ticks }];
    }),
  };
}

function coarseEntry(entry: PlanEntry, tickMin: number): PlanEntry {
  const { setUpBeginMin: _, ...rest } = entry;
  return {
    ...rest,
    // attendances may have been rounded away: the past is only kept for its ends and rests
    attendantIds: [],
    pieces: entry.pieces.map((p) => {
      const beginMin = Math.ceil(p.beginMin / tickMin);
      return { beginMin, endMin: Math.max(beginMin, Math.round(p.endMin / tickMin)) };
    }),
  };
}
