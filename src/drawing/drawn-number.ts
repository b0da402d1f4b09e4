import type { FigureUnit } from '../graph/figure.ts';
import { numberOf, type Sheet } from '../graph/sheet.ts';
import { formatDecimal, inchText } from '../quantity/print-length.ts';
import type { DimensionExtras } from './model.ts';

/** How dimensions of an instrument drawing are written. */
export interface DimensionWords {
  /** Unit of lengths. */
  readonly lengthUnit: 'mm' | 'in';
  /** Sheet of the last revision: numbers that differ show the old one beside the new one. */
  readonly before?: Sheet;
  /** Revision that a changed number belongs to, in its triangle. */
  readonly revision?: string;
}

/** Lengths in mm, nothing compared. */
export const PLAIN_WORDS: DimensionWords = { lengthUnit: 'mm' };

/**
 * A number as it stands on a drawing, without its unit: mm with one decimal when it is needed, inches as a fraction.
 *
 * @source inch-1959
 */
export function drawnNumber(value: number, unit: FigureUnit, lengthUnit: 'mm' | 'in'): string {
  if (unit === 'mm' && lengthUnit === 'in') return inchText(value).replace(/ in$/, '');
  const text = formatDecimal(value, unit === 'mm' && Math.abs(value) < 10 ? 2 : 1).replace(/\.?0+$/, '');
  return unit === 'deg' ? `${text}\u00b0` : text;
}

/**
 * Text, old number and revision mark of the dimension that shows a figure.
 *
 * @param id  figure the dimension shows
 * @returns   nothing to add when the sheet has no such number
 * @source    arithmetic
 */
export function numberWords(
  sheet: Sheet,
  id: string,
  { lengthUnit, before, revision }: DimensionWords,
): Pick<DimensionExtras, 'text' | 'was' | 'revision'> {
  const value = numberOf(sheet, id);
  if (value === undefined) return {};
  const unit = sheet.catalogue.byId.get(id)?.unit ?? 'mm';
  const text = drawnNumber(value, unit, lengthUnit);
  const old = before && numberOf(before, id);
  if (old === undefined || Math.abs(old - value) < 0.005) return { text };
  const was = drawnNumber(old, unit, lengthUnit);
  return { text, was, ...(revision === undefined ? {} : { revision }) };
}
