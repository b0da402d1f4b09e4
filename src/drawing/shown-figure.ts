import type { Figure } from '../graph/figure.ts';
import { figureValue, numberOf, type Sheet } from '../graph/sheet.ts';
import { formatDecimal, inchText } from '../quantity/print-length.ts';
import { type DimensionWords, drawnNumber, numberWords } from './drawn-number.ts';
import type { DimensionExtras } from './model.ts';

/** Values of figures by the names they were asked under. */
export type ValuesOf<F extends Record<string, Figure>> = {
  readonly [K in keyof F]: F[K] extends { readonly type?: infer V } ? Exclude<V, undefined> : never;
};

/**
 * The values of several figures, for a part that needs all of them.
 *
 * @returns  undefined as soon as one of them cannot be had: the part is then left out
 * @source   arithmetic
 */
export function allOf<F extends Record<string, Figure>>(sheet: Sheet, figures: F): ValuesOf<F> | undefined {
  const found: Record<string, unknown> = {};
  for (const [name, figure] of Object.entries(figures)) {
    const value = figureValue(sheet, figure);
    if (value === undefined) return undefined;
    found[name] = value;
  }
  return found as ValuesOf<F>;
}

/** Words, old number and key of the dimension that shows a figure. @source arithmetic */
export function shownAs(sheet: Sheet, id: string, words: DimensionWords): DimensionExtras {
  return { ...numberWords(sheet, id, words), key: id };
}

/** A length as it stands in a sentence on a drawing, without its unit. @source inch-1959 */
export function lengthWords(valueMm: number, { lengthUnit }: DimensionWords): string {
  return drawnNumber(valueMm, 'mm', lengthUnit);
}

/** The number of a figure as it stands in a sentence; undefined when there is none. @source arithmetic */
export function figureWords(sheet: Sheet, id: string, words: DimensionWords): string | undefined {
  const value = numberOf(sheet, id);
  if (value === undefined) return undefined;
  return drawnNumber(value, sheet.catalogue.byId.get(id)?.unit ?? 'mm', words.lengthUnit);
}

/** A length in both units to 0.01 mm, for lists that are sawn by. @source inch-1959 */
export function exactWords(valueMm: number): { readonly mm: string; readonly inch: string } {
  return { mm: formatDecimal(valueMm, 2), inch: inchText(valueMm).replace(/ in$/, '') };
}
