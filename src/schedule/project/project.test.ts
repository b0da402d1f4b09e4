import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../../test/support/expect-close.ts';
import { projectBound } from './bounds.ts';
import { projectFaults } from './check.ts';
import { compileProject } from './compile.ts';
import { machinesOf } from './one-machine-search.ts';
import { type ProjectProblem, readProject } from './problem.ts';
import { solveProject } from './solve.ts';

// Fisher and Thompson 1963, the 6 x 6 job shop: [machine, duration] in order, optimum 55
const ft06 = {
  name: 'ft06',
  ops: [
    [
      [2, 1],
      [0, 3],
      [1, 6],
      [3, 7],
      [5, 3],
      [4, 6],
    ],
    [
      [1, 8],
      [2, 5],
      [4, 10],
      [5, 10],
      [0, 10],
      [3, 4],
    ],
    [
      [2, 5],
      [3, 4],
      [5, 8],
      [0, 9],
      [1, 1],
      [4, 7],
    ],
    [
      [1, 5],
      [0, 5],
      [2, 5],
      [3, 3],
      [4, 8],
      [5, 9],
    ],
    [
      [2, 9],
      [1, 3],
      [4, 5],
      [5, 4],
      [0, 3],
      [3, 1],
    ],
    [
      [1, 3],
      [3, 3],
      [5, 9],
      [0, 10],
      [4, 4],
      [2, 1],
    ],
  ],
};

/**
 * Two resources. 0 takes all of A for 3; 1, 2, 3 take one of the two A for 4, 4, 2; 4 takes B for 5 and follows 0;
 * 5 takes B for 3 and follows 1. A has 2 units: work 3*2 + 4 + 4 + 2 = 16, so A alone needs 8. After 0 (done at 3
 * at the earliest) come 5 of B; B also holds 5 for 3, which follows 1 (4). If 0 runs first: 1 ends at 7 at the
 * earliest, 5 at 10. If 1 (with 2) runs first: 0 ends at 7 at the earliest, 4 at 12. So 10 is the least, and
 * 0: 0, 1: 3, 2: 3, 3: 7, 4: 3..8 on B, 5: 8..11 would be 11; B must hold 4 (5 long, not before 3) and 5 (3 long, not
 * before 7 when 0 is first): 4 at 3..8, then 5 at 8..11. With 5 before 4: 5 ends at 10 and 4 at 15. So 11 is the least.
 */
const small = {
  name: 'small',
  durations: [3, 4, 4, 2, 5, 3],
  successors: [[4], [5], [], [], [], []],
  demands: [
    [2, 0],
    [1, 0],
    [1, 0],
    [1, 0],
    [0, 1],
    [0, 1],
  ],
  capacities: [2, 1],
};

/** The shortest of all serial schedules, one for each order: it contains an optimum. Decoded unit by unit, apart from the solver. */
function exhaustive(problem: ProjectProblem): number {
  const count = problem.durations.length;
  const horizon = problem.durations.reduce((a, b) => a + b, 0);
  let best = horizon;
  const place = (done: number[], starts: number[]): void => {
    if (done.length === count) {
      best = Math.min(best, Math.max(...starts.map((s, i) => s + problem.durations[i]!)));
      return;
    }
    for (let j = 0; j < count; j++) {
      if (done.includes(j)) continue;
      const forerunners = [...Array(count).keys()].filter((i) => problem.successors[i]!.includes(j));
      if (forerunners.some((i) => !done.includes(i))) continue;
      let start = Math.max(0, ...forerunners.map((i) => starts[i]! + problem.durations[i]!));
      const fits = (at: number): boolean =>
        problem.capacities.every((capacity, k) => {
          for (let t = at; t < at + problem.durations[j]!; t++) {
            const used = done.reduce(
              (sum, i) =>
                sum +
                (starts[i]! <= t && t < starts[i]! + problem.durations[i]! ? problem.demands[i]![k]! : 0),
              problem.demands[j]![k]!,
            );
            if (used > capacity) return false;
          }
          return true;
        });
      while (!fits(start)) start++;
      const next = starts.slice();
      next[j] = start;
      place([...done, j], next);
    }
  };
  place([], new Array<number>(count).fill(0));
  return best;
}

const smallProject = fc
  .record({
    durations: fc.array(fc.integer({ min: 0, max: 5 }), { minLength: 2, maxLength: 6 }),
    capacities: fc.tuple(fc.integer({ min: 2, max: 4 }), fc.integer({ min: 300, max: 400 })),
    chance: fc.integer({ min: 0, max: 1_000_000 }),
  })
  .map(({ durations, capacities, chance }): ProjectProblem => {
    let state = chance;
    const next = (below: number): number => {
      state = (state * 1103515245 + 12345) % 2147483648;
      return Math.floor((state / 2147483648) * below);
    };
    return {
      name: 'drawn',
      durations,
      capacities,
      successors: durations.map((_, i) => durations.map((__, j) => j).filter((j) => j > i && next(4) === 0)),
      demands: durations.map(() => [next(capacities[0] + 1), next(capacities[1] + 1)]),
    };
  });

