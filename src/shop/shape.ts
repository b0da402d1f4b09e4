import type { QuantityKind } from '../quantity/units.ts';

/** An amount written as people write it: `3 15/16 in`, `2.5 mm`, `14 deg`. */
export interface AmountShape {
  readonly kind: 'amount';
  readonly quantity: QuantityKind;
  /** Unit of a bare number. */
  readonly unit: string;
  /** Plausible limits in the base unit of the quantity. */
  readonly low: number;
  readonly high: number;
}

export interface TextShape {
  readonly kind: 'text';
  readonly most: number;
  /** What it has to look like, and how that is said. */
  readonly pattern?: string;
  readonly such?: string;
}

export interface ChoiceShape {
  readonly kind: 'choice';
  readonly of: readonly string[];
}

export interface YesNoShape {
  readonly kind: 'yes-no';
}

export interface ListShape {
  readonly kind: 'list';
  readonly item: Shape;
  readonly most: number;
}

/** Keys chosen by the person (ids), all with the same shape behind them. */
export interface MapShape {
  readonly kind: 'map';
  readonly item: Shape;
  readonly most: number;
}

/** One key of a group. */
export interface Field {
  readonly shape: Shape;
  /** What a person calls it, to begin a sentence with. */
  readonly what: string;
  readonly isNeeded: boolean;
}

export interface GroupShape {
  readonly kind: 'group';
  readonly fields: Readonly<Record<string, Field>>;
}

/** A group whose further keys depend on one of them, e.g. `reads: digital`. */
export interface VariantShape {
  readonly kind: 'variant';
  readonly by: string;
  readonly what: string;
  readonly common: Readonly<Record<string, Field>>;
  readonly cases: Readonly<Record<string, Readonly<Record<string, Field>>>>;
}

/** What a value in a file has to look like. */
export type Shape =
  | AmountShape
  | TextShape
  | ChoiceShape
  | YesNoShape
  | ListShape
  | MapShape
  | GroupShape
  | VariantShape;

/** A length with its plausible limits in mm. */
export const lengthShape = (unit: 'mm' | 'in', lowMm: number, highMm: number): AmountShape => ({
  kind: 'amount',
  quantity: 'length',
  unit,
  low: lowMm,
  high: highMm,
});

/** A plain number with its limits. */
export const countShape = (low: number, high: number): AmountShape => ({
  kind: 'amount',
  quantity: 'count',
  unit: 'count',
  low,
  high,
});

/** An angle with its limits in degrees. */
export const angleShape = (lowDeg: number, highDeg: number): AmountShape => ({
  kind: 'amount',
  quantity: 'angle',
  unit: 'deg',
  low: lowDeg,
  high: highDeg,
});

/** Short free text. */
export const textShape = (most = 200): TextShape => ({ kind: 'text', most });

/** An id: small letters, digits and hyphens. */
export const idShape: TextShape = {
  kind: 'text',
  most: 60,
  pattern: '^[a-z0-9][a-z0-9-]*$',
  such: 'small letters, digits and hyphens, such as thickness-sander',
};

/** A date as year-month-day. */
export const dateShape: TextShape = {
  kind: 'text',
  most: 10,
  pattern: '^\\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\\d|3[01])$',
  such: 'a date such as 2026-10-12',
};

/** A key that has to be there. */
export const needed = (what: string, shape: Shape): Field => ({ what, shape, isNeeded: true });
/** A key that may be left out. */
export const may = (what: string, shape: Shape): Field => ({ what, shape, isNeeded: false });
