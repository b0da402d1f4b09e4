import { InputError } from '../../quantity/input-error.ts';

/** A project: activities with whole durations, what follows what, and renewable resources. */
export interface ProjectProblem {
  readonly name: string;
  /** One whole duration per activity, in the project's own time unit. */
  readonly durations: readonly number[];
  /** Per activity the activities that may begin only when it is done. */
  readonly successors: readonly (readonly number[])[];
  /** Per activity and resource the units held while it runs. */
  readonly demands: readonly (readonly number[])[];
  /** Per resource the units there are. */
  readonly capacities: readonly number[];
}

/** Longest project the time profile is kept for, in time units after common factors are taken out. */
export const mostTimeUnits = 20_000_000;

/**
 * Reads a project (or a job shop: `ops` as `[machine, duration]` per job) from plain data and checks it.
 *
 * @param data  parsed JSON in the project form
 * @returns     the project
 * @throws InputError  one sentence: what is wrong, the value got, the limit, the remedy
 * @source      arithmetic
 */
export function readProject(data: unknown): ProjectProblem {
  if (typeof data !== 'object' || data === null || Array.isArray(data))
    throw new InputError(
      'project-form',
      `A project must be an object with durations, successors, demands and capacities; got ${describe(data)}.`,
    );
  const form = data as Record<string, unknown>;
  const project = 'ops' in form ? fromJobShop(form) : fromProjectForm(form);
  checkOrder(project);
  checkHorizon(project);
  return project;
}

function describe(value: unknown): string {
  if (Array.isArray(value)) return `a list of ${value.length}`;
  return value === null ? 'null' : typeof value === 'object' ? 'an object' : JSON.stringify(value);
}

function list(form: Record<string, unknown>, member: string): readonly unknown[] {
  const value = form[member];
  if (!Array.isArray(value))
    throw new InputError(
      'project-form',
      `${member} must be a list, got ${describe(value)}; give one entry per activity.`,
      member,
    );
  return value;
}

function whole(value: unknown, what: string, member: string): number {
  if (typeof value !== 'number' || !Number.isInteger(value) || value < 0 || value > 2_000_000_000)
    throw new InputError(
      'project-number',
      `${what} is ${describe(value)}; it must be a whole number from 0 to 2,000,000,000: correct it.`,
      member,
    );
  return value;
}

function sameLength(got: number, wanted: number, member: string, per: string): void {
  if (got !== wanted)
    throw new InputError(
      'project-length',
      `${member} has ${got} entries but there are ${wanted} ${per}; give exactly one for each.`,
      member,
    );
}

function fromProjectForm(form: Record<string, unknown>): ProjectProblem {
  const durations = list(form, 'durations').map((d, i) =>
    whole(d, `The duration of activity ${i}`, `durations[${i}]`),
  );
  if (durations.length === 0)
    throw new InputError(
      'project-empty',
      'The project has no activity; give at least one duration.',
      'durations',
    );
  const capacities = list(form, 'capacities').map((c, k) =>
    whole(c, `The capacity of resource ${k}`, `capacities[${k}]`),
  );
  const successorLists = list(form, 'successors');
  const demandLists = list(form, 'demands');
  sameLength(successorLists.length, durations.length, 'successors', 'activities');
  sameLength(demandLists.length, durations.length, 'demands', 'activities');
  return {
    name: typeof form['name'] === 'string' ? form['name'] : 'project',
    durations,
    capacities,
    successors: successorLists.map((row, i) => readSuccessors(row, i, durations.length)),
    demands: demandLists.map((row, i) => readDemands(row, i, durations[i]!, capacities)),
  };
}

function readSuccessors(row: unknown, i: number, count: number): number[] {
  if (!Array.isArray(row))
    throw new InputError(
      'project-form',
      `The successors of activity ${i} must be a list, got ${describe(row)}.`,
      `successors[${i}]`,
    );
  for (const s of row)
    if (!Number.isInteger(s) || s < 0 || s >= count)
      throw new InputError(
        'project-successor',
        `Activity ${i} names successor ${describe(s)}, but activities run from 0 to ${count - 1}; take it out or correct it.`,
        `successors[${i}]`,
      );
  return [...new Set(row as number[])];
}

