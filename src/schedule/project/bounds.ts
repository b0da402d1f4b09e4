import type { CompiledProject } from './compile.ts';
import type { ProjectProblem } from './problem.ts';
import { type LongestWays, longestWays } from './rules.ts';

/** A length no schedule can beat, and which argument says so. */
export interface ProjectBound {
  /** In the project's own time unit. */
  readonly makespan: number;
  readonly reason: 'critical path' | 'resource work' | 'heads and tails' | 'pairs' | 'time windows';
}

/** Above this many activities the time-window argument is left out: it costs about the cube of their number. */
const mostForWindows = 160;

/**
 * Lower bound on the makespan: critical path, work over capacity, work between heads and tails, chains of
 * activities that exclude each other, and a date refuted by the work that must lie in a window.
 *
 * @param problem  a checked project
 * @param project  the same project, compiled
 * @returns        the best bound and its argument
 * @source         from memory
 */
export function projectBound(problem: ProjectProblem, project: CompiledProject): ProjectBound {
  const ways = longestWays(project);
  let bound: ProjectBound = { makespan: ways.criticalPath, reason: 'critical path' };
  const better = (makespan: number, reason: ProjectBound['reason']): void => {
    if (makespan > bound.makespan) bound = { makespan, reason };
  };
  for (let k = 0; k < problem.capacities.length; k++) {
    better(plainWork(problem, project, k), 'resource work');
    better(workBetween(problem, project, ways, k), 'heads and tails');
  }
  if (project.count <= mostForWindows) {
    better(excludingPairs(problem, project, ways), 'pairs');
    let date = bound.makespan;
    while (date < bound.makespan + 50 && isRefuted(problem, project, ways, date)) date++;
    better(date, 'time windows');
  }
  return { makespan: bound.makespan * project.unit, reason: bound.reason };
}

function plainWork(problem: ProjectProblem, project: CompiledProject, k: number): number {
  let work = 0;
  for (let j = 0; j < project.count; j++) work += project.durations[j]! * problem.demands[j]![k]!;
  return problem.capacities[k] === 0 ? 0 : Math.ceil(work / problem.capacities[k]!);
}

/** Activities with head >= h and tail >= t: h + work / capacity + t, over every pair of thresholds. */
function workBetween(
  problem: ProjectProblem,
  project: CompiledProject,
  ways: LongestWays,
  k: number,
): number {
  const capacity = problem.capacities[k]!;
  const users: number[] = [];
  for (let j = 0; j < project.count; j++)
    if (project.durations[j]! > 0 && problem.demands[j]![k]! > 0) users.push(j);
  const byTail = users.slice().sort((a, b) => ways.tails[b]! - ways.tails[a]!);
  const heads = [...new Set(users.map((j) => ways.heads[j]!))];
  let best = 0;
  for (const head of heads) {
    let work = 0;
    for (const j of byTail) {
      if (ways.heads[j]! < head) continue;
      work += project.durations[j]! * problem.demands[j]![k]!;
      best = Math.max(best, head + Math.ceil(work / capacity) + ways.tails[j]!);
    }
  }
  return best;
}

/** Grows chains of activities of which no two can run together, and adds the least head and tail. */
function excludingPairs(problem: ProjectProblem, project: CompiledProject, ways: LongestWays): number {
  const excluded = exclusions(problem, project);
  let best = 0;
  for (let seed = 0; seed < project.count; seed++) {
    if (project.durations[seed] === 0) continue;
    const chain = [seed];
    const candidates = [...Array(project.count).keys()].filter((j) => excluded[seed]![j] === 1);
    candidates.sort((a, b) => project.durations[b]! - project.durations[a]!);
    for (const j of candidates) if (chain.every((i) => excluded[i]![j] === 1)) chain.push(j);
    const work = chain.reduce((sum, j) => sum + project.durations[j]!, 0);
    best = Math.max(
      best,
      work + Math.min(...chain.map((j) => ways.heads[j]!)) + Math.min(...chain.map((j) => ways.tails[j]!)),
    );
  }
  return best;
}

function exclusions(problem: ProjectProblem, project: CompiledProject): Uint8Array[] {
  const { count } = project;
  const rows = Array.from({ length: count }, () => new Uint8Array(count));
  const behind = Array.from({ length: count }, () => new Uint8Array(count));
  for (let at = count - 1; at >= 0; at--) {
    const i = project.order[at]!;
    for (const s of problem.successors[i]!) {
      behind[i]![s] = 1;
      for (let j = 0; j < count; j++) if (behind[s]![j] === 1) behind[i]![j] = 1;
    }
  }
  for (let i = 0; i < count; i++)
    for (let j = 0; j < count; j++) {
      if (i === j || project.durations[i] === 0 || project.durations[j] === 0) continue;
      const clash = problem.capacities.some(
        (capacity, k) => problem.demands[i]![k]! + problem.demands[j]![k]! > capacity,
      );
      if (clash || behind[i]![j] === 1 || behind[j]![i] === 1) rows[i]![j] = 1;
    }
  return rows;
}

/** Whether, with everything done by `date`, some window must hold more work than the resource can do in it. */
function isRefuted(
  problem: ProjectProblem,
  project: CompiledProject,
  ways: LongestWays,
  date: number,
): boolean {
  const { count, durations } = project;
  const begins = [...new Set(Array.from(ways.heads))].sort((a, b) => a - b);
  const ends = [...new Set(Array.from(ways.tails, (tail) => date - tail))].sort((a, b) => a - b);
  for (let k = 0; k < problem.capacities.length; k++) {
    const capacity = problem.capacities[k]!;
    for (const begin of begins)
      for (const end of ends) {
        if (end <= begin) continue;
        let work = 0;
        for (let j = 0; j < count; j++) {
          const demand = problem.demands[j]![k]!;
          if (demand === 0 || durations[j] === 0) continue;
          // least time inside the window whether pushed to the left or to the right
          const left = ways.heads[j]! + durations[j]! - begin;
          const right = end - (date - ways.tails[j]! - durations[j]!);
          const inside = Math.min(left, right, durations[j]!, end - begin);
          if (inside > 0) work += inside * demand;
        }
        if (work > capacity * (end - begin)) return true;
      }
  }
  return false;
}
