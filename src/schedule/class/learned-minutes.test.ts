import { describe, expect, it } from 'vitest';
import { classFaults } from './check.ts';
import { withLearnedMinutes } from './learned-minutes.ts';
import type { LearnedMinutes } from './minutes.ts';
import { planClass } from './plan.ts';
import type { ClassProblem, PlanEntry } from './problem.ts';
import { smallClass, step } from './small-class.fixture.ts';

const belief = (id: string, factor: number) => ({ id, factor, logSd: 0.1, count: 9 });
const learned: LearnedMinutes = {
  operations: [belief('saw.1', 1.5)],
  learners: [belief('Ben', 0.8)],
  usedFrac: 1,
};
const signed = (id: string, learner: string) => ({
  ...step(id, learner, 20),
  ways: [{ durationMin: 20, attendance: [{ anyOf: ['teacher'], fromMin: 17, toMin: 20 }] }],
});
const problem = smallClass(
  ['Ada', 'Ben'],
  [
    step('Ada/saw', 'Ada', 20, { teacherMin: 20 }),
    step('Ben/saw', 'Ben', 20, { teacherMin: 5 }),
    signed('Ada/file', 'Ada'),
    signed('Ben/file', 'Ben'),
  ],
);
const waysOf = (p: ClassProblem, id: string) => p.activities.find((a) => a.id === id)!.ways[0]!;
const at = (activityId: string, minutes: number): PlanEntry => ({
  activityId,
  pieces: [{ beginMin: 600, endMin: 600 + minutes }],
  wayIndex: 0,
  attendantIds: ['teacher'],
});

describe('the minutes that were learned', () => {
  it('are those of the route times the operation and the pace; who stays throughout or signs at the end still does', () => {
    const own = withLearnedMinutes(problem, learned);
    expect(waysOf(own, 'Ada/saw')).toMatchObject({
      durationMin: 30,
      attendance: [{ fromMin: 0, toMin: 30 }],
    });
    expect(waysOf(own, 'Ben/saw')).toMatchObject({ durationMin: 24, attendance: [{ fromMin: 0, toMin: 5 }] });
    expect(waysOf(own, 'Ada/file')).toEqual(waysOf(problem, 'Ada/file'));
    expect(waysOf(own, 'Ben/file')).toMatchObject({
      durationMin: 16,
      attendance: [{ fromMin: 13, toMin: 16 }],
    });
    const { entries, problem: planned } = planClass(own, { iterations: 20 });
    expect(classFaults(planned, entries)).toEqual([]);
  });

  it('leave a published step its minutes unless they are off by more than a third', () => {
    // 30 are learned: a quarter more than 24, half as much again as 20
    expect(waysOf(withLearnedMinutes(problem, learned, [at('Ada/saw', 24)]), 'Ada/saw').durationMin).toBe(24);
    expect(waysOf(withLearnedMinutes(problem, learned, [at('Ada/saw', 20)]), 'Ada/saw').durationMin).toBe(30);
  });

  it('are never longer than a session, and leave alone what is done', () => {
    const slow = { ...learned, operations: [belief('saw.1', 9)] };
    expect(waysOf(withLearnedMinutes(problem, slow), 'Ada/saw').durationMin).toBe(60);
    const done = { ...problem, state: { nowMin: 700, fixed: [at('Ada/saw', 20)] } };
    expect(waysOf(withLearnedMinutes(done, learned), 'Ada/saw').durationMin).toBe(20);
  });
});
