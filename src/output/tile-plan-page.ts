import { explode, isPrinted } from '../drawing/assemble.ts';
import { checkLine } from '../drawing/check-line.ts';
import { PRINT_DIMENSION_STYLE } from '../drawing/dimension-style.ts';
import { type BoundsMm, box, type Drawing, type Entity, type FontWeight, text } from '../drawing/model.ts';
import { wrapWords } from '../drawing/text-size.ts';
import {
  SMALL_TITLE_BLOCK,
  type TitleFields,
  titleBlock,
  titleBlockHeightMm,
} from '../drawing/title-block.ts';
import { moveBounds, scale, translate } from '../drawing/transform.ts';
import type { SizeMm } from './paper.ts';
import type { PageStretch } from './printer-correction.ts';
import type { SheetPage } from './sheet-page.ts';
import { crossPlaces } from './tile-marks.ts';
import type { TilePlan } from './tiles.ts';

/** What the plan of the tiles is made from. */
export interface PlanPageParts {
  readonly drawing: Drawing;
  readonly titleFields: TitleFields;
  readonly plan: TilePlan;
  readonly paper: SizeMm;
  readonly stretch: PageStretch;
  /** The paper as the drawing's mm see it. */
  readonly room: SizeMm;
}

const MARGIN_MM = 14;
const WORDS_MM = 2.3;
const LINE_MM = 4.6;
const INDENT_MM = 6;

/**
 * The first page of a tiled print: the drawing small, with the windows of the tiles and their names, how to join them,
 * and a long distance to prove the joined print.
 *
 * @source common practice, no published source
 */
export function planPage(parts: PlanPageParts): SheetPage {
  const { room, titleFields } = parts;
  const corner = { x: room.widthMm - 7, y: room.heightMm - 7 };
  const blockTop = corner.y - titleBlockHeightMm(titleFields, SMALL_TITLE_BLOCK);
  const words = instructionLines(parts, room.widthMm - 2 * MARGIN_MM - INDENT_MM);
  const wordsTop = blockTop - 10 - words.length * LINE_MM;
  const place = { minX: MARGIN_MM, minY: 30, maxX: room.widthMm - MARGIN_MM, maxY: wordsTop - 6 };
  const entities: readonly Entity[] = [
    text('text', { x: MARGIN_MM, y: 18 }, `${titleFields.pattern}, ${titleFields.title}`, 5, {
      face: 'name',
      weight: 700,
    }),
    text('text', { x: MARGIN_MM, y: 25 }, planSentence(parts), WORDS_MM),
    ...smallPicture(parts, place),
    ...words.map(({ words: line, indentMm, weight }, index) =>
      text('text', { x: MARGIN_MM + indentMm, y: wordsTop + (index + 1) * LINE_MM }, line, WORDS_MM, {
        weight,
      }),
    ),
    ...titleBlock(titleFields, `plan of ${parts.plan.tiles.length}`, corner, SMALL_TITLE_BLOCK),
    ...checkLine({ x: 7.5, y: corner.y - 8 }, 'across'),
    ...checkLine({ x: 10.4, y: 32 }, 'down'),
  ];
  const group = { entities: explode(entities, PRINT_DIMENSION_STYLE), shift: { x: 0, y: 0 } };
  return { label: `${titleFields.title}, plan`, paper: parts.paper, stretch: parts.stretch, groups: [group] };
}

function planSentence({ plan }: PlanPageParts): string {
  const rows = `${plan.rowCount} ${plan.rowCount === 1 ? 'row' : 'rows'}`;
  const columns = `${plan.columnCount} ${plan.columnCount === 1 ? 'column' : 'columns'}`;
  return `${plan.tiles.length} sheets in ${rows} and ${columns}, full size, ${plan.overlapMm} mm of overlap. This page is the plan and is not to scale.`;
}

interface InstructionLine {
  readonly words: string;
  readonly indentMm: number;
  readonly weight: FontWeight;
}

