import { describe, expect, it } from 'vitest';
import { allDrawings } from '../src/drawing/drawing-table.ts';
import type { Drawing } from '../src/drawing/model.ts';
import { missingCharacters } from '../src/drawing/text-size.ts';
import { allRules } from '../src/figures/catalogue.ts';
import { patternCatalogue, sheetOfPattern } from '../src/figures/pattern-sheet.ts';
import { cardDrawings } from '../src/prints/cards.ts';
import { ownRoute } from '../src/route/route.ts';
import { settingsOf } from '../src/settings/settings-of.ts';
import { PLAIN_SHOP } from '../src/shop/shop.ts';
import { STARTING, startingPattern } from './support/patterns.ts';

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

  it.each(STARTING)('%s: are enough for its drawings and its cards', (name) => {
    const sheet = sheetOfPattern(startingPattern(name));
    const cards = settingsOf(sheet, PLAIN_SHOP).filter((card) => card.kind === 'card');
    const about = {
      patternName: name,
      revision: '1',
      shop: PLAIN_SHOP,
      route: ownRoute(),
      printedOn: '2027-01-15',
      address: 'http://bracewright.local/card/',
      isLeftHanded: false,
    };
    const drawings = [...allDrawings.map(({ draw }) => draw(sheet)), ...cardDrawings(cards, about)];
    const words = drawings.flatMap(wordsOf);
    expect(words.length).toBeGreaterThan(200);
    expect(words.filter((line) => missingCharacters(line).length > 0)).toEqual([]);
  });
});

function wordsOf(drawing: Drawing): readonly string[] {
  return drawing.entities.flatMap((entity) => {
    if (entity.kind === 'text') return [entity.text];
    return entity.kind === 'dimension' ? [entity.text ?? '', entity.second ?? ''] : [];
  });
}
