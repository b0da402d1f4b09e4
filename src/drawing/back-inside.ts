import { insideLine } from '../figures/allowances.ts';
import { neckBlock, tailBlock } from '../figures/blocks.ts';
import { type BraceSegment, backSegments } from '../figures/braces.ts';
import { input } from '../figures/inputs.ts';
import { outlineLandmarks } from '../figures/outline.ts';
import { figureValue, type Sheet } from '../graph/sheet.ts';
import { wholeOutline } from './body-outline.ts';
import { heading, mark, note, pageOf } from './drawing-page.ts';
import { type DimensionWords, PLAIN_WORDS } from './drawn-number.ts';
import { widthDimensions } from './face-dimensions.ts';
import { bodyOutline, trebleSide } from './face-parts.ts';
import { closedPath, type Drawing, type Entity, line, polyline, text, verticalDimension } from './model.ts';
import { lengthWords, shownAs } from './shown-figure.ts';

/**
 * The inside of the back as it is seen into the open box: mirrored against the outside of the back, so that the treble
 * lies where it lies on the front.
 *
 * @param words  unit of the dimensions, and the last revision to compare with
 * @returns      a drawing; parts whose figures cannot be had are left out
 * @source       plane-geometry
 */
export function backInside(sheet: Sheet, words: DimensionWords = PLAIN_WORDS): Drawing {
  const entities = [
    ...bodyOutline(sheet),
    ...rimInside(sheet),
    ...bars(sheet, words),
    ...centre(sheet),
    ...widthDimensions(sheet, words),
    ...places(sheet, words),
    ...backMarks(sheet),
  ];
  return pageOf('back-inside', 'Inside of the back', 'the front, into the box', entities);
}

/** Inside of the sides and the blocks, dashed. */
function rimInside(sheet: Sheet): readonly Entity[] {
  const inner = figureValue(sheet, insideLine);
  const block = (shape: typeof neckBlock, key: string): readonly Entity[] => {
    const corners = figureValue(sheet, shape);
    if (!corners) return [];
    return [
      polyline(
        'hidden',
        corners.map(({ xMm, yMm }) => ({ x: xMm, y: yMm })),
        true,
        { key },
      ),
    ];
  };
  if (!inner) return [];
  const { start, segments } = wholeOutline(inner);
  return [
    closedPath('hidden', start, segments, { key: 'outline.inside' }),
    ...block(neckBlock, 'block.neck'),
    ...block(tailBlock, 'block.tail'),
  ];
}

/** The way along a bar as it is read: left to right. */
function readingRad({ from, to }: BraceSegment): number {
  const angle = Math.atan2(to.yMm - from.yMm, to.xMm - from.xMm);
  return Math.abs(angle) > Math.PI / 2 ? angle - Math.sign(angle) * Math.PI : angle;
}

function bars(sheet: Sheet, words: DimensionWords): readonly Entity[] {
  return (figureValue(sheet, backSegments) ?? []).flatMap((bar) => {
    const key = `back.${bar.id}`;
    const corners = bar.polygon.map(({ xMm, yMm }) => ({ x: xMm, y: yMm }));
    const angle = readingRad(bar);
    const middle = { x: (bar.from.xMm + bar.to.xMm) / 2, y: (bar.from.yMm + bar.to.yMm) / 2 };
    const above = bar.widthMm / 2 + 2;
    const beside = (alongMm: number) => ({
      x: middle.x + alongMm * Math.cos(angle) + above * Math.sin(angle),
      y: middle.y + alongMm * Math.sin(angle) - above * Math.cos(angle),
    });
    const lengthMm = Math.hypot(bar.to.xMm - bar.from.xMm, bar.to.yMm - bar.from.yMm);
    const said = `${lengthWords(bar.widthMm, words)} wide, ${lengthWords(bar.heightMm, words)} high, ${lengthWords(lengthMm, words)} long`;
    return [
      polyline('visible', corners, true, { key, fill: 'pale' }),
      heading(beside(-lengthMm * 0.36), bar.id, { rotationRad: angle, key }),
      note(beside(6), said, { rotationRad: angle, key }),
    ];
  });
}

function centre(sheet: Sheet): readonly Entity[] {
  const length = figureValue(sheet, input('body.length'));
  return length === undefined ? [] : [line('centre', { x: 0, y: -10 }, { x: 0, y: length + 10 })];
}

/** Body length at the left; middles of the bars from the neck end at the right. */
function places(sheet: Sheet, words: DimensionWords): readonly Entity[] {
  const marks = figureValue(sheet, outlineLandmarks);
  const length = figureValue(sheet, input('body.length'));
  if (!marks || length === undefined) return [];
  const right = Math.max(marks.upper.halfWidthMm, marks.lower.halfWidthMm) + 14;
  const rows = [...(figureValue(sheet, backSegments) ?? [])]
    .map((bar) => ({ bar, y: (bar.from.yMm + bar.to.yMm) / 2 }))
    .sort((a, b) => a.y - b.y);
  return [
    verticalDimension(
      { x: 0, y: 0 },
      { x: 0, y: length },
      -marks.lower.halfWidthMm - 26,
      shownAs(sheet, 'body.length', words),
    ),
    ...rows.map(({ bar, y }, i) =>
      verticalDimension(
        { x: marks.upper.halfWidthMm * 0.6, y: 0 },
        { x: Math.max(bar.from.xMm, bar.to.xMm), y },
        right + i * 10,
        { text: lengthWords(y, words), key: `back.${bar.id}`, textAtFrac: 0.4 },
      ),
    ),
  ];
}

function backMarks(sheet: Sheet): readonly Entity[] {
  const marks = figureValue(sheet, outlineLandmarks);
  const length = figureValue(sheet, input('body.length'));
  if (!marks || length === undefined) return [];
  const treble = trebleSide(sheet);
  const x = marks.lower.halfWidthMm * 0.8;
  const y = length - 4;
  const side = (sign: number, word: string): Entity => mark({ x: sign * x, y }, word, { anchorX: 'middle' });
  return [
    mark({ x: -marks.upper.halfWidthMm * 0.86, y: 8 }, 'NECK', { anchorX: 'middle' }),
    side(treble, 'TREBLE'),
    side(-treble, 'BASS'),
    text('text', { x: -marks.lower.halfWidthMm * 0.42, y: length * 0.93 - 8 }, 'INSIDE', 7, {
      face: 'name',
      weight: 700,
      anchorX: 'middle',
    }),
  ];
}
