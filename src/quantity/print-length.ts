import { MM_PER_IN } from './units.ts';

/** An inch size to the nearest 1/64, reduced. `isNegative` is never true for zero. */
export interface InchFraction {
  readonly isNegative: boolean;
  readonly whole: number;
  readonly num: number;
  readonly den: number;
  /** What the fraction leaves out: exact length less fraction, mm. */
  readonly restMm: number;
}

const MINUS = '\u2212';

/** A number with a fixed count of decimals, halves away from zero, minus sign U+2212, never minus zero. */
export function formatDecimal(value: number, decimals: number): string {
  const scale = 10 ** decimals;
  const steps = Math.round(Math.abs(value) * scale + 1e-7);
  const text = (steps / scale).toFixed(decimals);
  return value < 0 && steps > 0 ? MINUS + text : text;
}

/**
 * A length in millimetres as text, without the unit.
 *
 * @param valueMm   mm
 * @param decimals  1 for sizes on screens, 2 for readings and settings
 * @returns         e.g. `98.0`; minus is U+2212
 * @source          arithmetic
 */
export function formatMm(valueMm: number, decimals: 1 | 2 = 1): string {
  return formatDecimal(valueMm, decimals);
}

/**
 * A length in thousandths of an inch as text, without the unit.
 *
 * @param valueMm  mm
 * @returns        e.g. `3.858`; below 1/4 in without a leading zero: `.105`
 * @source         inch-1959
 */
export function formatInches(valueMm: number): string {
  const text = formatDecimal(valueMm / MM_PER_IN, 3);
  return Math.abs(valueMm) < MM_PER_IN / 4 ? text.replace('0.', '.') : text;
}

/**
 * The nearest 1/64 in, reduced.
 *
 * @param valueMm  mm
 * @returns        whole inches and a reduced fraction (num 0, den 1 when there is none)
 * @source         inch-1959
 */
export function nearest64(valueMm: number): InchFraction {
  const parts = Math.round((Math.abs(valueMm) / MM_PER_IN) * 64);
  let num = parts % 64;
  let den = 64;
  while (num % 2 === 0 && den > 1) {
    num /= 2;
    den /= 2;
  }
  const isNegative = valueMm < 0 && parts > 0;
  const fractionMm = ((isNegative ? -parts : parts) * MM_PER_IN) / 64;
  return { isNegative, whole: Math.floor(parts / 64), num, den, restMm: valueMm - fractionMm };
}

/** An inch fraction as plain text, without the unit: `3 15/16`, `1/8`, `2`. @source arithmetic */
export function fractionText({ isNegative, whole, num, den }: InchFraction): string {
  const part = num === 0 ? '' : `${num}/${den}`;
  const text = whole === 0 && part !== '' ? part : part === '' ? `${whole}` : `${whole} ${part}`;
  return isNegative ? MINUS + text : text;
}

/**
 * Inches as prints and pages show them: thousandths below 1/4 in, else the nearest 1/64.
 *
 * @param valueMm  mm
 * @returns        parts to set in type: either `text` alone, or `whole` and `num`/`den`
 * @source         common practice, no published source
 */
export function inchParts(
  valueMm: number,
):
  | { readonly kind: 'thousandths'; readonly text: string }
  | { readonly kind: 'fraction'; readonly fraction: InchFraction } {
  return Math.abs(valueMm) < MM_PER_IN / 4
    ? { kind: 'thousandths', text: formatInches(valueMm) }
    : { kind: 'fraction', fraction: nearest64(valueMm) };
}

/** Inches as one line of plain text with the unit: `.105 in`, `3 55/64 in`. @source inch-1959 */
export function inchText(valueMm: number): string {
  const parts = inchParts(valueMm);
  return `${parts.kind === 'thousandths' ? parts.text : fractionText(parts.fraction)} in`;
}

/** Shortest decimal text within 1e-6 of the value, plain minus, for files. */
function fileNumber(value: number): string {
  const text = value.toFixed(6).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
}

/**
 * A length as it is written into a file, so that reading it gives the same length back (within 0.0000005 of the unit).
 *
 * @param valueMm  mm
 * @param unit     unit to write in
 * @returns        `480 mm`, `18 57/64 in` where it is a whole 1/64, else `3.858 in`; plain minus
 * @source         inch-1959
 */
export function lengthForFile(valueMm: number, unit: 'mm' | 'in'): string {
  if (unit === 'mm') return `${fileNumber(valueMm)} mm`;
  const fraction = nearest64(valueMm);
  if (Math.abs(fraction.restMm) < 1e-6) return `${fractionText(fraction).replace(MINUS, '-')} in`;
  return `${fileNumber(valueMm / MM_PER_IN)} in`;
}

/** Lengths as a shop says them, in its own unit. */
export interface Sizes {
  readonly unit: 'mm' | 'in';
  /** Without the unit: `2.78`, `.109`. Inches are thousandths. */
  text(valueMm: number, decimals?: 1 | 2): string;
  /** With the unit: `2.78 mm`, `.109 in`. */
  one(valueMm: number, decimals?: 1 | 2): string;
  /** Two with the unit once: `1.20 to 1.35 mm`, `.047 to .053 in`. */
  range(lowMm: number, highMm: number, decimals?: 1 | 2): string;
}

/**
 * How a shop says lengths.
 *
 * @param unit  of its rules and gauges
 * @source      inch-1959
 */
export function sizesIn(unit: 'mm' | 'in'): Sizes {
  const text = (valueMm: number, decimals: 1 | 2 = 1): string =>
    unit === 'in' ? formatInches(valueMm) : formatMm(valueMm, decimals);
  return {
    unit,
    text,
    one: (valueMm, decimals) => `${text(valueMm, decimals)} ${unit}`,
    range: (lowMm, highMm, decimals) => `${text(lowMm, decimals)} to ${text(highMm, decimals)} ${unit}`,
  };
}
