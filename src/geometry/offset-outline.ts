import { type Cubic, cubic, cubicAt, cubicVelocity, splitCubic } from './cubic.ts';
import { type HalfOutline, halfOutline } from './half-outline.ts';
import type { Point } from './point.ts';

/**
 * The outline moved outward (+) or inward (-) by a distance, sampled and refitted with cubic pieces.
 *
 * @param outwardMm    distance; smaller than every radius on the side it moves to
 * @param toleranceMm  largest error allowed at the places sampled; > 0
 * @returns            a half outline; undefined when the distance is larger than a bend on that side, so that the curve would fold
 * @assumes            the ends stay on the centre line because the outline leaves it at a right angle
 * @source             plane-geometry
 */
export function offsetOutline(
  outline: HalfOutline,
  outwardMm: number,
  toleranceMm = 0.005,
): HalfOutline | undefined {
  for (const k of outline.table.curvaturePerMm) if (1 + outwardMm * k <= 1e-6) return undefined;
  return halfOutline(outline.pieces.flatMap((c) => offsetCubic(c, outwardMm, toleranceMm, 0)));
}

function offsetPoint(c: Cubic, t: number, outwardMm: number): Point {
  const p = cubicAt(c, t);
  const v = cubicVelocity(c, t);
  const speed = Math.hypot(v.xMm, v.yMm);
  return { xMm: p.xMm + (outwardMm * v.yMm) / speed, yMm: p.yMm - (outwardMm * v.xMm) / speed };
}

function offsetCubic(c: Cubic, outwardMm: number, toleranceMm: number, depth: number): readonly Cubic[] {
  const fitted = fitOffset(c, outwardMm);
  if (depth >= 8 || worstOffMm(c, fitted, outwardMm) <= toleranceMm) return [fitted];
  const [a, b] = splitCubic(c, 0.5);
  return [
    ...offsetCubic(a, outwardMm, toleranceMm, depth + 1),
    ...offsetCubic(b, outwardMm, toleranceMm, depth + 1),
  ];
}

/** Cubic with the offset's ends and end directions whose handles fit five places in between best (least squares in two unknowns). */
function fitOffset(c: Cubic, outwardMm: number): Cubic {
  const p0 = offsetPoint(c, 0, outwardMm);
  const p3 = offsetPoint(c, 1, outwardMm);
  const unit = (v: Point): Point => {
    const speed = Math.hypot(v.xMm, v.yMm);
    return { xMm: v.xMm / speed, yMm: v.yMm / speed };
  };
  const d0 = unit(cubicVelocity(c, 0));
  const d3 = unit(cubicVelocity(c, 1));
  let a00 = 0;
  let a01 = 0;
  let a11 = 0;
  let r0 = 0;
  let r1 = 0;
  for (const t of [0.15, 0.3, 0.5, 0.7, 0.85]) {
    const u = 1 - t;
    const q = offsetPoint(c, t, outwardMm);
    const fixed = u * u * u + 3 * u * u * t;
    const rest = t * t * t + 3 * u * t * t;
    const ex = q.xMm - fixed * p0.xMm - rest * p3.xMm;
    const ey = q.yMm - fixed * p0.yMm - rest * p3.yMm;
    const w0 = 3 * u * u * t;
    const w1 = -3 * u * t * t;
    a00 += w0 * w0;
    a11 += w1 * w1;
    a01 += w0 * w1 * (d0.xMm * d3.xMm + d0.yMm * d3.yMm);
    r0 += w0 * (ex * d0.xMm + ey * d0.yMm);
    r1 += w1 * (ex * d3.xMm + ey * d3.yMm);
  }
  const determinant = a00 * a11 - a01 * a01;
  const h0 = (r0 * a11 - r1 * a01) / determinant;
  const h1 = (r1 * a00 - r0 * a01) / determinant;
  return cubic(
    p0,
    { xMm: p0.xMm + h0 * d0.xMm, yMm: p0.yMm + h0 * d0.yMm },
    { xMm: p3.xMm - h1 * d3.xMm, yMm: p3.yMm - h1 * d3.yMm },
    p3,
  );
}

/** Largest distance of the fitted piece from the true offset along its normal, at nine places. */
function worstOffMm(c: Cubic, fitted: Cubic, outwardMm: number): number {
  let worst = 0;
  for (let i = 1; i < 10; i++) {
    const t = i / 10;
    const q = offsetPoint(c, t, outwardMm);
    const v = cubicVelocity(c, t);
    const speed = Math.hypot(v.xMm, v.yMm);
    const p = cubicAt(fitted, t);
    worst = Math.max(worst, Math.abs(((p.xMm - q.xMm) * v.yMm - (p.yMm - q.yMm) * v.xMm) / speed));
  }
  return worst;
}
