import { sheetOfPattern } from '../figures/pattern-sheet.ts';
import { loadFonts } from '../output/fonts-node.ts';
import { drawingsToPdf } from '../output/pdf.ts';
import { cardDrawings } from '../prints/cards.ts';
import { cardsAbout } from '../prints/cards-about.ts';
import { InputError } from '../quantity/input-error.ts';
import type { SettingCard, Unset } from '../settings/setting.ts';
import { settingsOf } from '../settings/settings-of.ts';
import { PAPERS, type PaperName, type Shop } from '../shop/shop.ts';
import { say, sayJson, writeWhole } from './door.ts';
import { patternArgument } from './pattern-argument.ts';
import { shopArgument } from './shop-argument.ts';

/** Options of `cards`. */
export interface CardsOptions {
  readonly shop?: string;
  readonly out: string;
  readonly set?: readonly string[];
  readonly paper?: string;
  readonly address?: string;
  readonly json?: boolean;
}

function paperOf(name: string | undefined, shop: Shop): PaperName {
  const paper = name ?? shop.paper;
  const found = PAPERS.find((p) => p === paper);
  if (!found)
    throw new InputError(
      'unknown-choice',
      `--paper is "${paper}", and it must be one of ${PAPERS.join(', ')}.`,
    );
  return found;
}

/** Day of the print; SOURCE_DATE_EPOCH makes it the same every time. */
function today(): string {
  const epoch = process.env['SOURCE_DATE_EPOCH'];
  const date = epoch === undefined ? new Date() : new Date(Number(epoch) * 1000);
  return date.toISOString().slice(0, 10);
}

const cardJson = (card: SettingCard): object => ({
  id: card.id,
  title: card.title,
  station: card.station,
  operations: card.operations,
  settings: card.settings.map((s) => ({
    id: s.id,
    label: s.label,
    unit: s.unit,
    wanted: s.wanted,
    result: s.result,
    set_to: `${s.big.text} ${s.big.unit}`,
    ...(s.small === undefined ? {} : { beside: s.small }),
    leaves_mm: s.leavesMm ?? 0,
    figures: s.figures,
    ...(s.note === undefined ? {} : { note: s.note }),
  })),
});

/**
 * `cards PATTERN --out FILE.pdf`: all setting cards.
 *
 * @returns exit code 0
 * @throws InputError with one sentence; then no file is written
 */
export async function cardsCommand(name: string, options: CardsOptions): Promise<number> {
  const { pattern } = patternArgument(name, options.set);
  const shop = shopArgument(options.shop);
  const sheet = sheetOfPattern(pattern);
  const all = settingsOf(sheet, shop);
  const cards = all.filter((c): c is SettingCard => c.kind === 'card');
  const missing = all.filter((c): c is Unset => c.kind === 'unset');
  if (cards.length === 0)
    throw new InputError(
      'no-cards',
      `${name} gives no setting card: ${missing[0]?.reason ?? 'it is empty'}.`,
    );
  const day = today();
  const about = cardsAbout(pattern, sheet, {
    revision: 'draft',
    shop,
    printedOn: day,
    address: `${options.address ?? `http://${shop.host ?? 'bracewright.local'}`}/card/`,
  });
  const pages = cardDrawings(cards, about).map((drawing) => ({ kind: 'fixed', drawing }) as const);
  const { xMm, yMm } = shop.printed100;
  const pdf = await drawingsToPdf(pages, {
    paper: paperOf(options.paper, shop),
    printed100Mm: { x: xMm, y: yMm },
    fonts: loadFonts(),
    documentTitle: `${pattern.name}: setting cards`,
    createdOn: day,
  });
  writeWhole(options.out, pdf);
  const blocked = missing.filter((m) => !m.isAbsent);
  if (options.json)
    sayJson({
      file: options.out,
      cards: cards.map(cardJson),
      missing: missing.map((m) => ({ id: m.id, title: m.title, reason: m.reason })),
    });
  else {
    say(`${cards.length} cards for ${pattern.name} in ${options.out}.`);
    for (const m of blocked) say(`No card "${m.title}": ${m.reason}`);
  }
  return 0;
}
