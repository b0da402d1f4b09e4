import { cubicTo, type PathSegment, type PointMm } from './model.ts';

/** A point of a curve y(x) with its slope there. */
export interface CurvePoint extends PointMm {
  readonly slopeRatio: number;
}

/**
 * A curve y(x) through points with their slopes, as cubics, from the first point to the last.
 *
 * @param points  in order, x rising or falling; the path stands at the first one
 * @assumes       points near enough: the error is (distance)^4 / 384 times the fourth derivative
 * @source        plane-geometry
 */
export function curveThrough(points: readonly CurvePoint[]): readonly PathSegment[] {
  return points.slice(1).map((to, index) => {
    const from = points[index] as CurvePoint;
    const third = (to.x - from.x) / 3;
    const control1 = { x: from.x + third, y: from.y + third * from.slopeRatio };
    const control2 = { x: to.x - third, y: to.y - third * to.slopeRatio };
    return cubicTo(control1, control2, { x: to.x, y: to.y });
  });
}

/** The same points moved down (or up) by a distance. @source plane-geometry */
export function movedDown(points: readonly CurvePoint[], byMm: number): readonly CurvePoint[] {
  return points.map((p) => ({ ...p, y: p.y + byMm }));
}
