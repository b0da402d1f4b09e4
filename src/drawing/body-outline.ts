import type { HalfOutline } from '../geometry/half-outline.ts';
import type { Point } from '../geometry/point.ts';
import { cubicTo, type PathGeometry, type PathSegment, type PointMm } from './model.ts';

const at = ({ xMm, yMm }: Point, side: 1 | -1): PointMm => ({ x: side * xMm, y: yMm });

/**
 * The whole closed outline of a symmetric body: down the treble side, up the bass side, true cubics.
 *
 * @param outline  treble half from the neck end to the tail
 * @source         plane-geometry
 */
export function wholeOutline(outline: HalfOutline): PathGeometry {
  const down = outline.pieces.map((c): PathSegment => cubicTo(at(c.p1, 1), at(c.p2, 1), at(c.p3, 1)));
  const up = outline.pieces
    .toReversed()
    .map((c): PathSegment => cubicTo(at(c.p2, -1), at(c.p1, -1), at(c.p0, -1)));
  const start = outline.pieces[0]?.p0 ?? { xMm: 0, yMm: 0 };
  return { start: at(start, 1), segments: [...down, ...up], isClosed: true };
}

/** The treble half from the neck end to the tail, open toward the centre line. @source plane-geometry */
export function halfDown(outline: HalfOutline): PathGeometry {
  const segments = outline.pieces.map((c): PathSegment => cubicTo(at(c.p1, 1), at(c.p2, 1), at(c.p3, 1)));
  return { start: at(outline.pieces[0]?.p0 ?? { xMm: 0, yMm: 0 }, 1), segments, isClosed: false };
}
