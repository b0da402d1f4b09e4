import {
  depthInsideMm,
  type HalfOutline,
  halfOutline,
  outlineTurns,
  radiusAtPlaceMm,
} from '../geometry/half-outline.ts';
import { type OutlineNumbers, outlineHandles, outlinePieces } from '../geometry/outline-from-numbers.ts';
import { piecesThroughPoints } from '../geometry/outline-through-points.ts';
import type { Point } from '../geometry/point.ts';
import { minimiseSquares } from '../numeric/least-squares.ts';
import type { MeasuredStations } from '../pattern/read-measured.ts';
import { InputError } from '../quantity/input-error.ts';
import { handleRoomMm, impossibleNumbers } from './outline.ts';

/** One measured place and how far the fitted outline misses it. */
export interface OutlineResidual {
  readonly yMm: number;
  readonly halfWidthMm: number;
  /** Square to the outline; + when the measured point lies outside it. */
  readonly residualMm: number;
}

/** An outline fitted to a template. */
export interface FittedOutline {
  readonly numbers: OutlineNumbers;
  readonly residuals: readonly OutlineResidual[];
  readonly largestMm: number;
  readonly largestAtYMm: number;
  readonly rmsMm: number;
  /** Over 0.5 mm the teacher may keep his own outline. */
  readonly isOwnOffered: boolean;
  /** The smooth curve through the measured points, for that case. */
  readonly ownPoints: readonly Point[];
}

/** Above this the few numbers do not draw the template. */
export const OWN_OUTLINE_ABOVE_MM = 0.5;
/** Two sides that differ more than this are no symmetric body. */
const CUTAWAY_MM = 6;
const LEAST_POINTS = 13;

const toNumbers = (v: readonly number[]): OutlineNumbers => ({
  lengthMm: v[0]!,
  upperWidthMm: v[1]!,
  upperYMm: v[2]!,
  upperRadiusMm: v[3]!,
  waistWidthMm: v[4]!,
  waistYMm: v[5]!,
  waistRadiusMm: v[6]!,
  lowerWidthMm: v[7]!,
  lowerYMm: v[8]!,
  lowerRadiusMm: v[9]!,
  neckEndRadiusMm: v[10]!,
  tailRadiusMm: v[11]!,
});

/** The outline of trial numbers; undefined where they draw none. */
function outlineOf(n: OutlineNumbers): HalfOutline | undefined {
  const radii = [n.upperRadiusMm, n.waistRadiusMm, n.lowerRadiusMm, n.neckEndRadiusMm, n.tailRadiusMm];
  if (!(n.upperYMm > 0) || radii.some((r) => !(r > 5)) || impossibleNumbers(n)) return undefined;
  const h = outlineHandles(n);
  return h.isSettled && handleRoomMm(h) > 0 ? halfOutline(outlinePieces(n, h)) : undefined;
}

/** Radii that leave room between the handles: sixty-two hundredths of the run at the ends, a third between stations. */
function startingNumbers(points: readonly Point[], lengthMm: number): OutlineNumbers {
  const shape = halfOutline(piecesThroughPoints(points, lengthMm));
  const turns = outlineTurns(shape);
  const pick = (kind: 'bout' | 'waist', isWanted: (y: number) => boolean) =>
    turns
      .filter((t) => t.kind === kind && isWanted(t.point.yMm))
      .reduce<(typeof turns)[number] | undefined>((a, b) => {
        if (!a) return b;
        return b.point.xMm > a.point.xMm === (kind === 'bout') ? b : a;
      }, undefined);
  const waist = pick('waist', (y) => y > 0.2 * lengthMm && y < 0.6 * lengthMm);
  const upper = waist && pick('bout', (y) => y < waist.point.yMm);
  const lower = waist && pick('bout', (y) => y > waist.point.yMm);
  if (!waist || !upper || !lower)
    throw new InputError(
      'no-waist',
      'The measured outline has no waist between two bouts; check the half widths, or turn the list so that the neck end comes first.',
    );
  const b0 = upper.point.xMm;
  const b1 = lower.point.xMm;
  const r0 = upper.point.yMm;
  const r1 = lengthMm - lower.point.yMm;
  const third = (runMm: number, stepMm: number): number => (1.5 * (runMm / 3) ** 2) / Math.max(stepMm, 1);
  const around = Math.min(
    third(waist.point.yMm - r0, b0 - waist.point.xMm),
    third(lower.point.yMm - waist.point.yMm, b1 - waist.point.xMm),
  );
  return {
    lengthMm,
    upperWidthMm: 2 * b0,
    upperYMm: r0,
    upperRadiusMm: Math.min(
      (1.5 * (0.62 * r0) ** 2) / (0.38 * b0),
      third(waist.point.yMm - r0, b0 - waist.point.xMm),
    ),
    waistWidthMm: 2 * waist.point.xMm,
    waistYMm: waist.point.yMm,
    waistRadiusMm: Math.min(around, radiusAtPlaceMm(shape, waist.place) ?? around),
    lowerWidthMm: 2 * b1,
    lowerYMm: lower.point.yMm,
    lowerRadiusMm: Math.min(
      (1.5 * (0.62 * r1) ** 2) / (0.38 * b1),
      third(lower.point.yMm - waist.point.yMm, b1 - waist.point.xMm),
    ),
    neckEndRadiusMm: (1.5 * (0.62 * b0) ** 2) / (0.38 * r0),
    tailRadiusMm: (1.5 * (0.62 * b1) ** 2) / (0.38 * r1),
  };
}

