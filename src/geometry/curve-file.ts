import { type Cubic, cubicAt } from './cubic.ts';
import { distanceMm, type Point } from './point.ts';
import { polygonAreaMm2 } from './polygon.ts';

/** A run of points read from a drawing file, close enough to its curve (0.01 mm), in file units until it is scaled. */
export interface Run {
  readonly points: readonly Point[];
  readonly isClosed: boolean;
}

/** Points along a cubic piece after its start, at even steps of t. @source plane-geometry */
export function sampleCubic(c: Cubic, count = 128): readonly Point[] {
  return Array.from({ length: count }, (_, i) => cubicAt(c, (i + 1) / count));
}

/**
 * Joins runs whose ends meet into longer ones.
 *
 * @param gapMm  ends nearer than this meet
 * @returns      runs; closed ones where the two ends met
 * @source       plane-geometry
 */
export function joinRuns(runs: readonly Run[], gapMm: number): readonly Run[] {
  const done: Run[] = runs.filter((r) => r.isClosed);
  const open = runs.filter((r) => !r.isClosed && r.points.length > 1).map((r) => [...r.points]);
  while (open.length > 0) {
    const chain = open.pop() as Point[];
    const isOpen = (): boolean => distanceMm(chain[0]!, chain[chain.length - 1]!) > gapMm;
    while (isOpen() && grow(chain, open, gapMm));
    const isClosed = chain.length > 2 && !isOpen();
    done.push({ points: chain, isClosed });
  }
  return done;
}

/** Adds one run to the end of the chain; false when none meets it at either end. */
function grow(chain: Point[], open: Point[][], gapMm: number): boolean {
  for (const atStart of [false, true]) {
    const end = atStart ? chain[0]! : chain[chain.length - 1]!;
    for (let i = 0; i < open.length; i++) {
      const run = open[i]!;
      const meetsFirst = distanceMm(run[0]!, end) <= gapMm;
      if (!meetsFirst && distanceMm(run[run.length - 1]!, end) > gapMm) continue;
      open.splice(i, 1);
      const ordered = meetsFirst ? run : [...run].reverse();
      if (atStart) chain.unshift(...ordered.slice(1).reverse());
      else chain.push(...ordered.slice(1));
      return true;
    }
  }
  return false;
}

/**
 * Closed runs by area, the largest first; a curve that is drawn twice is given once.
 *
 * @param leastShare  smallest area wanted, as a share of the largest; 0..1
 * @source            plane-geometry
 */
export function largestClosed(runs: readonly Run[], leastShare: number): readonly (readonly Point[])[] {
  const sized = runs
    .filter((r) => r.isClosed)
    .map((r) => ({ points: r.points, area: Math.abs(polygonAreaMm2(r.points)) }))
    .sort((a, b) => b.area - a.area);
  const most = sized[0]?.area ?? 0;
  return sized
    .filter((r, i) => {
      const before = sized[i - 1];
      const isTwin = before !== undefined && before.area - r.area < 1e-4 * most;
      return r.area > 0 && r.area >= leastShare * most && !isTwin;
    })
    .map((r) => r.points);
}

/**
 * Points along an arc of an ellipse after its start.
 *
 * @param toPoint  point of the arc at an angle, rad
 * @source         plane-geometry
 */
export function sampleArc(
  toPoint: (angleRad: number) => Point,
  fromRad: number,
  sweepRad: number,
): readonly Point[] {
  const count = Math.max(4, Math.ceil(Math.abs(sweepRad) / (Math.PI / 180)));
  return Array.from({ length: count }, (_, i) => toPoint(fromRad + (sweepRad * (i + 1)) / count));
}
