import { type Cubic, cubic } from './cubic.ts';
import { distanceMm, type Point } from './point.ts';

/**
 * Smooth half outline through measured points: a cubic spline by chord length, curvature-continuous, leaving both
 * ends square to the centre line as the mirrored other half demands.
 *
 * @param points       from the neck end (0, 0) to the tail (0, L), treble side; the two ends may be left out when `lengthMm` is given
 * @param lengthMm     body length, the place of the tail
 * @returns            pieces, one between each two points
 * @throws RangeError  with fewer than three points between the ends
 * @source             plane-geometry
 */
export function piecesThroughPoints(points: readonly Point[], lengthMm: number): readonly Cubic[] {
  const inner = points.filter((p) => p.yMm > 1e-9 && p.yMm < lengthMm - 1e-9);
  if (inner.length < 3)
    throw new RangeError(`piecesThroughPoints: ${inner.length} points between the ends, needs at least 3`);
  const all = [{ xMm: 0, yMm: 0 }, ...inner, { xMm: 0, yMm: lengthMm }];
  const steps = all.slice(1).map((p, i) => distanceMm(all[i]!, p));
  // across: odd about the ends, so no second derivative there; along: even, so no first derivative
  const slopeX = splineSlopes(
    all.map((p) => p.xMm),
    steps,
    'free',
  );
  const slopeY = splineSlopes(
    all.map((p) => p.yMm),
    steps,
    'flat',
  );
  return steps.map((h, i) => {
    const a = all[i]!;
    const b = all[i + 1]!;
    return cubic(
      a,
      { xMm: a.xMm + (slopeX[i]! * h) / 3, yMm: a.yMm + (slopeY[i]! * h) / 3 },
      { xMm: b.xMm - (slopeX[i + 1]! * h) / 3, yMm: b.yMm - (slopeY[i + 1]! * h) / 3 },
      b,
    );
  });
}

/** Slopes of a cubic spline with continuous second derivative; ends flat (slope 0) or free (second derivative 0). */
function splineSlopes(
  values: readonly number[],
  steps: readonly number[],
  ends: 'flat' | 'free',
): readonly number[] {
  const n = values.length;
  const diagonal = new Float64Array(n);
  const above = new Float64Array(n);
  const below = new Float64Array(n);
  const right = new Float64Array(n);
  const rise = (i: number): number => (values[i + 1]! - values[i]!) / steps[i]!;
  for (let i = 1; i < n - 1; i++) {
    const before = steps[i - 1]!;
    const after = steps[i]!;
    below[i] = after;
    diagonal[i] = 2 * (before + after);
    above[i] = before;
    right[i] = 3 * (after * rise(i - 1) + before * rise(i));
  }
  const isFree = ends === 'free';
  diagonal[0] = isFree ? 2 : 1;
  above[0] = isFree ? 1 : 0;
  right[0] = isFree ? 3 * rise(0) : 0;
  diagonal[n - 1] = isFree ? 2 : 1;
  below[n - 1] = isFree ? 1 : 0;
  right[n - 1] = isFree ? 3 * rise(n - 2) : 0;
  for (let i = 1; i < n; i++) {
    const factor = below[i]! / diagonal[i - 1]!;
    diagonal[i]! -= factor * above[i - 1]!;
    right[i]! -= factor * right[i - 1]!;
  }
  const slopes = new Array<number>(n);
  slopes[n - 1] = right[n - 1]! / diagonal[n - 1]!;
  for (let i = n - 2; i >= 0; i--) slopes[i] = (right[i]! - above[i]! * slopes[i + 1]!) / diagonal[i]!;
  return slopes;
}
