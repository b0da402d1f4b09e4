import { describe, expect, it } from 'vitest';
import routeFile from '../../../data/route/operations.json' with { type: 'json' };
import best from '../../../test/fixtures/class-best.json' with { type: 'json' };
import { expectClose } from '../../../test/support/expect-close.ts';
import { classFaults } from './check.ts';
import type { ClassSetUp, CourseLearner } from './class-set-up.ts';
import { fixtureClass } from './fixture-courses.ts';
import { classProblem } from './from-route.ts';
import { inLots } from './in-lots.ts';
import { planClass } from './plan.ts';
import type { Activity, ClassProblem } from './problem.ts';
import type { RouteForm, RouteOperation, RoutePart } from './route-form.ts';

const route = routeFile as unknown as RouteForm;

const part = (
  more: Partial<Omit<RoutePart, 'batch'>> & {
    readonly likely?: number;
    readonly batch?: Partial<RoutePart['batch']>;
  } = {},
): RoutePart => {
  const likely = more.likely ?? 20;
  return {
    what: 'work',
    at: ['bench'],
    minutes: { low: likely / 2, likely, high: likely * 2 },
    // biome-ignore lint/suspicious/noThenProperty: the route data call it so
    then: 'stop',
    helperMin: 0,
    who: 'learner',
    prep: null,
    ...more,
    batch: {
      scope: 'none',
      most: 1,
      setUpMin: 0,
      eachMin: likely,
      teacher: 'none',
      teacherMin: 0,
      ...more.batch,
    },
  };
};
// biome-ignore lint/suspicious/noThenProperty: the route data call it so
const gluing = { then: 'glue' };
const operation = (
  id: string,
  after: string[],
  parts: RoutePart[],
  more: Partial<RouteOperation> = {},
): RouteOperation => ({ id, kind: 'build', name: id, after, parts, jigs: [], rest: null, ...more });

const small: RouteForm = {
  stations: [
    { id: 'bench', name: 'bench', capacity: 4, key: 'hand' },
    { id: 'sander', name: 'sander', capacity: 1, key: 'sander' },
    { id: 'frame', name: 'frame', capacity: 2, key: 'none' },
  ],
  jigs: [{ id: 'caul', name: 'caul', count: 1 }],
  ageRules: { byStation: { sander: { under16: 'teacher does it', adult: 'alone' } } },
  operations: [
    operation(
      'A',
      [],
      [part({ batch: { scope: 'class', most: 16, setUpMin: 30, eachMin: 0, teacher: 'whole' } })],
    ),
    operation(
      'key',
      ['A'],
      [
        part({
          at: ['sander'],
          likely: 3,
          batch: { scope: 'group', most: 16, eachMin: 3, teacher: 'whole' },
        }),
      ],
      { kind: 'key', givesKey: 'sander' },
    ),
    operation(
      'B',
      ['A'],
      [
        part({
          at: ['sander'],
          batch: { scope: 'setting', most: 12, setUpMin: 4, eachMin: 6, teacher: 'first', teacherMin: 4 },
        }),
      ],
    ),
    operation('C', ['B'], [part({ at: ['frame'], ...gluing, helperMin: 5 })], {
      jigs: ['caul'],
      rest: {
        holds: [{ what: 'frame', leastH: 1, usualH: 4 }],
        before: [{ op: 'E', leastH: 12, usualH: 24 }],
        beforeOthers: { leastH: 1, usualH: 4 },
      },
    }),
    operation('X', ['C'], [part()], { instruments: ['nylon'] }),
    operation('D', ['X'], [part(), part({ likely: 10, batch: { teacher: 'sign', teacherMin: 3 } })]),
    operation('E', ['D'], [part()]),
  ],
};

const setUp = (learners: readonly CourseLearner[], more: Partial<ClassSetUp> = {}): ClassSetUp => ({
  route: small,
  courses: [
    {
      id: 'c',
      name: 'C',
      learners,
      sessions: Array.from({ length: 6 }, (_, i) => ({
        id: `s${i}`,
        beginMin: i * 10080,
        endMin: i * 10080 + 120,
      })),
      preparation: [{ id: 'p', beginMin: 200, endMin: 260 }],
    },
  ],
  ...more,
});
const adult = (id: string): CourseLearner => ({ id, ageBand: 'adult', instrument: 'steel' });
const find = (problem: ClassProblem, id: string): Activity => problem.activities.find((a) => a.id === id)!;

