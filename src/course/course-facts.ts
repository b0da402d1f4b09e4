import { pick } from './build-facts.ts';
import type { RecordEvent } from './event.ts';
import type { BodyOf } from './event-kinds.ts';
import { foldEvents, type Reducer } from './fold.ts';
import {
  type Draft,
  nothingSaid,
  type Said,
  type StreamFacts,
  saidBy,
  takeAnywhere,
  understood,
} from './stream-facts.ts';

export interface SessionFact {
  readonly session: string;
  readonly startMs: number;
  readonly endMs: number;
  readonly note?: string;
  readonly cancelled?: string;
  readonly openedMs?: number;
  readonly closedMs?: number;
  readonly closingNotes?: string;
  /** By person: who was said to be here or not. */
  readonly here: ReadonlyMap<string, boolean>;
}

export interface LearnerFact {
  readonly person: string;
  readonly build: string;
  readonly number?: number;
  readonly removed?: string;
}

/** Everything the record says about one course. */
export interface CourseFacts extends StreamFacts {
  readonly course?: string;
  readonly setUp?: BodyOf<'course-set-up'> & Said;
  readonly removed: boolean;
  readonly sessions: ReadonlyMap<string, SessionFact>;
  readonly learners: ReadonlyMap<string, LearnerFact>;
  readonly helpers: readonly string[];
  /** The teacher's changes to the route, oldest first, each as the JSON text of one change. */
  readonly routeEdits: readonly string[];
  readonly planned: ReadonlyMap<string, readonly string[]>;
  /** The plan that is followed: the last one published. */
  readonly plan?: BodyOf<'plan-published'> & Said;
  /** Steps the teacher put into a session, by `op/part/builds`; the last word on each. */
  readonly pins: ReadonlyMap<string, BodyOf<'step-pinned'> & Said>;
}

/** Under what a pinned step is kept. */
export const pinKey = (op: string, part: string, builds: readonly string[]): string =>
  `${op}/${part}/${[...builds].sort().join()}`;

type CourseDraft = Draft<CourseFacts>;

/** Folds the events of a course. */
export const courseReducer: Reducer<CourseFacts> = {
  empty: () => ({
    ...nothingSaid(),
    removed: false,
    sessions: new Map(),
    learners: new Map(),
    helpers: [],
    routeEdits: [],
    planned: new Map(),
    pins: new Map(),
  }),
  copy: (f) => ({
    ...f,
    sessions: new Map(f.sessions),
    learners: new Map(f.learners),
    planned: new Map(f.planned),
    pins: new Map(f.pins),
    revisions: new Map(f.revisions),
  }),
  apply: (facts, event) => applyToCourse(facts as CourseDraft, event),
};

function applyToCourse(d: CourseDraft, event: RecordEvent): void {
  const e = understood(d, event);
  if (!e) return;
  const said = saidBy(e);
  switch (e.kind) {
    case 'course-set-up':
      d.course = e.stream.slice('course:'.length);
      d.setUp = { ...e.body, ...said };
      for (const s of e.body.sessions ?? []) planSession(d, s);
      return;
    case 'course-removed':
      d.removed = true;
      return;
    case 'session-planned':
      planSession(d, e.body);
      return;
    case 'session-cancelled':
      changeSession(d, e.body.session, { cancelled: e.body.reason ?? 'cancelled' });
      return;
    case 'session-opened':
      changeSession(d, e.body.session, { openedMs: e.body.atMs ?? e.time });
      return;
    case 'session-closed':
      changeSession(d, e.body.session, {
        closedMs: e.body.atMs ?? e.time,
        ...(e.body.notes === undefined ? {} : { closingNotes: e.body.notes }),
      });
      return;
    case 'present':
    case 'absent': {
      const s = session(d, e.body.session);
      d.sessions.set(s.session, { ...s, here: new Map(s.here).set(e.body.person, e.kind === 'present') });
      return;
    }
    case 'learner-added':
      d.learners.set(e.body.person, e.body);
      return;
    case 'learner-removed': {
      const l = d.learners.get(e.body.person);
      if (l) d.learners.set(l.person, { ...l, removed: e.body.reason ?? 'left the course' });
      return;
    }
    case 'helper-added':
      d.helpers = d.helpers.includes(e.body.person) ? d.helpers : [...d.helpers, e.body.person];
      return;
    case 'route-edited':
      d.routeEdits = [...d.routeEdits, e.body.edit];
      return;
    case 'planned-steps-set':
      d.planned.set(`${e.body.session}/${e.body.build}`, e.body.ops);
      return;
    case 'plan-published':
      d.plan = { ...e.body, ...said };
      return;
    case 'step-pinned':
      d.pins.set(pinKey(e.body.op, e.body.part, e.body.builds), { ...e.body, ...said });
      return;
    default:
      takeAnywhere(d, e, said);
  }
}

/** A session first heard of by its opening has no planned times yet. */
function session(d: CourseDraft, id: string): SessionFact {
  return d.sessions.get(id) ?? { session: id, startMs: 0, endMs: 0, here: new Map() };
}

function changeSession(d: CourseDraft, id: string, change: Partial<SessionFact>): void {
  d.sessions.set(id, { ...session(d, id), ...change });
}

function planSession(d: CourseDraft, plan: BodyOf<'session-planned'>): void {
  changeSession(d, plan.session, pick(plan, 'session', 'startMs', 'endMs', 'note'));
}

/**
 * The facts of one course.
 *
 * @param events  of the stream of the course, in any order, any number of times
 * @source        arithmetic
 */
export function foldCourse(events: Iterable<RecordEvent>): CourseFacts {
  return foldEvents(courseReducer, events).facts;
}
