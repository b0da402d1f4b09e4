import type { SessionSheet, SheetRow, SheetStep } from '../course/session-sheet.ts';
import { box, type Drawing, type Entity, line, text } from '../drawing/model.ts';
import { qrCode } from '../drawing/qr-code.ts';
import { fittedText, SMALL_MM, TITLE_MM, wordsBlock } from './card-words.ts';

/** What Letter and A4 laid across both hold, mm. */
export const SHEET_WIDTH_MM = 255;
export const SHEET_HEIGHT_MM = 190;

/** What the head of a page says. */
export type HeadAbout = Pick<SheetAbout, 'course' | 'session' | 'printedOn' | 'isDemo'>;

/** What every page of a session's paper says of itself. */
export interface SheetAbout {
  readonly course: string;
  /** Which evening, in words. */
  readonly session: string;
  readonly printedOn: string;
  readonly isDemo: boolean;
  /** In which lengths are written down. */
  readonly lengthUnit: 'mm' | 'in';
  /** `4 Noor`. */
  readonly nameOf: (build: string) => string;
  /** Address that opens a build's page, for the code on its tags. */
  readonly addressOf: (build: string) => string;
  readonly isLeftHanded: (build: string) => boolean;
}

const HEAD_MM = 15;
const NAME_MM = 34;
const STEP_MM = (SHEET_WIDTH_MM - NAME_MM) / 3;
const ROWS_A_PAGE = 12;
const ROW_MM = (SHEET_HEIGHT_MM - HEAD_MM - 6) / ROWS_A_PAGE;

/**
 * Head line of a page of the session's paper.
 *
 * @source common practice, no published source
 */
export function sheetHead(title: string, about: HeadAbout): readonly Entity[] {
  const right = `${about.course}, ${about.session}`;
  const demo = about.isDemo
    ? [
        box('text', { minX: 116, maxX: 138, minY: 0.5, maxY: 7 }, { widthMm: 0.5 }),
        text('text', { x: 127, y: 3.75 }, 'DEMO', 3, { weight: 700, anchorX: 'middle', anchorY: 'middle' }),
      ]
    : [];
  return [
    fittedText(title, { x: 0, y: TITLE_MM + 0.6 }, 112, TITLE_MM, { face: 'name', weight: 700 }),
    ...demo,
    fittedText(right, { x: SHEET_WIDTH_MM, y: 4 }, 112, 3, { face: 'name', weight: 700, anchorX: 'end' }),
    text('text', { x: SHEET_WIDTH_MM, y: 8 }, `printed ${about.printedOn}`, SMALL_MM, { anchorX: 'end' }),
    line('text', { x: 0, y: 10 }, { x: SHEET_WIDTH_MM, y: 10 }, { widthMm: 0.7 }),
  ];
}

const tickBox = (x: number, y: number): Entity =>
  box('text', { minX: x, maxX: x + 4, minY: y, maxY: y + 4 }, { widthMm: 0.35 });

/** A label and a line to write on. */
function blank(label: string, x: number, y: number, widthMm: number): readonly Entity[] {
  return [
    fittedText(label, { x, y }, widthMm * 0.55, 1.7),
    line(
      'text',
      { x: x + widthMm * 0.56, y: y + 0.5 },
      { x: x + widthMm - 1, y: y + 0.5 },
      { widthMm: 0.25 },
    ),
  ];
}

/** One step: name, a box for done, and what is to be written. */
function stepEntities(step: SheetStep, x: number, y: number, lengthUnit: 'mm' | 'in'): readonly Entity[] {
  const blanks = [
    ...(step.rests ? ['in clamps at'] : []),
    ...step.readings.map((r) => `${r.name}, ${r.unit === 'mm' ? lengthUnit : r.unit}`),
    ...(step.sign === undefined ? [] : ['signed']),
  ];
  const widthMm = (STEP_MM - 8) / Math.max(1, blanks.length);
  return [
    line('text', { x: x - 1, y }, { x: x - 1, y: y + ROW_MM }, { widthMm: 0.2 }),
    tickBox(x + 0.5, y + 2),
    fittedText(step.name, { x: x + 6.5, y: y + 4.6 }, STEP_MM - 20, 2.4, { weight: 600 }),
    text('text', { x: x + STEP_MM - 2.5, y: y + 4.6 }, `${step.likelyMin} min`, 1.8, { anchorX: 'end' }),
    ...blanks.flatMap((label, i) => blank(label, x + 6.5 + i * widthMm, y + 10.4, widthMm)),
  ];
}

function rowEntities(row: SheetRow, y: number, about: SheetAbout): readonly Entity[] {
  return [
    tickBox(0.5, y + 2),
    fittedText(about.nameOf(row.build), { x: 6.5, y: y + 5.4 }, NAME_MM - 9, 3.4, {
      face: 'name',
      weight: 700,
    }),
    text('text', { x: 6.5, y: y + 10 }, about.isLeftHanded(row.build) ? 'LEFT-HANDED' : '', 1.8, {
      weight: 700,
    }),
    ...(row.steps.length === 0
      ? [text('text', { x: NAME_MM + 1, y: y + 5 }, 'rests, or waits for the teacher', 2.2)]
      : row.steps.flatMap((s, i) => stepEntities(s, NAME_MM + i * STEP_MM, y, about.lengthUnit))),
    line('text', { x: 0, y: y + ROW_MM }, { x: SHEET_WIDTH_MM, y: y + ROW_MM }, { widthMm: 0.25 }),
  ].filter((e) => e.kind !== 'text' || e.text !== '');
}

