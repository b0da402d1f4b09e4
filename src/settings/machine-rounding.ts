import { formatDecimal, formatInches, fractionText, nearest64 } from '../quantity/print-length.ts';
import { MM_PER_IN } from '../quantity/units.ts';
import type { Machine, Reads } from '../shop/shop.ts';
import { comesOut, toType } from './offset-line.ts';

/** Which way of the wanted measure leaves wood: a plate is left thicker (`more`), a groove shallower (`less`). */
export type LeavesWood = 'more' | 'less';

/** What a machine or jig reads by; enough to round to. */
export type ReadsBy = Pick<Machine, 'reads' | 'unit' | 'offset'>;

/** A wanted measure as a machine can show it. */
export interface ShownSetting {
  /** Whole steps from the zero of the reading. */
  readonly stepCount: number;
  /** Number on the display, scale or crank, mm. */
  readonly typeMm: number;
  /** Measure that comes out, mm. */
  readonly resultMm: number;
  /** How far the result stays on the side of the wood, mm; >= 0. */
  readonly leavesMm: number;
  /** In the machine's own unit: `2.66 mm`, `1 3/4 turns`, `1/8 in`. */
  readonly text: string;
}

/** Reads true in hundredths of a millimetre: what is assumed of a machine nobody has described. */
export const PLAIN_READING: ReadsBy = {
  unit: 'mm',
  reads: { kind: 'digital', stepMm: 0.01 },
  offset: { alphaMm: 0, beta: 1 },
};

const zeroOf = (reads: Reads): number => (reads.kind === 'crank' ? reads.zeroMm : 0);

/** `1 3/4 turns`, `1/4 turn`. @source arithmetic */
export function turnsText(partCount: number, partsPerTurn: number): string {
  const count = Math.abs(partCount);
  let num = count % partsPerTurn;
  let den = partsPerTurn;
  for (let divisor = Math.min(num, den); divisor > 1; divisor--)
    if (num % divisor === 0 && den % divisor === 0) {
      num /= divisor;
      den /= divisor;
    }
  const whole = Math.floor(count / partsPerTurn);
  const isNegative = partCount < 0;
  const text = fractionText({ isNegative, whole, num, den: num === 0 ? 1 : den, restMm: 0 });
  return `${text} ${count > partsPerTurn || count === 0 ? 'turns' : 'turn'}`;
}

/** Decimals that show a step: 0.01 -> 2, 0.005 -> 3, 0.5 -> 1; at least `least`. */
function decimalsFor(step: number, least: number): number {
  for (let d = least; d < 4; d++) if (Math.abs(step * 10 ** d - Math.round(step * 10 ** d)) < 1e-6) return d;
  return 4;
}

/** Whether a length is a whole number of 1/64 in. */
const is64th = (valueMm: number): boolean => Math.abs(nearest64(valueMm).restMm) < 1e-6;

/** A number on the machine in the machine's own unit. @source inch-1959 */
export function machineText(typeMm: number, stepCount: number, { reads, unit }: ReadsBy): string {
  if (reads.kind === 'crank') return turnsText(stepCount, reads.partsCount);
  if (unit === 'mm') return `${formatDecimal(typeMm, decimalsFor(reads.stepMm, 1))} mm`;
  if (reads.kind === 'scale' && is64th(reads.stepMm)) return `${fractionText(nearest64(typeMm))} in`;
  const decimals = decimalsFor(reads.stepMm / MM_PER_IN, 3);
  return decimals === 3 ? `${formatInches(typeMm)} in` : `${formatDecimal(typeMm / MM_PER_IN, decimals)} in`;
}

/**
 * Rounds a wanted measure to what a machine can show, always to the side that leaves wood.
 *
 * @param wantedMm  measure wanted on the wood, mm
 * @param machine   how it reads and its offset line
 * @param leaves    `more` where a larger measure leaves wood (thickness), `less` where a smaller one does (depth)
 * @returns         number to set, what comes out and how much is left, mm
 * @source          common practice, no published source
 * @example         crank 1/16 in a turn in quarters, 2.75 wanted: 7 quarters, 1 3/4 turns, leaves 0.03
 */
export function roundToMachine(wantedMm: number, machine: ReadsBy, leaves: LeavesWood): ShownSetting {
  const { reads, offset } = machine;
  const zeroMm = zeroOf(reads);
  const exact = (toType(wantedMm, offset) - zeroMm) / reads.stepMm;
  const slack = 1e-9;
  const stepCount = (leaves === 'more' ? Math.ceil(exact - slack) : Math.floor(exact + slack)) + 0;
  const typeMm = zeroMm + stepCount * reads.stepMm;
  const resultMm = comesOut(typeMm, offset);
  const leavesMm = Math.max(0, leaves === 'more' ? resultMm - wantedMm : wantedMm - resultMm);
  return { stepCount, typeMm, resultMm, leavesMm, text: machineText(typeMm, stepCount, machine) };
}
