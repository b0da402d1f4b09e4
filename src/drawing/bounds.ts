import { dimensionGeometry } from './dimension.ts';
import type { ArcEntity, BoundsMm, Entity, PathGeometry, PointMm, TextEntity } from './model.ts';
import { arcPiece, type PathPiece, pointOnCircle, walkPath } from './path-walk.ts';
import { textWidthMm } from './text-size.ts';

/**
 * The box around points.
 *
 * @param points  at least one
 * @throws RangeError without points
 * @source plane-geometry
 */
export function boundsOfPoints(points: readonly PointMm[]): BoundsMm {
  if (points.length === 0) throw new RangeError('boundsOfPoints: 0 points, at least 1 is needed');
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { x, y } of points) {
    minX = Math.min(minX, x);
    minY = Math.min(minY, y);
    maxX = Math.max(maxX, x);
    maxY = Math.max(maxY, y);
  }
  return { minX, minY, maxX, maxY };
}

/** The box around two boxes. @source plane-geometry */
function joinBounds(a: BoundsMm, b: BoundsMm): BoundsMm {
  return {
    minX: Math.min(a.minX, b.minX),
    minY: Math.min(a.minY, b.minY),
    maxX: Math.max(a.maxX, b.maxX),
    maxY: Math.max(a.maxY, b.maxY),
  };
}

/** A box made larger by a margin on every side. @source plane-geometry */
export function growBounds(at: BoundsMm, marginMm: number): BoundsMm {
  return {
    minX: at.minX - marginMm,
    minY: at.minY - marginMm,
    maxX: at.maxX + marginMm,
    maxY: at.maxY + marginMm,
  };
}

/**
 * The box around entities: lines as mathematical lines (without their width), words with their size.
 *
 * @returns  undefined when there is no entity
 * @source   plane-geometry
 */
export function bounds(entities: readonly Entity[]): BoundsMm | undefined {
  let all: BoundsMm | undefined;
  for (const entity of entities) {
    const one = boundsOfEntity(entity);
    if (one !== undefined) all = all === undefined ? one : joinBounds(all, one);
  }
  return all;
}

function boundsOfEntity(entity: Entity): BoundsMm | undefined {
  switch (entity.kind) {
    case 'line':
      return boundsOfPoints([entity.from, entity.to]);
    case 'circle':
      return growBounds(boundsOfPoints([entity.centre]), entity.radiusMm);
    case 'arc':
      return boundsOfPoints(arcExtremes(arcPiece(entity)));
    case 'path':
      return boundsOfPath(entity);
    case 'hatch':
      return entity.loops.map(boundsOfPath).reduce<BoundsMm | undefined>(joinMaybe, undefined);
    case 'text':
      return boundsOfText(entity);
    case 'dimension':
      return bounds(dimensionGeometry(entity));
  }
}

function joinMaybe(a: BoundsMm | undefined, b: BoundsMm): BoundsMm {
  return a === undefined ? b : joinBounds(a, b);
}

/** The exact box around a path: arcs by their quarter points, cubics by the roots of their derivative. @source plane-geometry */
export function boundsOfPath(path: PathGeometry): BoundsMm {
  return boundsOfPoints([path.start, ...walkPath(path).flatMap(extremes)]);
}

function extremes(piece: PathPiece): readonly PointMm[] {
  if (piece.kind === 'line') return [piece.to];
  return piece.kind === 'arc' ? arcExtremes(piece) : cubicExtremes(piece);
}

type ArcShape = Pick<ArcEntity, 'centre' | 'radiusMm' | 'startRad' | 'sweepRad'> & {
  readonly from: PointMm;
  readonly to: PointMm;
};

function arcExtremes(piece: ArcShape): readonly PointMm[] {
  const quarter = Math.PI / 2;
  const low = Math.min(piece.startRad, piece.startRad + piece.sweepRad);
  const high = Math.max(piece.startRad, piece.startRad + piece.sweepRad);
  const points = [piece.from, piece.to];
  for (let turn = Math.ceil(low / quarter); turn * quarter <= high; turn++)
    points.push(pointOnCircle(piece.centre, piece.radiusMm, turn * quarter));
  return points;
}

function cubicExtremes(piece: PathPiece & { kind: 'cubic' }): readonly PointMm[] {
  const { from, control1, control2, to } = piece;
  const params = [
    ...slopeRoots(from.x, control1.x, control2.x, to.x),
    ...slopeRoots(from.y, control1.y, control2.y, to.y),
  ];
  return [to, ...params.map((param) => pointOnCubic(piece, param))];
}

/** Where the slope of one coordinate of a cubic is 0, parameters inside 0..1. @source plane-geometry */
export function slopeRoots(p0: number, p1: number, p2: number, p3: number): readonly number[] {
  const a = p3 - 3 * p2 + 3 * p1 - p0;
  const b = 2 * (p2 - 2 * p1 + p0);
  const c = p1 - p0;
  const inside = (t: number) => t > 0 && t < 1;
  if (Math.abs(a) < 1e-12) return Math.abs(b) < 1e-12 ? [] : [-c / b].filter(inside);
  const discriminant = b * b - 4 * a * c;
  if (discriminant < 0) return [];
  const root = Math.sqrt(discriminant);
  return [(-b + root) / (2 * a), (-b - root) / (2 * a)].filter(inside);
}

/** A point of a cubic Bezier. @param param 0..1 @source plane-geometry */
export function pointOnCubic(
  { from, control1, control2, to }: Omit<PathPiece & { kind: 'cubic' }, 'kind'>,
  param: number,
): PointMm {
  const rest = 1 - param;
  const [w0, w1, w2, w3] = [rest ** 3, 3 * rest * rest * param, 3 * rest * param * param, param ** 3];
  return {
    x: w0 * from.x + w1 * control1.x + w2 * control2.x + w3 * to.x,
    y: w0 * from.y + w1 * control1.y + w2 * control2.y + w3 * to.y,
  };
}

/** How far the letters reach below the baseline, parts of the capital height (p, g, comma). */
const DESCENT_RATIO = 0.3;

function boundsOfText(entity: TextEntity): BoundsMm {
  const width = textWidthMm(entity.text, entity);
  const left = -width * { start: 0, middle: 0.5, end: 1 }[entity.anchorX];
  const top = -entity.heightMm * { baseline: 1, middle: 0.5, top: 0 }[entity.anchorY];
  const bottom = top + entity.heightMm * (1 + DESCENT_RATIO);
  const cos = Math.cos(entity.rotationRad);
  const sin = Math.sin(entity.rotationRad);
  const corner = (along: number, down: number): PointMm => ({
    x: entity.at.x + along * cos - down * sin,
    y: entity.at.y + along * sin + down * cos,
  });
  const right = left + width;
  return boundsOfPoints([corner(left, top), corner(right, top), corner(left, bottom), corner(right, bottom)]);
}
