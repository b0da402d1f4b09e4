import { MINUTE_MS } from '../quantity/time.ts';
import type { CourseFacts } from './course-facts.ts';

/** Sessions a person was here, and their time. */
export interface Attendance {
  readonly sessions: number;
  readonly minutes: number;
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
  const minutes = been.reduce((sum, s) => {
    const fromMs = s.openedMs ?? s.startMs;
    const toMs = Math.min(s.closedMs ?? s.endMs, nowMs);
    return sum + Math.max(0, toMs - fromMs) / MINUTE_MS;
  }, 0);
  return { sessions: been.length, minutes };
}
