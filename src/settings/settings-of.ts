import { stockPieces } from '../figures/inputs.ts';
import { isAbsent } from '../graph/figure.ts';
import { cellOf, figureValue, isPending, numberOf, type Sheet } from '../graph/sheet.ts';
import type { Instrument } from '../pattern/pattern.ts';
import { isFinding } from '../quantity/finding.ts';
import { sizesIn } from '../quantity/print-length.ts';
import { PLAIN_SHOP, type Shop } from '../shop/shop.ts';
import { boardCards } from './board-cards.ts';
import { bodyCards, joiningFrame } from './body-cards.ts';
import { braceCards } from './brace-cards.ts';
import { bridgeCards } from './bridge-cards.ts';
import { inchesFirst } from './make-setting.ts';
import { neckCards } from './neck-cards.ts';
import { ringCards } from './ring-cards.ts';
import { sanderCards } from './sander-cards.ts';
import type { CardSpec, Setting, SettingCard, Unset } from './setting.ts';

/** Every card, in the order of the work. */
export const allCards: readonly CardSpec[] = [
  joiningFrame,
  ...sanderCards.slice(0, 1),
  ...ringCards,
  ...sanderCards.slice(1),
  ...braceCards,
  ...bodyCards,
  ...neckCards,
  ...boardCards,
  ...bridgeCards,
];

/** Why a figure or a member of a family has no number, or undefined when it has one. */
function hindranceOf(sheet: Sheet, id: string): { reason: string; isAbsent: boolean } | undefined {
  if (numberOf(sheet, id) !== undefined) return undefined;
  const owner = sheet.catalogue.indexById.has(id) ? id : id.slice(0, Math.max(0, id.lastIndexOf('.')));
  if (!sheet.catalogue.indexById.has(owner)) return { reason: `there is no figure ${id}`, isAbsent: false };
  const cell = cellOf(sheet, owner);
  if (isAbsent(cell)) return { reason: cell.reason, isAbsent: true };
  if (isFinding(cell)) return { reason: cell.text, isAbsent: false };
  if (isPending(cell)) return { reason: 'still being computed', isAbsent: false };
  return { reason: `${id} is no number`, isAbsent: false };
}

/** One card for a sheet and a shop. */
function cardOf(spec: CardSpec, sheet: Sheet, shop: Shop, instrument: Instrument): SettingCard | Unset {
  const { id, title } = spec;
  if (spec.only && !spec.only.includes(instrument))
    return { kind: 'unset', id, title, reason: 'this instrument has none', isAbsent: true };
  for (const figure of spec.from) {
    const hindered = hindranceOf(sheet, figure);
    if (hindered) return { kind: 'unset', id, title, ...hindered };
  }
  const body = spec.build({
    of: (figure) => numberOf(sheet, figure) as number,
    maybe: (figure) => numberOf(sheet, figure),
    stock: (part) =>
      sheet.catalogue.byId.has(stockPieces.id)
        ? figureValue(sheet, stockPieces)?.find((piece) => piece.part === part)
        : undefined,
    shop,
    size: sizesIn(shop.unit),
    instrument,
    isLeftHanded: sheet.catalogue.indexById.has('handed') && cellOf(sheet, 'handed') === 'left',
  });
  const settings = shop.unit === 'in' ? body.settings.map(inchesFirst) : body.settings;
  const figures = [...new Set(body.settings.filter((s) => !isListed(s)).flatMap((s) => s.figures))];
  const { station, operations, lie, mayChange, hold } = spec;
  return {
    kind: 'card',
    id,
    title,
    station,
    operations,
    lie,
    mayChange,
    ...(hold ? { hold } : {}),
    ...body,
    settings,
    figures,
  };
}

/** Single slots of the slot list do not name their figures one by one on the card. */
const isListed = (s: Setting): boolean => /^slots\.\d/.test(s.id);

/**
 * Every jig and machine setting that follows from a pattern and a shop, card by card in the order of the work.
 *
 * @param sheet  figures of the pattern
 * @param shop   what is at hand; without it everything is taken as adjustable and true
 * @returns      a card for each station and setting, or why there is none
 * @source       common practice, no published source
 */
export function settingsOf(sheet: Sheet, shop: Shop = PLAIN_SHOP): readonly (SettingCard | Unset)[] {
  const cell = sheet.catalogue.indexById.has('instrument') ? cellOf(sheet, 'instrument') : undefined;
  const instrument: Instrument = cell === 'nylon' || cell === 'uke' ? cell : 'steel';
  return allCards.map((spec) => cardOf(spec, sheet, shop, instrument));
}

/** Only the cards that can be had. @source arithmetic */
export function settingCards(sheet: Sheet, shop: Shop = PLAIN_SHOP): readonly SettingCard[] {
  return settingsOf(sheet, shop).filter((c): c is SettingCard => c.kind === 'card');
}

/** One setting that came out differently. */
export interface SettingChange {
  readonly id: string;
  readonly card: string;
  readonly label: string;
  /** What it was set to, `56.6 mm`; missing when there was none. */
  readonly from?: string;
  readonly to?: string;
  readonly fromValue?: number;
  readonly toValue?: number;
  readonly unit: Setting['unit'];
}

const bigText = (s: Setting): string => `${s.big.text} ${s.big.unit}`;

/**
 * The settings that differ between two sets of cards: what has to be set anew, and which cards are no longer good.
 *
 * @source arithmetic
 */
export function changedSettings(
  before: readonly SettingCard[],
  after: readonly SettingCard[],
): readonly SettingChange[] {
  const list = (cards: readonly SettingCard[]): Map<string, readonly [SettingCard, Setting]> =>
    new Map(cards.flatMap((c) => c.settings.map((s) => [s.id, [c, s] as const] as const)));
  const old = list(before);
  const now = list(after);
  const changes: SettingChange[] = [];
  for (const id of new Set([...now.keys(), ...old.keys()])) {
    const was = old.get(id);
    const is = now.get(id);
    const [card, setting] = (is ?? was) as readonly [SettingCard, Setting];
    if (was && is && bigText(was[1]) === bigText(is[1])) continue;
    changes.push({
      id,
      card: card.id,
      label: setting.label,
      unit: setting.unit,
      ...(was ? { from: bigText(was[1]), fromValue: was[1].result } : {}),
      ...(is ? { to: bigText(is[1]), toValue: is[1].result } : {}),
    });
  }
  return changes;
}
