import { readAmount, type WrittenAmount } from './number-text.ts';
import { formatDecimal } from './print-length.ts';
import { fromBase, KINDS, type QuantityKind, toBase, unitSize, unitWord } from './units.ts';

/** A place where a person types an amount: what it is called, the unit shown at it, what is plausible there. */
export interface QuantityField {
  readonly kind: QuantityKind;
  /** Unit of a bare number, shown at the field. */
  readonly unit: string;
  /** Plausible limits in the base unit of the kind (mm, deg, N, kg, ...), ends included. */
  readonly low: number;
  readonly high: number;
  /** What the person calls it, to begin a sentence with: `Top thickness`. */
  readonly what: string;
}

/** The amount is clear. */
export interface ReadQuantity {
  readonly kind: 'value';
  /** In the base unit of the kind. */
  readonly value: number;
  /** Unit it was written in, or the field's for a bare number. */
  readonly unit: string;
  readonly isBare: boolean;
}

/** One reading that a person may have meant. */
export interface Meant {
  readonly value: number;
  /** As it would be written out: `0.100 in`. */
  readonly text: string;
}

/** The amount has to be asked about. */
export interface QuantityQuestion {
  readonly kind: 'question';
  /** The question: `0.100 in?` */
  readonly text: string;
  readonly meant: readonly Meant[];
}

/** The amount cannot be used. */
export interface QuantityRefusal {
  readonly kind: 'refusal';
  readonly code: 'empty' | 'not-a-number' | 'wrong-unit' | 'two-readings' | 'slip-of-ten' | 'out-of-range';
  /** One sentence: what, the value got, the limit, what to do. */
  readonly text: string;
}

export type ParsedQuantity = ReadQuantity | QuantityQuestion | QuantityRefusal;

const refusal = (code: QuantityRefusal['code'], text: string): QuantityRefusal => ({
  kind: 'refusal',
  code,
  text,
});

/** Short decimal text with up to four decimals. */
const shortNumber = (value: number): string =>
  Math.abs(value) >= 1e6 ? `${Math.round(value)}` : formatDecimal(value, 4).replace(/\.?0+$/, '');

const sized = (kind: QuantityKind, unit: string) => {
  const size = unitSize(kind, unit);
  if (!size) throw new RangeError(`${KINDS[kind].noun} has no unit ${unit}`);
  return size;
};

/** A base value written in a unit: `2.8 mm`, `0.100 in`. */
function written(kind: QuantityKind, value: number, unit: string): string {
  const inUnit = fromBase(value, sized(kind, unit));
  const text = kind === 'length' && unit !== 'mm' ? formatDecimal(inUnit, 3) : shortNumber(inUnit);
  return text + unitWord(unit);
}

/** `between 1.5 and 6 mm`. */
function rangeText({ kind, unit, low, high }: QuantityField): string {
  const size = sized(kind, unit);
  const ends = [fromBase(low, size), fromBase(high, size)].sort((a, b) => a - b);
  return `between ${shortNumber(ends[0] as number)} and ${shortNumber(ends[1] as number)}${unitWord(unit)}`;
}

const isPlausible = (value: number, field: QuantityField): boolean => {
  const slack = 1e-9 * Math.max(1, Math.abs(field.low), Math.abs(field.high));
  return value >= field.low - slack && value <= field.high + slack;
};

/** The amount in the base unit, reading bare numbers in `bareUnit` and grouped commas as told; undefined for a foreign unit. */
function baseValue(
  amount: WrittenAmount,
  kind: QuantityKind,
  bareUnit: string,
  isGrouped: boolean,
): number | undefined {
  let sum = 0;
  for (const { number, unit } of amount.terms) {
    const size = unitSize(kind, unit === '' ? bareUnit : unit);
    if (!size || (amount.terms.length > 1 && size.offset !== undefined)) return undefined;
    const value = isGrouped ? (number.groupedValue ?? number.value) : number.value;
    sum += toBase(amount.isNegative ? -value : value, size);
  }
  return sum;
}

/** The unit a bare number is read in: a fraction stroke in a length means inches. */
function bareUnitOf(amount: WrittenAmount, field: QuantityField): string {
  const isStroke = amount.terms.some((t) => t.number.hasStroke);
  return field.kind === 'length' && isStroke && field.unit === 'mm' ? 'in' : field.unit;
}

