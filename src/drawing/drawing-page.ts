import { drawingOf } from './assemble.ts';
import { LAYERS } from './line-types.ts';
import { type Drawing, type Entity, type PointMm, type TextExtras, text } from './model.ts';

/** Height of part marks such as NECK and TREBLE, mm. */
export const MARK_MM = 4;
/** Height of the words of lists and notes, mm. */
export const NOTE_MM = 2.4;
/** Height of names and headings, mm. */
export const NAME_MM = 3.2;
/** Paper left free around a drawing, mm. */
const MARGIN_MM = 6;

/** A part mark: capitals in the face of names. @source arithmetic */
export function mark(at: PointMm, word: string, extras: TextExtras = {}): Entity {
  return text('text', at, word, MARK_MM, { face: 'name', weight: 700, ...extras });
}

/** A short sentence on the drawing. @source arithmetic */
export function note(at: PointMm, words: string, extras: TextExtras = {}): Entity {
  return text('text', at, words, NOTE_MM, extras);
}

/** A name or heading. @source arithmetic */
export function heading(at: PointMm, words: string, extras: TextExtras = {}): Entity {
  return text('text', at, words, NAME_MM, { weight: 600, ...extras });
}

/**
 * A drawing of what can be had; where nothing can, one sentence says so instead.
 *
 * @source arithmetic
 */
export function pageOf(id: string, title: string, seenFrom: string, entities: readonly Entity[]): Drawing {
  const isThere = entities.some(({ layer }) => LAYERS[layer].printMm !== undefined);
  const sentence =
    'This drawing needs figures that the pattern does not give. Look at the rules of the sheet.';
  const shown = isThere ? entities : [note({ x: 0, y: 0 }, sentence)];
  return drawingOf({ id, title, seenFrom, marginMm: MARGIN_MM, entities: shown });
}
