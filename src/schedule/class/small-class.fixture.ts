import type { Activity, ClassProblem, Resource, WorkWindow } from './problem.ts';

/** An activity with everything left out that is not named. */
export function step(
  id: string,
  learner: string | undefined,
  minutes: number,
  more: Partial<Activity> & {
    readonly at?: string;
    readonly teacherMin?: number;
    readonly setting?: string;
    readonly setUpMin?: number;
  } = {},
): Activity {
  const { at, teacherMin, setting, setUpMin, ...rest } = more;
  return {
    id,
    name: id,
    operationId: id.replace(/^.*\//, ''),
    partIndex: 0,
    courseId: 'evening',
    memberIds: learner === undefined ? [] : [learner],
    buildIds: learner === undefined ? [] : [learner],
    where: 'session',
    ways: [
      {
        durationMin: minutes,
        attendance: teacherMin === undefined ? [] : [{ anyOf: ['teacher'], fromMin: 0, toMin: teacherMin }],
        ...(at === undefined ? {} : { stationId: at }),
        ...(setting === undefined ? {} : { setting, setUpMin: setUpMin ?? 10 }),
      },
    ],
    jigIds: [],
    helperMin: 0,
    rests: [],
    after: [],
    mayStop: false,
    ...rest,
  };
}

/** Weekly sessions of the given length from minute 0 on, an hour of preparation before each. */
export function weekly(count: number, sessionMin: number): WorkWindow[] {
  return Array.from({ length: count }, (_, i): WorkWindow[] => [
    {
      id: `before-${i + 1}`,
      courseId: 'evening',
      kind: 'preparation',
      beginMin: i * 10_080 + 500,
      endMin: i * 10_080 + 560,
    },
    {
      id: `session-${i + 1}`,
      courseId: 'evening',
      kind: 'session',
      beginMin: i * 10_080 + 600,
      endMin: i * 10_080 + 600 + sessionMin,
    },
  ]).flat();
}

const stations: readonly Resource[] = [
  { id: 'teacher', name: 'teacher', kind: 'person', capacity: 1 },
  { id: 'saw', name: 'saw', kind: 'station', capacity: 1 },
  { id: 'sander', name: 'sander', kind: 'station', capacity: 1 },
  { id: 'bench', name: 'bench', kind: 'station', capacity: 4 },
  { id: 'frame', name: 'gluing frame', kind: 'station', capacity: 1 },
  { id: 'template', name: 'template', kind: 'jig', capacity: 1 },
];

/** A class with the usual small shop. */
export function smallClass(
  learnerIds: readonly string[],
  activities: readonly Activity[],
  more: Partial<ClassProblem> = {},
): ClassProblem {
  return {
    courses: [{ id: 'evening', name: 'Evening' }],
    windows: weekly(8, 60),
    learners: learnerIds.map((id) => ({ id, courseId: 'evening' })),
    resources: stations,
    activities,
    ...more,
  };
}

const after = (...ids: string[]): Activity['after'] => ids.map((activityId) => ({ activityId, lagMin: 0 }));

/**
 * Two learners with nine steps each. Each: cut (saw, 20), two pieces sanded (10 each, setting), a gluing (15, then 30 min
 * on the only frame), and hand work.
 */
export function twoLearners(): ClassProblem {
  const own = (l: string): Activity[] => [
    step(`${l}/plan`, l, 10),
    step(`${l}/cut`, l, 20, { at: 'saw', after: after(`${l}/plan`) }),
    step(`${l}/sand`, l, 10, {
      at: 'sander',
      setting: 'thin',
      setUpMin: 5,
      teacherMin: 10,
      after: after(`${l}/cut`),
    }),
    step(`${l}/glue`, l, 15, {
      at: 'frame',
      rests: [{ resourceId: 'frame', restMin: 30 }],
      after: after(`${l}/sand`),
    }),
    step(`${l}/clean`, l, 20, { after: [{ activityId: `${l}/glue`, lagMin: 30 }] }),
    step(`${l}/carve`, l, 30, { at: 'bench', after: after(`${l}/plan`) }),
    step(`${l}/fit`, l, 25, { at: 'bench', after: after(`${l}/clean`, `${l}/carve`) }),
    step(`${l}/finish`, l, 30, { after: [{ activityId: `${l}/fit`, lagMin: 600 }] }),
    step(`${l}/sign`, l, 10, { teacherMin: 10, after: after(`${l}/finish`) }),
  ];
  return smallClass(['Ada', 'Ben'], [...own('Ada'), ...own('Ben')]);
}
