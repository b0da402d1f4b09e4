import { bounds } from '../drawing/bounds.ts';
import { checkLine } from '../drawing/check-line.ts';
import {
  type BoundsMm,
  box,
  closedPath,
  type Drawing,
  type Entity,
  line,
  lineTo,
  text,
} from '../drawing/model.ts';
import { qrCode } from '../drawing/qr-code.ts';
import { translate } from '../drawing/transform.ts';
import { type Sizes, sizesIn } from '../quantity/print-length.ts';
import { capital } from '../quantity/words.ts';
import type { Route } from '../route/route-types.ts';
import type { SettingCard } from '../settings/setting.ts';
import { PLAIN_SHOP, type Shop } from '../shop/shop.ts';
import { pictureEntities } from './card-picture.ts';
import {
  type Block,
  BODY_MM,
  fittedText,
  labelledRow,
  SMALL_MM,
  TITLE_MM,
  tickList,
  wordsBlock,
} from './card-words.ts';
import { settingBoxes } from './setting-boxes.ts';
import { sign } from './sign.ts';
import { stationHere } from './station-here.ts';

/** What A5 and half Letter both hold, mm. */
export const CARD_WIDTH_MM = 127;
export const CARD_HEIGHT_MM = 198;

/** What every card of one print has in common. */
export interface CardsAbout {
  readonly patternName: string;
  /** Revision as people say it: `3`, or `draft`. */
  readonly revision: string;
  readonly shop: Shop;
  readonly route: Route;
  /** Day of the print in words the caller chooses. */
  readonly printedOn: string;
  /** Address that opens a card on a phone, without the card's id at its end. */
  readonly address: string;
  readonly isLeftHanded?: boolean;
  /** An invented class: the card says so. */
  readonly isDemo?: boolean;
  /** What the rules are called that the pattern breaks and that share an input with a card, and how many others it breaks. */
  brokenRules?(card: SettingCard): { readonly here: readonly string[]; readonly elsewhereCount: number };
  /** Inputs behind a card that are not yet the teacher's own. */
  notMine?(card: SettingCard): readonly string[];
}

const GAP_MM = 2.2;
const CODE_MM = 25;
const FOOT_MM = 9.6;

function header(card: SettingCard, about: CardsAbout, station: string): Block {
  const rightMm = 40;
  const leftMm = CARD_WIDTH_MM - rightMm - 3;
  const revision = `${about.isDemo === true ? 'DEMO, ' : ''}revision ${about.revision}`;
  const entities: Entity[] = [
    fittedText(card.title, { x: 0, y: TITLE_MM + 0.6 }, leftMm, TITLE_MM, { face: 'name', weight: 700 }),
    ...sign({ x: CARD_WIDTH_MM - rightMm, y: 0 }, 8.5),
    fittedText(about.patternName, { x: CARD_WIDTH_MM, y: 3.4 }, rightMm - 10, 2.6, {
      face: 'name',
      weight: 700,
      anchorX: 'end',
    }),
    fittedText(revision, { x: CARD_WIDTH_MM, y: 7.6 }, rightMm - 10, 2.6, {
      face: 'name',
      weight: 700,
      anchorX: 'end',
    }),
  ];
  const sub = wordsBlock(`${capital(station)}. ${card.lie}`, { x: 0, y: 9.3 }, CARD_WIDTH_MM, {
    heightMm: BODY_MM,
    most: 2,
  });
  const y = 9.3 + sub.heightMm + 1.8;
  entities.push(...sub.entities, line('text', { x: 0, y }, { x: CARD_WIDTH_MM, y }, { widthMm: 0.7 }));
  if (!about.isLeftHanded) return { entities, heightMm: y };
  const band = { minX: 0, maxX: CARD_WIDTH_MM, minY: y, maxY: y + 5 };
  return {
    entities: [
      ...entities,
      box('text', band, { fill: 'black' }),
      text('text', { x: CARD_WIDTH_MM / 2, y: y + 2.5 }, 'LEFT-HANDED', 2.6, {
        weight: 700,
        anchorX: 'middle',
        anchorY: 'middle',
        ink: 'white',
      }),
    ],
    heightMm: y + 5,
  };
}

/** The settings shown large; single slots of the slot list stand in the picture. */
function boxedSettings(card: SettingCard): SettingCard['settings'] {
  return card.settings.filter((s) => !/^slots\.\d/.test(s.id));
}

/** Two names and how many more. */
function named(names: readonly string[]): string {
  const more = names.length > 2 ? ` and ${names.length - 2} more` : '';
  return `${names.slice(0, 2).join(', ')}${more}`;
}

