import { gaussLegendre } from '../numeric/gauss-legendre.ts';
import {
  type Cubic,
  cubicAcceleration,
  cubicAt,
  cubicCurvaturePerMm,
  cubicVelocity,
  mappedCubic,
  refineNearest,
} from './cubic.ts';
import type { Point } from './point.ts';

/** Places along a half outline, for quick look-ups; one row of numbers per sample. */
export interface OutlineTable {
  readonly samplesPerPiece: number;
  readonly xMm: Float64Array;
  readonly yMm: Float64Array;
  /** Arc length from the neck end. */
  readonly arcMm: Float64Array;
  /** Signed curvature, + where the outline bulges outward. */
  readonly curvaturePerMm: Float64Array;
}

/** Treble half of a symmetric outline: cubic pieces from the neck end (0, 0) to the tail (0, L), with its table of arc lengths. */
export interface HalfOutline {
  readonly pieces: readonly Cubic[];
  readonly table: OutlineTable;
  /** Arc length from the neck end to the tail. */
  readonly lengthMm: number;
  /** Whether y never turns back on the way. */
  readonly isRising: boolean;
}

/** A place on a half outline. */
export interface OutlinePlace {
  readonly pieceIndex: number;
  readonly t: number;
}

const rule = gaussLegendre(6);

function stretchMm(c: Cubic, from: number, to: number): number {
  const half = (to - from) / 2;
  const middle = (to + from) / 2;
  let sum = 0;
  for (let i = 0; i < rule.nodes.length; i++) {
    const v = cubicVelocity(c, middle + half * rule.nodes[i]!);
    sum += rule.weights[i]! * Math.sqrt(v.xMm * v.xMm + v.yMm * v.yMm);
  }
  return sum * half;
}

/**
 * Makes a half outline of its pieces and tables its arc lengths.
 *
 * @param pieces       each begins where the one before ends
 * @returns            the half outline
 * @throws RangeError  without pieces
 * @source             plane-geometry
 */
export function halfOutline(pieces: readonly Cubic[]): HalfOutline {
  if (pieces.length === 0) throw new RangeError('halfOutline: an outline needs at least one piece');
  const samplesPerPiece = Math.max(6, Math.ceil(160 / pieces.length));
  const count = pieces.length * samplesPerPiece + 1;
  const table = {
    samplesPerPiece,
    xMm: new Float64Array(count),
    yMm: new Float64Array(count),
    arcMm: new Float64Array(count),
    curvaturePerMm: new Float64Array(count),
  };
  let arcMm = 0;
  for (let k = 0; k < count; k++) {
    const at = Math.min(Math.floor(k / samplesPerPiece), pieces.length - 1);
    const piece = pieces[at]!;
    const t = k / samplesPerPiece - at;
    if (k > 0) {
      const before = Math.floor((k - 1) / samplesPerPiece);
      const from = (k - 1) / samplesPerPiece - before;
      arcMm += stretchMm(pieces[before]!, from, from + 1 / samplesPerPiece);
    }
    const p = cubicAt(piece, t);
    table.xMm[k] = p.xMm;
    table.yMm[k] = p.yMm;
    table.arcMm[k] = arcMm;
    table.curvaturePerMm[k] = cubicCurvaturePerMm(piece, t);
  }
  return { pieces, table, lengthMm: arcMm, isRising: rises(table.yMm) };
}

function rises(yMm: Float64Array): boolean {
  for (let k = 1; k < yMm.length; k++) if (yMm[k]! < yMm[k - 1]! - 1e-9) return false;
  return true;
}

/** Body length: y of the tail. @source plane-geometry */
export function outlineEndYMm(outline: HalfOutline): number {
  return outline.table.yMm[outline.table.yMm.length - 1]!;
}

/** The point of a place. @source plane-geometry */
export function pointAtPlace(outline: HalfOutline, place: OutlinePlace): Point {
  return cubicAt(outline.pieces[place.pieceIndex]!, place.t);
}

/** Index of the last sample whose value is not above the wanted one; `values` must rise. */
function sampleBelow(values: Float64Array, wanted: number): number {
  let low = 0;
  let high = values.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (values[middle]! <= wanted) low = middle;
    else high = middle;
  }
  return low;
}

function placeOfSample(outline: HalfOutline, sample: number): OutlinePlace {
  const per = outline.table.samplesPerPiece;
  const pieceIndex = Math.min(Math.floor(sample / per), outline.pieces.length - 1);
  return { pieceIndex, t: sample / per - pieceIndex };
}

