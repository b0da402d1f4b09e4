import { explode, isPrinted } from '../drawing/assemble.ts';
import { bounds } from '../drawing/bounds.ts';
import { CHECK_LINE_LENGTH_MM, checkLine } from '../drawing/check-line.ts';
import { PRINT_DIMENSION_STYLE } from '../drawing/dimension-style.ts';
import { type BoundsMm, box, type Drawing, type Entity, type PlainEntity, text } from '../drawing/model.ts';
import { wrapWords } from '../drawing/text-size.ts';
import {
  LARGE_TITLE_BLOCK,
  SMALL_TITLE_BLOCK,
  type TitleBlockSize,
  type TitleFields,
  titleBlock,
  titleBlockHeightMm,
} from '../drawing/title-block.ts';
import { PAPER_SIZES, type PaperName, type SizeMm, turned } from './paper.ts';
import type { PageStretch, PrintedCheckMm } from './printer-correction.ts';
import { roomOn, type SheetPage } from './sheet-page.ts';
import { tileMarks } from './tile-marks.ts';
import { planPage } from './tile-plan-page.ts';
import { planAroundWords } from './tile-shift.ts';
import { planTiles, type Tile, type TilePlan } from './tiles.ts';

/** One drawing to be printed at full scale, on as many sheets as it needs. */
export interface FullScalePage {
  readonly kind: 'full-scale';
  readonly drawing: Drawing;
  readonly titleFields: TitleFields;
}

/** How full-scale pages are laid out. */
export interface FullScaleOptions {
  readonly paper: PaperName;
  readonly stretch: PageStretch;
  /** What the printer made of 100 mm, said on the sheets; undefined when nothing is corrected. */
  readonly printed100Mm: PrintedCheckMm | undefined;
}

/** Printers leave about 6.4 mm white at the edges (common practice, no published source). */
const PAGE_MARGIN_MM = 7;

/** Left strip: the check line that runs down. */
const SIDE_STRIP_MM = 8;

/** Between the window and the strip below it. */
const STRIP_GAP_MM = 2;

const NOTE_MM = 1.6;
const NOTE_LINE_MM = 2.7;
const NOTE_TOP_MM = 9;

/** Where things stand on a page, mm from its upper left corner. */
interface PageLayout {
  readonly room: SizeMm;
  readonly window: BoundsMm;
  readonly block: TitleBlockSize;
}

/**
 * The pages of one drawing at full scale: one page when it fits, otherwise a plan of the tiles and then the tiles.
 *
 * @source arithmetic
 */
export function fullScalePages(page: FullScalePage, options: FullScaleOptions): readonly SheetPage[] {
  const paper = choosePaper(page, options);
  const layout = layoutOn(roomOn(paper, options.stretch), page.titleFields, options);
  const printed = printedEntities(page.drawing);
  const wordsAt = printed.filter(({ entity }) => entity.kind === 'text').map(({ at }) => at);
  const plan = planAroundWords(page.drawing.frame, sizeOf(layout.window), wordsAt);
  const sheets = plan.tiles.map((tile) => tilePage(tile, plan, printed, layout, page, paper, options));
  if (plan.tiles.length === 1) return sheets;
  return [planPage({ ...page, plan, paper, stretch: options.stretch, room: layout.room }), ...sheets];
}

function choosePaper(page: FullScalePage, options: FullScaleOptions): SizeMm {
  if (options.paper === 'sheet') return sheetFor(page, options);
  const upright = PAPER_SIZES[options.paper];
  const countOn = (paper: SizeMm) => {
    const { window } = layoutOn(roomOn(paper, options.stretch), page.titleFields, options);
    return planTiles(page.drawing.frame, sizeOf(window)).tiles.length;
  };
  return countOn(turned(upright)) < countOn(upright) ? turned(upright) : upright;
}

/** One sheet that holds the drawing, its strips and margins; whole mm. */
function sheetFor({ drawing, titleFields }: FullScalePage, options: FullScaleOptions): SizeMm {
  const { minX, maxX, minY, maxY } = drawing.frame;
  const stripMm = stripHeightMm(titleFields, LARGE_TITLE_BLOCK, options);
  const stripWidthMm = CHECK_LINE_LENGTH_MM + 10 + LARGE_TITLE_BLOCK.widthMm;
  const wide = Math.max(maxX - minX + SIDE_STRIP_MM, stripWidthMm) + 2 * PAGE_MARGIN_MM;
  const high =
    Math.max(maxY - minY, CHECK_LINE_LENGTH_MM + STRIP_GAP_MM) + STRIP_GAP_MM + stripMm + 2 * PAGE_MARGIN_MM;
  return {
    widthMm: Math.ceil(wide * options.stretch.xRatio),
    heightMm: Math.ceil(high * options.stretch.yRatio),
  };
}

function layoutOn(room: SizeMm, titleFields: TitleFields, options: FullScaleOptions): PageLayout {
  const isSmall = options.paper === 'letter' || options.paper === 'a4';
  const block = isSmall ? SMALL_TITLE_BLOCK : LARGE_TITLE_BLOCK;
  const bottom = room.heightMm - PAGE_MARGIN_MM - stripHeightMm(titleFields, block, options) - STRIP_GAP_MM;
  const window = {
    minX: PAGE_MARGIN_MM + SIDE_STRIP_MM,
    minY: PAGE_MARGIN_MM,
    maxX: room.widthMm - PAGE_MARGIN_MM,
    maxY: bottom,
  };
  return { room, window, block };
}

