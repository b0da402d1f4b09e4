import { braceSegments } from '../figures/braces.ts';
import { input } from '../figures/inputs.ts';
import { figureValue, type Sheet } from '../graph/sheet.ts';
import { drawingOf } from './assemble.ts';
import { type DimensionWords, PLAIN_WORDS } from './drawn-number.ts';
import { lengthDimensions, widthDimensions } from './face-dimensions.ts';
import { bodyOutline, braceKey, bridge, bridgePlate, centreLines, soundHole, topBars } from './face-parts.ts';
import { sideMarks } from './front-face.ts';
import { type Drawing, type Entity, text } from './model.ts';
import { mirrorDrawing } from './transform.ts';

const NAME_MM = 3.2;
const INSIDE_MM = 7;
const MARGIN_MM = 6;

/**
 * The inside of the top as it lies on the bench: mirrored, bars and plate drawn full, the bridge behind dashed.
 *
 * @param words  unit of the dimensions, and the last revision to compare with
 * @returns      a drawing; parts whose figures cannot be had are left out
 * @source       plane-geometry
 */
export function insideFace(sheet: Sheet, words: DimensionWords = PLAIN_WORDS): Drawing {
  const entities = [
    ...bodyOutline(sheet),
    ...bridge(sheet, 'hidden'),
    ...soundHole(sheet),
    ...bridgePlate(sheet, 'visible'),
    ...topBars(sheet, 'visible'),
    ...centreLines(sheet),
    ...widthDimensions(sheet, words),
    ...lengthDimensions(sheet, words),
    ...barMarks(sheet),
    ...sideMarks(sheet),
    ...insideMark(sheet),
  ];
  const parts = { id: 'inside-face', title: 'Inside of the top', seenFrom: 'the front', marginMm: MARGIN_MM };
  return mirrorDrawing(drawingOf({ ...parts, entities }), 'inside, mirrored');
}

/** The id of each bar on it, as it is written on the bar itself. */
function barMarks(sheet: Sheet): readonly Entity[] {
  return (figureValue(sheet, braceSegments) ?? []).map((bar) => {
    const share = bar.id.startsWith('X-') ? 0.82 : 0.5;
    const at = {
      x: bar.from.xMm + (bar.to.xMm - bar.from.xMm) * share,
      y: bar.from.yMm + (bar.to.yMm - bar.from.yMm) * share,
    };
    return text('text', at, bar.id, NAME_MM, {
      anchorX: 'middle',
      anchorY: 'middle',
      hasHalo: true,
      weight: 600,
      key: braceKey(bar),
    });
  });
}

function insideMark(sheet: Sheet): readonly Entity[] {
  const length = figureValue(sheet, input('body.length'));
  if (length === undefined) return [];
  const style = { face: 'name', weight: 700, anchorX: 'middle', hasHalo: true } as const;
  return [text('text', { x: 0, y: length * 0.93 }, 'INSIDE', INSIDE_MM, style)];
}
