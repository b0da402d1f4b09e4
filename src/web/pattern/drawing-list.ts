import type { DimensionWords } from '../../drawing/drawn-number.ts';
import { frontFace } from '../../drawing/front-face.ts';
import { insideFace } from '../../drawing/inside-face.ts';
import type { Drawing } from '../../drawing/model.ts';
import type { Sheet } from '../../graph/sheet.ts';

/** Draws one view of an instrument. */
export type DrawInstrument = (sheet: Sheet, words: DimensionWords) => Drawing;

/** A drawing that can be chosen on the page. */
export interface ListedDrawing {
  readonly id: string;
  readonly title: string;
  readonly draw: DrawInstrument;
}

/** All drawings of an instrument, in the order of the list. */
export const allDrawings: readonly ListedDrawing[] = [
  { id: 'front-face', title: 'Front face', draw: frontFace },
  { id: 'inside-face', title: 'Inside of the top', draw: insideFace },
];

/** The drawing with an id; the front face for an unknown one. */
export function drawingNamed(id: string): DrawInstrument {
  return allDrawings.find((d) => d.id === id)?.draw ?? frontFace;
}
