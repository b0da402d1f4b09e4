import type { Sheet } from '../graph/sheet.ts';
import type { DimensionWords } from './drawn-number.ts';
import { frontFace } from './front-face.ts';
import { insideFace } from './inside-face.ts';
import type { Drawing } from './model.ts';

/** Draws one view of an instrument. */
export type DrawInstrument = (sheet: Sheet, words?: DimensionWords) => Drawing;

/** A drawing that can be asked for by name. */
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

/** The drawing with an id; undefined for an unknown one. @source arithmetic */
export function drawingNamed(id: string): ListedDrawing | undefined {
  return allDrawings.find((d) => d.id === id);
}
