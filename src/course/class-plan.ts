import { DAY_MS, MINUTE_MS } from '../quantity/time.ts';
import type { Route } from '../route/route-types.ts';
import { withLearnedMinutes } from '../schedule/class/learned-minutes.ts';
import { type LearnedMinutes, learnMinutes } from '../schedule/class/minutes.ts';
import {
  type Activity,
  beginOf,
  type ClassProblem,
  endOf,
  type PlanEntry,
  type Resource,
} from '../schedule/class/problem.ts';
import type { RouteForm } from '../schedule/class/route-form.ts';
import { civilText } from './civil-time.ts';
import { type ClassState, sessionsOf } from './class-state.ts';
import { courseFileText } from './course-export.ts';
import { pinKey } from './course-facts.ts';
import { type CourseFile, courseProblem, readCourseFile } from './course-file.ts';
import type { PublishedStep } from './plan-text.ts';
import { publishedSteps } from './planned-steps.ts';
import { workRecords } from './work-records.ts';

/** The workshop's clock on the wall: civil minutes since 1970-01-01 00:00 and moments. */
export interface CivilClock {
  readonly timeZone: string;
  readonly minuteOf: (ms: number) => number;
  readonly msOf: (minute: number) => number;
}

/** What a plan is made from. */
export interface PlanningOptions {
  readonly clock: CivilClock;
  readonly nowMs: number;
  /** Sessions from now on in which what is out of order stays so; 2 when left out. */
  readonly outForSessions?: number;
  /** Day by which everybody should be done; the last session when left out. */
  readonly dueMs?: number;
}

/** A class ready to be planned from now on. Learners go by the ids of their builds. */
export interface ClassPlanning {
  readonly file: CourseFile;
  /**
   * With what is done, what rests, what the teacher pinned and what other courses of the shop published fixed; in the minutes
   * that were learned.
   */
  readonly problem: ClassProblem;
  /** The same in the minutes of the route, for what draws the learned ones itself. */
  readonly routeProblem: ClassProblem;
  /** The published plan as far as its steps are still open, pins in their place. */
  readonly published: readonly PlanEntry[];
  /** Activities the teacher put into a session, with the event that says so. */
  readonly pins: ReadonlyMap<string, string>;
  readonly dueMin: number;
  readonly learned: LearnedMinutes;
  /** Pieces of work of which start and end are known. */
  readonly recordCount: number;
}

/**
 * Makes the planner's problem of a class as it stands.
 *
 * @param state    the class
 * @param options  the moment, the clock of the workshop, the day everybody should be done
 * @returns        the problem, the published plan in its terms, pins, and the minutes learned from this course
 * @throws InputError when the course cannot be planned, with one sentence
 * @source         common practice, no published source
 */
export function classPlanning(state: ClassState, options: PlanningOptions): ClassPlanning {
  const { file, problem: own } = ownProblem(state, options);
  const records = workRecords(state);
  const learned = learnMinutes(records);
  const { published, pins } = publishedEntries(state, own, options.clock);
  const fixed = new Set((own.state?.fixed ?? []).map((e) => e.activityId));
  const open = published.filter((e) => !fixed.has(e.activityId));
  const nowMin = own.state?.nowMin ?? 0;
  const held = open.filter((e) => pins.has(e.activityId) && beginOf(e) >= nowMin);
  const withPins: ClassProblem = {
    ...own,
    state: { nowMin, fixed: [...(own.state?.fixed ?? []), ...held] },
  };
  const routeProblem = withOthers(state, withPins, options);
  return {
    file,
    problem: withLearnedMinutes(routeProblem, learned, published),
    routeProblem,
    published: [...open, ...(own.state?.fixed ?? [])],
    pins,
    dueMin: file.dueMin ?? file.sessions.at(-1)?.endMin ?? 0,
    learned,
    recordCount: records.length,
  };
}

function ownProblem(
  state: ClassState,
  options: PlanningOptions,
): { readonly file: CourseFile; readonly problem: ClassProblem } {
  const { clock, nowMs } = options;
  const text = courseFileText(state, {
    timeZone: clock.timeZone,
    civil: (ms) => {
      const at = civilText(clock.minuteOf(ms));
      return { date: at.slice(0, 10), time: at.slice(11) };
    },
    nowMs,
    isNameless: true,
    outUntilMs: outUntil(state, nowMs, options.outForSessions ?? 2),
    ...(options.dueMs === undefined ? {} : { dueMs: options.dueMs }),
  });
  const file = readCourseFile(text, planningRoute(state.route, state.off));
  return { file, problem: courseProblem(file) };
}

