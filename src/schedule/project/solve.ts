import { makeRandom } from '../../numeric/random.ts';
import { type ProjectBound, projectBound } from './bounds.ts';
import { type CompiledProject, compileProject } from './compile.ts';
import { copySide, type Decoder, makeDecoder, makeSide, type Seen, type Side } from './decoder.ts';
import { firstPopulation, makeBreeder } from './genetic.ts';
import { machinesOf, makeOneMachineSearch } from './one-machine-search.ts';
import type { ProjectProblem } from './problem.ts';
import { makeRebuilder } from './rebuild.ts';
import { longestWays } from './rules.ts';

/** How long to search and whom to tell. At least one of `schedules` and `seconds` with `elapsedS` is given. */
export interface ProjectSearch {
  readonly seed?: number;
  /** Schedules to generate at most; every pass forward or backward counts as one. */
  readonly schedules?: number;
  /** Seconds to search at most, as told by `elapsedS`. */
  readonly seconds?: number;
  /** Seconds since the search began; the core has no clock of its own. */
  readonly elapsedS?: () => number;
  readonly onProgress?: (progress: ProjectProgress) => void;
  readonly isCancelled?: () => boolean;
}

/** What is known so far. */
export interface ProjectProgress {
  readonly makespan: number;
  readonly lowerBound: number;
  readonly schedules: number;
}

/** The best schedule found. */
export interface ProjectPlan extends ProjectProgress {
  readonly starts: readonly number[];
  readonly boundReason: ProjectBound['reason'];
  readonly isCancelled: boolean;
}

/**
 * Searches a short schedule for a project: sampled first population, then breeding between schedules made from
 * the beginning and from the end, then rebuilding parts of the order of the best ones.
 *
 * @param problem  a project checked by `readProject`
 * @param search   budget, seed, progress and cancel
 * @returns        the best schedule found, with a bound that no schedule can beat
 * @throws RangeError  when no budget is given
 * @source         from memory
 */
export function solveProject(problem: ProjectProblem, search: ProjectSearch): ProjectPlan {
  if (search.schedules === undefined && (search.seconds === undefined || search.elapsedS === undefined))
    throw new RangeError('solveProject: give schedules, or seconds together with elapsedS');
  const project = compileProject(problem);
  const bound = projectBound(problem, project);
  const decoder = makeDecoder(project);
  const watch = makeWatch(project, decoder, bound.makespan / project.unit, search);
  runSearch(project, decoder, watch, search, machinesOf(problem));
  return {
    starts: watch.startsFromBeginning().map((s) => s * project.unit),
    makespan: watch.best.makespan * project.unit,
    lowerBound: bound.makespan,
    boundReason: bound.reason,
    schedules: decoder.profile.schedules,
    isCancelled: watch.isCancelled(),
  };
}

interface Watch {
  readonly best: Side;
  readonly seen: Seen;
  isDone(): boolean;
  isCancelled(): boolean;
  /** Share of the budget that is used, 0..1. */
  usedFrac(): number;
  /** Schedules the whole budget is likely to hold. */
  expected(): number;
  startsFromBeginning(): number[];
}

function makeWatch(project: CompiledProject, decoder: Decoder, floor: number, search: ProjectSearch): Watch {
  const best = makeSide(project.count);
  best.makespan = Number.MAX_SAFE_INTEGER;
  let isBestForward = true;
  let cancelled = false;
  const elapsed = (): number => search.elapsedS?.() ?? 0;
  const usedFrac = (): number =>
    Math.max(
      search.schedules === undefined ? 0 : decoder.profile.schedules / search.schedules,
      search.seconds === undefined || search.elapsedS === undefined ? 0 : elapsed() / search.seconds,
    );
  const isDone = (): boolean => {
    if (!cancelled && search.isCancelled?.() === true) cancelled = true;
    return cancelled || best.makespan <= floor || usedFrac() >= 1;
  };
  const seen: Seen = (side, isForward) => {
    if (side.makespan < best.makespan) {
      copySide(side, best);
      isBestForward = isForward;
      search.onProgress?.({
        makespan: best.makespan * project.unit,
        lowerBound: floor * project.unit,
        schedules: decoder.profile.schedules,
      });
    }
    return isDone();
  };
  return {
    best,
    seen,
    isDone,
    usedFrac,
    isCancelled: () => cancelled,
    expected: () => Math.max(100, decoder.profile.schedules / Math.max(usedFrac(), 1e-6)),
    startsFromBeginning: () =>
      Array.from(best.starts, (s, j) => (isBestForward ? s : best.makespan - s - project.durations[j]!)),
  };
}

/** Share of the budget a job shop spends on breeding before its machines are searched one by one. */
const jobShopBreeding = 0.1;

// The settings below were tried out on the published instance sets that bench/project.ts prints.
function runSearch(
  project: CompiledProject,
  decoder: Decoder,
  watch: Watch,
  search: ProjectSearch,
  machines: Int32Array | undefined,
): void {
  const random = makeRandom(search.seed ?? 1);
  const ways = longestWays(project);
  const isSmall = project.count <= 90;
  const first = firstPopulation(project, ways, decoder, random, 10, watch.seen);
  if (watch.isDone()) return;
  const expected = watch.expected();
  const size = populationSize(expected, isSmall);
  const isLong = expected > 20_000;
  const population = firstPopulation(project, ways, decoder, random, size, watch.seen, first.members);
  const settings = isLong
    ? { leastRangeFrac: 0.1, mostRangeFrac: 0.6, shuffleFrac: isSmall ? 0.6 : 0.4 }
    : { leastRangeFrac: 0.25, mostRangeFrac: 0.75, shuffleFrac: isSmall ? 0.3 : 0.1 };
  const breeder = makeBreeder(project, decoder, random, settings);
  const breedUntil = machines !== undefined ? jobShopBreeding : isSmall ? (isLong ? 0.3 : 0.2) : 1;
  while (!watch.isDone() && watch.usedFrac() < breedUntil) breeder.step(population, watch.seen);
  if (machines !== undefined && !watch.isDone()) searchMachines(project, machines, decoder, watch, random);
  if (!watch.isDone()) rebuildOn(project, decoder, watch, random, isLong ? 0.01 : 0.006);
}

function searchMachines(
  project: CompiledProject,
  machines: Int32Array,
  decoder: Decoder,
  watch: Watch,
  random: ReturnType<typeof makeRandom>,
): void {
  const from = { starts: Int32Array.from(watch.startsFromBeginning()), makespan: watch.best.makespan };
  const countOne = (): void => {
    decoder.profile.schedules++;
  };
  const local = makeOneMachineSearch(project, machines, random, from, countOne);
  while (!watch.isDone()) local.step(watch.seen);
}

function populationSize(expected: number, isSmall: boolean): number {
  const size = isSmall ? 40 * (expected / 5000) ** 0.7 : 80 * (expected / 5000) ** 0.57;
  return Math.round(Math.min(800, Math.max(10, size)));
}

function rebuildOn(
  project: CompiledProject,
  decoder: Decoder,
  watch: Watch,
  random: ReturnType<typeof makeRandom>,
  heatFrac: number,
): void {
  const starts = Int32Array.from(watch.startsFromBeginning());
  const rebuilder = makeRebuilder(project, decoder, random, { starts, makespan: watch.best.makespan });
  const from = watch.usedFrac();
  while (!watch.isDone()) {
    const left = Math.max(0, 1 - (watch.usedFrac() - from) / (1 - from));
    rebuilder.step(heatFrac * left + 1e-6, watch.seen);
  }
}
