import { MINUTE_MS } from '../quantity/time.ts';
import type { CourseFacts, SessionFact } from './course-facts.ts';

/** Sessions a person was here, and their time. */
export interface Attendance {
  readonly sessions: number;
  readonly minutes: number;
  /** Begin of the first and the last of them. */
  readonly firstMs?: number;
  readonly lastMs?: number;
}

/**
 * Minutes of a session: from its opening to its closing, or as planned where that was not entered.
 *
 * @param session  of the course
 * @param nowMs    what lies ahead does not count
 * @source         arithmetic
 */
export function minutesOfSession(session: SessionFact, nowMs: number): number {
  const fromMs = session.openedMs ?? session.startMs;
  const toMs = Math.min(session.closedMs ?? session.endMs, nowMs);
  return Math.max(0, toMs - fromMs) / MINUTE_MS;
}

/**
 * Sessions a person was said to be here, from their opening to their closing, or as planned where that was not entered.
 *
 * @param course  facts of the course
 * @param person  id of the person
 * @param nowMs   sessions that begin later do not count
 * @source        arithmetic
 */
export function attendanceOf(course: CourseFacts, person: string, nowMs: number): Attendance {
  const been = [...course.sessions.values()].filter(
    (s) => s.cancelled === undefined && s.here.get(person) === true && s.startMs <= nowMs,
  );
  const minutes = been.reduce((sum, s) => sum + minutesOfSession(s, nowMs), 0);
  const starts = been.map((s) => s.startMs);
  return {
    sessions: been.length,
    minutes,
    ...(been.length === 0 ? {} : { firstMs: Math.min(...starts), lastMs: Math.max(...starts) }),
  };
}
