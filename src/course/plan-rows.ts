import { inLots } from '../schedule/class/in-lots.ts';
import { beginOf, type ClassProblem, endOf, type PlanEntry } from '../schedule/class/problem.ts';
import { civilText } from './civil-time.ts';
import type { CourseSession } from './course-file.ts';

/** One line of the plan as people read it. */
export interface PlanRow {
  /** Number of the session, from 1; undefined in preparation hours. */
  readonly session: number | undefined;
  readonly begin: string;
  readonly end: string;
  readonly activity: string;
  readonly operation: string;
  readonly part: number;
  readonly what: string;
  readonly learners: readonly string[];
  /** Begin of each learner's turn where a lot goes through one after the other. */
  readonly turns?: readonly { readonly learner: string; readonly begin: string }[];
  readonly station: string | undefined;
  readonly people: readonly string[];
  readonly helper: string | undefined;
  readonly setting: string | undefined;
  readonly setUpMin: number;
}

/**
 * The plan as lines in the order of time.
 *
 * @param problem   the problem that was planned
 * @param entries   the plan
 * @param sessions  the sessions of the course file; sessions added behind them are numbered on
 * @returns         one row per activity; what goes through a station one after the other at one setting is one row
 * @source          arithmetic
 */
export function planRows(
  problem: ClassProblem,
  entries: readonly PlanEntry[],
  sessions: readonly CourseSession[],
): PlanRow[] {
  const lots = inLots(problem, entries);
  const activities = new Map(lots.problem.activities.map((a) => [a.id, a]));
  const windows = problem.windows
    .filter((w) => w.kind === 'session')
    .toSorted((a, b) => a.beginMin - b.beginMin);
  const numberOf = (minute: number): number | undefined => {
    const index = windows.findIndex((w) => w.beginMin <= minute && minute < w.endMin);
    return index < 0 ? undefined : (sessions[index]?.number ?? index + 1);
  };
  return lots.entries
    .toSorted((a, b) => beginOf(a) - beginOf(b) || (a.activityId < b.activityId ? -1 : 1))
    .map((entry) => {
      const activity = activities.get(entry.activityId)!;
      const way = activity.ways[entry.wayIndex]!;
      return {
        session: numberOf(beginOf(entry)),
        begin: civilText(beginOf(entry)),
        end: civilText(endOf(entry)),
        activity: activity.id,
        operation: activity.operationId,
        part: activity.partIndex + 1,
        what: activity.name,
        learners: activity.buildIds,
        ...(way.turns === undefined
          ? {}
          : {
              turns: way.turns.map((t) => ({
                learner: t.buildId,
                begin: civilText(beginOf(entry) + t.fromMin),
              })),
            }),
        station: way.stationId,
        people: [...new Set(entry.attendantIds.flatMap((id) => id ?? []))],
        helper: entry.helperId,
        setting: way.setting,
        setUpMin: entry.setUpBeginMin === undefined ? 0 : beginOf(entry) - entry.setUpBeginMin,
      };
    });
}
