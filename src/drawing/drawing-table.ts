import type { Sheet } from '../graph/sheet.ts';
import { backInside } from './back-inside.ts';
import { bodySection } from './body-section.ts';
import { braceHeights } from './brace-heights.ts';
import { bridgeDrawing } from './bridge-drawing.ts';
import type { DimensionWords } from './drawn-number.ts';
import { fretboard } from './fretboard.ts';
import { frontFace } from './front-face.ts';
import { halfTemplate } from './half-template.ts';
import { headDrawing } from './head-drawing.ts';
import { insideFace } from './inside-face.ts';
import type { Drawing } from './model.ts';
import { mouldHalf } from './mould-half.ts';
import { neckProfile } from './neck-profile.ts';
import { ringDetail } from './ring-detail.ts';
import { sideStripDrawing } from './side-strip.ts';

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
  { id: 'side-strip', title: 'Side strip, flat', draw: sideStripDrawing },
  { id: 'half-template', title: 'Half template', draw: halfTemplate },
  { id: 'mould-half', title: 'Mould, one half', draw: mouldHalf },
  { id: 'ring-detail', title: 'Hole and ring', draw: ringDetail },
  { id: 'back-inside', title: 'Inside of the back', draw: backInside },
  { id: 'fretboard', title: 'Fretboard with slots', draw: fretboard },
  { id: 'bridge', title: 'Bridge', draw: bridgeDrawing },
  { id: 'head', title: 'Head', draw: headDrawing },
  { id: 'neck-profile', title: 'Neck from the side', draw: neckProfile },
  { id: 'brace-heights', title: 'Bars from the side', draw: braceHeights },
  { id: 'body-section', title: 'Body along the centre line', draw: bodySection },
];

/** The drawing with an id; undefined for an unknown one. @source arithmetic */
export function drawingNamed(id: string): ListedDrawing | undefined {
  return allDrawings.find((d) => d.id === id);
}
