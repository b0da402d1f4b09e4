import { type Finding, finding } from '../quantity/finding.ts';
import { formatDecimal, formatMm } from '../quantity/print-length.ts';
import { MM_PER_IN } from '../quantity/units.ts';
import { PLAIN_READING, type ReadsBy, roundToMachine } from './machine-rounding.ts';
import { toType } from './offset-line.ts';

/** What a plan of thickness passes is made from. */
export interface PassPlanInput {
  /** Thickest place of the plate now, after the pass that levelled it, mm. */
  readonly startMm: number;
  /** Thickness wanted, mm. */
  readonly targetMm: number;
  /** Cut of one pass, mm. */
  readonly perPassMm: number;
  /** Cut of the last passes, mm, and how many there are. */
  readonly lastPerPassMm?: number;
  readonly lastPassesCount?: number;
  /** How the machine reads and its offset; true hundredths of a millimetre when left out. */
  readonly machine?: ReadsBy;
  /** `alternate`: the two faces in turn; `one`: the inside only, as after the ring. */
  readonly faces?: 'alternate' | 'one';
  /** Low limit of the reading: no pass goes under it, mm. */
  readonly lowMm?: number;
}

/** One run through the machine. */
export interface Pass {
  readonly n: number;
  /** Thickness the plan asks for, mm. */
  readonly thicknessMm: number;
  /** Thickness that comes out of the number set, mm. */
  readonly resultMm: number;
  /** What this pass takes off the thickest place, mm. */
  readonly cutMm: number;
  /** Number to type, rounded up to what the machine shows, mm; and to 0.001 in. */
  readonly typeMm: number;
  readonly typeIn: number;
  /** In the machine's own unit. */
  readonly text: string;
  readonly face: 'A' | 'B' | 'inside';
}

export interface PassPlan {
  readonly passes: readonly Pass[];
  /** Passes that follow the first one, the one that levelled the plate to the start. */
  readonly afterFirstCount: number;
  /** What is left above the target after the last pass, mm; >= 0. */
  readonly leftMm: number;
  /** Set when the machine reads too coarsely for the plan. */
  readonly note?: string;
}

const MOST_PASSES = 200;
const TINY_MM = 1e-6;

const mm = (value: number): string => `${formatMm(value, 2)} mm`;

const blocked = (code: string, got: number, limit: number, text: string): Finding =>
  finding({ code, level: 'blocked', got, limit, unit: 'mm', text });

/** Why no plan can be made, or undefined. */
function hindrance(input: PassPlanInput): Finding | undefined {
  const { startMm, targetMm, perPassMm, lowMm } = input;
  const lastPerPassMm = input.lastPerPassMm ?? perPassMm;
  if (!(perPassMm > 0) || !(lastPerPassMm > 0))
    return blocked(
      'cut-not-positive',
      Math.min(perPassMm, lastPerPassMm),
      0,
      `A cut of ${mm(Math.min(perPassMm, lastPerPassMm))} takes nothing off; give each pass more than 0.`,
    );
  if (lastPerPassMm > perPassMm + TINY_MM)
    return blocked(
      'last-cut-deeper',
      lastPerPassMm,
      perPassMm,
      `The last passes take ${mm(lastPerPassMm)}, more than the ${mm(perPassMm)} before them; make the last ones the finer.`,
    );
  if (lowMm !== undefined && targetMm < lowMm - TINY_MM)
    return blocked(
      'target-under-low',
      targetMm,
      lowMm,
      `The target ${mm(targetMm)} is under the low limit ${mm(lowMm)}; raise the target to at least ${mm(lowMm)}.`,
    );
  if (startMm < targetMm - TINY_MM)
    return blocked(
      'start-under-target',
      startMm,
      targetMm,
      `The plate is ${mm(startMm)} thick, already under the target ${mm(targetMm)}; do not feed it, measure again and ask.`,
    );
  if ((startMm - targetMm) / perPassMm > MOST_PASSES)
    return blocked(
      'too-many-passes',
      (startMm - targetMm) / perPassMm,
      MOST_PASSES,
      `From ${mm(startMm)} to ${mm(targetMm)} with ${mm(perPassMm)} a pass is more than ${MOST_PASSES} passes; take a deeper cut or plane it first.`,
    );
  return undefined;
}

