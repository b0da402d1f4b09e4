/** A place in a plane, mm. */
export interface Point {
  readonly xMm: number;
  readonly yMm: number;
}

/** Distance between two points, mm. @source plane-geometry */
export function distanceMm(a: Point, b: Point): number {
  return Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm);
}

/** The point at a share of the way from `a` (0) to `b` (1). @source plane-geometry */
export function between(a: Point, b: Point, shareFrac: number): Point {
  return { xMm: a.xMm + (b.xMm - a.xMm) * shareFrac, yMm: a.yMm + (b.yMm - a.yMm) * shareFrac };
}

/** The point on the other side of the centre line. @source plane-geometry */
export function mirrored(p: Point): Point {
  return { xMm: -p.xMm, yMm: p.yMm };
}

/** Distance from a point to the stretch between two points, mm. @source plane-geometry */
export function distanceToSegmentMm(p: Point, a: Point, b: Point): number {
  const dx = b.xMm - a.xMm;
  const dy = b.yMm - a.yMm;
  const lengthSquared = dx * dx + dy * dy;
  const share =
    lengthSquared === 0
      ? 0
      : Math.min(1, Math.max(0, ((p.xMm - a.xMm) * dx + (p.yMm - a.yMm) * dy) / lengthSquared));
  return Math.hypot(p.xMm - a.xMm - share * dx, p.yMm - a.yMm - share * dy);
}
