import { createCatalogue } from '../graph/catalogue.ts';
import { checkRules, type InputLimits } from '../graph/remedy.ts';
import { figuresOfRule, type Rule } from '../graph/rule.ts';
import { evaluate, type Given, type Override, type Sheet } from '../graph/sheet.ts';
import { inputTable } from '../pattern/input-table.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { inputSpec } from '../pattern/pattern-file.ts';
import { allFigures, allRules } from './catalogue.ts';
import { givenInputs, input } from './inputs.ts';
import { structureRules } from './structure.ts';

/** Every figure of the product with what it needs, in order. */
export const patternCatalogue = createCatalogue([
  ...inputTable.map((i) => input(i.id)),
  ...allFigures,
  ...[...allRules, ...structureRules].flatMap((r: Rule) => figuresOfRule(r)),
]);
checkRules(patternCatalogue, [...allRules, ...structureRules]);

/** Ways to ask for a sheet. */
export interface SheetOptions {
  /** Measured values that take the place of figures. */
  readonly overrides?: ReadonlyMap<string, Override>;
  /** What is known of dear figures (`graph/sheet.ts`). */
  readonly dear?: NonNullable<Given['dear']>;
  /** An earlier sheet; only what changed is computed anew. */
  readonly previous?: Sheet;
}

/**
 * All figures of a pattern.
 *
 * @returns a sheet; figures that cannot be had are findings in it
 * @source  arithmetic
 */
export function sheetOfPattern(pattern: Pattern, options: SheetOptions = {}): Sheet {
  const given: Given = {
    inputs: givenInputs(pattern),
    ...(options.overrides ? { overrides: options.overrides } : {}),
    ...(options.dear ? { dear: options.dear } : {}),
  };
  return evaluate(patternCatalogue, given, options.previous);
}

/** Plausible limits of an input, for `graph/remedy.ts`. */
export const inputLimits: InputLimits = inputSpec;
