import { describe, expect, it } from 'vitest';
import { missingCharacters } from '../src/drawing/text-size.ts';
import { allRules } from '../src/figures/catalogue.ts';
import { patternCatalogue } from '../src/figures/pattern-sheet.ts';

/*
 * Prints are set in the bundled fonts, which lack some signs (at least, at most, arrows to the right, ticks). A word
 * that holds one would be printed with a question mark.
 */
describe('letters that the bundled fonts have', () => {
  it('are enough for every label, unit and formula of the figures', () => {
    const lacking = patternCatalogue.ordered.flatMap(({ id, label, unit, formula }) => {
      const missing = missingCharacters(`${label}${unit}${formula}`);
      return missing.length > 0 ? [`${id}: ${missing.join(' ')}`] : [];
    });
    expect(lacking).toEqual([]);
  });

  it('are enough for every rule', () => {
    const lacking = allRules.flatMap((rule) => {
      const missing = missingCharacters(`${rule.label}${rule.why}`);
      return missing.length > 0 ? [`${rule.id}: ${missing.join(' ')}`] : [];
    });
    expect(lacking).toEqual([]);
  });
});
