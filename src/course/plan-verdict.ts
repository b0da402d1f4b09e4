import { minutesAsked } from '../schedule/class/minutes-asked.ts';
import { courseBound } from '../schedule/class/plan.ts';
import type { PlannedClass } from '../schedule/class/planned-class.ts';
import type { ClassProblem } from '../schedule/class/problem.ts';
import { civilText } from './civil-time.ts';
import type { CourseFile } from './course-file.ts';
import type { CoursesTogether } from './courses-together.ts';
import { planRemedies } from './plan-remedies.ts';
import { type PlanRow, sessionsOfCourse } from './plan-rows.ts';

/** Whether one course of a plan keeps its date, and what to do when not. */
export interface CourseVerdict {
  readonly courseId: string;
  readonly name: string;
  readonly sessions: number;
  readonly given: number;
  /** Civil time of its last step. */
  readonly ends: string;
  readonly isMet: boolean;
  /** One sentence for the teacher. */
  readonly text: string;
  readonly remedies: readonly string[];
}

/**
 * What a plan means for each course: in which session it ends, and when it is late, what limits it and what would help.
 *
 * @param together   the courses
 * @param plan       the plan of their problem
 * @param rows       the plan as lines
 * @param problemOf  the problem that would be planned of changed files
 * @returns          one verdict per course
 * @source           arithmetic
 */
export function courseVerdicts(
  together: CoursesTogether,
  plan: PlannedClass,
  rows: readonly PlanRow[],
  problemOf: (files: readonly CourseFile[]) => ClassProblem,
): CourseVerdict[] {
  const isAlone = together.courses.length === 1;
  return together.courses.map(({ id, file }) => {
    const { sessions, given } = plan.sessionsByCourse.find((s) => s.courseId === id)!;
    const ends =
      rows
        .filter((r) => r.course === file.name)
        .map((r) => r.end)
        .toSorted()
        .at(-1) ?? '';
    const due = file.dueMin === undefined ? undefined : civilText(file.dueMin).slice(0, 10);
    const isLate = due !== undefined && ends.slice(0, 10) > due;
    const isMet = sessions <= given && !isLate;
    const who = isAlone ? 'This course' : `"${file.name}"`;
    const last = ends.slice(0, 10);
    const text =
      ends === ''
        ? `${who} has nothing left to do.`
        : isMet
          ? `${who} ends in session ${sessions} of ${given}, on ${last}.`
          : `${who} ends in session ${sessions}${sessions > given ? ` and has ${given}` : ''}, on ${last}${isLate ? `, after its date ${due}` : ''}; ${limitOf(together, plan, id, due)}`;
    const remedies = isMet
      ? []
      : planRemedies(
          together.courses.map((c) => c.file),
          together.courses.findIndex((c) => c.id === id),
          problemOf,
        );
    return { courseId: id, name: file.name, sessions, given, ends, isMet, text, remedies };
  });
}

/** What keeps a course from its date: no plan could, or something is over-full, or most of the waiting is for it. */
function limitOf(
  together: CoursesTogether,
  plan: PlannedClass,
  courseId: string,
  due: string | undefined,
): string {
  const { session, reason } = courseBound(plan, courseId);
  const why = reason.replace(/^[^:]*: /, '');
  const earliest = sessionsOfCourse(plan.problem, courseId)[session - 1];
  const day = earliest === undefined ? '' : civilText(earliest.beginMin).slice(0, 10);
  const { sessions, given } = plan.sessionsByCourse.find((s) => s.courseId === courseId)!;
  if (session > given || (due !== undefined && day > due))
    return `the earliest possible is session ${session}, on ${day}: ${why}`;
  const [fullest] = minutesAsked(together.problem);
  if (fullest !== undefined && fullest.overFullMin > 0)
    return `${fullest.name} is the limit, over-full by ${fullest.overFullMin} minutes.`;
  const [most] = plan.waitedFor;
  return sessions > session && most !== undefined
    ? `${most.name} is the limit, most of the waiting is for it.`
    : why;
}
