import { allRules } from '../figures/catalogue.ts';
import { figuresOfRule, judgeRule } from '../graph/rule.ts';
import type { Sheet } from '../graph/sheet.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { ownRoute } from '../route/route.ts';
import { inputsBehind } from '../settings/rests-on.ts';
import type { CardsAbout } from './cards.ts';

/**
 * What the cards of a pattern have in common: its name and hand, the rules it breaks, the inputs not yet confirmed.
 *
 * @param pattern  the pattern
 * @param sheet    its sheet
 * @param print    revision, shop, day and address of this print
 */
export function cardsAbout(
  pattern: Pattern,
  sheet: Sheet,
  print: Pick<CardsAbout, 'revision' | 'shop' | 'printedOn' | 'address' | 'isDemo'>,
): CardsAbout {
  const broken = allRules
    .filter((r) => judgeRule(sheet, r).state === 'broken')
    .map((r) => ({
      label: r.label,
      inputs: inputsBehind(
        sheet.catalogue,
        figuresOfRule(r).map((f) => f.id),
      ),
    }));
  return {
    ...print,
    patternName: pattern.name,
    route: ownRoute(),
    isLeftHanded: pattern.handed === 'left',
    brokenRules: (card) => {
      const own = new Set(inputsBehind(sheet.catalogue, card.figures));
      const here = broken.filter((r) => r.inputs.some((id) => own.has(id)));
      return { here: here.map((r) => r.label), elsewhereCount: broken.length - here.length };
    },
    notMine: (card) =>
      inputsBehind(sheet.catalogue, card.figures).filter(
        (id) => pattern.numbers.has(id) && !pattern.mine.has(id),
      ),
  };
}