const solve = (problem: ProjectProblem, schedules = 300): ReturnType<typeof solveProject> =>
  solveProject(problem, { schedules });
const boundOf = (problem: ProjectProblem): number => projectBound(problem, compileProject(problem)).makespan;

describe('known optima', () => {
  it('reaches 55 on the 6 x 6 job shop of Fisher and Thompson', () => {
    const problem = readProject(ft06);
    const plan = solve(problem, 20_000);
    expect(projectFaults(problem, plan.starts, plan.makespan)).toEqual([]);
    expectClose(plan.makespan, 55, { tol: 0.1, source: 'fisher-thompson-1963' });
    expect(plan.lowerBound).toBeLessThanOrEqual(55);
  });

  it('reaches the optimum argued in the comment', () => {
    expectClose(solve(readProject(small)).makespan, 11, { tol: 0.1, source: 'argued at the instance' });
    expectClose(exhaustive(readProject(small)), 11, { tol: 0.1, source: 'argued at the instance' });
  });

  it('reaches the best of all orders on drawn projects, and its bound never passes it (seed 11)', () => {
    fc.assert(
      fc.property(smallProject, (problem) => {
        const optimum = exhaustive(problem);
        const plan = solve(problem);
        expect(projectFaults(problem, plan.starts, plan.makespan)).toEqual([]);
        expect(plan.lowerBound).toBeLessThanOrEqual(optimum);
        expect(plan.makespan).toBe(optimum);
      }),
      { seed: 11, numRuns: 120 },
    );
  });
});

describe('what must not change the bound or the optimum (seed 12)', () => {
  const bounds = (
    change: (p: ProjectProblem) => ProjectProblem,
    judge: (before: number, after: number) => boolean,
  ): void => {
    fc.assert(
      fc.property(smallProject, (problem) => {
        expect(judge(boundOf(problem), boundOf(change(problem)))).toBe(true);
        expect(judge(exhaustive(problem), solve(change(problem)).makespan)).toBe(true);
      }),
      { seed: 12, numRuns: 60 },
    );
  };

  it('more resources never cost', () => {
    bounds(
      (p) => ({ ...p, capacities: p.capacities.map((c) => c + 1) }),
      (before, after) => after <= before,
    );
  });

  it('an added activity never shortens', () => {
    bounds(
      (p) => ({
        ...p,
        durations: [...p.durations, 2],
        successors: [...p.successors, []],
        demands: [...p.demands, [1, 1]],
      }),
      (before, after) => after >= before,
    );
  });

  it('times three makes everything three times as long', () => {
    bounds(
      (p) => ({ ...p, durations: p.durations.map((d) => d * 3) }),
      (before, after) => after === 3 * before,
    );
  });

  it('turning time round keeps the optimum', () => {
    bounds(
      (p) => ({
        ...p,
        successors: p.durations.map((_, j) =>
          p.durations.map((__, i) => i).filter((i) => p.successors[i]!.includes(j)),
        ),
      }),
      (before, after) => after === before,
    );
  });

  it('relabelling keeps the optimum', () => {
    const last = (p: ProjectProblem): number => p.durations.length - 1;
    bounds(
      (p) => ({
        ...p,
        durations: p.durations.toReversed(),
        demands: p.demands.toReversed(),
        successors: p.successors.map((row) => row.map((s) => last(p) - s)).toReversed(),
      }),
      (before, after) => after === before,
    );
  });
});

describe('job shops', () => {
  it('are found where every activity holds one whole machine', () => {
    expect([
      ...machinesOf(
        readProject({
          ops: [
            [
              [1, 2],
              [0, 3],
            ],
          ],
        }),
      )!,
    ]).toEqual([1, 0]);
    // two units asked of three: no two of them can run together, so it is one machine; one of three is not
    const of = (demand: number): ProjectProblem => ({
      ...small,
      demands: small.demands.map(() => [demand, 0]),
      capacities: [3, 1],
    });
    expect(machinesOf(of(2))).toBeDefined();
    expect(machinesOf(of(1))).toBeUndefined();
  });

  it('reach the best of all orders on drawn shops, with sound schedules (seed 13)', () => {
    const shop = fc
      .array(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 2 }), fc.integer({ min: 1, max: 6 })), {
          minLength: 1,
          maxLength: 3,
        }),
        { minLength: 2, maxLength: 2 },
      )
      .map((ops) => readProject({ ops }));
    fc.assert(
      fc.property(shop, (problem) => {
        const plan = solve(problem, 400);
        expect(projectFaults(problem, plan.starts, plan.makespan)).toEqual([]);
        expect(plan.makespan).toBe(exhaustive(problem));
      }),
      { seed: 13, numRuns: 80 },
    );
  });
});

