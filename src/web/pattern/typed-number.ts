import type { InputSpec } from '../../pattern/input-spec.ts';
import { fieldOf } from '../../pattern/pattern-file.ts';
import { parseQuantity } from '../../quantity/parse-quantity.ts';
import { formatDecimal, fractionText, nearest64 } from '../../quantity/print-length.ts';
import { unitWord } from '../../quantity/units.ts';
import type { LargeUnit } from '../frame/preferences.ts';

/** What a typed text means for an input. */
export type TypedResult =
  | { readonly kind: 'value'; readonly value: number; readonly text: string }
  /** Only another reading makes sense: the person picks one. */
  | {
      readonly kind: 'question';
      readonly text: string;
      readonly meant: readonly { readonly value: number; readonly text: string }[];
    }
  | { readonly kind: 'refusal'; readonly text: string };

/** Unit of a bare number at a field, as it is shown there. */
export function fieldUnit(spec: InputSpec, largeUnit: LargeUnit): string {
  if (spec.unit === 'mm') return largeUnit;
  if (spec.unit === 'count') return '';
  return spec.unit === 'fraction' ? 'share' : spec.unit;
}

/** Reads what was typed for an input; a bare length is in the unit that is large on this page. */
export function readTyped(spec: InputSpec, text: string, largeUnit: LargeUnit): TypedResult {
  const { field, perBase } = fieldOf(spec);
  const unit = spec.unit === 'mm' ? largeUnit : field.unit;
  const parsed = parseQuantity(text, { ...field, unit });
  if (parsed.kind === 'refusal') return { kind: 'refusal', text: parsed.text };
  if (parsed.kind === 'question')
    return {
      kind: 'question',
      text: parsed.text,
      meant: parsed.meant.map((m) => ({ value: m.value * perBase, text: m.text })),
    };
  const word = parsed.isBare ? unitWord(parsed.unit) : '';
  return { kind: 'value', value: parsed.value * perBase, text: `${text.trim()}${word}` };
}

const trimmed = (text: string): string => (text.includes('.') ? text.replace(/\.?0+$/, '') : text);

/** The text a field begins with: exact, ready to be changed. */
export function fieldText(spec: InputSpec, value: number, largeUnit: LargeUnit): string {
  if (spec.unit !== 'mm' || largeUnit === 'mm')
    return trimmed(formatDecimal(value, 4)).replace('\u2212', '-');
  const fraction = nearest64(value);
  if (Math.abs(fraction.restMm) < 1e-3) return fractionText(fraction).replace('\u2212', '-');
  return trimmed(formatDecimal(value / 25.4, 4)).replace('\u2212', '-');
}