/** What a bare length would be in the other unit, if that is plausible. */
function otherUnit(amount: WrittenAmount, field: QuantityField, bareUnit: string): Meant[] {
  if (field.kind !== 'length' || amount.terms.length > 1 || amount.terms[0]?.unit !== '') return [];
  const unit = bareUnit === 'mm' ? 'in' : 'mm';
  const value = baseValue(amount, 'length', unit, false);
  if (value === undefined || !isPlausible(value, field)) return [];
  return [{ value, text: written('length', value, unit) }];
}

/** What it would be if the point had slipped one place. */
function slips(value: number, field: QuantityField, unit: string): Meant[] {
  return [value / 10, value * 10]
    .filter((v) => isPlausible(v, field))
    .map((v) => ({ value: v, text: written(field.kind, v, unit) }));
}

function refuseRange(field: QuantityField, text: string, value: number, unit: string): QuantityRefusal {
  const said = `${field.what} is "${text}", and it must be ${rangeText(field)}`;
  const slip = field.kind === 'temperature' || field.kind === 'count' ? [] : slips(value, field, unit);
  return slip.length > 0
    ? refusal('slip-of-ten', `${said}; was ${slip.map((s) => s.text).join(' or ')} meant? Type it again.`)
    : refusal('out-of-range', `${said}; measure and type it again, with its unit.`);
}

/**
 * Reads an amount that a person typed into a field.
 *
 * @param input  as typed, or a number from a file
 * @param field  what the field holds, its unit and its plausible limits
 * @returns      the value in the base unit; a question when only another unit makes sense; or a refusal with its sentence
 * @source       inch-1959
 * @example      parseQuantity('14 deg', { kind: 'angle', unit: 'deg', low: 0, high: 45, what: 'Back angle' })
 */
export function parseQuantity(input: string | number, field: QuantityField): ParsedQuantity {
  const text = String(input).trim();
  const spec = KINDS[field.kind];
  const ask = `type ${spec.noun} ${rangeText(field)}`;
  if (text === '') return refusal('empty', `${field.what} is empty; ${ask}.`);
  const shown = text.length > 40 ? `${text.slice(0, 40)}...` : text;
  const amount = readAmount(text);
  if (!amount)
    return refusal(
      'not-a-number',
      `${field.what} is "${shown}", which is no number; ${ask}, such as ${spec.example}.`,
    );
  const bareUnit = bareUnitOf(amount, field);
  const value = baseValue(amount, field.kind, bareUnit, false);
  if (value === undefined) {
    const units = amount.terms.map((t) => t.unit).filter((u) => u !== '' && !unitSize(field.kind, u));
    return refusal(
      'wrong-unit',
      `${field.what} is "${shown}", and ${units.join(' ') || 'that'} is no unit of ${spec.noun}; ${ask}, such as ${spec.example}.`,
    );
  }
  return settle(amount, field, shown, bareUnit, value);
}

/** Chooses between the readings of a well-formed amount. */
function settle(
  amount: WrittenAmount,
  field: QuantityField,
  shown: string,
  bareUnit: string,
  value: number,
): ParsedQuantity {
  const isBare = amount.terms.length === 1 && amount.terms[0]?.unit === '';
  const unit = (isBare ? bareUnit : (amount.terms.at(-1)?.unit ?? field.unit)).toLowerCase();
  const read = (v: number): ReadQuantity => ({ kind: 'value', value: v, unit, isBare });
  const grouped = baseValue(amount, field.kind, bareUnit, true) as number;
  const isOk = isPlausible(value, field);
  if (grouped !== value && isPlausible(grouped, field)) {
    if (!isOk) return read(grouped);
    const both = `${written(field.kind, value, unit)} or ${written(field.kind, grouped, unit)}`;
    return refusal(
      'two-readings',
      `${field.what} is "${shown}", which can be read as ${both}, and both would fit ${rangeText(field)}; type it with a point or without the comma.`,
    );
  }
  if (isOk) return read(value);
  const meant = otherUnit(amount, field, bareUnit);
  if (meant.length > 0) {
    const all = [...meant, ...slips(value, field, unit)];
    return { kind: 'question', text: `${all.map((m) => m.text).join(', or ')}?`, meant: all };
  }
  return refuseRange(field, shown, value, unit);
}