describe('search', () => {
  it('gives the same schedule for the same seed and budget, told or not told of progress', () => {
    const problem = readProject(ft06);
    const told: number[] = [];
    const a = solveProject(problem, { schedules: 900, seed: 5, onProgress: (p) => told.push(p.makespan) });
    const b = solveProject(problem, { schedules: 900, seed: 5 });
    expect(a).toEqual(b);
    expect(told.length).toBeGreaterThan(0);
    expect(told).toEqual(told.toSorted((x, y) => y - x));
    expect(told.at(-1)).toBe(a.makespan);
  });

  it('never generates more schedules than allowed', () => {
    for (const schedules of [1, 2, 7, 333])
      expect(solve(readProject(ft06), schedules).schedules).toBeLessThanOrEqual(schedules);
  });

  it('stops when cancelled and still gives a sound schedule', () => {
    const problem = readProject(ft06);
    let asked = 0;
    const plan = solveProject(problem, { schedules: 1_000_000, isCancelled: () => ++asked > 40 });
    expect(plan.isCancelled).toBe(true);
    expect(plan.schedules).toBeLessThan(80);
    expect(projectFaults(problem, plan.starts, plan.makespan)).toEqual([]);
  });

  it('keeps to seconds told by the caller', () => {
    let now = 0;
    const plan = solveProject(readProject(ft06), { seconds: 1, elapsedS: () => (now += 0.001) });
    expect(plan.schedules).toBeGreaterThan(10);
    expect(plan.schedules).toBeLessThan(1100);
  });

  it('asks for a budget', () => {
    expect(() => solveProject(readProject(small), {})).toThrow('give schedules, or seconds');
  });
});

describe('the checker', () => {
  const good = [0, 3, 3, 7, 3, 8];
  const faultsOf = (starts: number[], makespan = 11): string[] => projectFaults(small, starts, makespan);

  it('finds nothing wrong with a sound schedule', () => {
    expect(faultsOf(good)).toEqual([]);
  });

  it.each([
    [
      'a follower too early',
      [0, 3, 3, 7, 2, 8],
      11,
      'Activity 4 starts at 2 before activity 0 is done at 3.',
    ],
    [
      'too much of a resource',
      [0, 2, 3, 7, 3, 8],
      11,
      'At 2 resource 0 is held 3 times, there are 2 (activities 0, 1).',
    ],
    ['a wrong length', good, 10, 'The schedule ends at 11, not at 10 as it says.'],
    [
      'a start before the beginning',
      [-1, 3, 3, 7, 3, 8],
      11,
      'Activity 0 starts at -1, not at a whole time from 0 on.',
    ],
    ['a broken start', [0.5, 4, 4, 8, 4, 9], 12, 'Activity 0 starts at 0.5, not at a whole time from 0 on.'],
    ['a missing start', [0, 3], 11, '2 starts are given for 6 activities.'],
  ])('finds %s', (_, starts, makespan, sentence) => {
    expect(faultsOf(starts, makespan)).toContain(sentence);
  });
});

describe('bad projects', () => {
  const change =
    (parts: object): (() => unknown) =>
    () =>
      readProject({ ...small, ...parts });

  it.each([
    [
      'a circle',
      { successors: [[4], [5], [], [], [1], [4]] },
      'wait for each other in a circle: 4 -> 1 -> 5 -> 4',
    ],
    [
      'an unknown follower',
      { successors: [[9], [], [], [], [], []] },
      'Activity 0 names successor 9, but activities run from 0 to 5',
    ],
    ['a negative duration', { durations: [3, -4, 4, 2, 5, 3] }, 'The duration of activity 1 is -4'],
    [
      'a duration that is no number',
      { durations: [3, 'x', 4, 2, 5, 3] },
      'The duration of activity 1 is "x"',
    ],
    [
      'a demand over the capacity',
      { capacities: [1, 1] },
      'Activity 0 asks 2 of resource 0, which has only 1',
    ],
    ['a missing row', { demands: [[1, 1]] }, 'demands has 1 entries but there are 6 activities'],
    ['no activity', { durations: [] }, 'The project has no activity'],
    [
      'an endless project',
      { durations: [2e9, 1, 4, 2, 5, 3] },
      'The durations add up to 2000000015 time units',
    ],
  ])('%s is one sentence', (_, parts, sentence) => {
    expect(change(parts)).toThrow(sentence);
  });

  it('a project that is no object, and a job shop with a broken step', () => {
    expect(() => readProject([1])).toThrow('A project must be an object with durations');
    expect(() => readProject({ ops: [[[0, 1], [1]]] })).toThrow(
      'Step 1 of job 0 must be a [machine, duration] pair',
    );
    expect(() => readProject({ ops: [] })).toThrow('The job shop has no step');
  });

  it('names a circle in the order of its arrows', () => {
    expect(() => readProject({ ...small, successors: [[1], [2], [0], [], [], []] })).toThrow(
      '0 -> 1 -> 2 -> 0',
    );
  });
});
