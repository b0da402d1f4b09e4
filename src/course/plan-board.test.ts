import { describe, expect, it } from 'vitest';
import type { ClassProblem, PlanEntry } from '../schedule/class/problem.ts';
import { smallClass, step } from '../schedule/class/small-class.fixture.ts';
import { boardChanges, boardOf, plainFault } from './plan-board.ts';

const problem: ClassProblem = smallClass(
  ['Ada', 'Ben'],
  [step('Ada/T1.1', 'Ada', 20, { at: 'saw' }), step('Ben/T1.1', 'Ben', 20, { at: 'saw' })],
);
const sessions = problem.windows.filter((w) => w.kind === 'session');
const at = (id: string, beginMin: number): PlanEntry => ({
  activityId: id,
  pieces: [{ beginMin, endMin: beginMin + 20 }],
  wayIndex: 0,
  attendantIds: ['teacher', undefined],
});
const begin = (n: number): number => sessions[n]?.beginMin ?? 0;

describe('the board of a plan', () => {
  it('puts each step into its session and says what the teacher pinned', () => {
    const plan = [at('Ben/T1.1', begin(1)), at('Ada/T1.1', begin(0))];
    const board = boardOf(problem, plan, new Map([['Ben/T1.1', 'e7']]), 1);
    expect(board.steps.map((s) => [s.id, s.session, s.pin])).toEqual([
      ['Ada/T1.1', 1, undefined],
      ['Ben/T1.1', 2, 'e7'],
    ]);
    expect(board.sessions.map((s) => s.isExtra).slice(0, 2)).toEqual([false, true]);
    expect(board.steps[0]?.people).toEqual(['teacher']);
    const hours = problem.windows.filter((w) => w.kind === 'preparation').map((w) => w.id);
    const named = board.sessions.flatMap((s) => s.preparationId ?? []);
    expect(named.every((id) => hours.includes(id))).toBe(true);
    expect(named.length > 0).toBe(hours.length > 0);
  });

  it('names what lies in another session than before, and what was not planned', () => {
    const one = boardOf(problem, [at('Ada/T1.1', begin(0))], new Map(), 2);
    const two = boardOf(problem, [at('Ada/T1.1', begin(1)), at('Ben/T1.1', begin(0))], new Map(), 2);
    expect(boardChanges(one, two).map((c) => [c.id, c.from, c.to])).toEqual([
      ['Ben/T1.1', undefined, 1],
      ['Ada/T1.1', 1, 2],
    ]);
    expect(boardChanges(one, one)).toEqual([]);
  });
});

describe('plainFault', () => {
  it('says steps, people, stations and times as they are called', () => {
    const names = {
      step: (id: string) => `the step of ${id.split('/')[0]}`,
      thing: (id: string) => `the ${id}`,
      time: (minute: number) => `time ${minute % 1000}`,
    };
    expect(
      plainFault('Ada/T1.1 begins at 29832342, it has to wait until 29832400 for Ben/T1.1.', problem, names),
    ).toBe('the step of Ada begins at time 342, it has to wait until time 400 for the step of Ben.');
    expect(
      plainFault('At minute 29832342 saw is held 2 times, there are 1 (Ada/T1.1, Ben/T1.1).', problem, names),
    ).toBe('At time 342 the saw is held 2 times, there are 1 (the step of Ada, the step of Ben).');
    const bench = {
      ...problem,
      resources: [
        { id: 'bench', name: 'own bench', kind: 'station', capacity: 9 },
        { id: 'glue-bench', name: 'glue bench', kind: 'station', capacity: 1 },
      ] as const,
    };
    // a name that stands there already is not taken for the id in it
    expect(plainFault('one more glue bench, and bench', bench, names)).toBe(
      'one more glue bench, and the bench',
    );
  });
});
