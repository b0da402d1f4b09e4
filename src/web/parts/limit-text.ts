import type { FigureUnit } from '../../graph/figure.ts';
import type { Band } from '../../graph/rule.ts';
import { inchText } from '../../quantity/print-length.ts';
import { plainText, spokenText, unitTail } from './amount-text.ts';

/** Limits in words: "at least 6.00 mm", "at most 16.0 mm", "between 6.00 mm and 16.0 mm". */
export function limitText({ low, high }: Band, unit: FigureUnit, largeUnit: 'mm' | 'in'): string {
  const text = (value: number) => spokenText(value, unit, largeUnit);
  if (low !== undefined && high !== undefined) return `between ${text(low)} and ${text(high)}`;
  if (low !== undefined) return `at least ${text(low)}`;
  return high === undefined ? 'no limit' : `at most ${text(high)}`;
}

const short = (value: number, unit: FigureUnit, largeUnit: 'mm' | 'in'): string => {
  if (unit !== 'mm' || largeUnit === 'mm') {
    const text = plainText(value, unit);
    return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  }
  return inchText(value).replace(/ in$/, '');
};

/** The same in short for a list: "2.74, at least 2", "24.8, 15 to 35°". */
export function shortLimits(
  value: number,
  { low, high }: Band,
  unit: FigureUnit,
  largeUnit: 'mm' | 'in',
): string {
  const tail = unit === 'mm' ? '' : unitTail(unit);
  const number = unit === 'mm' && largeUnit === 'in' ? short(value, unit, largeUnit) : plainText(value, unit);
  const text = (v: number) => short(v, unit, largeUnit);
  if (low !== undefined && high !== undefined) return `${number}, ${text(low)} to ${text(high)}${tail}`;
  if (low !== undefined) return `${number}, at least ${text(low)}${tail}`;
  return high === undefined ? `${number}${tail}` : `${number}, at most ${text(high)}${tail}`;
}