function stripHeightMm(titleFields: TitleFields, block: TitleBlockSize, options: FullScaleOptions): number {
  const notesMm = NOTE_TOP_MM + noteLines(titleFields, options).length * NOTE_LINE_MM;
  return Math.max(notesMm, titleBlockHeightMm(titleFields, block));
}

function noteLines(titleFields: TitleFields, { printed100Mm }: FullScaleOptions): readonly string[] {
  const sentences = [
    'Print at actual size, 100 %. If the lines are not 100 mm and 4 in long, do not use this sheet.',
    ...(printed100Mm === undefined || (printed100Mm.x === 100 && printed100Mm.y === 100)
      ? []
      : [
          `Corrected for a printer that makes ${printed100Mm.x} across and ${printed100Mm.y} down of 100 mm.`,
        ]),
    ...(titleFields.notes ?? []),
  ];
  const look = { heightMm: NOTE_MM, face: 'sans', weight: 400 } as const;
  return sentences.flatMap((sentence) => wrapWords(sentence, CHECK_LINE_LENGTH_MM, look));
}

function sizeOf({ minX, minY, maxX, maxY }: BoundsMm): SizeMm {
  return { widthMm: maxX - minX, heightMm: maxY - minY };
}

/** What is printed, in plain entities, each with the box it needs on paper. */
interface Printed {
  readonly entity: PlainEntity;
  readonly at: BoundsMm;
}

function printedEntities(drawing: Drawing): readonly Printed[] {
  const printed = drawing.entities.filter(isPrinted);
  return explode(printed, PRINT_DIMENSION_STYLE).flatMap((entity) => {
    const at = bounds([entity]);
    return at === undefined ? [] : [{ entity, at }];
  });
}

function tilePage(
  tile: Tile,
  plan: TilePlan,
  printed: readonly Printed[],
  layout: PageLayout,
  page: FullScalePage,
  paper: SizeMm,
  options: FullScaleOptions,
): SheetPage {
  const shift = { x: layout.window.minX - tile.window.minX, y: layout.window.minY - tile.window.minY };
  const here = printed.filter(({ at }) => touches(at, tile.window)).map(({ entity }) => entity);
  const marks = plan.tiles.length === 1 ? [] : explode(tileMarks(tile, plan), PRINT_DIMENSION_STYLE);
  const strip = explode(stripEntities(tile, plan, layout, page.titleFields, options), PRINT_DIMENSION_STYLE);
  return {
    label: `${page.titleFields.title}${plan.tiles.length > 1 ? `, ${sheetName(tile, plan)}` : ''}`,
    paper,
    stretch: options.stretch,
    groups: [
      { entities: here, shift, clip: layout.window },
      { entities: marks, shift, clip: layout.window },
      { entities: strip, shift: { x: 0, y: 0 } },
    ],
  };
}

/** Half of the broadest line and the rim of words reach past the mathematical box. */
const INK_REACH_MM = 2;

function touches(a: BoundsMm, b: BoundsMm): boolean {
  return (
    a.minX - INK_REACH_MM < b.maxX &&
    a.maxX + INK_REACH_MM > b.minX &&
    a.minY - INK_REACH_MM < b.maxY &&
    a.maxY + INK_REACH_MM > b.minY
  );
}

function sheetName(tile: Tile, plan: TilePlan): string {
  return plan.tiles.length > 1 ? `${tile.name} of ${plan.tiles.length}` : '1 of 1';
}

function stripEntities(
  tile: Tile,
  plan: TilePlan,
  { room, window, block }: PageLayout,
  titleFields: TitleFields,
  options: FullScaleOptions,
): readonly Entity[] {
  const corner = { x: room.widthMm - PAGE_MARGIN_MM, y: room.heightMm - PAGE_MARGIN_MM };
  const left = PAGE_MARGIN_MM + 0.5;
  const top = window.maxY + STRIP_GAP_MM;
  const isTiled = plan.tiles.length > 1;
  const notes = noteLines(titleFields, options).map((words, index) =>
    text('text', { x: left, y: top + NOTE_TOP_MM + (index + 0.6) * NOTE_LINE_MM }, words, NOTE_MM),
  );
  return [
    ...titleBlock(titleFields, sheetName(tile, plan), corner, block),
    ...checkLine({ x: left, y: top + 4.2 }, 'across'),
    ...checkLine({ x: PAGE_MARGIN_MM + 3.4, y: window.minY + 1 }, 'down'),
    ...notes,
    ...(isTiled
      ? keyMap(tile, plan, left + CHECK_LINE_LENGTH_MM + 1.5, corner.x - block.widthMm - 1.5, corner.y)
      : []),
  ];
}

/** A small picture of all tiles with this one filled; left out where there is no room for it. */
function keyMap(
  here: Tile,
  plan: TilePlan,
  leftMm: number,
  rightMm: number,
  bottomMm: number,
): readonly Entity[] {
  const cellMm = Math.min(4, (rightMm - leftMm) / plan.columnCount, 16 / plan.rowCount);
  if (cellMm < 1.2) return [];
  const top = bottomMm - plan.rowCount * cellMm;
  const left = rightMm - plan.columnCount * cellMm;
  return plan.tiles.map((tile) => {
    const minX = left + tile.columnIndex * cellMm;
    const minY = top + tile.rowIndex * cellMm;
    const cell = { minX, minY, maxX: minX + cellMm, maxY: minY + cellMm };
    return box('text', cell, tile.name === here.name ? { fill: 'black' } : {});
  });
}
