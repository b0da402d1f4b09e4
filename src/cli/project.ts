import { InputError } from '../quantity/input-error.ts';
import { projectFaults } from '../schedule/project/check.ts';
import { readProject } from '../schedule/project/problem.ts';
import { solveProject } from '../schedule/project/solve.ts';
import { readText, say, sayJson } from './door.ts';

/** Options of `project`, already held against their limits. */
export interface ProjectOptions {
  readonly seconds?: number;
  readonly schedules?: number;
  readonly seed?: number;
  readonly json?: boolean;
}

/** Reads a JSON file. @throws InputError with one sentence */
export function readJson(file: string): unknown {
  try {
    return JSON.parse(readText(file)) as unknown;
  } catch (error) {
    if (error instanceof InputError) throw error;
    throw new InputError(
      'file-not-json',
      `${file} is not JSON (${(error as Error).message}); give a file in the project form.`,
    );
  }
}

/**
 * `project`: a short schedule for any resource-constrained project or job shop.
 *
 * @returns exit code 0
 * @throws InputError with one sentence
 */
export function projectCommand(file: string, options: ProjectOptions): number {
  const { schedules, seed = 1 } = options;
  const seconds = options.seconds ?? (schedules === undefined ? 10 : undefined);
  const problem = readProject(readJson(file));
  const begun = performance.now();
  const elapsedS = (): number => (performance.now() - begun) / 1000;
  const plan = solveProject(problem, {
    seed,
    elapsedS,
    ...(schedules === undefined ? {} : { schedules }),
    ...(seconds === undefined ? {} : { seconds }),
  });
  const took = elapsedS();
  const faults = projectFaults(problem, plan.starts, plan.makespan);
  if (faults.length > 0) throw new Error(`the schedule breaks the project: ${faults[0]}`);
  if (options.json)
    sayJson({
      starts: plan.starts,
      makespan: plan.makespan,
      lowerBound: plan.lowerBound,
      schedules: plan.schedules,
      seconds: Number(took.toFixed(3)),
    });
  else {
    say(
      `${problem.name}: ${plan.makespan} time units; no schedule can be under ${plan.lowerBound} (${plan.boundReason}).`,
    );
    say(`${plan.schedules} schedules in ${took.toFixed(2)} s.`);
    say(`Starts: ${plan.starts.join(' ')}`);
  }
  return 0;
}