function readDemands(row: unknown, i: number, duration: number, capacities: readonly number[]): number[] {
  if (!Array.isArray(row))
    throw new InputError(
      'project-form',
      `The demands of activity ${i} must be a list, got ${describe(row)}.`,
      `demands[${i}]`,
    );
  sameLength(row.length, capacities.length, `demands[${i}]`, 'resources');
  return row.map((value, k) => {
    const demand = whole(value, `The demand of activity ${i} for resource ${k}`, `demands[${i}][${k}]`);
    if (duration > 0 && demand > capacities[k]!)
      throw new InputError(
        'project-demand',
        `Activity ${i} asks ${demand} of resource ${k}, which has only ${capacities[k]}; lower the demand or raise the capacity.`,
        `demands[${i}][${k}]`,
      );
    return demand;
  });
}

function fromJobShop(form: Record<string, unknown>): ProjectProblem {
  const jobs = list(form, 'ops');
  const steps = jobs.map((job, j) => {
    if (!Array.isArray(job))
      throw new InputError(
        'project-form',
        `Job ${j} must be a list of [machine, duration] pairs, got ${describe(job)}.`,
        `ops[${j}]`,
      );
    return job.map((step, s) => readStep(step, j, s));
  });
  if (steps.flat().length === 0)
    throw new InputError(
      'project-empty',
      'The job shop has no step; give at least one [machine, duration] pair.',
      'ops',
    );
  const machineCount = Math.max(...steps.flat().map((step) => step.machine)) + 1;
  const durations: number[] = [];
  const successors: number[][] = [];
  const demands: number[][] = [];
  for (const job of steps)
    job.forEach((step, s) => {
      const row = new Array<number>(machineCount).fill(0);
      row[step.machine] = 1;
      demands.push(row);
      durations.push(step.duration);
      successors.push(s + 1 < job.length ? [durations.length] : []);
    });
  const name = typeof form['name'] === 'string' ? form['name'] : 'job shop';
  return { name, durations, successors, demands, capacities: new Array<number>(machineCount).fill(1) };
}

function readStep(step: unknown, j: number, s: number): { machine: number; duration: number } {
  if (!Array.isArray(step) || step.length !== 2)
    throw new InputError(
      'project-form',
      `Step ${s} of job ${j} must be a [machine, duration] pair, got ${describe(step)}.`,
      `ops[${j}][${s}]`,
    );
  const machine = whole(step[0], `The machine of step ${s} of job ${j}`, `ops[${j}][${s}]`);
  if (machine > 9999)
    throw new InputError(
      'project-number',
      `The machine of step ${s} of job ${j} is ${machine}; number machines from 0 to at most 9999.`,
      `ops[${j}][${s}]`,
    );
  return { machine, duration: whole(step[1], `The duration of step ${s} of job ${j}`, `ops[${j}][${s}]`) };
}

function checkOrder(project: ProjectProblem): void {
  const cycle = findCycle(project.successors);
  if (cycle !== undefined)
    throw new InputError(
      'project-cycle',
      `These activities wait for each other in a circle: ${[...cycle, cycle[0]!].join(' -> ')}; take one of the arrows out.`,
      'successors',
    );
}

/**
 * Finds one cycle in a directed graph.
 *
 * @param successors  per node its followers
 * @returns           the members of a cycle in order, or undefined when there is none
 * @source            arithmetic
 */
export function findCycle(successors: readonly (readonly number[])[]): number[] | undefined {
  const state = new Uint8Array(successors.length);
  const nextIndex = new Int32Array(successors.length);
  for (let root = 0; root < successors.length; root++) {
    if (state[root] !== 0) continue;
    const path = [root];
    state[root] = 1;
    while (path.length > 0) {
      const node = path[path.length - 1]!;
      const follower = successors[node]![nextIndex[node]!++];
      if (follower === undefined) {
        state[node] = 2;
        path.pop();
      } else if (state[follower] === 1) return path.slice(path.indexOf(follower));
      else if (state[follower] === 0) {
        state[follower] = 1;
        path.push(follower);
      }
    }
  }
  return undefined;
}

function checkHorizon(project: ProjectProblem): void {
  const total = project.durations.reduce((sum, d) => sum + d, 0) / commonFactor(project.durations);
  if (total > mostTimeUnits)
    throw new InputError(
      'project-horizon',
      `The durations add up to ${total} time units, the limit is ${mostTimeUnits}; use a coarser time unit.`,
      'durations',
    );
}

/**
 * Greatest common factor of the durations that are not zero (1 when all are zero).
 *
 * @param durations  whole numbers >= 0
 * @returns          the factor, >= 1
 * @source           arithmetic
 */
export function commonFactor(durations: readonly number[]): number {
  let factor = 0;
  for (const duration of durations) {
    let a = factor;
    let b = duration;
    while (b > 0) [a, b] = [b, a % b];
    factor = a;
  }
  return factor === 0 ? 1 : factor;
}
