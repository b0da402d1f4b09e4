import type { FigureUnit } from '../../graph/figure.ts';
import {
  formatDecimal,
  formatInches,
  type InchFraction,
  inchParts,
  inchText,
} from '../../quantity/print-length.ts';

const MINUS = '\u2212';

/** A number set in type: the text, or a whole number and its fraction. */
export type SetNumber =
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'fraction'; readonly sign: string; readonly whole: string; readonly part: string };

/** Numbers below this are readings and settings and get two decimals. */
const FINE_BELOW_MM = 10;

/** Unit words beside a number. */
export const unitWords: Readonly<Partial<Record<FigureUnit, string>>> = {
  mm: 'mm',
  mm2: 'mm²',
  cm2: 'cm²',
  litre: 'l',
  deg: '°',
  'mm per mm': 'mm per mm',
  'N m2': 'N m²',
  'N mm2': 'N mm²',
  'kg per m3': 'kg/m³',
  'g per m': 'g/m',
  degC: '°C',
  fraction: '%',
  count: '',
  text: '',
  shape: '',
};

const trimmed = (value: number, decimals: number): string => {
  const text = formatDecimal(value, decimals);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
};

/** Decimals so that four figures show. */
const decimalsFor = (value: number): number => {
  const size = Math.abs(value);
  return size >= 1000 ? 0 : size >= 100 ? 1 : size >= 1 ? 2 : 3;
};

/** Decimals a number of a unit usually has; a length has fewer from 10 mm on. */
function usualDecimals(value: number, unit: FigureUnit): number {
  if (unit === 'mm') return Math.abs(value) < FINE_BELOW_MM ? 2 : 1;
  if (unit === 'fraction') return 1;
  return unit === 'deg' || unit === 'count' ? 2 : decimalsFor(value);
}

/** A length in mm: 0.1 for sizes, 0.01 below 10 mm. */
export function mmText(valueMm: number): string {
  return formatDecimal(valueMm, usualDecimals(valueMm, 'mm'));
}

/** A length in inches, ready to be set: fraction to 1/64, thousandths below 1/4 in. */
export function inchSet(valueMm: number): SetNumber {
  const parts = inchParts(valueMm);
  return parts.kind === 'thousandths' ? { kind: 'text', text: parts.text } : fractionSet(parts.fraction);
}

function fractionSet({ isNegative, whole, num, den }: InchFraction): SetNumber {
  const sign = isNegative ? MINUS : '';
  if (num === 0) return { kind: 'text', text: `${sign}${whole}` };
  return { kind: 'fraction', sign, whole: whole === 0 ? '' : `${whole}`, part: `${num}/${den}` };
}

/** A number of any unit without its unit word: percent for fractions, four figures at most. */
export function plainText(value: number, unit: FigureUnit): string {
  if (unit === 'mm') return mmText(value);
  return trimmed(unit === 'fraction' ? value * 100 : value, usualDecimals(value, unit));
}

/** A unit word as it follows its number: with a space, but for degrees. */
export function unitTail(unit: FigureUnit): string {
  const word = unitWords[unit] ?? unit;
  return word === '' || word === '°' ? word : ` ${word}`;
}

/** A number that was measured or is to be measured, as a calliper shows it: `2.46 mm`, `.097 in`, `12.5 kg`. */
export function measuredText(value: number, unit: string, largeUnit: 'mm' | 'in'): string {
  if (unit === 'mm' && largeUnit === 'in') return `${formatInches(value)} in`;
  const text = String(Number(value.toFixed(3))).replace('-', MINUS);
  return unit === '-' || unit === '' || unit === 'count' ? text : `${text} ${unit}`;
}

/** A number with its unit in one line of plain text: `98.0 mm`, `96°`, `45 %`. */
export function spokenText(value: number, unit: FigureUnit, largeUnit: 'mm' | 'in' = 'mm'): string {
  if (unit === 'mm' && largeUnit === 'in') return inchText(value);
  return `${plainText(value, unit)}${unitTail(unit)}`;
}

/**
 * Two numbers and how far apart they are, with as many decimals as it takes to see the difference.
 *
 * @returns  texts with their units; the difference without a sign
 */
export function apartTexts(
  from: number,
  to: number,
  unit: FigureUnit,
  largeUnit: 'mm' | 'in' = 'mm',
): { readonly from: string; readonly to: string; readonly apart: string } {
  const scale = unit === 'fraction' ? 100 : 1;
  const apart = Math.abs(to - from) * scale;
  const usual = Math.max(usualDecimals(from, unit), usualDecimals(to, unit));
  const decimals = apart === 0 ? usual : Math.min(6, Math.max(usual, -Math.floor(Math.log10(apart))));
  const write = (value: number): string =>
    unit === 'mm' && largeUnit === 'in'
      ? `${formatInches(value)} in`
      : `${formatDecimal(value * scale, decimals)}${unitTail(unit)}`;
  return { from: write(from), to: write(to), apart: write(Math.abs(to - from)) };
}