const pageOf = (id: string, title: string, entities: readonly Entity[]): Drawing => ({
  id,
  title,
  seenFrom: 'the desk',
  frame: { minX: 0, minY: 0, maxX: SHEET_WIDTH_MM, maxY: SHEET_HEIGHT_MM },
  entities,
});

/** How the sheet is filled in; the closing list, where a box is to be closed tonight. */
function footWords({ closing }: SessionSheet): string {
  const boxes =
    'First box: here. Then a box for each step done. Type it back on the page "Type a sheet back": the cells stand in the same order.';
  return closing.length === 0
    ? boxes
    : `${boxes} A signature on the closing list says that each of these was looked at: ${closing.join('; ')}.`;
}

/**
 * The sheet of a session: learners down, their steps across, boxes for here and done, when something went into clamps,
 * the few readings, signatures. Twelve learners a page.
 *
 * @source common practice, no published source
 */
export function sessionSheetDrawings(sheet: SessionSheet, about: SheetAbout): readonly Drawing[] {
  const pages = Math.max(1, Math.ceil(sheet.rows.length / ROWS_A_PAGE));
  return Array.from({ length: pages }, (_, page) => {
    const rows = sheet.rows.slice(page * ROWS_A_PAGE, (page + 1) * ROWS_A_PAGE);
    const title = pages > 1 ? `Session sheet ${page + 1} of ${pages}` : 'Session sheet';
    const foot = wordsBlock(
      footWords(sheet),
      { x: 0, y: SHEET_HEIGHT_MM - (sheet.closing.length > 0 ? 5.6 : 3) },
      SHEET_WIDTH_MM,
      { heightMm: SMALL_MM },
    );
    return pageOf(`session-${page + 1}`, title, [
      ...sheetHead(title, about),
      ...rows.flatMap((row, i) => rowEntities(row, HEAD_MM - 3 + i * ROW_MM, about)),
      ...foot.entities,
    ]);
  });
}

/**
 * The cover for somebody who stands in for the teacher: what each can do with hand tools only.
 *
 * @source common practice, no published source
 */
export function substituteSheet(sheet: SessionSheet, about: SheetAbout): Drawing {
  const title = 'If somebody stands in';
  const intro = wordsBlock(
    'Hand tools only: no machine, no hot or solvent station, nothing that waits for a signature. The shop’s own rules, the maker’s manual and local codes come first.',
    { x: 0, y: 12.5 },
    SHEET_WIDTH_MM,
    { heightMm: 2.3, weight: 600 },
  );
  const entities: Entity[] = [...sheetHead(title, about), ...intro.entities];
  let y = 19;
  for (const row of sheet.rows) {
    const roomMm = SHEET_HEIGHT_MM - y;
    if (roomMm < 8) break;
    const said = row.byHand.slice(0, 2).join(' ');
    const words = wordsBlock(
      said === '' ? 'Nothing with hand tools tonight: sharpen, tidy, help a neighbour.' : said,
      { x: NAME_MM + 4, y: y + 2 },
      SHEET_WIDTH_MM - NAME_MM - 4,
      { heightMm: 2.1, most: 3 },
    );
    const heightMm = Math.max(8, words.heightMm + 4.4);
    entities.push(
      fittedText(about.nameOf(row.build), { x: 0, y: y + 4.6 }, NAME_MM, 3, { face: 'name', weight: 700 }),
      ...words.entities,
      line('text', { x: 0, y: y + heightMm }, { x: SHEET_WIDTH_MM, y: y + heightMm }, { widthMm: 0.2 }),
    );
    y += heightMm;
  }
  return pageOf('substitute', title, entities);
}

const TAG_PARTS = ['Top', 'Back', 'Sides', 'Neck'] as const;
const TAG_ROWS = 8;
/** Side of the code on a tag: with an address of 50 letters its squares are half a millimetre. */
const TAG_CODE_MM = 21;

/**
 * Tags to cut out, four for each learner: number, name and part large, a code that opens the build's page; for the shelf
 * and the clamps.
 *
 * @source common practice, no published source
 */
export function partTags(sheet: SessionSheet, about: SheetAbout): readonly Drawing[] {
  const wide = SHEET_WIDTH_MM / TAG_PARTS.length;
  const wordsMm = wide - TAG_CODE_MM - 4;
  const high = (SHEET_HEIGHT_MM - 12) / TAG_ROWS;
  const pages = Math.ceil(sheet.rows.length / TAG_ROWS);
  return Array.from({ length: pages }, (_, page) => {
    const rows = sheet.rows.slice(page * TAG_ROWS, (page + 1) * TAG_ROWS);
    const tags = rows.flatMap((row, r) =>
      TAG_PARTS.flatMap((part, c): readonly Entity[] => {
        const x = c * wide;
        const y = 12 + r * high;
        const left = about.isLeftHanded(row.build) ? ', LEFT-HANDED' : '';
        return [
          box('text', { minX: x, maxX: x + wide, minY: y, maxY: y + high }, { widthMm: 0.2 }),
          ...qrCode(
            about.addressOf(row.build),
            { x: x + wide - TAG_CODE_MM - 0.4, y: y + (high - TAG_CODE_MM) / 2 },
            TAG_CODE_MM,
          ),
          fittedText(about.nameOf(row.build), { x: x + 3, y: y + 9 }, wordsMm, 5.4, {
            face: 'name',
            weight: 700,
          }),
          fittedText(`${part}${left}`, { x: x + 3, y: y + 15 }, wordsMm, 3.4, { weight: 600 }),
          fittedText(about.course, { x: x + 3, y: y + high - 1.6 }, wordsMm, 1.7),
        ];
      }),
    );
    return pageOf(`tags-${page + 1}`, 'Part tags', [...sheetHead('Part tags, to cut out', about), ...tags]);
  });
}