/**
 * The place of the outline at a distance from the neck end along the centre line.
 *
 * @param yMm  from the neck end; within the body
 * @returns    the place; undefined outside the body
 * @assumes    an outline whose y turns back is cut at the first place that has this y
 * @source     plane-geometry
 */
export function placeAtY(outline: HalfOutline, yMm: number): OutlinePlace | undefined {
  const { table } = outline;
  const last = table.yMm.length - 1;
  if (!(yMm >= table.yMm[0]! - 1e-9 && yMm <= table.yMm[last]! + 1e-9)) return undefined;
  if (yMm >= table.yMm[last]!) return { pieceIndex: outline.pieces.length - 1, t: 1 };
  if (yMm <= table.yMm[0]!) return { pieceIndex: 0, t: 0 };
  let k = 0;
  if (outline.isRising) k = sampleBelow(table.yMm, yMm);
  else while (table.yMm[k + 1]! < yMm) k++;
  const { pieceIndex, t: from } = placeOfSample(outline, k);
  const piece = outline.pieces[pieceIndex]!;
  let a = from;
  let b = from + 1 / table.samplesPerPiece;
  const ya = table.yMm[k]!;
  const yb = table.yMm[k + 1]!;
  let t = yb === ya ? a : a + ((yMm - ya) / (yb - ya)) * (b - a);
  for (let i = 0; i < 30; i++) {
    const off = cubicAt(piece, t).yMm - yMm;
    if (Math.abs(off) < 1e-12) break;
    if (off > 0) b = t;
    else a = t;
    const slope = cubicVelocity(piece, t).yMm;
    const next = slope === 0 ? Number.NaN : t - off / slope;
    t = next > a && next < b ? next : (a + b) / 2;
  }
  return { pieceIndex, t };
}

/** Half width at a distance from the neck end, mm; undefined outside the body. @source plane-geometry */
export function halfWidthAtMm(outline: HalfOutline, yMm: number): number | undefined {
  const place = placeAtY(outline, yMm);
  return place && pointAtPlace(outline, place).xMm;
}

/** Arc length from the neck end to a place, mm. @source plane-geometry */
export function arcAtPlaceMm(outline: HalfOutline, place: OutlinePlace): number {
  const per = outline.table.samplesPerPiece;
  const inPiece = Math.min(Math.floor(place.t * per), per - 1);
  const k = place.pieceIndex * per + inPiece;
  return outline.table.arcMm[k]! + stretchMm(outline.pieces[place.pieceIndex]!, inPiece / per, place.t);
}

/** Arc length from the neck end to the outline at y, mm; undefined outside the body. @source plane-geometry */
export function arcAtYMm(outline: HalfOutline, yMm: number): number | undefined {
  const place = placeAtY(outline, yMm);
  return place && arcAtPlaceMm(outline, place);
}

/**
 * The place at an arc length from the neck end.
 *
 * @param arcMm  0..length; beyond it the nearer end is given
 * @source       plane-geometry
 */
export function placeAtArc(outline: HalfOutline, arcMm: number): OutlinePlace {
  const { table } = outline;
  if (arcMm <= 0) return { pieceIndex: 0, t: 0 };
  if (arcMm >= outline.lengthMm) return { pieceIndex: outline.pieces.length - 1, t: 1 };
  const k = sampleBelow(table.arcMm, arcMm);
  const { pieceIndex, t: from } = placeOfSample(outline, k);
  const piece = outline.pieces[pieceIndex]!;
  const span = table.arcMm[k + 1]! - table.arcMm[k]!;
  let t = from + (arcMm - table.arcMm[k]!) / span / table.samplesPerPiece;
  for (let i = 0; i < 4; i++) {
    const off = table.arcMm[k]! + stretchMm(piece, from, t) - arcMm;
    const v = cubicVelocity(piece, t);
    const step = off / Math.hypot(v.xMm, v.yMm);
    t = Math.min(1, Math.max(0, t - step));
    if (Math.abs(step) < 1e-13) break;
  }
  return { pieceIndex, t };
}

/** The point at an arc length from the neck end. @source plane-geometry */
export function pointAtArc(outline: HalfOutline, arcMm: number): Point {
  return pointAtPlace(outline, placeAtArc(outline, arcMm));
}

/** Area of the whole outline, both halves, mm2. Exact: the integrand is a polynomial of degree 5. @source plane-geometry */
export function outlineAreaMm2(outline: HalfOutline): number {
  let sum = 0;
  for (const piece of outline.pieces)
    for (let i = 0; i < rule.nodes.length; i++) {
      const t = (rule.nodes[i]! + 1) / 2;
      sum += (rule.weights[i]! / 2) * cubicAt(piece, t).xMm * cubicVelocity(piece, t).yMm;
    }
  return 2 * sum;
}

