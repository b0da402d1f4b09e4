import type { ClassSetUp } from '../schedule/class/class-set-up.ts';
import { classProblem } from '../schedule/class/from-route.ts';
import { minutesAsked } from '../schedule/class/minutes-asked.ts';
import { planClass } from '../schedule/class/plan.ts';
import type { ClassProblem } from '../schedule/class/problem.ts';
import { type CourseFile, courseProblem } from './course-file.ts';

/** Plans tried for each change, and for the course as it is: like is held against like. */
const iterations = 24;
/** Minutes by which sessions are made longer on trial. */
const longerMin = 15;
const mostThings = 3;

/**
 * What single changes of a course would save, each planned anew for a moment; also what batching saves already.
 *
 * @param course  the course
 * @returns       one sentence for each change that saves a session, the most first
 * @assumes       short searches of the same length: a change that saves little may be missed
 * @source        arithmetic
 */
export function planRemedies(course: CourseFile): string[] {
  const sessionsOf = (problem: ClassProblem): number =>
    planClass(problem, { iterations, seed: 1 }).sessionsByCourse[0]!.sessions;
  const problem = courseProblem(course);
  const base = sessionsOf(problem);
  const changes = changesOf(course).flatMap(([name, setUp]) => {
    const saved = base - sessionsOf(courseProblem({ ...course, setUp }));
    return saved > 0 ? [{ saved, text: `${name} saves ${sessions(saved)}.` }] : [];
  });
  const batched = sessionsOf(oneByOne(problem)) - base;
  const names = mostBatched(problem);
  return [
    ...changes.sort((a, b) => b.saved - a.saved).map((c) => c.text),
    ...(batched > 0 && names.length > 0
      ? [`Batching ${names.join(' and ')} is in this plan and saves ${sessions(batched)} against one by one.`]
      : []),
  ];
}

const sessions = (count: number): string => `${count} session${count === 1 ? '' : 's'}`;

type Change = readonly [string, ClassSetUp];

function changesOf({ setUp }: CourseFile): Change[] {
  const choice = setUp.choiceId === undefined ? setUp.route.choices?.[0]?.id : undefined;
  const [only] = setUp.courses;
  const ofCourse = (more: Partial<ClassSetUp['courses'][number]>): ClassSetUp => ({
    ...setUp,
    courses: setUp.courses.map((c) => ({ ...c, ...more })),
  });
  const longer = (only?.sessions ?? []).map((s) => ({ ...s, endMin: s.endMin + longerMin }));
  return [
    ...(choice === undefined
      ? []
      : [[`The choice "${choice}"`, { ...setUp, choiceId: choice }] satisfies Change]),
    ...((only?.helperIds ?? []).length > 0
      ? []
      : [['A trained adult beside the teacher', ofCourse({ helperIds: ['helper'] })] satisfies Change]),
    ...(setUp.restsAs === 'usual'
      ? [['Resting only the least time', { ...setUp, restsAs: 'least' }] satisfies Change]
      : []),
    [`Making every session ${longerMin} minutes longer`, ofCourse({ sessions: longer })],
    ...inPreparation(setUp),
    ...oneMore(setUp),
  ];
}

/** One more of the stations, jigs and people that are fullest. */
function oneMore(setUp: ClassSetUp): Change[] {
  const things = [...setUp.route.stations.map((s) => ({ ...s, count: s.capacity })), ...setUp.route.jigs];
  return minutesAsked(classProblem(setUp))
    .flatMap((row) => things.find((t) => t.id === row.resourceId) ?? [])
    .slice(0, mostThings)
    .map(
      ({ id, name, count }): Change => [
        `One more ${name}`,
        { ...setUp, counts: { ...setUp.counts, [id]: (setUp.counts?.[id] ?? count) + 1 } },
      ],
    );
}

/** Steps that the teacher or a helper may do in preparation hours but does not yet. */
function inPreparation(setUp: ClassSetUp): Change[] {
  const choice = setUp.route.choices?.find((c) => c.id === setUp.choiceId);
  return setUp.route.operations
    .filter(
      (o) =>
        o.parts.some((p) => p.prep !== null && p.prep?.usual === false) &&
        choice?.inPrep?.[o.id] === undefined &&
        !(choice?.skip ?? []).includes(o.id),
    )
    .map(
      (operation): Change => [
        `Doing "${operation.name}" in preparation hours`,
        {
          ...setUp,
          route: {
            ...setUp.route,
            operations: setUp.route.operations.map((o) =>
              o.id === operation.id
                ? {
                    ...o,
                    parts: o.parts.map((p) =>
                      p.prep === null || p.prep === undefined
                        ? p
                        : { ...p, prep: { ...p.prep, usual: true } },
                    ),
                  }
                : o,
            ),
          },
        },
      ],
    );
}

/** The same class with a set-up for every single piece. */
function oneByOne(problem: ClassProblem): ClassProblem {
  return {
    ...problem,
    activities: problem.activities.map((a) => ({
      ...a,
      ways: a.ways.map((w) => (w.setting === undefined ? w : { ...w, setting: `${w.setting} ${a.id}` })),
    })),
  };
}

/** Names of the two operations whose set-ups are shared by most. */
function mostBatched(problem: ClassProblem): string[] {
  const shared = new Map<string, number>();
  for (const activity of problem.activities) {
    const way = activity.ways[0]!;
    if (way.setting === undefined) continue;
    const name = `"${activity.name.split(':')[0]!}"`;
    shared.set(name, (shared.get(name) ?? 0) + (way.setUpMin ?? 0));
  }
  return [...shared]
    .sort((a, b) => b[1] - a[1])
    .slice(0, 2)
    .map(([name]) => name);
}