/** What the pattern breaks, as far as it has to do with this card; the rest is only counted. */
function brokenWords(card: SettingCard, about: CardsAbout): string {
  const { here, elsewhereCount: count } = about.brokenRules?.(card) ?? { here: [], elsewhereCount: 0 };
  const rest =
    count === 0
      ? ''
      : `${count} ${count === 1 ? 'rule' : 'rules'} of the pattern that touch none of these numbers`;
  if (here.length === 0)
    return rest === '' ? '' : `Broken elsewhere: ${rest}. Ask the teacher before you cut.`;
  const also = rest === '' ? '' : ` Broken elsewhere: ${rest}.`;
  return `Broken in this pattern: ${named(here)}. Ask the teacher before you cut.${also}`;
}

/** Sentences where the pattern breaks a rule and where the shop cannot give what is wanted, framed. */
function notes(card: SettingCard, about: CardsAbout, y: number): Block {
  const broken = brokenWords(card, about);
  const sentences = [
    ...(broken === '' ? [] : [broken]),
    ...card.settings.flatMap((s) => (s.note === undefined ? [] : [s.note])),
  ];
  if (sentences.length === 0) return { entities: [], heightMm: 0 };
  let at = y + 1.4;
  const entities: Entity[] = [];
  for (const sentence of sentences) {
    const words = wordsBlock(capital(sentence), { x: 2, y: at }, CARD_WIDTH_MM - 4, {
      heightMm: SMALL_MM,
      weight: 600,
    });
    entities.push(...words.entities);
    at += words.heightMm + 1.6;
  }
  entities.push(box('text', { minX: 0, maxX: CARD_WIDTH_MM, minY: y, maxY: at }, { widthMm: 0.35 }));
  return { entities, heightMm: at - y };
}

/** Protection and cautions of station, shop and operation. */
function cautions(card: SettingCard, about: CardsAbout, y: number): Block {
  const station = stationHere(about.route, about.shop, card.station, card.operations);
  const protect = station.protect.length === 0 ? 'none asked here' : station.protect.join(', ');
  const sentences = [
    `Protect: ${protect}. Key: ${station.keyText}.`,
    station.ageText,
    station.isHere ? '' : `This shop has none: ${station.without}.`,
    station.cautions.length === 0 ? '' : `${station.cautions.join('. ')}.`,
  ].filter((s) => s !== '');
  const words = wordsBlock(sentences.join(' '), { x: 0, y }, CARD_WIDTH_MM, { heightMm: SMALL_MM });
  return words;
}

/** Who may change it, and what the teacher signs. */
function signRow(card: SettingCard, y: number): Block {
  const heightMm = 10.5;
  const triangleMm = card.hold === undefined ? 0 : 11;
  const wordsMm = 62;
  const entities: Entity[] = [
    box(
      'text',
      { minX: 0, maxX: CARD_WIDTH_MM, minY: y, maxY: y + heightMm },
      { widthMm: card.hold === undefined ? 0.35 : 0.7 },
    ),
  ];
  if (card.hold !== undefined)
    entities.push(
      closedPath(
        'text',
        { x: 2, y: y + 2.4 },
        [
          { x: 9, y: y + 2.4 },
          { x: 5.5, y: y + 8.4 },
        ].map(lineTo),
        { fill: 'black', isStroked: false },
      ),
      line('text', { x: triangleMm, y }, { x: triangleMm, y: y + heightMm }, { widthMm: 0.25 }),
    );
  const words = card.hold === undefined ? card.mayChange : `Hold. ${card.hold}`;
  const block = wordsBlock(words, { x: triangleMm + 1.8, y: y + 2 }, wordsMm - 3.6, {
    heightMm: 2.2,
    weight: 600,
    most: 2,
  });
  entities.push(...block.entities);
  let x = triangleMm + wordsMm;
  for (const label of ['Set by', 'Proved on scrap', 'Signed']) {
    entities.push(
      line('text', { x, y }, { x, y: y + heightMm }, { widthMm: 0.25 }),
      text('text', { x: x + 1.3, y: y + 2.9 }, label, 1.6),
    );
    x += (CARD_WIDTH_MM - triangleMm - wordsMm) / 3;
  }
  return { entities, heightMm };
}

/** Names the inputs behind the card that come from the starting pattern. */
function notMineLine(ids: readonly string[], y: number): readonly Entity[] {
  if (ids.length === 0) return [];
  const more = ids.length > 3 ? ` and ${ids.length - 3} more` : '';
  return [fittedText(`Not yet yours: ${ids.slice(0, 3).join(', ')}${more}`, { x: 0, y }, 100, 1.8)];
}

/** Whose machines, jigs and offsets the numbers were made for. */
const shopWords = ({ shop, isDemo }: CardsAbout): string =>
  `${isDemo === true ? 'DEMO: ' : ''}${shop.name === PLAIN_SHOP.name ? 'no shop: true displays, everything adjustable' : shop.name}`;

