// Judges a schedule from the problem alone. It shares no code with the solver.

/** What the checker reads; the same form as the problem file. */
export interface CheckedProject {
  readonly durations: readonly number[];
  readonly successors: readonly (readonly number[])[];
  readonly demands: readonly (readonly number[])[];
  readonly capacities: readonly number[];
}

/**
 * Every way in which a list of starts breaks a project.
 *
 * @param project   the project
 * @param starts    one start per activity
 * @param makespan  the length the schedule claims
 * @returns         one sentence per fault; empty when the schedule holds
 * @source          arithmetic
 */
export function projectFaults(
  project: CheckedProject,
  starts: readonly number[],
  makespan: number,
): string[] {
  const faults: string[] = [];
  const count = project.durations.length;
  if (starts.length !== count) return [`${starts.length} starts are given for ${count} activities.`];
  let last = 0;
  starts.forEach((start, i) => {
    if (!Number.isInteger(start) || start < 0)
      faults.push(`Activity ${i} starts at ${start}, not at a whole time from 0 on.`);
    last = Math.max(last, start + project.durations[i]!);
    for (const s of project.successors[i]!)
      if (starts[s]! < start + project.durations[i]!)
        faults.push(
          `Activity ${s} starts at ${starts[s]} before activity ${i} is done at ${start + project.durations[i]!}.`,
        );
  });
  if (last !== makespan) faults.push(`The schedule ends at ${last}, not at ${makespan} as it says.`);
  project.capacities.forEach((capacity, k) => {
    faults.push(...overfull(project, starts, k, capacity));
  });
  return faults;
}

/** Usage can only rise where an activity starts, so it is enough to add up there. */
function overfull(project: CheckedProject, starts: readonly number[], k: number, capacity: number): string[] {
  const faults: string[] = [];
  const users = starts
    .map((_, i) => i)
    .filter((i) => project.demands[i]![k]! > 0 && project.durations[i]! > 0);
  for (const moment of new Set(users.map((i) => starts[i]!))) {
    const running = users.filter((i) => starts[i]! <= moment && moment < starts[i]! + project.durations[i]!);
    const used = running.reduce((sum, i) => sum + project.demands[i]![k]!, 0);
    if (used > capacity)
      faults.push(
        `At ${moment} resource ${k} is held ${used} times, there are ${capacity} (activities ${running.join(', ')}).`,
      );
  }
  return faults;
}
