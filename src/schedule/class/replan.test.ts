import { describe, expect, it } from 'vitest';
import { classFaults } from './check.ts';
import { planClass } from './plan.ts';
import { type Activity, beginOf, type ClassProblem, endOf, type PlanEntry } from './problem.ts';
import { liveState, replanClass, stateAsPlanned } from './replan.ts';
import { smallClass, step, twoLearners } from './small-class.fixture.ts';

const published = (problem: ClassProblem): readonly PlanEntry[] =>
  planClass(problem, { iterations: 100, seed: 2 }).entries;
const search = { iterations: 40, seed: 2 };

describe('replanning', () => {
  it('with nothing changed keeps the plan and the past, also twice', () => {
    const problem = twoLearners();
    const plan = published(problem);
    const live = { ...problem, state: stateAsPlanned(problem, plan, 10_700) };
    const again = replanClass(live, plan, search);
    expect(again.isKept).toBe(true);
    expect(again.entries).toEqual(plan);
    expect(replanClass(live, again.entries, search).entries).toEqual(plan);
  });

  it('never moves what is done and never plans before now', () => {
    const problem = twoLearners();
    const plan = published(problem);
    const nowMin = 10_680;
    const late = plan
      .filter((e) => endOf(e) <= 10_000)
      .map((e) => ({ activityId: e.activityId, beginMin: beginOf(e), endMin: endOf(e) }));
    const live = { ...problem, state: liveState(problem, plan, nowMin, late) };
    const { entries, problem: planned } = replanClass(live, plan, search);
    expect(classFaults(planned, entries)).toEqual([]);
    for (const h of late)
      expect(beginOf(entries.find((e) => e.activityId === h.activityId)!)).toBe(h.beginMin);
    for (const e of entries)
      if (!late.some((h) => h.activityId === e.activityId)) expect(beginOf(e)).toBeGreaterThanOrEqual(nowMin);
  });

  it('gives way when the saw fails, and is never under the bound of what is left', () => {
    const problem = twoLearners();
    const plan = published(problem);
    const broken = {
      ...problem,
      resources: problem.resources.map((r) =>
        r.id === 'saw' ? { ...r, closures: [{ beginMin: 0, endMin: 20_000 }] } : r,
      ),
      state: stateAsPlanned(problem, plan, 590),
    };
    const {
      isKept,
      movedCount,
      entries,
      problem: planned,
      bound,
      measures,
    } = replanClass(broken, plan, search);
    expect(isKept).toBe(false);
    expect(movedCount).toBeGreaterThan(0);
    expect(classFaults(planned, entries)).toEqual([]);
    expect(bound.makespanMin).toBeLessThanOrEqual(measures.makespanMin);
  });

  /** Ada's course of the morning has published her gluing; Zoe's at noon waits for something it holds. */
  const twoCourses = (ada: Partial<Activity>, zoe: Partial<Activity>, noonBegin: number): ClassProblem =>
    smallClass(
      [],
      [
        { ...step('Ada/glue', 'Ada', 20), ...ada },
        { ...step('Zoe/glue', 'Zoe', 20), ...zoe, courseId: 'noon' },
      ],
      {
        courses: [
          { id: 'evening', name: 'Morning' },
          { id: 'noon', name: 'Afternoon' },
        ],
        learners: [
          { id: 'Ada', courseId: 'evening' },
          { id: 'Zoe', courseId: 'noon' },
        ],
        windows: [1, 2, 3].flatMap((w) => [
          {
            id: `m${w}`,
            courseId: 'evening',
            kind: 'session' as const,
            beginMin: w * 10_080 + 540,
            endMin: w * 10_080 + 660,
          },
          {
            id: `a${w}`,
            courseId: 'noon',
            kind: 'session' as const,
            beginMin: w * 10_080 + noonBegin,
            endMin: w * 10_080 + noonBegin + 120,
          },
        ]),
      },
    );
  const frame = step('x', 'x', 20, { at: 'frame' }).ways;
  const bench = step('x', 'x', 20, { at: 'bench' }).ways;
  const withTeacher = step('x', 'x', 20, { teacherMin: 20 }).ways;

  it.each([
    // the rest holds the frame into the second week
    [
      'a frame',
      { ways: frame, rests: [{ resourceId: 'frame', restMin: 11_000 }] },
      { ways: frame },
      780,
      'gluing frame',
      240,
    ],
    // both sessions run at the same time and both want the frame, the template, the teacher at their beginning
    ['a station at work', { ways: frame }, { ways: frame }, 540, 'gluing frame', 20],
    [
      'a jig',
      { ways: bench, jigIds: ['template'] },
      { ways: bench, jigIds: ['template'] },
      540,
      'template',
      20,
    ],
    ['the teacher', { ways: withTeacher }, { ways: withTeacher }, 540, 'teacher', 20],
  ])(
    'leaves the published sessions of another course and names %s that would help',
    (_, ada, zoe, noonBegin, thing, savedMin) => {
      const problem = twoCourses(ada, zoe, noonBegin);
      const glue = {
        activityId: 'Ada/glue',
        pieces: [{ beginMin: 10_620, endMin: 10_640 }],
        wayIndex: 0,
        attendantIds: ['teacher'],
      };
      const live = { ...problem, state: stateAsPlanned(problem, [glue], 10_000, ['evening']) };
      const { entries, wouldHelp, problem: planned } = replanClass(live, [glue], search);
      expect(classFaults(planned, entries)).toEqual([]);
      expect(beginOf(entries.find((e) => e.activityId === 'Ada/glue')!)).toBe(10_620);
      expect(wouldHelp).toEqual([
        `Course Morning holds ${thing} in its published sessions; with that at another time the last learner here would be done up to ${savedMin} minutes of session time earlier. It is not moved without asking.`,
      ]);
    },
  );

  it('names nothing when nobody waits for the other course', () => {
    const problem = twoCourses({ ways: frame }, { ways: bench }, 540);
    const glue = {
      activityId: 'Ada/glue',
      pieces: [{ beginMin: 10_620, endMin: 10_640 }],
      wayIndex: 0,
      attendantIds: [],
    };
    const live = { ...problem, state: stateAsPlanned(problem, [glue], 10_000, ['evening']) };
    expect(replanClass(live, [glue], search).wouldHelp).toEqual([]);
  });
});