/** The end of the last of so many sessions from now on. */
function outUntil(state: ClassState, nowMs: number, sessions: number): number {
  const ahead = sessionsOf(state).filter((s) => s.endMs > nowMs);
  return sessions === 0 ? nowMs : (ahead[Math.min(ahead.length, sessions) - 1]?.endMs ?? nowMs + 7 * DAY_MS);
}

/** The route as the planner reads it: what the teacher switched off is left out of every choice. */
function planningRoute(route: Route, off: readonly string[]): RouteForm {
  const form = route as unknown as RouteForm;
  if (off.length === 0) return form;
  const gone = new Set(off);
  return {
    ...form,
    choices: (form.choices ?? []).map((c) => ({ ...c, skip: [...(c.skip ?? []), ...off] })),
    operations: form.operations.map((o) => (gone.has(o.id) ? { ...o, optional: true } : o)),
  };
}

/** The part of an activity as the record names it: `2`, or `2.3` for its third turn. */
export function partOf(activity: Activity): string {
  const index = String(activity.partIndex + 1);
  const behind = activity.id.slice(
    activity.id.lastIndexOf(`/${activity.operationId}.`) + activity.operationId.length + 2,
  );
  const turn = behind.split('.')[1];
  const isTurn = turn !== undefined && activity.id.startsWith(`${activity.buildIds[0]}/`) && turn !== '1';
  return isTurn ? `${index}.${turn}` : index;
}

/** Under what a pin of this activity is kept. */
export const pinKeyOf = (activity: Activity): string =>
  pinKey(activity.operationId, partOf(activity), activity.buildIds);

/** The published plan in the terms of a problem, pins made after it in their place. */
function publishedEntries(
  state: ClassState,
  problem: ClassProblem,
  clock: CivilClock,
): { readonly published: readonly PlanEntry[]; readonly pins: ReadonlyMap<string, string> } {
  const planMs = state.course.plan?.atMs ?? 0;
  const stepById = new Map(publishedSteps(state).map((s) => [s.activityId, s]));
  const pinned = new Map<string, string>();
  const published = problem.activities.flatMap((activity) => {
    const step = stepById.get(activity.id) ?? lotOf(stepById, activity);
    const entry = step && entryOf(activity, step, clock);
    const pin = state.course.pins.get(pinKeyOf(activity));
    if (!pin || state.course.sessions.get(pin.session)?.cancelled !== undefined) return entry ? [entry] : [];
    pinned.set(activity.id, pin.event);
    if (entry && planMs > pin.atMs) return [entry];
    const minutes = activity.ways.map((w) => w.durationMin);
    const wayIndex = Math.max(
      0,
      activity.ways.findIndex((w) => w.stationId === pin.station),
    );
    const beginMin = clock.minuteOf(pin.startMs);
    return [
      {
        activityId: activity.id,
        pieces: [{ beginMin, endMin: beginMin + (minutes[wayIndex] ?? 0) }],
        wayIndex,
        attendantIds: attendantsOf(activity, wayIndex, entry),
        ...helperOf(activity, entry, problem),
      },
    ];
  });
  return { published, pins: pinned };
}

/** A lot that has become smaller since: the published lot of the same part that holds its builds. */
function lotOf(steps: ReadonlyMap<string, PublishedStep>, activity: Activity): PublishedStep | undefined {
  if (activity.buildIds.length === 0) return undefined;
  const part = partOf(activity);
  for (const s of steps.values())
    if (
      s.op === activity.operationId &&
      s.part === part &&
      s.builds.length > 1 &&
      activity.buildIds.every((b) => s.builds.includes(b))
    )
      return s;
  return undefined;
}

function entryOf(activity: Activity, step: PublishedStep, clock: CivilClock): PlanEntry {
  const found = activity.ways.findIndex((w) => w.stationId === step.station);
  const wayIndex =
    activity.ways[step.wayIndex]?.stationId === step.station ? step.wayIndex : Math.max(0, found);
  const pieces = step.pieces.map((p) => ({
    beginMin: clock.minuteOf(p.startMs),
    endMin: clock.minuteOf(p.endMs),
  }));
  return {
    activityId: activity.id,
    pieces,
    wayIndex,
    attendantIds: step.people,
    ...(step.setUpMin > 0 ? { setUpBeginMin: (pieces[0]?.beginMin ?? 0) - step.setUpMin } : {}),
    ...(step.helper === undefined ? {} : { helperId: step.helper }),
  };
}

/** Who attends when a step is moved: whoever did, else the first who may. */
export function attendantsOf(
  activity: Activity,
  wayIndex: number,
  before: PlanEntry | undefined,
): readonly (string | undefined)[] {
  return (activity.ways[wayIndex]?.attendance ?? []).map((need, k) => {
    const was = before?.attendantIds[k];
    return was !== undefined && need.anyOf.includes(was) ? was : need.anyOf[0];
  });
}

