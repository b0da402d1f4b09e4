import { InputError } from '../quantity/input-error.ts';
import type { ClassSetUp } from '../schedule/class/class-set-up.ts';
import type { Uncertainty } from '../schedule/class/forecast.ts';
import { type JoinedClasses, joinClasses } from '../schedule/class/join-classes.ts';
import { type Objective, usualObjectives } from '../schedule/class/measure.ts';
import type { ClassProblem } from '../schedule/class/problem.ts';
import { civilText } from './civil-time.ts';
import { type CourseFile, courseProblem } from './course-file.ts';

/** All running courses of one shop, as one problem. */
export interface CoursesTogether {
  /** The files, each with the id of its course in the problem: its name, or `course` when it is the only one. */
  readonly courses: readonly { readonly id: string; readonly file: CourseFile }[];
  readonly problem: ClassProblem;
  readonly joined: JoinedClasses;
  /** Clock minute by which each course is due, by course id; a course without a date is left out. */
  readonly dueMin: Readonly<Record<string, number>>;
  readonly objectives: readonly Objective[];
  readonly uncertainty: Uncertainty;
  readonly timeZone: string;
}

/**
 * Makes one problem of the running courses of a shop. What one file says of the shop holds for all: numbers, closures, what
 * is handed round. Choice, rests, sessions, learners and date belong to their course; people of one name are one person.
 *
 * @param files  course files, at least one
 * @returns      the courses as one problem
 * @throws InputError with one sentence when they cannot be courses of one shop
 * @source       common practice, no published source
 */
export function coursesTogether(files: readonly CourseFile[]): CoursesTogether {
  const courses = files.map((file) => ({ id: files.length === 1 ? 'course' : file.name, file }));
  mustDiffer(files);
  const timeZone = agreed(files, 'time zone', (f) => f.timeZone)!;
  agreed(files, 'moment "now" of the progress', (f) =>
    f.nowMin === undefined ? undefined : civilText(f.nowMin),
  );
  const nowMin = files.find((f) => f.nowMin !== undefined)?.nowMin;
  const shop = sharedShop(files);
  const joined = joinClasses(
    courses.map(({ id, file }) => ({
      courseId: id,
      name: file.name,
      problem: courseProblem({ ...file, nowMin, setUp: { ...file.setUp, ...shop } }),
    })),
  );
  mustNotBeTwice(joined.problem, courses);
  const objectives = agreed(files, 'order of objectives', (f) =>
    f.objectives === usualObjectives ? undefined : f.objectives.join(', '),
  );
  return {
    courses,
    problem: joined.problem,
    joined,
    dueMin: Object.fromEntries(
      courses.flatMap(({ id, file }) => (file.dueMin === undefined ? [] : [[id, file.dueMin]])),
    ),
    objectives:
      objectives === undefined
        ? usualObjectives
        : files.find((f) => f.objectives !== usualObjectives)!.objectives,
    uncertainty: uncertaintyOf(courses, joined),
    timeZone,
  };
}

function mustDiffer(files: readonly CourseFile[]): void {
  const seen = new Set<string>();
  for (const { name } of files) {
    if (seen.has(name))
      throw new InputError(
        'courses-twice',
        `Two of the courses are called "${name}"; give each file once and each course a name of its own.`,
        'name',
      );
    seen.add(name);
  }
}

/** What all files that say it say alike. */
function agreed(
  files: readonly CourseFile[],
  what: string,
  of: (file: CourseFile) => string | undefined,
): string | undefined {
  const first = files.find((f) => of(f) !== undefined);
  const other = files.find((f) => of(f) !== undefined && of(f) !== of(first!));
  if (first !== undefined && other !== undefined)
    throw new InputError(
      'courses-differ',
      `The ${what} is ${of(first)} in "${first.name}" and ${of(other)} in "${other.name}"; courses that share a shop have the same: correct one.`,
    );
  return first === undefined ? undefined : of(first);
}

/** Numbers, closures and what is handed round, of all files. */
function sharedShop(files: readonly CourseFile[]): Pick<ClassSetUp, 'counts' | 'closures' | 'looseJigIds'> {
  const counts: Record<string, number> = {};
  for (const { setUp } of files)
    for (const id of Object.keys(setUp.counts ?? {})) {
      agreed(files, `number of "${id}"`, (f) => f.setUp.counts?.[id]?.toString());
      counts[id] = setUp.counts![id]!;
    }
  const closures: Record<string, { readonly beginMin: number; readonly endMin: number }[]> = {};
  for (const { setUp } of files)
    for (const [id, list] of Object.entries(setUp.closures ?? {}))
      closures[id] = [...(closures[id] ?? []), ...list];
  return {
    counts,
    closures,
    looseJigIds: [...new Set(files.flatMap((f) => f.setUp.looseJigIds ?? []))],
  };
}

/** Nobody learns in one course while teaching or helping in another at the same time. */
function mustNotBeTwice(problem: ClassProblem, courses: CoursesTogether['courses']): void {
  for (const { id, file } of courses)
    for (const other of courses) {
      if (other.id === id) continue;
      const [theirs] = other.file.setUp.courses;
      const people = [...(theirs?.teacherIds ?? []), ...(theirs?.helperIds ?? [])];
      const person = file.setUp.courses[0]?.learners.find((l) => people.includes(l.id));
      if (person === undefined) continue;
      const sessions = problem.windows.filter((w) => w.kind === 'session');
      const both = sessions.find(
        (w) =>
          w.courseId === id &&
          sessions.some((x) => x.courseId === other.id && x.beginMin < w.endMin && w.beginMin < x.endMin),
      );
      if (both !== undefined)
        throw new InputError(
          'courses-person',
          `"${person.id}" learns in "${id}" and teaches or helps in "${other.id}", and both have a session on ${civilText(both.beginMin).slice(0, 10)} at the same time; give one of them another name or other hours.`,
          'learners',
        );
    }
}

function uncertaintyOf(courses: CoursesTogether['courses'], joined: JoinedClasses): Uncertainty {
  const [first] = courses;
  if (courses.length === 1) return first!.file.uncertainty;
  const files = courses.map((c) => c.file);
  const chance = (what: string, of: (u: Uncertainty) => number | undefined): number | undefined => {
    const text = agreed(files, what, (f) => of(f.uncertainty)?.toString());
    return text === undefined ? undefined : Number(text);
  };
  const scrapChance = chance('chance of scrap', (u) => u.scrapChance);
  const failChance = chance('chance of a machine failure', (u) => u.failChance);
  const byLearner = <T>(of: (u: Uncertainty, learner: string) => T | undefined): Record<string, T> =>
    Object.fromEntries(
      courses.flatMap(({ id, file }) =>
        file.setUp.courses.flatMap((c) =>
          c.learners.flatMap((l) => {
            const value = of(file.uncertainty, l.id);
            return value === undefined ? [] : [[joined.learnerId(id, l.id), value] as const];
          }),
        ),
      ),
    );
  return {
    absentOf: byLearner((u, l) => u.absentOf?.[l] ?? u.absentChance),
    pace: byLearner((u, l) => u.pace?.[l]),
    ...(scrapChance === undefined ? {} : { scrapChance }),
    ...(failChance === undefined ? {} : { failChance }),
  };
}