function instructionLines(parts: PlanPageParts, roomMm: number): readonly InstructionLine[] {
  const look = { heightMm: WORDS_MM, face: 'sans', weight: 400 } as const;
  const steps = instructions(parts).flatMap((sentence, index) =>
    wrapWords(sentence, roomMm, look).map((line, lineIndex) =>
      lineIndex === 0
        ? { words: `${index + 1}  ${line}`, indentMm: 0, weight: look.weight }
        : { words: line, indentMm: INDENT_MM / 2, weight: look.weight },
    ),
  );
  const bold = { ...look, weight: 600 } as const;
  const notes = (parts.titleFields.notes ?? []).flatMap((note) =>
    wrapWords(note, roomMm, bold).map((words) => ({ words, indentMm: 0, weight: bold.weight })),
  );
  return [...notes, ...steps];
}

function instructions(parts: PlanPageParts): readonly string[] {
  return [
    'Print at actual size (100 %), not fitted to the page.',
    'Measure the 100 mm lines on one sheet, across and down. If one is off, type what you measured and print the corrected set.',
    'Cut each sheet with a knife and straightedge along the crop marks at its upper and left edge, where it has a neighbour.',
    'Row by row, lay each sheet on its neighbours so that the half crosses close, and tape it.',
    proofSentence(parts.plan),
  ];
}

/** The two farthest crosses on one seam: a length over the joined sheets that can be measured with a tape. */
function proofSentence({ tiles, rowCount, columnCount }: TilePlan): string {
  const first = tiles[0]!.window;
  const last = tiles.at(-1)!.window;
  const isDown = columnCount > 1 && (rowCount > 1 || last.maxY - first.minY > last.maxX - first.minX);
  const [low] = isDown ? crossPlaces(first.minY, first.maxY) : crossPlaces(first.minX, first.maxX);
  const [, high] = isDown ? crossPlaces(last.minY, last.maxY) : crossPlaces(last.minX, last.maxX);
  const way = isDown ? 'a seam that runs down' : 'a seam that runs across';
  return `Prove the joined print: on ${way} the first and the last cross are ${(high - low).toFixed(1)} mm apart.`;
}

/** The lines of the drawing and the windows of the tiles, as large as the place allows. */
function smallPicture({ drawing, plan }: PlanPageParts, place: BoundsMm): readonly Entity[] {
  const first = plan.tiles[0]!.window;
  const last = plan.tiles.at(-1)!.window;
  const all = { minX: first.minX, minY: first.minY, maxX: last.maxX, maxY: last.maxY };
  const ratio = Math.min(
    (place.maxX - place.minX) / (all.maxX - all.minX),
    (place.maxY - place.minY) / (all.maxY - all.minY),
  );
  const shift = {
    x: (place.minX + place.maxX) / 2 - (ratio * (all.minX + all.maxX)) / 2,
    y: (place.minY + place.maxY) / 2 - (ratio * (all.minY + all.maxY)) / 2,
  };
  const lines = drawing.entities.filter(
    (entity) => !['text', 'dimension', 'hatch'].includes(entity.kind) && isPrinted(entity),
  );
  const thin = scale(lines, ratio).map((entity) => ({ ...entity, widthMm: 0.2 }));
  const by = { isMirrored: false, scaleRatio: ratio, turnRad: 0, shift };
  const windows = plan.tiles.flatMap((tile) => {
    const at = moveBounds(tile.window, by);
    const middle = { x: (at.minX + at.maxX) / 2, y: (at.minY + at.maxY) / 2 };
    return [
      box('text', at, { ink: 'grey', widthMm: 0.25 }),
      text('text', middle, tile.name, 6, {
        face: 'name',
        weight: 700,
        anchorX: 'middle',
        anchorY: 'middle',
        hasHalo: true,
      }),
    ];
  });
  return [...translate(thin, shift), ...windows];
}
