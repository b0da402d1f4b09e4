import {
  arcAtPlaceMm,
  type HalfOutline,
  isInsideOutline,
  nearestOnOutline,
  pointAtArc,
} from './half-outline.ts';
import { between, type Point } from './point.ts';
import type { Polygon } from './polygon.ts';

/** Points of the curve for each millimetre along it. */
const STEP_MM = 1;

/** The place where a stretch leaves the outline, by halving; `inside` lies inside, `outside` outside. */
function crossing(outline: HalfOutline, inside: Point, outside: Point): Point {
  let a = 0;
  let b = 1;
  for (let i = 0; i < 40; i++) {
    const middle = (a + b) / 2;
    if (isInsideOutline(outline, between(inside, outside, middle))) a = middle;
    else b = middle;
  }
  return between(inside, outside, a);
}

/** Signed arc length of a point of the outline: + on the treble half, - on the bass half. */
function signedArcMm(outline: HalfOutline, p: Point): number {
  const arcMm = arcAtPlaceMm(outline, nearestOnOutline(outline, p).place);
  return p.xMm < 0 ? -arcMm : arcMm;
}

/** Points of the outline between two of its points, ends left out, the shorter way round. */
function curveBetween(outline: HalfOutline, from: Point, to: Point): readonly Point[] {
  const round = 2 * outline.lengthMm;
  const a = signedArcMm(outline, from);
  const straight = signedArcMm(outline, to) - a;
  const stretch = Math.abs(straight) > outline.lengthMm ? straight - Math.sign(straight) * round : straight;
  const count = Math.floor(Math.abs(stretch) / STEP_MM);
  return Array.from({ length: count }, (_, i) => {
    const along = a + (stretch * (i + 1)) / (count + 1);
    const arcMm = Math.abs(along) > outline.lengthMm ? along - Math.sign(along) * round : along;
    const p = pointAtArc(outline, Math.abs(arcMm));
    return arcMm < 0 ? { xMm: -p.xMm, yMm: p.yMm } : p;
  });
}

/**
 * A polygon with what sticks out of the outline cut away along the curve.
 *
 * @param polygon  corners in order; most of it inside the outline
 * @returns        corners in the same order, with points of the curve where corners were cut; the polygon itself when all of it is inside; empty when all of it is outside
 * @assumes        no half of an edge leaves the outline and enters it again; that of a bar foot does not
 * @source         plane-geometry
 */
export function trimToOutline(outline: HalfOutline, polygon: Polygon): Polygon {
  if (polygon.every((p) => isInsideOutline(outline, p))) return polygon;
  // a long edge may have both corners outside and its middle inside
  const refined = polygon.flatMap((p, i) => [p, between(p, polygon[(i + 1) % polygon.length]!, 0.5)]);
  const inside = refined.map((p) => isInsideOutline(outline, p));
  const first = inside.indexOf(true);
  if (first < 0) return [];
  const out: Point[] = [];
  let left: Point | undefined;
  for (let k = 0; k < refined.length; k++) {
    const i = (first + k) % refined.length;
    const next = (i + 1) % refined.length;
    const a = refined[i]!;
    const b = refined[next]!;
    if (inside[i]) out.push(a);
    if (inside[i] === inside[next]) continue;
    if (inside[i]) {
      left = crossing(outline, a, b);
      out.push(left);
    } else if (left) {
      const back = crossing(outline, b, a);
      out.push(...curveBetween(outline, left, back), back);
      left = undefined;
    }
  }
  return out;
}
