import { distanceToSegmentMm, type Point } from './point.ts';

/** Corners of a polygon in order; the last joins the first. */
export type Polygon = readonly Point[];

/** Signed area, mm2: + when the corners run from +x toward +y. @source plane-geometry */
export function polygonAreaMm2(polygon: Polygon): number {
  let sum = 0;
  for (let i = 0; i < polygon.length; i++) {
    const a = polygon[i]!;
    const b = polygon[(i + 1) % polygon.length]!;
    sum += a.xMm * b.yMm - b.xMm * a.yMm;
  }
  return sum / 2;
}

/** Whether a point lies inside a polygon. @source plane-geometry */
export function isInsidePolygon(polygon: Polygon, p: Point): boolean {
  let isInside = false;
  for (let i = 0; i < polygon.length; i++) {
    const a = polygon[i]!;
    const b = polygon[(i + 1) % polygon.length]!;
    if (a.yMm > p.yMm === b.yMm > p.yMm) continue;
    if (p.xMm < a.xMm + ((p.yMm - a.yMm) / (b.yMm - a.yMm)) * (b.xMm - a.xMm)) isInside = !isInside;
  }
  return isInside;
}

/** Distance from a point to the edge of a polygon, mm: + outside, - inside. @source plane-geometry */
export function gapToPolygonMm(polygon: Polygon, p: Point): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < polygon.length; i++)
    least = Math.min(least, distanceToSegmentMm(p, polygon[i]!, polygon[(i + 1) % polygon.length]!));
  return isInsidePolygon(polygon, p) ? -least : least;
}

/**
 * Rectangle about a line: its long axis from one point to the other, as wide as given.
 *
 * @returns four corners
 * @source  plane-geometry
 */
export function rectangleAbout(from: Point, to: Point, widthMm: number): Polygon {
  const lengthMm = Math.hypot(to.xMm - from.xMm, to.yMm - from.yMm);
  const nx = (-(to.yMm - from.yMm) / lengthMm) * (widthMm / 2);
  const ny = ((to.xMm - from.xMm) / lengthMm) * (widthMm / 2);
  return [
    { xMm: from.xMm + nx, yMm: from.yMm + ny },
    { xMm: to.xMm + nx, yMm: to.yMm + ny },
    { xMm: to.xMm - nx, yMm: to.yMm - ny },
    { xMm: from.xMm - nx, yMm: from.yMm - ny },
  ];
}

/** Largest separation of two convex polygons over the normals of the first one's edges. */
function separationMm(a: Polygon, b: Polygon): number {
  const turn = polygonAreaMm2(a) >= 0 ? 1 : -1;
  let most = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < a.length; i++) {
    const p = a[i]!;
    const q = a[(i + 1) % a.length]!;
    const lengthMm = Math.hypot(q.xMm - p.xMm, q.yMm - p.yMm);
    const nx = (turn * (q.yMm - p.yMm)) / lengthMm;
    const ny = (-turn * (q.xMm - p.xMm)) / lengthMm;
    let nearest = Number.POSITIVE_INFINITY;
    for (const r of b) nearest = Math.min(nearest, (r.xMm - p.xMm) * nx + (r.yMm - p.yMm) * ny);
    most = Math.max(most, nearest);
  }
  return most;
}

/**
 * Gap between two convex polygons, mm: the distance when they are apart, minus the least shift that would part them
 * when they overlap.
 *
 * @source plane-geometry
 */
export function convexGapMm(a: Polygon, b: Polygon): number {
  const apart = Math.max(separationMm(a, b), separationMm(b, a));
  if (apart <= 0) return apart;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < a.length; i++)
    for (const p of b) least = Math.min(least, distanceToSegmentMm(p, a[i]!, a[(i + 1) % a.length]!));
  for (let i = 0; i < b.length; i++)
    for (const p of a) least = Math.min(least, distanceToSegmentMm(p, b[i]!, b[(i + 1) % b.length]!));
  return least;
}

/** Where two stretches cross, as shares of each from its first point; undefined when they do not. @source plane-geometry */
export function segmentCrossing(
  a: Point,
  b: Point,
  c: Point,
  d: Point,
):
  | { readonly point: Point; readonly shareOfFirstFrac: number; readonly shareOfSecondFrac: number }
  | undefined {
  const rx = b.xMm - a.xMm;
  const ry = b.yMm - a.yMm;
  const sx = d.xMm - c.xMm;
  const sy = d.yMm - c.yMm;
  const cross = rx * sy - ry * sx;
  if (Math.abs(cross) < 1e-12) return undefined;
  const u = ((c.xMm - a.xMm) * sy - (c.yMm - a.yMm) * sx) / cross;
  const v = ((c.xMm - a.xMm) * ry - (c.yMm - a.yMm) * rx) / cross;
  if (u < 0 || u > 1 || v < 0 || v > 1) return undefined;
  return {
    point: { xMm: a.xMm + u * rx, yMm: a.yMm + u * ry },
    shareOfFirstFrac: u,
    shareOfSecondFrac: v,
  };
}
