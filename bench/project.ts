import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { projectFaults } from '../src/schedule/project/check.ts';
import { readProject } from '../src/schedule/project/problem.ts';
import { solveProject } from '../src/schedule/project/solve.ts';

const folder = path.resolve(import.meta.dirname ?? '.', '../../shared/schedule');

interface Row {
  readonly set: string;
  readonly budget: { readonly schedules?: number; readonly seconds?: number };
  readonly targets?: readonly [must: number, aim: number, beyond: number];
}

/** The targets are those published beside the instance sets; % over the best makespan known. */
const rows: readonly Row[] = [
  { set: 'j30', budget: { schedules: 5_000 }, targets: [0.1, 0.06, 0.02] },
  { set: 'j30', budget: { schedules: 50_000 }, targets: [0.02, 0.01, 0] },
  { set: 'j60', budget: { schedules: 5_000 }, targets: [0.5, 0.4, 0.25] },
  { set: 'j60', budget: { schedules: 50_000 }, targets: [0.28, 0.2, 0.12] },
  { set: 'j120', budget: { schedules: 5_000 }, targets: [2.7, 2.2, 1.8] },
  { set: 'j120', budget: { schedules: 50_000 }, targets: [1.85, 1.3, 1.0] },
  { set: 'multiproject', budget: { seconds: 1 }, targets: [0.9, 0.5, 0.2] },
  { set: 'multiproject', budget: { seconds: 10 }, targets: [0.1, -0.1, -0.3] },
  { set: 'jobshop', budget: { seconds: 2 } },
];

interface Instance {
  readonly name: string;
  readonly best?: number;
  readonly ub?: number;
}

interface Reached {
  readonly overPct: number;
  readonly atBest: number;
  readonly faults: number;
  readonly boundPct: number;
}

function solveSet(instances: readonly Instance[], budget: Row['budget'], seed: number): Reached {
  let over = 0;
  let bound = 0;
  let atBest = 0;
  let faults = 0;
  for (const instance of instances) {
    const problem = readProject(instance);
    const begun = performance.now();
    const plan = solveProject(problem, {
      ...budget,
      seed,
      elapsedS: () => (performance.now() - begun) / 1000,
    });
    const best = instance.best ?? instance.ub ?? plan.makespan;
    over += (100 * (plan.makespan - best)) / best;
    bound += (100 * plan.lowerBound) / best;
    if (plan.makespan <= best) atBest++;
    if (projectFaults(problem, plan.starts, plan.makespan).length > 0 || plan.lowerBound > best) faults++;
  }
  const count = instances.length;
  return { overPct: over / count, atBest, faults, boundPct: bound / count };
}

/** Prints what the project solver reaches on the published instance sets beside the three columns of targets. */
export async function run(): Promise<void> {
  console.log('Projects: % over the best makespan known (mean over all instances and seeds)');
  console.log(
    'set            budget            reached    must     aim  beyond   at best   bound  broken   seconds',
  );
  for (const row of rows) {
    const file = path.join(folder, `${row.set}.json`);
    if (!existsSync(file)) {
      console.log(`${row.set}: not run, because the folder with the instances is not here.`);
      continue;
    }
    const { instances } = JSON.parse(readFileSync(file, 'utf8')) as { instances: Instance[] };
    const seeds = row.budget.schedules === undefined ? [1] : [1, 2, 3];
    const begun = performance.now();
    const all = seeds.map((seed) => solveSet(instances, row.budget, seed));
    const mean = (of: (r: Reached) => number): number => all.reduce((sum, r) => sum + of(r), 0) / all.length;
    const budget =
      row.budget.schedules === undefined ? `${row.budget.seconds} s` : `${row.budget.schedules} schedules`;
    const target = (i: 0 | 1 | 2): string =>
      (row.targets === undefined ? '-' : row.targets[i].toFixed(2)).padStart(8);
    console.log(
      `${row.set.padEnd(14)} ${budget.padEnd(16)} ${mean((r) => r.overPct)
        .toFixed(3)
        .padStart(8)}${target(0)}${target(1)}${target(2)}` +
        `  ${mean((r) => r.atBest).toFixed(0)}/${instances.length}`.padEnd(12) +
        `${mean((r) => r.boundPct).toFixed(1)} %  ${all.reduce((sum, r) => sum + r.faults, 0)}  ${((performance.now() - begun) / 1000).toFixed(0).padStart(10)}`,
    );
  }
  return Promise.resolve();
}
