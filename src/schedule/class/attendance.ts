import type { Attendance } from './problem.ts';
import type { RoutePart } from './route-form.ts';

/** Who has to be there for a piece of work, as the route, the age table and the keys say. */
export interface AttendanceNeed {
  readonly batch: RoutePart['batch'];
  /** Whether somebody stands beside for the whole work: the teacher, an adult, or as the route tells. */
  readonly beside: 'teacher' | 'adult' | 'as told';
  readonly durationMin: number;
  /** Builds that go through together. */
  readonly buildCount: number;
  /** It is the first of its batch, at which the teacher shows how. */
  readonly isFirst: boolean;
  /** Minutes to set the station where it remembers its setting, else 0. */
  readonly setUpMin: number;
  /** Who may do what the teacher does, and who may stand beside at this station. */
  readonly teachers: readonly string[];
  readonly adults: readonly string[];
}

/**
 * The people a learner's piece of work needs and when: for all of it where somebody stands beside, else the minutes the route
 * gives the teacher at the set-up, at the beginning, for each build or for the signature at the end.
 *
 * @param need  the work
 * @returns     attendances, minutes counted from the begin of the work, or of the set-up
 * @source      common practice, no published source
 */
export function attendanceFor(need: AttendanceNeed): Attendance[] {
  const { batch, beside, durationMin, setUpMin, teachers, adults } = need;
  const whole: Attendance = { anyOf: teachers, fromMin: 0, toMin: durationMin };
  const besideWhole: Attendance = { ...whole, anyOf: adults };
  const setUp = setUpAttendance(setUpMin, adults);
  const setUpToo = batch.teacher === 'whole' || batch.teacher === 'first' ? setUp : [];
  if (beside === 'teacher') return [whole, ...setUpToo];
  if (beside === 'adult') return [besideWhole, ...setUpToo];
  if (batch.teacher === 'whole') return [besideWhole, ...setUp];
  const isForEach = batch.teacher === 'sign' || batch.teacher === 'each';
  const minutes = Math.min(durationMin, batch.teacherMin * (isForEach ? need.buildCount : 1));
  if (minutes === 0 || batch.teacher === 'none') return [];
  if (batch.teacher === 'each') return [{ ...whole, toMin: minutes }];
  if (batch.teacher === 'sign') return [{ ...whole, fromMin: durationMin - minutes }];
  if (setUpMin > 0) return [{ ...besideWhole, toMin: batch.teacherMin, onlyAtSetUp: true }];
  return need.isFirst ? [{ ...besideWhole, toMin: minutes }] : [];
}

/** Somebody sets the station. @source arithmetic */
export function setUpAttendance(setUpMin: number, adults: readonly string[]): Attendance[] {
  return setUpMin > 0 ? [{ anyOf: adults, fromMin: 0, toMin: setUpMin, onlyAtSetUp: true }] : [];
}
