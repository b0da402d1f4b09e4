import { describe, expect, it } from 'vitest';
import { classFaults } from './check.ts';
import { inLots, type PlanInLots } from './in-lots.ts';
import { minutesAsked } from './minutes-asked.ts';
import { planClass } from './plan.ts';
import { type Activity, beginOf, type ClassProblem, type PlanEntry } from './problem.ts';
import { smallClass, step } from './small-class.fixture.ts';

const names = ['Ada', 'Ben', 'Cleo'];
const sanding = (l: string): Activity =>
  step(`${l}/sand`, l, 6, { at: 'sander', setting: 'thin', setUpMin: 4, teacherMin: 6, batch: 'sand' });
/** Three plates through one setting; each goes on at the bench as soon as it is through. */
const problem = smallClass(
  names,
  names.flatMap((l) => [
    sanding(l),
    step(`${l}/next`, l, 10, { after: [{ activityId: `${l}/sand`, lagMin: 0 }] }),
  ]),
);
const posted = (): PlanInLots => inLots(problem, planClass(problem, { iterations: 60, seed: 1 }).entries);
const lotOf = ({ problem: p }: PlanInLots): Activity => p.activities.find((a) => a.operationId === 'sand')!;
const changed = (plan: PlanInLots, id: string, to: (e: PlanEntry) => PlanEntry): string =>
  classFaults(
    plan.problem,
    plan.entries.map((e) => (e.activityId === id ? to(e) : e)),
  ).join(' ');

describe('a plan in lots', () => {
  it('makes plates that go through one after the other one activity, with teacher, machine and set-up counted once', () => {
    const plan = posted();
    expect(classFaults(plan.problem, plan.entries)).toEqual([]);
    expect(plan.problem.activities).toHaveLength(4);
    const lot = lotOf(plan);
    expect(lot.memberIds.toSorted()).toEqual(names);
    const [way] = lot.ways;
    expect(way!.durationMin).toBe(18);
    expect(way!.turns!.map((t) => [t.fromMin, t.toMin])).toEqual([
      [0, 6],
      [6, 12],
      [12, 18],
    ]);
    expect(way!.attendance).toEqual([{ anyOf: ['teacher'], fromMin: 0, toMin: 18 }]);
    const entry = plan.entries.find((e) => e.activityId === lot.id)!;
    expect(beginOf(entry) - entry.setUpBeginMin!).toBe(4);
  });

  it('asks of teacher and machine once per lot what it asks build by build at one setting', () => {
    const asked = (p: ClassProblem, id: string): number =>
      minutesAsked(p).find((r) => r.resourceId === id)!.askedMin;
    const lots = posted().problem;
    // three plates of 6 minutes, set up once for 4
    expect([problem, lots].map((p) => asked(p, 'sander'))).toEqual([22, 22]);
    expect([problem, lots].map((p) => asked(p, 'teacher'))).toEqual([18, 18]);
    expect([problem, lots].map((p) => asked(p, 'learners evening'))).toEqual([48, 48]);
  });

  it('lets who is through go on while the others are still at it, and no earlier', () => {
    const plan = posted();
    const first = lotOf(plan).ways[0]!.turns![0]!.buildId;
    const through = beginOf(plan.entries.find((e) => e.activityId === lotOf(plan).id)!) + 6;
    const next = plan.entries.find((e) => e.activityId === `${first}/next`)!;
    expect(beginOf(next)).toBe(through);
    expect(
      changed(plan, next.activityId, (e) => ({
        ...e,
        pieces: [{ beginMin: through - 1, endMin: through + 9 }],
      })),
    ).toContain(`it has to wait until ${through}`);
  });

  it('is faulty when a member is somewhere else in the own turn', () => {
    const plan = posted();
    const last = lotOf(plan).ways[0]!.turns![2]!.buildId;
    const turn = beginOf(plan.entries.find((e) => e.activityId === lotOf(plan).id)!) + 12;
    expect(
      changed(plan, `${last}/next`, (e) => ({ ...e, pieces: [{ beginMin: turn, endMin: turn + 10 }] })),
    ).toContain(`${last} is held 2 times`);
  });

  it('joins nothing that is no batch', () => {
    const alone = { ...problem, activities: problem.activities.map(({ batch: _, ...a }) => a) };
    const { entries } = planClass(alone, { iterations: 60, seed: 1 });
    expect(inLots(alone, entries).entries).toEqual(entries);
  });

  it('joins what is published and still to come, and it stands as a lot', () => {
    const { entries } = planClass(problem, { iterations: 60, seed: 1 });
    const published = { ...problem, state: { nowMin: 0, fixed: entries } };
    const plan = inLots(published, entries);
    expect(plan.problem.activities).toHaveLength(4);
    expect(plan.problem.state!.fixed.map((e) => e.activityId)).toContain(lotOf(plan).id);
    expect(classFaults(plan.problem, plan.entries)).toEqual([]);
    expect(
      changed(plan, lotOf(plan).id, (e) => ({ ...e, pieces: [{ beginMin: 700, endMin: 718 }] })),
    ).toContain('stands as it is and was moved');
  });

  it('leaves a run alone that is over', () => {
    const { entries } = planClass(problem, { iterations: 60, seed: 1 });
    const past = { ...problem, state: { nowMin: 700, fixed: entries } };
    expect(inLots(past, entries).entries).toEqual(entries);
  });
});
