import type { CourseSetUp } from './class-set-up.ts';
import { classProblem } from './from-route.ts';
import type { ClassProblem } from './problem.ts';
import type { RouteForm } from './route-form.ts';

/** Sizes of the classes that are planned again and again to see whether the planner got better. */
export const fixtureSizes = [6, 12, 24, 30] as const;

const dayMin = 1440;
const weekMin = 7 * dayMin;

/** Measuring tools that are handed round rather than held. common practice, no published source */
const handedRound: readonly string[] = [
  'angle-gauge',
  'straightedge',
  'long-rule',
  'string-line',
  'torque-driver',
  'mirror-lamp',
  'foam-rests',
];

/**
 * A class of our own for trying the planner: weekly evenings of 150 minutes of which 125 are usable, an hour of
 * preparation before each and two of three quarters of an hour after it, a teacher and a trained adult. 24 learners are two
 * weekly courses that share one shop; 30 are one large course in a larger shop with two teachers.
 *
 * @param route         route data
 * @param learnerCount  6, 12, 24 or 30
 * @returns             the class problem
 * @source              common practice, no published source
 */
export function fixtureClass(route: RouteForm, learnerCount: number): ClassProblem {
  const scale = learnerCount > 24 ? Math.ceil(learnerCount / 12) : 1;
  const courses =
    learnerCount === 24
      ? [course('tuesday', 1, 12, 0, 1), course('thursday', 3, 12, 12, 1)]
      : [course('tuesday', 1, learnerCount, 0, scale)];
  const stations = [
    ...route.stations.map((s) => [s.id, s.capacity] as const),
    ...route.jigs.map((j) => [j.id, j.count] as const),
  ];
  const twice =
    learnerCount === 24
      ? ['mould', 'finish-rack', 'box-shelf', 'plate-shelf', 'conditioning-rack', 'spreader']
      : [];
  return classProblem({
    route,
    courses,
    choiceId: 'plain',
    looseJigIds: handedRound,
    counts: Object.fromEntries(stations.map(([id, count]) => [id, count * (twice.includes(id) ? 2 : scale)])),
  });
}

function course(
  id: string,
  weekday: number,
  learnerCount: number,
  first: number,
  teachers: number,
): CourseSetUp {
  const evening = (week: number): number => week * weekMin + weekday * dayMin;
  return {
    id,
    name: `${id} evening`,
    sessions: Array.from({ length: 48 }, (_, w) => ({
      id: `${id} ${w + 1}`,
      beginMin: evening(w) + 18 * 60 + 40,
      endMin: evening(w) + 20 * 60 + 45,
    })),
    preparation: Array.from({ length: 48 }, (_, w) => [
      { id: `${id} ${w + 1} before`, beginMin: evening(w) + 17 * 60, endMin: evening(w) + 18 * 60 },
      {
        id: `${id} ${w + 1} next morning`,
        beginMin: evening(w) + dayMin + 8 * 60,
        endMin: evening(w) + dayMin + 8 * 60 + 45,
      },
      {
        id: `${id} ${w + 1} third day`,
        beginMin: evening(w) + 3 * dayMin + 9 * 60,
        endMin: evening(w) + 3 * dayMin + 9 * 60 + 45,
      },
    ]).flat(),
    learners: Array.from({ length: learnerCount }, (_, i) => ({
      id: `learner ${first + i + 1}`,
      instrument: 'steel',
      ageBand: 'adult',
    })),
    teacherIds: Array.from({ length: teachers }, (_, i) => (i === 0 ? 'teacher' : `teacher ${i + 1}`)),
    helperIds: Array.from({ length: teachers }, (_, i) => (i === 0 ? 'aide' : `aide ${i + 1}`)),
  };
}
