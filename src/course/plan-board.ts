import { beginOf, type ClassProblem, endOf, type PlanEntry } from '../schedule/class/problem.ts';
import { othersMark, partOf } from './class-plan.ts';

/** One session of the board. */
export interface BoardSession {
  /** Of the planner. */
  readonly windowId: string;
  /** From 1. */
  readonly number: number;
  readonly beginMin: number;
  readonly endMin: number;
  /** The preparation hours that go with it, of the planner; undefined when it has none. */
  readonly preparationId?: string;
  /** It was added behind the last one that there is. */
  readonly isExtra: boolean;
}

/** One step on the board. */
export interface BoardStep {
  readonly id: string;
  readonly op: string;
  readonly part: string;
  readonly what: string;
  readonly builds: readonly string[];
  readonly station: string | undefined;
  /** Number of the session; of the one before or after it for work in preparation hours. */
  readonly session: number;
  readonly isPreparation: boolean;
  readonly beginMin: number;
  readonly endMin: number;
  readonly people: readonly string[];
  /** Done or running: it stands as it was. */
  readonly isPast: boolean;
  /** The event with which the teacher put it there. */
  readonly pin: string | undefined;
}

/** A plan as sessions and steps. */
export interface Board {
  readonly sessions: readonly BoardSession[];
  readonly steps: readonly BoardStep[];
}

/**
 * A plan as a board of sessions and steps, in the order of time.
 *
 * @param problem  the problem that was planned
 * @param entries  the plan
 * @param pins     activities the teacher put into a session, with the event that says so
 * @param given    sessions there are; those behind are extra
 * @source         arithmetic
 */
export function boardOf(
  problem: ClassProblem,
  entries: readonly PlanEntry[],
  pins: ReadonlyMap<string, string>,
  given: number,
): Board {
  const own = problem.courses[0]?.id;
  const sessions = problem.windows
    .filter((w) => w.kind === 'session' && w.courseId === own)
    .toSorted((a, b) => a.beginMin - b.beginMin)
    .map(
      (w, i): BoardSession => ({
        windowId: w.id,
        number: i + 1,
        beginMin: w.beginMin,
        endMin: w.endMin,
        isExtra: i >= given,
      }),
    );
  const hours = problem.windows.filter((w) => w.kind === 'preparation' && (w.courseId ?? own) === own);
  const activities = new Map(problem.activities.map((a) => [a.id, a]));
  const fixed = new Set((problem.state?.fixed ?? []).map((e) => e.activityId));
  const steps = entries
    .filter((e) => !e.activityId.startsWith(othersMark))
    .flatMap((e): BoardStep[] => {
      const a = activities.get(e.activityId);
      if (a === undefined) return [];
      return [
        {
          id: a.id,
          op: a.operationId,
          part: partOf(a),
          what: a.name,
          builds: a.buildIds,
          station: a.ways[e.wayIndex]?.stationId,
          session: sessionOf(sessions, beginOf(e)),
          isPreparation: a.where === 'preparation',
          beginMin: beginOf(e),
          endMin: endOf(e),
          people: [...new Set(e.attendantIds.flatMap((id) => id ?? []))],
          isPast: fixed.has(a.id) && !pins.has(a.id),
          pin: pins.get(a.id),
        },
      ];
    })
    .sort((a, b) => a.beginMin - b.beginMin || (a.id < b.id ? -1 : 1));
  const withHours = sessions.map((s): BoardSession => {
    const found = hours.find((w) => sessionOf(sessions, w.beginMin) === s.number);
    return found === undefined ? s : { ...s, preparationId: found.id };
  });
  return { sessions: withHours, steps };
}

/** The session a minute lies in; else the one of the same day, else the last before it. */
function sessionOf(sessions: readonly BoardSession[], minute: number): number {
  const day = Math.floor(minute / 1440);
  const found =
    sessions.find((s) => s.beginMin <= minute && minute < s.endMin) ??
    sessions.find((s) => Math.floor(s.beginMin / 1440) === day) ??
    sessions.findLast((s) => s.beginMin <= minute);
  return found?.number ?? 1;
}

/** A step that lies elsewhere than in the published plan. */
export interface BoardChange {
  readonly id: string;
  readonly op: string;
  readonly builds: readonly string[];
  /** undefined: it was not planned. */
  readonly from: number | undefined;
  readonly to: number;
}

/** Steps that a new plan has in another session than the published one, the next sessions first. */
export function boardChanges(published: Board, planned: Board): readonly BoardChange[] {
  const before = new Map(published.steps.map((s) => [s.id, s.session]));
  return planned.steps
    .filter((s) => !s.isPast && before.get(s.id) !== s.session)
    .map((s) => ({ id: s.id, op: s.op, builds: s.builds, from: before.get(s.id), to: s.session }));
}

/** What a checker's sentence is told with. */
export interface PlainNames {
  readonly step: (id: string) => string;
  readonly thing: (id: string) => string;
  readonly time: (minute: number) => string;
}

/**
 * A sentence of the checker in the words of the workshop: steps, people and stations by their names, minutes as times.
 *
 * @param sentence  of the checker
 * @param problem   whose ids stand in it
 * @param names     what they are called
 * @source          arithmetic
 */
export function plainFault(sentence: string, problem: ClassProblem, names: PlainNames): string {
  const ids = [
    // a name that stands there already stays, though an id may stand in it: "hammer bench"
    ...problem.resources.filter((r) => r.kind !== 'person').map((r) => [r.name, r.name] as const),
    ...problem.activities.map((a) => [a.id, names.step(a.id)] as const),
    ...problem.resources.map((r) => [r.id, names.thing(r.id)] as const),
    ...problem.learners.map((l) => [l.id, names.thing(l.id)] as const),
    ...problem.windows.map((w) => [w.id, names.time(w.beginMin)] as const),
  ];
  const known = new Map(ids.filter(([id]) => sentence.includes(id)));
  const longestFirst = [...known.keys()].sort((a, b) => b.length - a.length);
  const named =
    longestFirst.length === 0
      ? sentence
      : sentence.replace(
          new RegExp(`(?<![\\w./-])(${longestFirst.map(escaped).join('|')})(?![\\w/-]|\\.\\d)`, 'g'),
          (id) => known.get(id) ?? id,
        );
  return named
    .replace(/At minute (\d{6,})/g, (_, m: string) => `At ${names.time(Number(m))}`)
    .replace(/\b(\d{6,})\b/g, (m) => names.time(Number(m)));
}

const escaped = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
