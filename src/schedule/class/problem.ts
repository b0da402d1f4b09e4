/**
 * A class that shares one shop, as plain data. It knows no trade: learners, stations, jigs, people, minutes.
 * All times are whole minutes on one clock whose zero the caller chooses.
 */
export interface ClassProblem {
  readonly courses: readonly { readonly id: string; readonly name: string }[];
  readonly windows: readonly WorkWindow[];
  readonly learners: readonly Learner[];
  readonly resources: readonly Resource[];
  readonly activities: readonly Activity[];
  readonly spans?: readonly Span[];
  readonly state?: LiveState;
}

/** A stretch of the clock in which work may be done: the usable part of a session, or preparation hours. */
export interface WorkWindow {
  readonly id: string;
  /** Whose session it is; preparation hours may serve every course (undefined). */
  readonly courseId?: string;
  readonly kind: 'session' | 'preparation';
  readonly beginMin: number;
  readonly endMin: number;
}

export interface Learner {
  readonly id: string;
  readonly courseId: string;
  /** Sessions the learner is known to miss. */
  readonly awayWindowIds?: readonly string[];
}

/** A station, a set of jigs, or a person with a number of places. */
export interface Resource {
  readonly id: string;
  readonly name: string;
  readonly kind: 'station' | 'jig' | 'person';
  readonly capacity: number;
  /** Clock times at which it cannot be used: a machine that is down, a room that is closed, a person who is away. */
  readonly closures?: readonly { readonly beginMin: number; readonly endMin: number }[];
  /** What it is set to when the plan begins (stations of one place only). */
  readonly setting?: string;
}

/** Somebody who has to be there for some minutes of the work: any one of these people. */
export interface Attendance {
  readonly anyOf: readonly string[];
  readonly fromMin: number;
  readonly toMin: number;
  /** Only when the station has to be set up first; then counted from the beginning of the set-up. */
  readonly onlyAtSetUp?: boolean;
}

/** One way to do an activity: where, how long, set to what, with whom. */
export interface Way {
  readonly stationId?: string;
  readonly durationMin: number;
  /** The station has to be set to this; changing over takes `setUpMin` right before. */
  readonly setting?: string;
  readonly setUpMin?: number;
  readonly attendance: readonly Attendance[];
  /** When the builds of a lot go through one after the other: whose turn is when; a member is busy only then. */
  readonly turns?: readonly Turn[];
}

/** Minutes of the work, counted from its begin, that one build of a lot takes. */
export interface Turn {
  readonly buildId: string;
  readonly fromMin: number;
  readonly toMin: number;
}

export interface Activity {
  readonly id: string;
  readonly name: string;
  /** Which operation it is a part of; what is learned about minutes is kept by this. */
  readonly operationId: string;
  readonly partIndex: number;
  readonly courseId: string;
  /** Learners who do it: busy the whole time, or in their turn where the way gives turns. */
  readonly memberIds: readonly string[];
  /** Learners whose build goes on through it. */
  readonly buildIds: readonly string[];
  /** Name of the batch: activities of one name that follow each other at a station are one lot. */
  readonly batch?: string;
  readonly where: 'session' | 'preparation';
  readonly ways: readonly Way[];
  readonly jigIds: readonly string[];
  /** Minutes from the start that another learner of the course lends a hand. */
  readonly helperMin: number;
  /** Held on after the end, in clock time; so many places of it, one when left out. */
  readonly rests: readonly {
    readonly resourceId: string;
    readonly restMin: number;
    readonly places?: number;
  }[];
  readonly after: readonly Link[];
  /** May be broken off at the end of a session and gone on with in the next. */
  readonly mayStop: boolean;
  /** What the minutes of work may come to: 1 in 20 is shorter than low, 1 in 20 longer than high. */
  readonly uncertainty?: { readonly lowMin: number; readonly likelyMin: number; readonly highMin: number };
  readonly releaseMin?: number;
  readonly dueMin?: number;
}

/**
 * What has to be before: `lagMin` of clock time from the end (or the start) of the other to the start of this. Where one of
 * them is a lot with turns it counts from and to the turn of each build that goes through both.
 */
export interface Link {
  readonly activityId: string;
  readonly lagMin: number;
  readonly from?: 'end' | 'start';
  /** At most this much later; the solver keeps such pairs together. */
  readonly mostLagMin?: number;
}

/** A thing held by one build from the start of one activity to the end (or start) of a later one, plus a rest. */
export interface Span {
  readonly resourceId: string;
  /** Whose build holds it. */
  readonly buildId?: string;
  readonly fromActivityId: string;
  readonly untilActivityId: string;
  readonly untilEdge: 'start' | 'end';
  readonly restMin: number;
}

/** What has happened so far, and from when on the plan may still be changed. */
export interface LiveState {
  readonly nowMin: number;
  /** Done, running or published: these stand as they are. */
  readonly fixed: readonly PlanEntry[];
}

/** One activity in a plan. */
export interface PlanEntry {
  readonly activityId: string;
  /** Begin and end of the work; two pieces when it was broken off at the end of a session. */
  readonly pieces: readonly { readonly beginMin: number; readonly endMin: number }[];
  readonly wayIndex: number;
  /** Begin of the change-over right before, when there is one. */
  readonly setUpBeginMin?: number;
  /** Who attends, one for each attendance of the way that applies. */
  readonly attendantIds: readonly (string | undefined)[];
  readonly helperId?: string;
}

/** Start of the work of an entry. */
export function beginOf(entry: PlanEntry): number {
  return entry.pieces[0]!.beginMin;
}

/** End of the work of an entry. */
export function endOf(entry: PlanEntry): number {
  return entry.pieces[entry.pieces.length - 1]!.endMin;
}

/** Minutes of the work, counted from its begin, in which a learner is busy with it: one stretch, or one for each turn. */
export function busyStretches(
  way: Way,
  learnerId: string,
): readonly { readonly fromMin: number; readonly toMin: number }[] {
  return way.turns === undefined
    ? [{ fromMin: 0, toMin: way.durationMin }]
    : way.turns.filter((t) => t.buildId === learnerId);
}

/** Whether an activity is a lot whose builds go through one after the other. */
export function hasTurns(activity: Activity): boolean {
  return activity.ways.some((w) => w.turns !== undefined);
}
