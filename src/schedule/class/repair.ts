import type { Random } from '../../numeric/random.ts';
import type { CompiledClass } from './compile.ts';
import type { ClassDecoder } from './decode.ts';
import type { Measurer, Measures } from './measure.ts';
import { type PlacedEntry, type Placement, placedEntry, placesOf } from './placement.ts';
import { listByKeys } from './priority.ts';
import type { PlanEntry } from './problem.ts';

/** What a repair works with. */
export interface Repair {
  readonly compiled: CompiledClass;
  readonly decoder: ClassDecoder;
  readonly measurer: Measurer;
  readonly random: Random;
  readonly published: readonly PlanEntry[];
  /** Session minutes of a later finish that are as bad as moving every published step to another session. */
  readonly keepMin: number;
}

/** A repaired plan. */
export interface Repaired {
  readonly entries: readonly PlanEntry[];
  readonly measures: Measures;
  readonly list: Int32Array;
}

/** A repair that goes on step by step. */
export interface RepairSearch {
  /** Lets go of some of the plan and keeps what is better. `usedFrac` is the share of the budget that is used. */
  step(usedFrac: number): boolean;
  best(): Repaired;
}

/** Minutes beyond which it does not matter how far a step moves. */
const farMin = 300;

/**
 * Repairs a published plan: every step stays where it is if it can, and only what cannot is placed anew. The search then
 * lets go of a learner, a station, a stretch of time or a few steps at a time.
 *
 * @param repair  the class, its judge, the plan
 * @returns       the search; undefined when the plan cannot be repaired within the calendar
 * @source        from memory
 */
export function makeRepair(repair: Repair): RepairSearch | undefined {
  const { compiled, decoder, measurer, random } = repair;
  const count = compiled.activities.length;
  const published = new Array<PlacedEntry | undefined>(count).fill(undefined);
  for (const entry of repair.published) {
    const placed = placedEntry(compiled, entry);
    if (placed !== undefined) published[placed.activity] = placed;
  }
  const openCount = Math.max(1, published.filter((p) => p !== undefined).length);
  const costOf = (placement: Placement): number => {
    if (!placement.isComplete) return Number.MAX_SAFE_INTEGER;
    let moved = 0;
    for (let a = 0; a < count; a++) {
      const was = published[a];
      if (was !== undefined) moved += Math.min(1, Math.abs(placement.start[a]! - was.work) / farMin);
    }
    return measurer.cost(placement) + (repair.keepMin * moved) / openCount;
  };
  const keys = new Float64Array(count);
  const list = new Int32Array(count);
  const unknown = Number.MAX_SAFE_INTEGER / 4;
  for (let a = 0; a < count; a++) keys[a] = published[a]?.work ?? unknown;
  listByKeys(compiled, keys, list);
  let places: (PlacedEntry | undefined)[] = [];
  let cost = Number.MAX_SAFE_INTEGER;
  let best: Repaired | undefined;
  let bestCost = cost;
  /** Keeps a placement if it is taken; says whether it is the best so far. */
  const take = (placement: Placement, isTaken: (cost: number) => boolean): boolean => {
    const trial = costOf(placement);
    if (!placement.isComplete || !isTaken(trial)) return false;
    cost = trial;
    places = placesOf(placement);
    if (cost >= bestCost) return false;
    bestCost = cost;
    best = {
      entries: decoder.entries(),
      measures: measurer.measures(placement),
      list: list.slice(),
    };
    return true;
  };
  const isLess = (trial: number): boolean => trial < cost;
  take(decoder.decodeAround(list, published, true), isLess);
  take(decoder.decodeAround(list, published, false), isLess);
  take(decoder.decode(list), isLess);
  if (best === undefined) return undefined;
  const release = makeRelease(compiled, random);
  return {
    step: (usedFrac) => {
      for (let a = 0; a < count; a++) keys[a] = places[a]!.work;
      const free = release(keys);
      listByKeys(compiled, keys, list);
      const left = places.map((p, a) => (free[a] === 1 ? undefined : p));
      const heat = Math.max(1e-9, 3 * (1 - usedFrac));
      return take(
        decoder.decodeAround(list, left, random.next() < 0.5),
        (trial) => trial <= cost || random.next() < Math.exp((cost - trial) / heat),
      );
    },
    best: () => best!,
  };
}

/** Chooses what is let go: marks it, and changes its keys. */
function makeRelease(compiled: CompiledClass, random: Random): (keys: Float64Array) => Uint8Array {
  const count = compiled.activities.length;
  const free = new Uint8Array(count);
  const slots = compiled.grid.slotCount;
  const session = Math.max(1, Math.round(slots / Math.max(1, compiled.problem.windows.length)));
  const learners = compiled.learnerCourse.length;
  const choices: readonly ((keys: Float64Array) => void)[] = [
    // a learner from some moment on
    (keys) => {
      const learner = random.below(Math.max(1, learners));
      const from = random.next() < 0.5 ? 0 : random.below(slots);
      compiled.builds.forEach((builds, a) => {
        if (builds.includes(learner) && keys[a]! >= from) free[a] = 1;
      });
    },
    // what is done at one station
    (keys) => {
      const row = compiled.ways[random.below(count)]![0]!.stationRow;
      const from = random.below(slots);
      compiled.ways.forEach((ways, a) => {
        if (ways[0]!.stationRow === row && keys[a]! >= from) free[a] = 1;
      });
    },
    // a stretch of time
    (keys) => {
      const from = random.below(slots);
      const length = session * (1 + random.below(8));
      for (let a = 0; a < count; a++) if (keys[a]! >= from && keys[a]! < from + length) free[a] = 1;
    },
    // a few steps
    () => {
      const share = 0.005 + 0.05 * random.next();
      for (let a = 0; a < count; a++) if (random.next() < share) free[a] = 1;
    },
  ];
  return (keys) => {
    free.fill(0);
    choices[random.below(choices.length)]!(keys);
    const by = (random.next() - 0.7) * 2 * session * (random.next() < 0.3 ? 8 : 1);
    for (let a = 0; a < count; a++) if (free[a] === 1) keys[a]! += by + (random.next() - 0.5) * 0.2 * session;
    return free;
  };
}
