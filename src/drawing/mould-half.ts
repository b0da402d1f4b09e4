import { insideLine } from '../figures/allowances.ts';
import { neckBlock, tailBlock } from '../figures/blocks.ts';
import { handed } from '../figures/inputs.ts';
import { outline } from '../figures/outline.ts';
import type { HalfOutline } from '../geometry/half-outline.ts';
import type { Polygon } from '../geometry/polygon.ts';
import { figureValue, type Sheet } from '../graph/sheet.ts';
import { halfDown } from './body-outline.ts';
import { mark, note, pageOf } from './drawing-page.ts';
import { type DimensionWords, PLAIN_WORDS } from './drawn-number.ts';
import {
  closedPath,
  type Drawing,
  type Entity,
  horizontalDimension,
  line,
  lineTo,
  openPath,
  type PathSegment,
  type PointMm,
  polyline,
  verticalDimension,
} from './model.ts';
import { lengthWords, shownAs } from './shown-figure.ts';

/** Wood of the mould around the widest place and beyond both ends (common practice, no published source). */
const WALL_MM = 60;

/**
 * One half of the outside mould: the sheet with the outline sawn out of it, the sides and blocks that lie in it dashed.
 *
 * @param words  unit of the dimensions, and the last revision to compare with
 * @returns      a drawing; parts whose figures cannot be had are left out
 * @source       common practice, no published source
 */
export function mouldHalf(sheet: Sheet, words: DimensionWords = PLAIN_WORDS): Drawing {
  const shape = figureValue(sheet, outline);
  const entities = [
    ...(shape ? mould(shape) : []),
    ...inside(sheet),
    ...blocks(sheet),
    ...(shape ? sizes(sheet, shape, words) : []),
    ...(shape ? mouldMarks(sheet, shape) : []),
  ];
  return pageOf('mould-half', 'Mould, one half', 'the front', entities);
}

interface MouldSize {
  readonly lengthMm: number;
  readonly widestMm: number;
  readonly widestYMm: number;
  readonly rightMm: number;
}

function sizeOf(shape: HalfOutline): MouldSize {
  const { xMm, yMm } = shape.table;
  let at = 0;
  for (let k = 1; k < xMm.length; k++) if ((xMm[k] ?? 0) > (xMm[at] ?? 0)) at = k;
  const widestMm = xMm[at] ?? 0;
  return {
    lengthMm: yMm.at(-1) ?? 0,
    widestMm,
    widestYMm: yMm[at] ?? 0,
    rightMm: Math.ceil(widestMm + WALL_MM),
  };
}

function mould(shape: HalfOutline): readonly Entity[] {
  const { lengthMm, rightMm } = sizeOf(shape);
  const { segments } = halfDown(shape);
  const corners: readonly PathSegment[] = [
    lineTo({ x: 0, y: lengthMm + WALL_MM }),
    lineTo({ x: rightMm, y: lengthMm + WALL_MM }),
    lineTo({ x: rightMm, y: -WALL_MM }),
    lineTo({ x: 0, y: -WALL_MM }),
  ];
  return [
    closedPath('cut', { x: 0, y: 0 }, [...segments, ...corners], { key: 'outline' }),
    line('centre', { x: 0, y: -WALL_MM - 10 }, { x: 0, y: lengthMm + WALL_MM + 10 }),
  ];
}

function inside(sheet: Sheet): readonly Entity[] {
  const shape = figureValue(sheet, insideLine);
  if (!shape) return [];
  const { start, segments } = halfDown(shape);
  return [openPath('hidden', start, segments, { key: 'outline.inside' })];
}

/** Where the inside of the sides is half as wide as a block, near the neck end or near the tail. */
function blockStartMm(inner: HalfOutline, halfMm: number, isTail: boolean): number {
  const { xMm, yMm } = inner.table;
  const order = Array.from({ length: xMm.length }, (_, k) => (isTail ? xMm.length - 1 - k : k));
  const at = order.find((k) => (xMm[k] ?? 0) >= halfMm) ?? order[0] ?? 0;
  return yMm[at] ?? 0;
}

function blocks(sheet: Sheet): readonly Entity[] {
  const inner = figureValue(sheet, insideLine);
  if (!inner) return [];
  const half = (polygon: Polygon, key: string, isTail: boolean): Entity => {
    const ys = polygon.map(({ yMm }) => yMm);
    const y = isTail ? Math.min(...ys) : Math.max(...ys);
    const x = Math.max(...polygon.map(({ xMm }) => xMm));
    const corners: readonly PointMm[] = [
      { x, y: blockStartMm(inner, x, isTail) },
      { x, y },
      { x: 0, y },
    ];
    return polyline('hidden', corners, false, { key });
  };
  const [neck, tail] = [figureValue(sheet, neckBlock), figureValue(sheet, tailBlock)];
  return [
    ...(neck ? [half(neck, 'block.neck', false)] : []),
    ...(tail ? [half(tail, 'block.tail', true)] : []),
  ];
}

function sizes(sheet: Sheet, shape: HalfOutline, words: DimensionWords): readonly Entity[] {
  const { lengthMm, widestMm, widestYMm, rightMm } = sizeOf(shape);
  const [top, bottom] = [-WALL_MM, lengthMm + WALL_MM];
  const own = (valueMm: number) => ({ text: lengthWords(valueMm, words) });
  return [
    horizontalDimension({ x: 0, y: bottom }, { x: rightMm, y: bottom }, bottom + 18, own(rightMm)),
    horizontalDimension({ x: widestMm, y: widestYMm }, { x: rightMm, y: widestYMm }, widestYMm, {
      ...own(rightMm - widestMm),
      key: 'outline.lower_bout.width',
    }),
    verticalDimension({ x: 0, y: top }, { x: 0, y: 0 }, -14, own(WALL_MM)),
    verticalDimension({ x: 0, y: 0 }, { x: 0, y: lengthMm }, -14, shownAs(sheet, 'body.length', words)),
    verticalDimension({ x: 0, y: lengthMm }, { x: 0, y: bottom }, -14, own(WALL_MM)),
    verticalDimension({ x: rightMm, y: top }, { x: rightMm, y: bottom }, rightMm + 12, own(bottom - top)),
  ];
}

function mouldMarks(sheet: Sheet, shape: HalfOutline): readonly Entity[] {
  const { lengthMm, rightMm } = sizeOf(shape);
  const [shown, other] = figureValue(sheet, handed) === 'left' ? ['BASS', 'TREBLE'] : ['TREBLE', 'BASS'];
  const x = rightMm * 0.3;
  return [
    mark({ x, y: -WALL_MM / 2 + 2 }, 'NECK'),
    mark({ x, y: lengthMm + WALL_MM / 2 - 6 }, 'TAIL'),
    mark({ x: x + 22, y: lengthMm + WALL_MM / 2 - 6 }, `${shown} half`),
    note({ x, y: lengthMm + WALL_MM / 2 + 2 }, `${other} half: the same, turned over`),
    note({ x, y: lengthMm + WALL_MM / 2 + 7 }, 'Dashed: inside of the sides, blocks'),
    note({ x, y: lengthMm + WALL_MM / 2 + 12 }, 'Sawn on the outline itself'),
  ];
}