/** Refuses what no symmetric outline can be fitted to. */
function checkMeasured(measured: MeasuredStations): void {
  const { points, asymmetryMm, asymmetryYMm } = measured;
  if (points.length < LEAST_POINTS)
    throw new InputError(
      'too-few-stations',
      `The template has ${points.length} measured half widths; twelve numbers are fitted, so measure at least ${LEAST_POINTS}.`,
    );
  for (const p of points)
    if (!(Number.isFinite(p.xMm) && Number.isFinite(p.yMm) && p.xMm > 0))
      throw new InputError(
        'bad-half-width',
        `The half width at ${p.yMm} mm is ${p.xMm} mm; it must be a number above 0.`,
      );
  const rising = [...points].sort((a, b) => a.yMm - b.yMm);
  rising.forEach((p, i) => {
    if (p.yMm - (rising[i - 1]?.yMm ?? 0) < 1e-6)
      throw new InputError(
        i === 0 ? 'bad-place' : 'station-twice',
        i === 0
          ? `A half width is given at ${p.yMm} mm; places count from the neck end and must be above 0.`
          : `The place ${p.yMm} mm stands twice, with half widths ${rising[i - 1]?.xMm} and ${p.xMm} mm; keep one of them.`,
      );
  });
  const last = rising[rising.length - 1]!;
  if (measured.lengthMm !== undefined && last.yMm >= measured.lengthMm)
    throw new InputError(
      'beyond-length',
      `A half width is given at ${last.yMm} mm, and the body ends at ${measured.lengthMm} mm; check the length or that place.`,
    );
  if (asymmetryMm !== undefined && asymmetryMm > CUTAWAY_MM)
    throw new InputError(
      'cutaway',
      `The two sides lie ${asymmetryMm.toFixed(1)} mm off the centre line near ${(asymmetryYMm ?? 0).toFixed(0)} mm from the neck end, more than ${CUTAWAY_MM} mm: a cutaway cannot be fitted; measure the whole side and mirror it.`,
    );
}

/** Length when it was not measured: the last points run on as a parabola to the centre line. */
function guessedLengthMm(points: readonly Point[]): number {
  const a = points[points.length - 2]!;
  const b = points[points.length - 1]!;
  const drop = a.xMm * a.xMm - b.xMm * b.xMm;
  const ahead = drop > 0 ? (b.xMm * b.xMm * (b.yMm - a.yMm)) / drop : 0;
  return b.yMm + Math.min(Math.max(ahead, 0.5), 60);
}

/**
 * Fits the few numbers of an outline to measured half widths by least squares of the distances square to the outline.
 *
 * @param measured  at least 13 half widths over the whole body
 * @returns         the numbers with the residual at every point
 * @assumes         the body is symmetric; the length is fitted too when it was not measured
 * @throws InputError when the points are too few, make no body with a waist, or the sides differ by more than 6 mm
 * @source          least-squares
 */
export function fitOutline(measured: MeasuredStations): FittedOutline {
  checkMeasured(measured);
  const points = [...measured.points].sort((a, b) => a.yMm - b.yMm);
  const lengthMm = measured.lengthMm ?? guessedLengthMm(points);
  const isLengthFree = measured.lengthMm === undefined;
  const start = Object.values(startingNumbers(points, lengthMm));
  const free = isLengthFree ? start : start.slice(1);
  const full = (v: readonly number[]): readonly number[] => (isLengthFree ? v : [lengthMm, ...v]);
  const residualsOf = (v: readonly number[]): readonly number[] | undefined => {
    const shape = outlineOf(toNumbers(full(v)));
    return shape && points.map((p) => -depthInsideMm(shape, p));
  };
  let best: ReturnType<typeof minimiseSquares>;
  for (const scale of [1, 0.8, 0.6]) {
    const radiusAt = isLengthFree ? [3, 6, 9, 10, 11] : [2, 5, 8, 9, 10];
    const from = free.map((v, i) => (radiusAt.includes(i) ? v * scale : v));
    const steps = free.map((_, i) => (radiusAt.includes(i) ? 0.05 : 0.01));
    const found = minimiseSquares(residualsOf, from, steps, 60);
    if (found && (!best || found.rms < best.rms)) best = found;
    if (best && best.rms < 0.2) break;
  }
  if (!best)
    throw new InputError(
      'outline-not-fitted',
      'No outline of two bouts and a waist comes near these half widths; check the list for a slip, or keep the own outline in the pattern.',
    );
  const residuals = points.map((p, i) => ({
    yMm: p.yMm,
    halfWidthMm: p.xMm,
    residualMm: best.residuals[i]!,
  }));
  const largest = residuals.reduce((a, b) => (Math.abs(b.residualMm) > Math.abs(a.residualMm) ? b : a));
  return {
    numbers: toNumbers(full(best.values)),
    residuals,
    largestMm: Math.abs(largest.residualMm),
    largestAtYMm: largest.yMm,
    rmsMm: best.rms,
    isOwnOffered: Math.abs(largest.residualMm) > OWN_OUTLINE_ABOVE_MM,
    ownPoints: points,
  };
}

/** Input ids of the fitted numbers, in the order they stand in a pattern. @source arithmetic */
export function outlineInputs(n: OutlineNumbers): readonly (readonly [id: string, valueMm: number])[] {
  return [
    ['body.length', n.lengthMm],
    ['body.upper_bout.width', n.upperWidthMm],
    ['body.upper_bout.y', n.upperYMm],
    ['body.upper_bout.radius', n.upperRadiusMm],
    ['body.waist.width', n.waistWidthMm],
    ['body.waist.y', n.waistYMm],
    ['body.waist.radius', n.waistRadiusMm],
    ['body.lower_bout.width', n.lowerWidthMm],
    ['body.lower_bout.y', n.lowerYMm],
    ['body.lower_bout.radius', n.lowerRadiusMm],
    ['body.neck_end.radius', n.neckEndRadiusMm],
    ['body.tail.radius', n.tailRadiusMm],
  ];
}
