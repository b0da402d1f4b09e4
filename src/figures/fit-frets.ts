import { CENTS_PER_NEPER, fretPlaceMm } from '../mechanics/stiff-string.ts';
import type { MeasuredFret } from '../pattern/read-measured.ts';
import { InputError } from '../quantity/input-error.ts';

/** One fret and how far its slot lies off the scale found. */
export interface FretResidual extends MeasuredFret {
  /** + toward the bridge. */
  readonly residualMm: number;
  /** What this does to the note. */
  readonly cents: number;
}

/** The scale behind measured fret places. */
export interface FittedFrets {
  readonly scaleMm: number;
  /** Where the theoretical nut lies in the measured places. */
  readonly nutMm: number;
  readonly residuals: readonly FretResidual[];
  readonly worst: FretResidual;
  readonly rmsMm: number;
}

/** Beyond this a slot is taken as wrong and pulls the scale no further. */
const ROBUST_MM = 0.1;

/** Weighted straight line through (u, x): x = nut + scale u. */
function weightedLine(
  u: readonly number[],
  x: readonly number[],
  w: readonly number[],
): { readonly nut: number; readonly scale: number } {
  let sw = 0;
  let su = 0;
  let sx = 0;
  for (let i = 0; i < u.length; i++) {
    sw += w[i]!;
    su += w[i]! * u[i]!;
    sx += w[i]! * x[i]!;
  }
  let suu = 0;
  let sux = 0;
  for (let i = 0; i < u.length; i++) {
    suu += w[i]! * (u[i]! - su / sw) ** 2;
    sux += w[i]! * (u[i]! - su / sw) * (x[i]! - sx / sw);
  }
  const scale = sux / suu;
  return { nut: sx / sw - (scale * su) / sw, scale };
}

/** Middle slope of all pairs: a first guess that one or two wrong slots do not move. */
function medianLine(
  u: readonly number[],
  x: readonly number[],
): { readonly nut: number; readonly scale: number } {
  const slopes: number[] = [];
  for (let i = 0; i < u.length; i++)
    for (let j = i + 1; j < u.length; j++) if (u[i] !== u[j]) slopes.push((x[j]! - x[i]!) / (u[j]! - u[i]!));
  const middle = (list: number[]): number => list.sort((a, b) => a - b)[list.length >> 1]!;
  const scale = middle(slopes);
  return { scale, nut: middle(x.map((v, i) => v - scale * u[i]!)) };
}

/**
 * Finds the scale length behind measured fret places: x = nut + scale (1 - 2^(-fret / 12)), fitted so that single
 * wrong slots do not pull it (first the middle of all pairs, then least squares with weights that fall beyond 0.1 mm).
 *
 * @param measured  at least four different frets, places from one datum in mm
 * @returns         scale, place of the theoretical nut, each slot's error and the worst
 * @throws InputError when there are too few frets, a fret stands twice or the places do not rise
 * @source          equal-temperament
 */
export function fitFrets(measured: readonly MeasuredFret[]): FittedFrets {
  const frets = [...measured].sort((a, b) => a.fret - b.fret);
  if (frets.length < 4)
    throw new InputError(
      'too-few-frets',
      `${frets.length} fret places are given; measure at least 4, better all of them.`,
    );
  for (let i = 1; i < frets.length; i++) {
    const a = frets[i - 1]!;
    const b = frets[i]!;
    if (a.fret === b.fret)
      throw new InputError('fret-twice', `Fret ${b.fret} stands twice in the list; keep one of them.`);
    if (!(b.placeMm > a.placeMm))
      throw new InputError(
        'frets-do-not-rise',
        `Fret ${b.fret} lies at ${b.placeMm} mm, not beyond fret ${a.fret} at ${a.placeMm} mm; check the two.`,
      );
  }
  const u = frets.map((f) => fretPlaceMm(1, f.fret));
  const x = frets.map((f) => f.placeMm);
  let line = medianLine(u, x);
  for (let round = 0; round < 50; round++) {
    const weights = x.map((v, i) => {
      const off = Math.abs(v - line.nut - line.scale * u[i]!);
      return off <= ROBUST_MM ? 1 : (ROBUST_MM / off) ** 2;
    });
    const next = weightedLine(u, x, weights);
    const isStill = Math.abs(next.scale - line.scale) < 1e-9;
    line = next;
    if (isStill) break;
  }
  const residuals = frets.map((f, i) => {
    const residualMm = x[i]! - line.nut - line.scale * u[i]!;
    return { ...f, residualMm, cents: (CENTS_PER_NEPER * residualMm) / (line.scale * (1 - u[i]!)) };
  });
  const worst = residuals.reduce((a, b) => (Math.abs(b.residualMm) > Math.abs(a.residualMm) ? b : a));
  const rmsMm = Math.sqrt(residuals.reduce((s, r) => s + r.residualMm ** 2, 0) / residuals.length);
  return { scaleMm: line.scale, nutMm: line.nut, residuals, worst, rmsMm };
}
