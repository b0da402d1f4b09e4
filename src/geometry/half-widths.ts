import type { Point } from './point.ts';

/** Half widths of a closed curve at even stations, with what its two sides differ. */
export interface HalfWidths {
  /** Length of the body: neck end to tail on the centre line. */
  readonly lengthMm: number;
  /** Half width and place from the neck end, neck end first. */
  readonly points: readonly Point[];
  /** Largest distance of the middle of the two sides from the centre line. */
  readonly asymmetryMm: number;
  readonly asymmetryYMm: number;
}

/** Where the curve crosses the line at y: least and greatest x. */
function crossingsAt(points: readonly Point[], yMm: number): readonly [number, number] | undefined {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < points.length; i++) {
    const a = points[i]!;
    const b = points[(i + 1) % points.length]!;
    if (a.yMm > yMm === b.yMm > yMm) continue;
    const x = a.xMm + ((yMm - a.yMm) / (b.yMm - a.yMm)) * (b.xMm - a.xMm);
    low = Math.min(low, x);
    high = Math.max(high, x);
  }
  return low <= high ? [low, high] : undefined;
}

const extent = (points: readonly Point[], of: (p: Point) => number): readonly [number, number] => {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const p of points) {
    low = Math.min(low, of(p));
    high = Math.max(high, of(p));
  }
  return [low, high];
};

/** The curve turned so that its long way runs along y. */
function uprighted(points: readonly Point[]): readonly Point[] {
  const [x0, x1] = extent(points, (p) => p.xMm);
  const [y0, y1] = extent(points, (p) => p.yMm);
  return x1 - x0 > y1 - y0 ? points.map((p) => ({ xMm: -p.yMm, yMm: p.xMm })) : points;
}

/** Turns the curve by the slant of the middle of its two sides over the middle eight tenths. */
function straightened(points: readonly Point[]): readonly Point[] {
  const [y0, y1] = extent(points, (p) => p.yMm);
  const middles: (readonly [number, number])[] = [];
  for (let i = 10; i <= 90; i += 2) {
    const y = y0 + ((y1 - y0) * i) / 100;
    const sides = crossingsAt(points, y);
    if (sides) middles.push([y, (sides[0] + sides[1]) / 2]);
  }
  const slopes: number[] = [];
  for (let i = 0; i < middles.length; i++)
    for (let j = i + 5; j < middles.length; j++)
      slopes.push((middles[j]![1] - middles[i]![1]) / (middles[j]![0] - middles[i]![0]));
  slopes.sort((a, b) => a - b);
  const slant = Math.atan(slopes[slopes.length >> 1] ?? 0);
  const [cos, sin] = [Math.cos(slant), Math.sin(slant)];
  return points.map((p) => ({ xMm: cos * p.xMm - sin * p.yMm, yMm: sin * p.xMm + cos * p.yMm }));
}

/**
 * Half widths of a closed body curve: its long way is the centre line, its wider half the tail.
 *
 * @param curve       corners of the curve, dense enough to be taken as straight between; mm; any place and turn by quarters, slanted a little
 * @param stationMm   wanted distance of the stations
 * @returns           half widths; undefined when the curve has no two sides
 * @source            plane-geometry
 */
export function halfWidthsOf(curve: readonly Point[], stationMm = 10): HalfWidths | undefined {
  const upright = straightened(straightened(straightened(uprighted(curve))));
  const [y0, y1] = extent(upright, (p) => p.yMm);
  const lengthMm = y1 - y0;
  if (!(lengthMm > 0)) return undefined;
  const count = Math.max(12, Math.round(lengthMm / stationMm));
  const places = [
    0.004,
    0.012,
    ...Array.from({ length: count - 1 }, (_, i) => (i + 1) / count),
    0.988,
    0.996,
  ];
  const rows: { share: number; half: number; middle: number }[] = [];
  for (const share of places) {
    const sides = crossingsAt(upright, y0 + share * lengthMm);
    if (!sides) return undefined;
    rows.push({ share, half: (sides[1] - sides[0]) / 2, middle: (sides[0] + sides[1]) / 2 });
  }
  const centre = rows.map((r) => r.middle).sort((a, b) => a - b)[rows.length >> 1] as number;
  const widest = rows.reduce((a, b) => (b.half > a.half ? b : a));
  const isTailFirst = widest.share < 0.5;
  const yOf = (share: number): number => (isTailFirst ? 1 - share : share) * lengthMm;
  // at the very ends the middle says nothing: the outline runs across there
  const sides = rows.filter((r) => r.share > 0.02 && r.share < 0.98);
  const worst = sides.reduce((a, b) => (Math.abs(b.middle - centre) > Math.abs(a.middle - centre) ? b : a));
  const points = rows.map((r) => ({ xMm: r.half, yMm: yOf(r.share) })).sort((a, b) => a.yMm - b.yMm);
  return {
    lengthMm,
    points,
    asymmetryMm: Math.abs(worst.middle - centre),
    asymmetryYMm: yOf(worst.share),
  };
}
