import { describe, expect, it } from 'vitest';
import { classFaults } from './check.ts';
import { planClass } from './plan.ts';
import { beginOf, type ClassProblem, endOf, type PlanEntry } from './problem.ts';
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

  it('leaves the published sessions of another course and names what would help', () => {
    const problem = smallClass(
      [],
      [
        step('Ada/glue', 'Ada', 20, { at: 'frame', rests: [{ resourceId: 'frame', restMin: 11_000 }] }),
        { ...step('Zoe/glue', 'Zoe', 20, { at: 'frame' }), courseId: 'noon' },
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
            beginMin: w * 10_080 + 780,
            endMin: w * 10_080 + 900,
          },
        ]),
      },
    );
    const plan = [
      {
        activityId: 'Ada/glue',
        pieces: [{ beginMin: 10_620, endMin: 10_640 }],
        wayIndex: 0,
        attendantIds: [],
      },
      {
        activityId: 'Zoe/glue',
        pieces: [{ beginMin: 31_020, endMin: 31_040 }],
        wayIndex: 0,
        attendantIds: [],
      },
    ];
    const live = { ...problem, state: stateAsPlanned(problem, plan, 10_000, ['evening']) };
    const { entries, wouldHelp } = replanClass(live, plan, search);
    expect(beginOf(entries.find((e) => e.activityId === 'Ada/glue')!)).toBe(10_620);
    expect(wouldHelp.join()).toContain('Course evening holds gluing frame in its published sessions');
  });
});
