import { numberOf } from '../graph/sheet.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { type Finding, isFinding } from '../quantity/finding.ts';
import type { Reading } from '../route/route-types.ts';
import { type BatchPlate, type BatchStep, batchPlan } from '../settings/batch-plan.ts';
import type { ReadsBy } from '../settings/machine-rounding.ts';
import { fitOffset, type ProvedOffset } from '../settings/offset-line.ts';
import { PLAIN_STEPS } from '../shop/shop.ts';
import type { BuildFacts } from './build-facts.ts';
import { judgeContext, limitsInBuild, readingNumber, sheetOfBuild } from './build-sheet.ts';
import type { ClassState } from './class-state.ts';
import type { StationFact } from './shop-facts.ts';

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
  /** Its own last reading after this operation, if it was handed in. */
  readonly doneMm?: number;
}

/** A batch at the thickness sander with all its numbers. */
export interface StationBatch {
  readonly op: string;
  readonly reading: Reading;
  readonly plates: readonly StationPlate[];
  readonly steps: readonly BatchStep[];
  /** Index of the step to do now; the length of `steps` when all passes are done. */
  readonly now: number;
  readonly lowMm: number;
  readonly targetMm: number;
}

/** The offset of a machine as it was last proved, from the record. */
export function provedOffset(fact: StationFact | undefined): ProvedOffset | undefined {
  if (!fact?.proved) return undefined;
  const inMm = fact.proved.unit === 'in' ? 25.4 : 1;
  const fitted = fitOffset(
    fact.proved.points.map((p) => ({ typedMm: p.typed * inMm, measuredMm: p.measured * inMm })),
  );
  return isFinding(fitted) ? undefined : fitted;
}

/** How the machine reads: hundredths of a millimetre with the offset that was proved last. */
export function sanderOf(fact: StationFact | undefined): ReadsBy {
  const proved = provedOffset(fact);
  return {
    unit: 'mm',
    reads: { kind: 'digital', stepMm: 0.01 },
    offset: proved?.line ?? { alphaMm: 0, beta: 1 },
  };
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
  const before = BEFORE[op];
  const thicknessMm =
    (before === undefined ? undefined : numberOf(sheetOfBuild(state.route, pattern, facts), before)) ??
    targetMm + 1;
  const doneMm = readingNumber(reading, facts.readings.get(reading.id) ?? []);
  return {
    id: build,
    build,
    thicknessMm,
    lowMm: Math.max(limits.hard.low ?? 0, limits.scrapLimit ?? 0),
    targetMm,
    ...(doneMm === undefined ? {} : { doneMm }),
  };
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
  const targetMm = Math.max(...plates.map((p) => p.targetMm));
  const steps = batchPlan(
    [...plates].sort((a, b) => b.thicknessMm - a.thicknessMm),
    {
      targetMm,
      perPassMm: PLAIN_STEPS.coarseMm,
      lastPerPassMm: PLAIN_STEPS.fineMm,
      lastPassesCount: PLAIN_STEPS.fineCount,
      faces: op === 'T10' ? 'one' : 'alternate',
      machine: sanderOf(fact),
    },
  );
  if (isFinding(steps)) return steps;
  const last = fact?.settings.get(op);
  const isTonight = last !== undefined && last.atMs >= sinceMs;
  const now = isTonight ? steps.findIndex((s) => s.pass.typeMm < last.value - 1e-6) : 0;
  return {
    op,
    reading,
    plates,
    steps,
    now: now === -1 ? steps.length : now,
    lowMm: Math.min(...plates.map((p) => p.lowMm)),
    targetMm,
  };
}