/** The tightest bend of an outline: radius, mm, where it is and whether it is hollow (waist) or bulging. */
export interface TightestBend {
  readonly radiusMm: number;
  readonly place: OutlinePlace;
  readonly point: Point;
  readonly isHollow: boolean;
}

/** Finds the tightest bend: best sample, then refined to 1e-9 of t. @source plane-geometry */
export function tightestBend(outline: HalfOutline): TightestBend {
  const { curvaturePerMm, samplesPerPiece } = outline.table;
  let best = 0;
  for (let k = 1; k < curvaturePerMm.length; k++)
    if (Math.abs(curvaturePerMm[k]!) > Math.abs(curvaturePerMm[best]!)) best = k;
  let at = placeOfSample(outline, best);
  let most = 0;
  for (const pieceIndex of new Set([at.pieceIndex, at.t === 0 ? at.pieceIndex - 1 : at.pieceIndex])) {
    const piece = outline.pieces[pieceIndex];
    if (!piece) continue;
    const middle = pieceIndex === at.pieceIndex ? at.t : 1;
    const found = sharpest(piece, middle - 1 / samplesPerPiece, middle + 1 / samplesPerPiece);
    if (found.curvature > most) {
      most = found.curvature;
      at = { pieceIndex, t: found.t };
    }
  }
  const isHollow = cubicCurvaturePerMm(outline.pieces[at.pieceIndex]!, at.t) < 0;
  return { radiusMm: 1 / most, place: at, point: pointAtPlace(outline, at), isHollow };
}

function sharpest(
  piece: Cubic,
  low: number,
  high: number,
): { readonly t: number; readonly curvature: number } {
  const golden = (Math.sqrt(5) - 1) / 2;
  const at = (t: number): number => Math.abs(cubicCurvaturePerMm(piece, t));
  let a = Math.max(0, low);
  let b = Math.min(1, high);
  const ends = [a, b];
  let c = b - golden * (b - a);
  let d = a + golden * (b - a);
  let fc = at(c);
  let fd = at(d);
  while (b - a > 1e-8) {
    if (fc > fd) {
      b = d;
      d = c;
      fd = fc;
      c = b - golden * (b - a);
      fc = at(c);
    } else {
      a = c;
      c = d;
      fc = fd;
      d = a + golden * (b - a);
      fd = at(d);
    }
  }
  const all = [...ends, (a + b) / 2].map((t) => ({ t, curvature: at(t) }));
  return all.reduce((x, y) => (y.curvature > x.curvature ? y : x));
}

/** How often the half outline changes from bulging to hollow or back. @source plane-geometry */
export function inflectionCount(outline: HalfOutline): number {
  let count = 0;
  let sign = 0;
  for (const k of outline.table.curvaturePerMm) {
    if (Math.abs(k) < 1e-7) continue;
    if (sign !== 0 && Math.sign(k) !== sign) count++;
    sign = Math.sign(k);
  }
  return count;
}

/** Radius of curvature at a place, mm, always positive; undefined where it is straight. @source plane-geometry */
export function radiusAtPlaceMm(outline: HalfOutline, place: OutlinePlace): number | undefined {
  const k = Math.abs(cubicCurvaturePerMm(outline.pieces[place.pieceIndex]!, place.t));
  return k < 1e-9 ? undefined : 1 / k;
}

/** Unit normal pointing out of the body at a place. @source plane-geometry */
export function outwardNormal(outline: HalfOutline, place: OutlinePlace): Point {
  const v = cubicVelocity(outline.pieces[place.pieceIndex]!, place.t);
  const speed = Math.hypot(v.xMm, v.yMm);
  return { xMm: v.yMm / speed, yMm: -v.xMm / speed };
}

/** Whether a point lies inside the whole outline or on it. @source plane-geometry */
export function isInsideOutline(outline: HalfOutline, p: Point): boolean {
  if (outline.isRising) {
    const half = halfWidthAtMm(outline, p.yMm);
    return half !== undefined && Math.abs(p.xMm) <= half + 1e-9;
  }
  const { xMm, yMm } = outline.table;
  const x = Math.abs(p.xMm);
  let isInside = false;
  for (let k = 1; k < xMm.length; k++) {
    const ya = yMm[k - 1]!;
    const yb = yMm[k]!;
    if (ya > p.yMm === yb > p.yMm) continue;
    const at = xMm[k - 1]! + ((p.yMm - ya) / (yb - ya)) * (xMm[k]! - xMm[k - 1]!);
    if (x < at) isInside = !isInside;
  }
  return isInside;
}