/** Check line, figures, revision and the code that opens the card. */
function foot(card: SettingCard, about: CardsAbout): readonly Entity[] {
  const y = CARD_HEIGHT_MM - CODE_MM;
  const link = `${about.address}${card.id}`;
  const row = { minX: 0, maxX: 101.2, minY: CARD_HEIGHT_MM - FOOT_MM, maxY: CARD_HEIGHT_MM };
  const mayChange = card.hold === undefined ? '' : `Who may change it: ${card.mayChange}`;
  return [
    ...checkLine({ x: 0.2, y: y + 2.9 }, 'across'),
    text('text', { x: 0, y: y + 8.9 }, 'If a ruler does not agree, do not use this card.', 1.7),
    ...(mayChange === '' ? [] : [fittedText(mayChange, { x: 0, y: y + 11.6 }, 100, 1.8, { weight: 600 })]),
    ...notMineLine(about.notMine?.(card) ?? [], y + 14.3),
    ...labelledRow(
      [
        { label: 'Figures', words: card.figures.join(', '), shareFrac: 0.42, lines: 2 },
        { label: 'Set for the machines of', words: shopWords(about), shareFrac: 0.24, lines: 2 },
        { label: 'Printed', words: about.printedOn, shareFrac: 0.16 },
        { label: 'Good for', words: `rev. ${about.revision} only`, shareFrac: 0.18 },
      ],
      row,
    ),
    // what one types where no camera reads the code
    fittedText(card.id, { x: CARD_WIDTH_MM, y: y + 0.6 }, CODE_MM, 1.8, { anchorX: 'end', weight: 600 }),
    ...qrCode(link, { x: CARD_WIDTH_MM - CODE_MM, y }, CODE_MM),
  ];
}

/** The picture in the middle of its room. */
function placedPicture(card: SettingCard, room: BoundsMm, size: Sizes): readonly Entity[] {
  const entities = pictureEntities(card.picture, room, size);
  const is = bounds(entities);
  if (!is) return [];
  const spareX = Math.max(0, room.minX - is.minX) - Math.max(0, is.maxX - room.maxX);
  const spareY = (room.minY + room.maxY - is.minY - is.maxY) / 2;
  return translate(entities, { x: spareX, y: spareY });
}

/**
 * One card as a drawing of 127 x 198 mm. The blocks at the bottom are placed from below, the picture gets the room
 * that is left.
 *
 * @source common practice, no published source
 */
export function cardDrawing(card: SettingCard, about: CardsAbout): Drawing {
  const station = stationHere(about.route, about.shop, card.station, card.operations);
  const head = header(card, about, station.name);
  const bottomY = CARD_HEIGHT_MM - CODE_MM - GAP_MM;
  const row = signRow(card, bottomY - 10.5);
  const careMm = cautions(card, about, 0).heightMm;
  const careY = bottomY - 10.5 - GAP_MM - careMm;
  const columnMm = (CARD_WIDTH_MM - 5) / 2;
  const lists = (y: number): readonly Block[] => [
    tickList('On scrap, before the piece', card.onScrap, { x: 0, y }, columnMm),
    tickList('On the piece', card.onPiece, { x: columnMm + 5, y }, columnMm),
  ];
  const listMm = Math.max(...lists(0).map((b) => b.heightMm));
  const listY = careY - GAP_MM * 0.6 - listMm;
  const noteMm = notes(card, about, 0).heightMm;
  const noteY = listY - (noteMm > 0 ? noteMm + GAP_MM : 0);
  const settings = boxedSettings(card);
  const boxMm = settingBoxes(settings, 0, CARD_WIDTH_MM).heightMm;
  const boxY = noteY - GAP_MM - boxMm;
  const room = { minX: 0.6, maxX: CARD_WIDTH_MM - 0.6, minY: head.heightMm + GAP_MM, maxY: boxY - GAP_MM };
  return {
    id: `card-${card.id}`,
    title: card.title,
    seenFrom: 'the bench',
    frame: { minX: 0, minY: 0, maxX: CARD_WIDTH_MM, maxY: CARD_HEIGHT_MM },
    entities: [
      ...head.entities,
      ...placedPicture(card, room, sizesIn(about.shop.unit)),
      ...settingBoxes(settings, boxY, CARD_WIDTH_MM).entities,
      ...notes(card, about, noteY).entities,
      ...lists(listY).flatMap((b) => b.entities),
      ...cautions(card, about, careY).entities,
      ...row.entities,
      ...foot(card, about),
    ],
  };
}

/**
 * All setting cards of a pattern as drawings, one page each, in the order of the work.
 *
 * @source common practice, no published source
 */
export function cardDrawings(cards: readonly SettingCard[], about: CardsAbout): readonly Drawing[] {
  return cards.map((card) => cardDrawing(card, about));
}
