import { inLots } from '../schedule/class/in-lots.ts';
import {
  beginOf,
  type ClassProblem,
  endOf,
  type PlanEntry,
  type WorkWindow,
} from '../schedule/class/problem.ts';
import { civilText } from './civil-time.ts';

/** One line of the plan as people read it. */
export interface PlanRow {
  /** Name of the course. */
  readonly course: string;
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
 * @param problem  the problem that was planned
 * @param entries  the plan
 * @returns        one row per activity; what goes through a station one after the other at one setting is one row
 * @source         arithmetic
 */
export function planRows(problem: ClassProblem, entries: readonly PlanEntry[]): PlanRow[] {
  const lots = inLots(problem, entries);
  const activities = new Map(lots.problem.activities.map((a) => [a.id, a]));
  const courses = new Map(
    problem.courses.map((c) => [c.id, { name: c.name, sessions: sessionsOfCourse(problem, c.id) }]),
  );
  return lots.entries
    .toSorted((a, b) => beginOf(a) - beginOf(b) || (a.activityId < b.activityId ? -1 : 1))
    .map((entry) => {
      const activity = activities.get(entry.activityId)!;
      const way = activity.ways[entry.wayIndex]!;
      const course = courses.get(activity.courseId)!;
      const session = course.sessions.findIndex(
        (w) => w.beginMin <= beginOf(entry) && beginOf(entry) < w.endMin,
      );
      return {
        course: course.name,
        session: session < 0 ? undefined : session + 1,
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

/** The sessions of a course in the order of time; the first is session 1. @source arithmetic */
export function sessionsOfCourse(problem: ClassProblem, courseId: string): WorkWindow[] {
  return problem.windows
    .filter((w) => w.kind === 'session' && w.courseId === courseId)
    .toSorted((a, b) => a.beginMin - b.beginMin);
}