/** The place of the treble half nearest to a point (a point of the bass half is mirrored first). @source plane-geometry */
export function nearestOnOutline(
  outline: HalfOutline,
  p: Point,
): { readonly place: OutlinePlace; readonly distanceMm: number } {
  const { xMm, yMm, samplesPerPiece } = outline.table;
  const x = Math.abs(p.xMm);
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < xMm.length; k++) {
    const dx = xMm[k]! - x;
    const dy = yMm[k]! - p.yMm;
    const d = dx * dx + dy * dy;
    if (d < least) {
      least = d;
      best = k;
    }
  }
  const near = placeOfSample(outline, best);
  const point = { xMm: x, yMm: p.yMm };
  const refine = (pieceIndex: number, t: number) => {
    const found = refineNearest(outline.pieces[pieceIndex]!, point, t, 1.01 / samplesPerPiece);
    return { place: { pieceIndex, t: found.t }, distanceMm: found.distanceMm };
  };
  const here = refine(near.pieceIndex, near.t);
  if (near.t > 0 || near.pieceIndex === 0) return here;
  const before = refine(near.pieceIndex - 1, 1);
  return before.distanceMm < here.distanceMm ? before : here;
}

/** Distance from a point to the outline, mm: + inside the body, - outside. @source plane-geometry */
export function depthInsideMm(outline: HalfOutline, p: Point): number {
  const { distanceMm } = nearestOnOutline(outline, p);
  return isInsideOutline(outline, p) ? distanceMm : -distanceMm;
}

/** The outline grown or shrunk about the neck end. @source plane-geometry */
export function scaledOutline(outline: HalfOutline, factorRatio: number): HalfOutline {
  return halfOutline(
    outline.pieces.map((c) =>
      mappedCubic(c, (p) => ({ xMm: p.xMm * factorRatio, yMm: p.yMm * factorRatio })),
    ),
  );
}

/** Where the half width is largest or smallest between its neighbours: bouts and waist, from the neck end on. */
export interface OutlineTurn {
  readonly kind: 'bout' | 'waist';
  readonly place: OutlinePlace;
  readonly point: Point;
  readonly radiusMm: number | undefined;
}

/** Finds bouts and waists: where the outline runs along the centre line. @source plane-geometry */
export function outlineTurns(outline: HalfOutline): readonly OutlineTurn[] {
  const { xMm } = outline.table;
  const turns: OutlineTurn[] = [];
  for (let k = 1; k < xMm.length - 1; k++) {
    const isBout = xMm[k]! >= xMm[k - 1]! && xMm[k]! > xMm[k + 1]!;
    const isWaist = xMm[k]! <= xMm[k - 1]! && xMm[k]! < xMm[k + 1]!;
    if (isBout === isWaist) continue;
    const place = settleTurn(outline, k);
    turns.push({
      kind: isBout ? 'bout' : 'waist',
      place,
      point: pointAtPlace(outline, place),
      radiusMm: radiusAtPlaceMm(outline, place),
    });
  }
  return turns;
}

function settleTurn(outline: HalfOutline, sample: number): OutlinePlace {
  const start = placeOfSample(outline, sample);
  const reach = 1 / outline.table.samplesPerPiece;
  const tryPiece = (pieceIndex: number, from: number): OutlinePlace | undefined => {
    const piece = outline.pieces[pieceIndex];
    if (!piece) return undefined;
    let t = from;
    for (let i = 0; i < 30; i++) {
      const bend = cubicAcceleration(piece, t).xMm;
      const step = bend === 0 ? 0 : cubicVelocity(piece, t).xMm / bend;
      t -= step;
      if (Math.abs(t - from) > 1.5 * reach) return undefined;
      if (Math.abs(step) < 1e-14) break;
    }
    return t >= -1e-9 && t <= 1 + 1e-9 ? { pieceIndex, t: Math.min(1, Math.max(0, t)) } : undefined;
  };
  return (
    tryPiece(start.pieceIndex, start.t) ??
    (start.t === 0 ? tryPiece(start.pieceIndex - 1, 1) : undefined) ??
    (start.t > 1 - 1.01 * reach ? tryPiece(start.pieceIndex + 1, 0) : undefined) ??
    start
  );
}