/** Who lends a hand when a step is moved: whoever did, else the first of the others. */
export function helperOf(
  activity: Activity,
  before: PlanEntry | undefined,
  problem: ClassProblem,
): { readonly helperId?: string } {
  if (activity.helperMin <= 0) return {};
  const other = problem.learners.find(
    (l) => l.courseId === activity.courseId && !activity.memberIds.includes(l.id),
  );
  const helperId = before?.helperId ?? other?.id;
  return helperId === undefined ? {} : { helperId };
}

/** A plan in the terms of the record, to be published. */
export function stepsToPublish(
  problem: ClassProblem,
  entries: readonly PlanEntry[],
  clock: CivilClock,
): readonly PublishedStep[] {
  const activities = new Map(problem.activities.map((a) => [a.id, a]));
  const nowMin = problem.state?.nowMin ?? 0;
  return entries
    .filter((e) => endOf(e) > nowMin && !e.activityId.startsWith(othersMark))
    .toSorted((a, b) => beginOf(a) - beginOf(b) || (a.activityId < b.activityId ? -1 : 1))
    .flatMap((e) => {
      const activity = activities.get(e.activityId);
      const station = activity?.ways[e.wayIndex]?.stationId;
      if (!activity) return [];
      return [
        {
          activityId: activity.id,
          op: activity.operationId,
          part: partOf(activity),
          builds: activity.buildIds,
          pieces: e.pieces.map((p) => ({ startMs: clock.msOf(p.beginMin), endMs: clock.msOf(p.endMin) })),
          wayIndex: e.wayIndex,
          ...(station === undefined ? {} : { station }),
          setUpMin: e.setUpBeginMin === undefined ? 0 : beginOf(e) - e.setUpBeginMin,
          people: e.attendantIds,
          ...(e.helperId === undefined ? {} : { helper: e.helperId }),
        },
      ];
    });
}

/** Work of other courses of the shop begins with this in a problem. */
export const othersMark = 'other course ';

/** Other courses' published sessions stand whole: what they work at and leave resting takes its places. */
function withOthers(state: ClassState, own: ClassProblem, options: PlanningOptions): ClassProblem {
  const others = state.others.filter(
    (o) => o.course.plan !== undefined && o.course.setUp?.demo === state.course.setUp?.demo,
  );
  return others.reduce((problem, other, i) => {
    const otherState: ClassState = { ...state, ...other, others: [] };
    const there = ownProblem(otherState, options).problem;
    const { published } = publishedEntries(otherState, there, options.clock);
    return joinOther(problem, there, published, `${othersMark}${i + 1}`);
  }, own);
}

function joinOther(
  own: ClassProblem,
  there: ClassProblem,
  published: readonly PlanEntry[],
  id: string,
): ClassProblem {
  const known = new Set(own.resources.map((r) => r.id));
  const horizon = Math.max(0, ...own.windows.map((w) => w.endMin)) + (60 * DAY_MS) / MINUTE_MS;
  const byId = new Map(there.activities.map((a) => [a.id, a]));
  const done = (there.state?.fixed ?? []).filter(
    (e) => !published.some((p) => p.activityId === e.activityId),
  );
  const entries = [...published, ...done].filter((e) => beginOf(e) < horizon);
  const name = (activityId: string): string => `${id} ${activityId}`;
  const activities = entries.flatMap((e): Activity[] => {
    const a = byId.get(e.activityId);
    if (!a) return [];
    return [
      {
        ...a,
        id: name(a.id),
        courseId: id,
        memberIds: [],
        buildIds: [],
        after: [],
        helperMin: 0,
        jigIds: a.jigIds.filter((j) => known.has(j)),
        rests: a.rests.filter((r) => known.has(r.resourceId)),
        ways: a.ways.map((w) => ({ ...w, attendance: [] })),
      },
    ];
  });
  return {
    ...own,
    courses: [...own.courses, { id, name: there.courses[0]?.name ?? id }],
    windows: [
      ...own.windows,
      ...there.windows.map((w) => ({
        ...w,
        id: `${id} ${w.id}`,
        ...(w.courseId === undefined ? {} : { courseId: id }),
      })),
    ],
    resources: [
      ...own.resources,
      ...there.resources.filter((r): r is Resource => !known.has(r.id) && r.kind !== 'person'),
    ],
    activities: [...own.activities, ...activities],
    state: {
      nowMin: own.state?.nowMin ?? 0,
      fixed: [
        ...(own.state?.fixed ?? []),
        ...entries.map((e) => ({
          activityId: name(e.activityId),
          pieces: e.pieces,
          wayIndex: e.wayIndex,
          attendantIds: [],
          ...(e.setUpBeginMin === undefined ? {} : { setUpBeginMin: e.setUpBeginMin }),
        })),
      ],
    },
  };
}
