import { allDrawings, drawingNamed } from '../../drawing/drawing-table.ts';
import { sheetOfPattern } from '../../figures/pattern-sheet.ts';
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
import { PLAIN_SHOP } from '../../shop/shop.ts';

/** What is to be printed. */
export interface PrintWish {
  readonly text: string;
  readonly what: string;
  readonly paper: PaperName;
  readonly revision: string;
  readonly printed100Mm?: { readonly x: number; readonly y: number };
  /** Day of the print. */
  readonly day: string;
  /** Host that the codes on cards lead to. */
  readonly host: string;
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

function cardPages(pattern: Pattern, { revision, day, host }: PrintWish): Pages {
  const sheet = sheetOfPattern(pattern);
  const cards = settingCards(sheet, PLAIN_SHOP);
  if (cards.length === 0)
    throw new InputError(
      'no-cards',
      'This pattern gives no setting card; look at the numbers without a value first.',
    );
  const about = cardsAbout(pattern, sheet, {
    revision,
    shop: PLAIN_SHOP,
    printedOn: day,
    address: `http://${host}/card/`,
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
  const pages = isCards ? cardPages(pattern, wish) : drawingPages(pattern, wish);
  return drawingsToPdf(pages, {
    paper: wish.paper,
    ...(wish.printed100Mm ? { printed100Mm: wish.printed100Mm } : {}),
    fonts: loadFonts(),
    documentTitle: `${pattern.name}, ${wish.revision}: ${isCards ? 'setting cards' : wish.what}`,
    createdOn: wish.day,
  });
}
