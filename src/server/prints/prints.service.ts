import type { NamedShop } from '../../course/shop-of-record.ts';
import { allDrawings, drawingNamed } from '../../drawing/drawing-table.ts';
import { sheetOfPattern } from '../../figures/pattern-sheet.ts';
import type { Sheet } from '../../graph/sheet.ts';
import { loadFonts } from '../../output/fonts-node.ts';
import type { PaperName } from '../../output/paper.ts';
import { drawingsToPdf } from '../../output/pdf.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import { readPattern } from '../../pattern/pattern-file.ts';
import { cardDrawings } from '../../prints/cards.ts';
import { cardsAbout } from '../../prints/cards-about.ts';
import { titleFieldsOf } from '../../prints/title-fields.ts';
import { InputError } from '../../quantity/input-error.ts';
import { settingCards } from '../../settings/settings-of.ts';
import { PLAIN_SHOP, type Shop } from '../../shop/shop.ts';

/** What is to be printed. */
export interface PrintWish {
  readonly text: string;
  readonly what: string;
  readonly paper: PaperName;
  readonly revision: string;
  readonly printed100Mm?: { readonly x: number; readonly y: number };
  /** Day of the print. */
  readonly day: string;
  /** Host that the codes on cards lead to, where the shop has not set one. */
  readonly host: string;
  /** The shop of the record; without one everything is taken as adjustable and true. */
  readonly shop?: NamedShop;
}

type Pages = Parameters<typeof drawingsToPdf>[0];

function drawingPages(pattern: Pattern, { what, revision, day }: PrintWish): Pages {
  const named = drawingNamed(what);
  const drawings = what === 'all' ? allDrawings : named ? [named] : [];
  if (drawings.length === 0)
    throw new InputError(
      'unknown-drawing',
      `There is no drawing "${what}"; there are ${allDrawings.map((d) => d.id).join(', ')}, "all" and "cards".`,
      'what',
    );
  const sheet = sheetOfPattern(pattern);
  return drawings.map(({ draw }) => {
    const drawing = draw(sheet);
    const titleFields = titleFieldsOf(pattern, drawing, { revision, drawnOn: day });
    return { kind: 'full-scale', drawing, titleFields } as const;
  });
}

/** What a set of cards is made from. */
export interface CardsWish {
  readonly pattern: Pattern;
  readonly sheet: Sheet;
  readonly shop: Shop;
  readonly isDemo: boolean;
  readonly revision: string;
  readonly day: string;
  readonly host: string;
}

/**
 * Setting cards as pages.
 *
 * @param only  id of the one card wanted
 * @throws InputError when there is no such card
 */
export function cardPages(wish: CardsWish, only?: string): Pages {
  const { pattern, sheet, shop, isDemo, revision, day, host } = wish;
  const all = settingCards(sheet, shop);
  const cards = only === undefined ? all : all.filter((c) => c.id === only);
  if (only !== undefined && cards.length === 0)
    throw new InputError(
      'no-such-card',
      `There is no setting card "${only.slice(0, 40)}" in ${pattern.name}; there are ${all.map((c) => c.id).join(', ')}.`,
      'card',
    );
  if (cards.length === 0)
    throw new InputError(
      'no-cards',
      'This pattern gives no setting card; look at the numbers without a value first.',
    );
  const about = cardsAbout(pattern, sheet, {
    revision,
    shop,
    printedOn: day,
    address: `http://${shop.host ?? host}/card/`,
    isDemo,
  });
  return cardDrawings(cards, about).map((drawing) => ({ kind: 'fixed', drawing }) as const);
}

/**
 * A PDF at full scale: one drawing, all drawings, or all setting cards.
 *
 * @throws InputError when the text is no pattern or there is no such drawing
 */
export function printOf(wish: PrintWish): Promise<Uint8Array> {
  const pattern = readPattern(wish.text);
  const isCards = wish.what === 'cards';
  const shop = wish.shop?.shop ?? PLAIN_SHOP;
  const isDemo = wish.shop?.isDemo ?? false;
  const pages = isCards
    ? cardPages({ ...wish, pattern, sheet: sheetOfPattern(pattern), shop, isDemo })
    : drawingPages(pattern, wish);
  return drawingsToPdf(pages, {
    paper: wish.paper,
    printed100Mm: wish.printed100Mm ?? { x: shop.printed100.xMm, y: shop.printed100.yMm },
    fonts: loadFonts(),
    documentTitle: `${pattern.name}, ${wish.revision}: ${isCards ? 'setting cards' : wish.what}`,
    createdOn: wish.day,
  });
}