describe('a class made from route data', () => {
  const problem = classProblem(setUp([adult('Ada'), adult('Ben')]));

  it('makes class scope one activity with members, counted once', () => {
    const induction = problem.activities.filter((a) => a.operationId === 'A');
    expect(induction).toHaveLength(1);
    expect(induction[0]).toMatchObject({
      memberIds: ['Ada', 'Ben'],
      ways: [{ durationMin: 30, attendance: [{ anyOf: ['teacher'], fromMin: 0, toMin: 30 }] }],
    });
  });

  it('lets nobody wait with the induction for who misses the first session', () => {
    const away = classProblem(
      setUp([adult('Ada'), { ...adult('Ben'), awayWindowIds: ['s0'] }, adult('Cleo')]),
    );
    const induction = away.activities.filter((a) => a.operationId === 'A');
    expect(induction.map((a) => a.memberIds)).toEqual([['Ada', 'Cleo'], ['Ben']]);
    const { entries } = planClass(away, { iterations: 5 });
    expect(entries.find((e) => e.activityId === induction[0]!.id)!.pieces[0]!.beginMin).toBe(0);
  });

  it('takes a place for each build of a lot that rests, and makes no lot larger than the places there are', () => {
    const drying = operation(
      'A',
      [],
      [part({ batch: { scope: 'class', most: 16, setUpMin: 20, eachMin: 0, teacher: 'none' } })],
      {
        rest: {
          holds: [{ what: 'frame', leastH: 1, usualH: 4 }],
          before: [],
          beforeOthers: { leastH: 1, usualH: 4 },
        },
      },
    );
    const route = { ...small, operations: [drying] };
    const three = classProblem(setUp([adult('Ada'), adult('Ben'), adult('Cleo')], { route }));
    expect(three.activities.map((a) => [a.memberIds.length, a.rests[0]!.places ?? 1])).toEqual([
      [2, 2],
      [1, 1],
    ]);
    const { entries, problem: planned } = planClass(three, { iterations: 5 });
    expect(classFaults(planned, entries)).toEqual([]);
    const together = entries.map((e) => ({ ...e, pieces: [{ beginMin: 0, endMin: 20 }] }));
    expect(classFaults(three, together).join()).toContain('frame is held 3 times, there are 2');
  });

  it('lets setting scope share the setting of the station', () => {
    const [ada, ben] = ['Ada/B.1', 'Ben/B.1'].map((id) => find(problem, id).ways[0]!);
    expect(ada).toMatchObject({
      stationId: 'sander',
      durationMin: 6,
      setUpMin: 4,
      attendance: [{ onlyAtSetUp: true, toMin: 4 }],
    });
    expect(ada!.setting).toBe(ben!.setting);
  });

  it('puts the key check before the machine', () => {
    expect(find(problem, 'Ada/B.1').after.map((l) => l.activityId)).toContain('Ada/key.1');
  });

  it('hands predecessors on over an operation that is not made, with each rest for its successor', () => {
    expect(find(problem, 'Ada/D.1').after).toEqual([{ activityId: 'Ada/C.1', lagMin: 60 }]);
    expect(find(problem, 'Ada/E.1').after).toContainEqual({ activityId: 'Ada/C.1', lagMin: 720 });
    expect(find(problem, 'Ada/C.1')).toMatchObject({
      rests: [{ resourceId: 'frame', restMin: 60 }],
      jigIds: ['caul'],
      helperMin: 5,
    });
    const usual = classProblem(setUp([adult('Ada'), adult('Ben')], { restsAs: 'usual' }));
    expect(find(usual, 'Ada/C.1').rests).toEqual([{ resourceId: 'frame', restMin: 240 }]);
  });

  it('makes the teacher stay the whole work where the age band or the key is missing', () => {
    const wayOf = (learner: CourseLearner): unknown =>
      find(classProblem(setUp([learner, adult('Ben')])), `${learner.id}/B.1`).ways[0]!.attendance.find(
        (a) => a.onlyAtSetUp !== true,
      );
    expect(wayOf({ id: 'Ada', instrument: 'steel' })).toMatchObject({
      fromMin: 0,
      toMin: 6,
      anyOf: ['teacher'],
    });
    expect(wayOf({ id: 'Ada', instrument: 'steel', ageBand: 'under16' })).toMatchObject({
      fromMin: 0,
      toMin: 6,
    });
    expect(wayOf(adult('Ada'))).toBeUndefined();
  });

  it('signs at the end, and takes the teacher for the second pair of hands of a single learner', () => {
    expect(find(problem, 'Ada/D.2').ways[0]!.attendance).toEqual([
      { anyOf: ['teacher'], fromMin: 7, toMin: 10 },
    ]);
    const alone = classProblem(setUp([adult('Ada')]));
    expect(find(alone, 'Ada/C.1')).toMatchObject({
      helperMin: 0,
      ways: [{ attendance: [{ anyOf: ['teacher'], fromMin: 0, toMin: 5 }] }],
    });
  });

  it('plans learners of different instruments in one course', () => {
    const mixed = classProblem(
      setUp(
        ['Ada', 'Ben', 'Cleo', 'Dora'].map((id, i) => ({
          ...adult(id),
          instrument: i < 2 ? 'steel' : 'nylon',
        })),
      ),
    );
    // the induction is one for the whole class, whatever each of them builds
    expect(mixed.activities.filter((a) => a.operationId === 'A').map((a) => a.memberIds)).toEqual([
      ['Ada', 'Ben', 'Cleo', 'Dora'],
    ]);
    expect(mixed.activities.filter((a) => a.operationId === 'X').map((a) => a.memberIds)).toEqual([
      ['Cleo'],
      ['Dora'],
    ]);
    const { entries, problem: planned } = planClass(mixed, { iterations: 5 });
    expect(classFaults(planned, entries)).toEqual([]);
  });

  it('says so when there are no preparation hours for work that is done in them', () => {
    const prepared = {
      ...small,
      operations: [operation('P', [], [part({ who: 'teacher', prep: { by: ['teacher'], usual: true } })])],
    };
    const bare = setUp([adult('Ada')], { route: prepared });
    const without = { ...bare, courses: bare.courses.map((c) => ({ ...c, preparation: [] })) };
    expect(() => planClass(classProblem(without), { iterations: 1 })).toThrow(
      '"Ada/P.1" is done in preparation hours and the course has none; give some outside its sessions.',
    );
  });

  it('gives a plan that keeps every rule', () => {
    const { entries, problem: planned } = planClass(problem, { iterations: 20 });
    expect(classFaults(planned, entries)).toEqual([]);
  });
});

describe('the classes the planner is measured on', () => {
  it.each(best.classes)(
    '$learners learners: sound, not under the bound, not under the best ever found',
    ({ learners, bestMin, boundMin }) => {
      const problem = fixtureClass(route, learners);
      const { entries, problem: planned, measures, bound } = planClass(problem, { iterations: 3, seed: 1 });
      expect(classFaults(planned, entries)).toEqual([]);
      const lots = inLots(planned, entries);
      expect(classFaults(lots.problem, lots.entries)).toEqual([]);
      // the largest class has three of every machine, so nothing has to go through one after the other
      const lotCount = lots.problem.activities.filter((a) => a.ways[0]!.turns !== undefined).length;
      if (learners < 30) expect(lotCount).toBeGreaterThan(10);
      expectClose(bound.makespanMin, boundMin, { tol: 0.5, source: 'pinned' });
      expect(measures.makespanMin).toBeGreaterThanOrEqual(boundMin);
      expect(bestMin).toBeGreaterThanOrEqual(boundMin);
      expect(measures.makespanMin).toBeLessThanOrEqual(bestMin * 1.25);
    },
  );
});
