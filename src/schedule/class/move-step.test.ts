import { describe, expect, it } from 'vitest';
import { moveStep } from './move-step.ts';
import type { PlanEntry } from './problem.ts';
import { smallClass, step } from './small-class.fixture.ts';

const at = (id: string, beginMin: number, minutes: number): PlanEntry => ({
  activityId: id,
  pieces: [{ beginMin, endMin: beginMin + minutes }],
  wayIndex: 0,
  attendantIds: [],
});

describe('a step moved by hand', () => {
  const problem = smallClass(
    ['Ada', 'Ben'],
    [
      step('Ada/a', 'Ada', 20, { at: 'saw' }),
      step('Ada/b', 'Ada', 20, { at: 'bench', after: [{ activityId: 'Ada/a', lagMin: 0 }] }),
      step('Ben/a', 'Ben', 55, { at: 'saw' }),
    ],
  );
  const [first, second] = problem.windows.filter((w) => w.kind === 'session');
  if (!first || !second) throw new RangeError('two sessions are wanted');
  const plan = [
    at('Ada/a', first.beginMin, 20),
    at('Ada/b', first.beginMin + 20, 20),
    at('Ben/a', second.beginMin, 55),
  ];

  it('breaks nothing where there is room, at the first place that fits', () => {
    const moved = moveStep(problem, plan, 'Ada/b', second.id);
    expect(moved.breaks).toEqual([]);
    expect(moved.entry.pieces[0]?.beginMin).toBe(second.beginMin);
  });

  it('says what has to come after it and would come before', () => {
    const moved = moveStep(problem, plan, 'Ada/a', second.id);
    expect(moved.breaks.some((b) => b.startsWith('Ada/b begins at') && b.includes('for Ada/a'))).toBe(true);
  });

  it('says that a station is full, when no place in the session is free', () => {
    const moved = moveStep(
      problem,
      plan.filter((e) => e.activityId !== 'Ada/b'),
      'Ada/a',
      second.id,
    );
    expect(moved.breaks.join(' ')).toContain('saw is held 2 times');
  });

  it('says who is absent', () => {
    const away = {
      ...problem,
      learners: problem.learners.map((l) => (l.id === 'Ada' ? { ...l, awayWindowIds: [second.id] } : l)),
    };
    expect(moveStep(away, plan, 'Ada/b', second.id).breaks.join(' ')).toContain('which Ada misses');
  });

  it('says that the bell comes too soon', () => {
    const long = smallClass(['Ada'], [step('Ada/long', 'Ada', 500, { at: 'bench' })]);
    const moved = moveStep(long, [], 'Ada/long', second.id);
    expect(moved.breaks.join(' ')).toContain('outside its sessions');
  });

  it('leaves everything else where it was, and refuses a session that does not exist', () => {
    expect(moveStep(problem, plan, 'Ada/b', second.id).entry.activityId).toBe('Ada/b');
    expect(() => moveStep(problem, plan, 'Ada/b', 'no session')).toThrow(RangeError);
  });
});
