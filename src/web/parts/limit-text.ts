import type { FigureUnit } from '../../graph/figure.ts';
import type { Band } from '../../graph/rule.ts';
import { spokenText } from './amount-text.ts';

/** Limits in words: "at least 6.00 mm", "at most 16.0 mm", "between 6.00 mm and 16.0 mm". */
export function limitText({ low, high }: Band, unit: FigureUnit, largeUnit: 'mm' | 'in'): string {
  const text = (value: number) => spokenText(value, unit, largeUnit);
  if (low !== undefined && high !== undefined) return `between ${text(low)} and ${text(high)}`;
  if (low !== undefined) return `at least ${text(low)}`;
  return high === undefined ? 'no limit' : `at most ${text(high)}`;
}
