import {
  type BoundsMm,
  box,
  type Entity,
  line,
  type PointMm,
  type TextExtras,
  text,
} from '../drawing/model.ts';
import { textWidthMm, wrapWords } from '../drawing/text-size.ts';

/** Heights of capitals on cards, mm. */
export const TITLE_MM = 5.4;
export const BODY_MM = 2.35;
export const SMALL_MM = 1.95;
/** Line height against the height of the capitals. */
const LEADING = 1.75;

/** A stretch of entities and how far down it reaches. */
export interface Block {
  readonly entities: readonly Entity[];
  readonly heightMm: number;
}

/** How a block of words is set. */
export interface WordsLook {
  readonly heightMm: number;
  readonly weight?: 400 | 600 | 700;
  readonly face?: 'sans' | 'name';
  readonly most?: number;
}

/**
 * Words broken into lines inside a width, first line's capitals at the top of `at`.
 *
 * @param look  height, weight; with `most` the lines beyond it are cut off with three points
 * @source      arithmetic
 */
export function wordsBlock(words: string, at: PointMm, widthMm: number, look: WordsLook): Block {
  const { heightMm, weight = 400, face = 'sans', most } = look;
  const all = wrapWords(words, widthMm, { heightMm, weight, face });
  const lines =
    most !== undefined && all.length > most ? [...all.slice(0, most - 1), `${all[most - 1]}\u2026`] : all;
  const stepMm = heightMm * LEADING;
  const entities = lines.map((words_, i) =>
    text('text', { x: at.x, y: at.y + heightMm + i * stepMm }, words_, heightMm, { weight, face }),
  );
  return { entities, heightMm: heightMm + (lines.length - 1) * stepMm };
}

/**
 * The largest height, up to a wish, at which words fit a width on one line.
 *
 * @source arithmetic
 */
export function fittedHeight(
  words: string,
  widthMm: number,
  wishMm: number,
  look: { readonly weight: 400 | 600 | 700; readonly face: 'sans' | 'name' },
): number {
  const needed = textWidthMm(words, { ...look, heightMm: wishMm });
  return wishMm * Math.min(1, widthMm / needed);
}

/** One line of words that shrinks to its width. @source arithmetic */
export function fittedText(
  words: string,
  at: PointMm,
  widthMm: number,
  wishMm: number,
  extras: TextExtras = {},
): Entity {
  const look = { weight: extras.weight ?? 400, face: extras.face ?? 'sans' } as const;
  return text('text', at, words, fittedHeight(words, widthMm, wishMm, look), extras);
}

/**
 * A heading with a line under it and sentences with boxes to tick.
 *
 * @source arithmetic
 */
export function tickList(heading: string, items: readonly string[], at: PointMm, widthMm: number): Block {
  const headMm = 2.6;
  const entities: Entity[] = [
    text('text', { x: at.x, y: at.y + headMm }, heading, headMm, { face: 'name', weight: 700 }),
    line(
      'text',
      { x: at.x, y: at.y + headMm + 1.4 },
      { x: at.x + widthMm, y: at.y + headMm + 1.4 },
      { widthMm: 0.25 },
    ),
  ];
  let y = at.y + headMm + 3;
  for (const item of items) {
    const size = 2.7;
    entities.push(
      box('text', { minX: at.x, maxX: at.x + size, minY: y - 0.15, maxY: y - 0.15 + size }, { widthMm: 0.3 }),
    );
    const words = wordsBlock(item, { x: at.x + 4.4, y }, widthMm - 4.4, { heightMm: BODY_MM });
    entities.push(...words.entities);
    y += words.heightMm + 2.2;
  }
  return { entities, heightMm: y - at.y };
}

/** A cell with a small label above its words. */
export interface LabelledCell {
  readonly label: string;
  readonly words: string;
  readonly shareFrac: number;
  readonly lines?: number;
}

/** A row of labelled cells in one frame. @source arithmetic */
export function labelledRow(cells: readonly LabelledCell[], at: BoundsMm, frameMm = 0.35): readonly Entity[] {
  const widthMm = at.maxX - at.minX;
  let x = at.minX;
  const entities: Entity[] = [box('text', at, { widthMm: frameMm })];
  cells.forEach((cell, i) => {
    const cellMm = cell.shareFrac * widthMm;
    if (i > 0) entities.push(line('text', { x, y: at.minY }, { x, y: at.maxY }, { widthMm: 0.2 }));
    entities.push(text('text', { x: x + 1.4, y: at.minY + 2.7 }, cell.label, 1.6));
    const roomMm = cellMm - 2.8;
    if ((cell.lines ?? 1) > 1)
      entities.push(
        ...wordsBlock(cell.words, { x: x + 1.4, y: at.minY + 3.9 }, roomMm, {
          heightMm: 1.6,
          most: cell.lines ?? 2,
        }).entities,
      );
    else if (cell.words !== '')
      entities.push(fittedText(cell.words, { x: x + 1.4, y: at.maxY - 1.7 }, roomMm, 2.2, { weight: 600 }));
    x += cellMm;
  });
  return entities;
}
