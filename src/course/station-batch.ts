import { numberOf } from '../graph/sheet.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { type Finding, isFinding } from '../quantity/finding.ts';
import type { Reading } from '../route/route-types.ts';
import { type BatchPlate, type BatchStep, batchPlan } from '../settings/batch-plan.ts';
import { comesOut } from '../settings/offset-line.ts';
import type { Machine } from '../shop/shop.ts';
import type { BuildFacts } from './build-facts.ts';
import { judgeContext, limitsInBuild, readingNumber, sheetOfBuild } from './build-sheet.ts';
import type { ClassState } from './class-state.ts';
import { sanderOf, shopOfCourse } from './shop-of-record.ts';

/** Where the thickness before an operation is read from. */
const BEFORE: Readonly<Record<string, string>> = {
  T4: 'top.thickness.rough',
  T10: 'top.thickness.before_rosette',
  K2: 'back.thickness.rough',
  S1: 'side.thickness.rough',
};

/** One plate at the machine. */
export interface StationPlate extends BatchPlate {
  readonly build: string;
  readonly targetMm: number;
  /** Whether its thickness before the first cut was measured; else it is taken as drawn. */
  readonly isMeasured: boolean;
  /** Its own last reading after this operation, if it was handed in. */
  readonly doneMm?: number;
}

/** A batch at the thickness sander with all its numbers. */
export interface StationBatch {
  readonly op: string;
  readonly reading: Reading;
  /** Where the thickness before the first cut is kept: its figure, and the reading that stands in for it if there is one. */
  readonly before?: { readonly figure: string; readonly op?: string; readonly reading?: Reading };
  /** What the plates go through; numbers to type are in its unit. */
  readonly machine: Machine;
  readonly plates: readonly StationPlate[];
  readonly steps: readonly BatchStep[];
  /** Index of the step to do now; the length of `steps` when all passes are done. */
  readonly now: number;
  /** Number all plates last went through at, tonight; mm. */
  readonly lastTypedMm?: number;
  readonly lowMm: number;
  readonly targetMm: number;
}

/** A plate as it stands before the present number. */
export interface PlateNow {
  readonly id: string;
  /** What the machine left of it so far, by its proof; before the first cut what was measured; mm. */
  readonly nowMm: number;
  readonly passesLeft: number;
}

/**
 * The plates fed at the present number, the thickest first, with what they are by now and the passes they still need.
 *
 * @source arithmetic
 */
export function platesNow(batch: StationBatch): readonly PlateNow[] {
  const left = batch.steps.slice(batch.now);
  const leftMm =
    batch.lastTypedMm === undefined
      ? Number.POSITIVE_INFINITY
      : comesOut(batch.lastTypedMm, batch.machine.offset);
  return batch.plates
    .filter((p) => left[0]?.feed.includes(p.id))
    .map((p) => ({
      id: p.id,
      nowMm: Math.min(p.thicknessMm, leftMm),
      passesLeft: left.filter((s) => s.feed.includes(p.id)).length,
    }))
    .sort((a, b) => b.nowMm - a.nowMm);
}

function plateOf(
  state: ClassState,
  build: string,
  facts: BuildFacts,
  op: string,
  reading: Reading,
  patternOf: (facts: BuildFacts) => Pattern,
): StationPlate | undefined {
  const pattern = patternOf(facts);
  const judge = judgeContext(state.route, pattern, facts, [...state.builds.values()]);
  const limits = limitsInBuild(judge, reading);
  const targetMm = limits.nominal ?? limits.hard.low;
  if (targetMm === undefined) return undefined;
  const before = beforeOf(state, op);
  const thicknessMm =
    (before && numberOf(sheetOfBuild(state.route, pattern, facts), before.figure)) ?? targetMm + 1;
  const doneMm = readingNumber(reading, facts.readings.get(reading.id) ?? []);
  return {
    id: build,
    build,
    thicknessMm,
    isMeasured:
      before !== undefined &&
      (facts.ownFigures.has(before.figure) ||
        (before.reading !== undefined && facts.readings.has(before.reading.id))),
    lowMm: Math.max(limits.hard.low ?? 0, limits.scrapLimit ?? 0),
    targetMm,
    ...(doneMm === undefined ? {} : { doneMm }),
  };
}

/** The figure that holds the thickness before an operation, with the reading that replaces it. */
function beforeOf(state: ClassState, op: string): StationBatch['before'] {
  const figure = BEFORE[op];
  if (figure === undefined) return undefined;
  for (const o of state.route.operations)
    for (const reading of o.readings) if (reading.replaces === figure) return { figure, op: o.id, reading };
  return { figure };
}

/** The thickness reading of an operation. */
const thicknessReading = (state: ClassState, op: string): Reading | undefined =>
  state.route.operations
    .find((o) => o.id === op)
    ?.readings.find((r) => r.unit === 'mm' && r.kind === 'number' && r.replaces?.includes('thickness'));

/**
 * A batch with its passes, from the readings of each build and the machine as last proved.
 *
 * @param patternOf  the pattern a build follows
 * @returns the batch; a finding when the plates make no plan; undefined when the operation has no thickness to reach
 */
export function stationBatch(
  state: ClassState,
  station: string,
  op: string,
  builds: readonly string[],
  sinceMs: number,
  patternOf: (facts: BuildFacts) => Pattern,
): StationBatch | Finding | undefined {
  const reading = thicknessReading(state, op);
  if (!reading) return undefined;
  const plates = builds.flatMap((b) => {
    const facts = state.builds.get(b);
    return (facts && plateOf(state, b, facts, op, reading, patternOf)) ?? [];
  });
  if (plates.length === 0) return undefined;
  const fact = state.shop.stations.get(station);
  const shop = shopOfCourse(state);
  const machine = sanderOf(shop);
  const mostMm = machine.largestCutMm ?? Number.POSITIVE_INFINITY;
  const targetMm = Math.max(...plates.map((p) => p.targetMm));
  const steps = batchPlan(
    [...plates].sort((a, b) => b.thicknessMm - a.thicknessMm),
    {
      targetMm,
      perPassMm: Math.min(shop.steps.coarseMm, mostMm),
      lastPerPassMm: Math.min(shop.steps.fineMm, mostMm),
      lastPassesCount: shop.steps.fineCount,
      faces: op === 'T10' ? 'one' : 'alternate',
      machine,
    },
  );
  if (isFinding(steps)) return steps;
  const last = fact?.settings.get(op);
  // another batch of the same step tonight begins at its own first number
  const isOfOthers = last?.builds !== undefined && !plates.some((p) => last.builds?.includes(p.build));
  const isTonight = last !== undefined && last.atMs >= sinceMs && !isOfOthers;
  const now = isTonight ? steps.findIndex((s) => s.pass.typeMm < last.value - 1e-6) : 0;
  const before = beforeOf(state, op);
  return {
    op,
    reading,
    ...(before ? { before } : {}),
    machine,
    plates,
    steps,
    now: now === -1 ? steps.length : now,
    ...(isTonight ? { lastTypedMm: last.value } : {}),
    lowMm: Math.min(...plates.map((p) => p.lowMm)),
    targetMm,
  };
}
