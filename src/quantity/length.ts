import { InputError } from './input-error.ts';
import {
  parseQuantity,
  type QuantityField,
  type QuantityQuestion,
  type QuantityRefusal,
} from './parse-quantity.ts';

/** A place where a length is typed. */
export interface LengthField {
  /** Unit of a bare number, shown at the field. */
  readonly unit: 'mm' | 'in';
  /** Plausible limits, mm, ends included. */
  readonly lowMm: number;
  readonly highMm: number;
  /** What the person calls it, to begin a sentence with: `Top thickness`. */
  readonly what: string;
}

/** A length that is clear. */
export interface ReadLength {
  readonly kind: 'length';
  readonly valueMm: number;
  /** Unit it was written in; keep it when the file is written back. */
  readonly unit: 'mm' | 'in';
  /** No unit was written. */
  readonly isBare: boolean;
}

export type ParsedLength = ReadLength | QuantityQuestion | QuantityRefusal;

const INCH_WORDS = new Set(['in', 'inch', 'inches', '"', 'ft', 'foot', 'feet', "'"]);

const quantityField = ({ unit, lowMm, highMm, what }: LengthField): QuantityField => ({
  kind: 'length',
  unit,
  low: lowMm,
  high: highMm,
  what,
});

/**
 * Reads a length that a person typed: `3 15/16`, `3-15/16 in`, `.100`, `1/8"`, `2.5 mm`, `98,5`, `5 ft 2 in`.
 *
 * @param text   as typed, or a number from a file
 * @param field  unit of a bare number, plausible limits in mm, what it is called
 * @returns      the length in mm; a question (`0.100 in?`) when only the other unit is plausible; or a refusal with its sentence.
 *               A bare fraction is inches also in a field of mm.
 * @source       inch-1959
 * @example      parseLength('3 15/16', { unit: 'mm', lowMm: 60, highMm: 130, what: 'Sound hole' }) // 100.0125 mm
 */
export function parseLength(text: string | number, field: LengthField): ParsedLength {
  const parsed = parseQuantity(text, quantityField(field));
  if (parsed.kind !== 'value') return parsed;
  const unit = INCH_WORDS.has(parsed.unit) ? 'in' : 'mm';
  return { kind: 'length', valueMm: parsed.value, unit, isBare: parsed.isBare };
}

/**
 * Reads a length for a door that cannot ask back (a file, the command line).
 *
 * @param member  where it stands, e.g. `body.waist_width`
 * @returns       mm
 * @throws InputError with one sentence when it is refused or unclear
 * @source        inch-1959
 */
export function requireLengthMm(text: string | number, field: LengthField, member?: string): number {
  return requireQuantity(text, quantityField(field), member);
}

/**
 * The same for any quantity.
 *
 * @returns  in the base unit of the kind
 * @throws InputError with one sentence when it is refused or unclear
 * @source   inch-1959
 */
export function requireQuantity(text: string | number, field: QuantityField, member?: string): number {
  const parsed = parseQuantity(text, field);
  if (parsed.kind === 'value') return parsed.value;
  if (parsed.kind === 'refusal') throw new InputError(parsed.code, parsed.text, member);
  throw new InputError(
    'unit-unclear',
    `${field.what} is "${text}", which is not plausible in the unit of this field; was it ${parsed.text.slice(0, -1)}? Write the unit with it.`,
    member,
  );
}
