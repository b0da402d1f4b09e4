import type { ArcEntity, PathGeometry, PointMm } from './model.ts';

/** A piece of a path with its own start, ready to be measured or drawn. */
export type PathPiece =
  | { readonly kind: 'line'; readonly from: PointMm; readonly to: PointMm }
  | {
      readonly kind: 'arc';
      readonly from: PointMm;
      readonly to: PointMm;
      readonly centre: PointMm;
      readonly radiusMm: number;
      readonly startRad: number;
      readonly sweepRad: number;
    }
  | {
      readonly kind: 'cubic';
      readonly from: PointMm;
      readonly control1: PointMm;
      readonly control2: PointMm;
      readonly to: PointMm;
    };

/** Two ends nearer than this are one point, mm: far below any line width, far above rounding. */
export const SAME_POINT_MM = 1e-7;

/**
 * The point of a circle in a direction.
 *
 * @param angleRad  from +x toward +y
 * @source plane-geometry
 */
export function pointOnCircle(centre: PointMm, radiusMm: number, angleRad: number): PointMm {
  return { x: centre.x + radiusMm * Math.cos(angleRad), y: centre.y + radiusMm * Math.sin(angleRad) };
}

/** Distance of two points, mm. @source plane-geometry */
export function distanceMm(a: PointMm, b: PointMm): number {
  return Math.hypot(b.x - a.x, b.y - a.y);
}

/** How far it is from one point to another, counted along a direction, mm; negative backward. @source plane-geometry */
export function alongMm(directionRad: number, from: PointMm, to: PointMm): number {
  return (to.x - from.x) * Math.cos(directionRad) + (to.y - from.y) * Math.sin(directionRad);
}

/** A lone arc as a piece with its ends. @source plane-geometry */
export function arcPiece(of: Omit<ArcEntity, 'kind' | 'layer'>): PathPiece & { readonly kind: 'arc' } {
  const { centre, radiusMm, startRad, sweepRad } = of;
  const from = pointOnCircle(centre, radiusMm, startRad);
  const to = pointOnCircle(centre, radiusMm, startRad + sweepRad);
  return { kind: 'arc', from, to, centre, radiusMm, startRad, sweepRad };
}

/**
 * The pieces of a path, each with its start; a closed path ends with the straight line back where one is needed.
 *
 * @returns  at least the pieces given, in order
 * @source   plane-geometry
 */
export function walkPath(path: PathGeometry): readonly PathPiece[] {
  const pieces: PathPiece[] = [];
  let from = path.start;
  for (const segment of path.segments) {
    const piece = pieceFrom(from, segment);
    pieces.push(piece);
    from = piece.to;
  }
  const last = pieces.at(-1);
  if (!path.isClosed || last === undefined) return pieces;
  if (distanceMm(from, path.start) > SAME_POINT_MM) pieces.push({ kind: 'line', from, to: path.start });
  else pieces[pieces.length - 1] = { ...last, to: path.start };
  return pieces;
}

function pieceFrom(from: PointMm, segment: PathGeometry['segments'][number]): PathPiece {
  if (segment.kind !== 'arc') return { ...segment, from };
  const { centre, sweepRad } = segment;
  const startRad = Math.atan2(from.y - centre.y, from.x - centre.x);
  const radiusMm = distanceMm(centre, from);
  return { ...arcPiece({ centre, radiusMm, startRad, sweepRad }), from };
}
