import { solveLeastSquares } from '../numeric/least-squares.ts';
import { distanceMm, type Point } from './point.ts';

/** Weights of the fourth divided difference over five places. */
function fourthDifference(s: readonly number[]): readonly number[] {
  return s.map((at, i) => s.reduce((product, other, j) => (j === i ? product : product / (at - other)), 24));
}

/** Unit normal at a point from its two neighbours. */
function normalAt(before: Point, after: Point): Point {
  const length = distanceMm(before, after);
  return { xMm: (after.yMm - before.yMm) / length, yMm: -(after.xMm - before.xMm) / length };
}

/** Points moved to make a smoother curve. */
export interface FairedPoints {
  readonly points: readonly Point[];
  /** Farthest that any point was moved. */
  readonly movedMm: number;
}

/**
 * Measured points of a half outline moved square to the curve so that its curvature changes evenly: least squares of
 * the moves and of the fourth differences along the curve, weighed against each other.
 *
 * @param points    half outline from the neck end to the tail, ends on the centre line left out
 * @param lengthMm  body length, place of the tail
 * @param scaleMm   waves shorter than about this are smoothed away; > 0
 * @returns         the moved points; undefined with fewer than five
 * @source          least-squares
 */
export function fairPoints(
  points: readonly Point[],
  lengthMm: number,
  scaleMm: number,
): FairedPoints | undefined {
  const n = points.length;
  if (n < 5) return undefined;
  const flip = (p: Point): Point => ({ xMm: -p.xMm, yMm: p.yMm });
  // two mirrored points beyond each end; the ends themselves stay where they are
  const all = [
    ...points.slice(0, 2).reverse().map(flip),
    { xMm: 0, yMm: 0 },
    ...points,
    { xMm: 0, yMm: lengthMm },
    ...points.slice(-2).reverse().map(flip),
  ];
  /** Which unknown moves a point, and which way. */
  const unknownOf = (k: number): number => {
    if (k < 2) return 1 - k;
    if (k > n + 3) return n - 1 - (k - (n + 4));
    return k === 2 || k === n + 3 ? -1 : k - 3;
  };
  const s = [0];
  for (let k = 1; k < all.length; k++) s.push(s[k - 1]! + distanceMm(all[k - 1]!, all[k]!));
  const normals = all.map((_, k) =>
    normalAt(all[Math.max(0, k - 1)]!, all[Math.min(all.length - 1, k + 1)]!),
  );
  const rows: number[][] = [];
  const wanted: number[] = [];
  for (let i = 0; i < n; i++) {
    rows.push(Array.from({ length: n }, (_, j) => (j === i ? 1 : 0)));
    wanted.push(0);
  }
  const weight = (scaleMm / (2 * Math.PI)) ** 4;
  for (let k = 2; k < all.length - 2; k++) {
    const c = fourthDifference(s.slice(k - 2, k + 3));
    for (const axis of ['xMm', 'yMm'] as const) {
      const row = new Array<number>(n).fill(0);
      let constant = 0;
      c.forEach((w, i) => {
        const at = k - 2 + i;
        const unknown = unknownOf(at);
        constant += w * all[at]![axis];
        if (unknown >= 0) row[unknown]! += w * normals[at]![axis];
      });
      const across = normals[k]![axis];
      rows.push(row.map((v) => weight * v * Math.abs(across)));
      wanted.push(-weight * constant * Math.abs(across));
    }
  }
  const moves = solveLeastSquares(rows, wanted);
  if (!moves) return undefined;
  return {
    points: points.map((p, i) => ({
      xMm: p.xMm + moves[i]! * normals[i + 3]!.xMm,
      yMm: p.yMm + moves[i]! * normals[i + 3]!.yMm,
    })),
    movedMm: Math.max(...moves.map(Math.abs)),
  };
}