/** Thickness after each pass: full cuts first, the last passes fine and ending on the target. */
function thicknessSteps(input: PassPlanInput): readonly number[] {
  const { startMm, targetMm, perPassMm } = input;
  const fineMm = input.lastPerPassMm ?? perPassMm;
  const stock = startMm - targetMm;
  const fineCount = Math.min(input.lastPassesCount ?? 0, Math.ceil(stock / fineMm - TINY_MM));
  const coarseEnd = targetMm + fineCount * fineMm;
  const coarseCount = Math.max(0, Math.ceil((startMm - coarseEnd) / perPassMm - TINY_MM));
  const coarse = Array.from({ length: coarseCount }, (_, i) =>
    Math.max(coarseEnd, startMm - (i + 1) * perPassMm),
  );
  const fine = Array.from({ length: fineCount }, (_, i) => targetMm + (fineCount - 1 - i) * fineMm);
  return [...coarse, ...fine];
}

const faceOf = (n: number, faces: PassPlanInput['faces']): Pass['face'] =>
  faces === 'one' ? 'inside' : n % 2 === 1 ? 'A' : 'B';

/** Thousandths of an inch to type, rounded up. */
const inchesToType = (wantedMm: number, machine: ReadsBy): number =>
  Math.ceil((toType(wantedMm, machine.offset) / MM_PER_IN) * 1000 - TINY_MM) / 1000;

/** Something to know when the machine cannot do the small cuts. */
function coarseNote(passes: readonly Pass[], input: PassPlanInput, leftMm: number): string | undefined {
  const deepest = Math.max(0, ...passes.map((p) => p.cutMm));
  if (deepest > input.perPassMm + 0.02)
    return `This machine can only take ${mm(deepest)} at once where ${mm(input.perPassMm)} is wanted; take that pass twice at the same number or use a shim.`;
  if (leftMm > 0.1)
    return `${mm(leftMm)} is left above the target: too coarse for the last pass, finish by hand or with a shim.`;
  return undefined;
}

/**
 * The passes that bring a plate to its thickness: first pass at the thickest place less one cut, full cuts, then the
 * fine last ones; each number rounded up to what the machine shows, so that wood is left and never taken.
 *
 * @param input  thickness now and wanted, cuts, machine, faces, low limit
 * @returns      the plan; a finding when the numbers make none. A step that the machine cannot tell from the one before is left out.
 * @source       common practice, no published source
 * @example      passPlan({ startMm: 3.81, targetMm: 2.54, perPassMm: 0.254 }) // 0.150 to 0.100 in by 0.010: 5 more passes after the first
 */
export function passPlan(input: PassPlanInput): PassPlan | Finding {
  const hindered = hindrance(input);
  if (hindered) return hindered;
  const machine = input.machine ?? PLAIN_READING;
  const passes: Pass[] = [];
  let beforeMm = input.startMm;
  for (const thicknessMm of thicknessSteps(input)) {
    const shown = roundToMachine(thicknessMm, machine, 'more');
    if (shown.resultMm >= beforeMm - TINY_MM) continue;
    const n = passes.length + 1;
    passes.push({
      n,
      thicknessMm,
      resultMm: shown.resultMm,
      cutMm: beforeMm - shown.resultMm,
      typeMm: shown.typeMm,
      typeIn: inchesToType(thicknessMm, machine),
      text: shown.text,
      face: faceOf(n, input.faces),
    });
    beforeMm = shown.resultMm;
  }
  const leftMm = Math.max(0, beforeMm - input.targetMm);
  const note = coarseNote(passes, input, leftMm);
  return { passes, afterFirstCount: passes.length, leftMm, ...(note === undefined ? {} : { note }) };
}

/** The plan in one line: `5 more passes after the first, last number 2.54 mm`. @source arithmetic */
export function passPlanText({ passes, afterFirstCount, leftMm }: PassPlan): string {
  const last = passes.at(-1);
  if (!last) return 'nothing to take off';
  const left = leftMm > 0.004 ? `, leaves ${formatDecimal(leftMm, 2)} mm` : '';
  return `${afterFirstCount} more ${afterFirstCount === 1 ? 'pass' : 'passes'} after the first, last number ${last.text}${left}`;
}
