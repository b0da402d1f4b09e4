import type { ClassSetUp, CourseSetUp } from '../schedule/class/class-set-up.ts';
import { classProblem } from '../schedule/class/from-route.ts';
import { minutesAsked } from '../schedule/class/minutes-asked.ts';
import { planClass } from '../schedule/class/plan.ts';
import type { ClassProblem } from '../schedule/class/problem.ts';
import type { CourseFile } from './course-file.ts';

/** Plans tried for each change, and for the course as it is: like is held against like. */
const iterations = 24;
/** Minutes by which sessions are made longer on trial. */
const longerMin = 15;
const mostThings = 3;

/**
 * What single changes of a course would save, each planned anew for a moment; also what batching saves already.
 *
 * @param files      the running courses of the shop
 * @param at         which of them is to be sooner
 * @param problemOf  the problem that is planned of such files
 * @returns          one sentence for each change that saves that course a session, the most first
 * @assumes          short searches of the same length: a change that saves little may be missed
 * @source           arithmetic
 */
export function planRemedies(
  files: readonly CourseFile[],
  at: number,
  problemOf: (files: readonly CourseFile[]) => ClassProblem,
): string[] {
  const sessionsOf = (problem: ClassProblem): number =>
    planClass(problem, { iterations, seed: 1 }).sessionsByCourse[at]!.sessions;
  const problem = problemOf(files);
  const base = sessionsOf(problem);
  const changes = changesOf(files[at]!).flatMap(({ name, change, isOfShop }) => {
    const changed = files.map((f, i) =>
      isOfShop === true || i === at ? { ...f, setUp: change(f.setUp) } : f,
    );
    const saved = base - sessionsOf(problemOf(changed));
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

interface Change {
  readonly name: string;
  readonly change: (setUp: ClassSetUp) => ClassSetUp;
  /** Of the shop, and so of every course in it. */
  readonly isOfShop?: boolean;
}

function changesOf({ setUp }: CourseFile): Change[] {
  const choice = setUp.choiceId === undefined ? setUp.route.choices?.[0]?.id : undefined;
  const ofCourse =
    (more: (course: CourseSetUp) => Partial<CourseSetUp>) =>
    (own: ClassSetUp): ClassSetUp => ({ ...own, courses: own.courses.map((c) => ({ ...c, ...more(c) })) });
  const hasHelper = setUp.courses.some((c) => (c.helperIds ?? []).length > 0);
  const longer = ofCourse((c) => ({
    sessions: c.sessions.map((s) => ({ ...s, endMin: s.endMin + longerMin })),
  }));
  return [
    ...(choice === undefined
      ? []
      : [{ name: `The choice "${choice}"`, change: (own: ClassSetUp) => ({ ...own, choiceId: choice }) }]),
    ...(hasHelper
      ? []
      : [
          {
            name: 'A trained adult beside the teacher',
            change: ofCourse((c) => ({ helperIds: [`helper of ${c.name}`] })),
          },
        ]),
    ...(setUp.restsAs === 'usual'
      ? [
          {
            name: 'Resting only the least time',
            change: (own: ClassSetUp) => ({ ...own, restsAs: 'least' as const }),
          },
        ]
      : []),
    { name: `Making every session ${longerMin} minutes longer`, change: longer },
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
      ({ id, name, count }): Change => ({
        name: `One more ${name}`,
        isOfShop: true,
        change: (own) => ({ ...own, counts: { ...own.counts, [id]: (setUp.counts?.[id] ?? count) + 1 } }),
      }),
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
      (operation): Change => ({
        name: `Doing "${operation.name}" in preparation hours`,
        change: (own) => ({
          ...own,
          route: {
            ...own.route,
            operations: own.route.operations.map((o) =>
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
        }),
      }),
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
