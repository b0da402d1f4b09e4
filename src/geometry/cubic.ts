import { gaussLegendre } from '../numeric/gauss-legendre.ts';
import { cubicRoots, quadraticRoots } from '../numeric/real-roots.ts';
import type { Point } from './point.ts';

/** A cubic Bezier piece: start, two handles, end. */
export interface Cubic {
  readonly p0: Point;
  readonly p1: Point;
  readonly p2: Point;
  readonly p3: Point;
}

/** Makes a cubic piece. @source plane-geometry */
export function cubic(p0: Point, p1: Point, p2: Point, p3: Point): Cubic {
  return { p0, p1, p2, p3 };
}

/** Place on the piece at t in 0..1. @source plane-geometry */
export function cubicAt(c: Cubic, t: number): Point {
  const u = 1 - t;
  const w0 = u * u * u;
  const w1 = 3 * u * u * t;
  const w2 = 3 * u * t * t;
  const w3 = t * t * t;
  return {
    xMm: w0 * c.p0.xMm + w1 * c.p1.xMm + w2 * c.p2.xMm + w3 * c.p3.xMm,
    yMm: w0 * c.p0.yMm + w1 * c.p1.yMm + w2 * c.p2.yMm + w3 * c.p3.yMm,
  };
}

/** First derivative by t, mm. @source plane-geometry */
export function cubicVelocity(c: Cubic, t: number): Point {
  const u = 1 - t;
  const w0 = 3 * u * u;
  const w1 = 6 * u * t;
  const w2 = 3 * t * t;
  return {
    xMm: w0 * (c.p1.xMm - c.p0.xMm) + w1 * (c.p2.xMm - c.p1.xMm) + w2 * (c.p3.xMm - c.p2.xMm),
    yMm: w0 * (c.p1.yMm - c.p0.yMm) + w1 * (c.p2.yMm - c.p1.yMm) + w2 * (c.p3.yMm - c.p2.yMm),
  };
}

/** Second derivative by t, mm. @source plane-geometry */
export function cubicAcceleration(c: Cubic, t: number): Point {
  const u = 1 - t;
  return {
    xMm: 6 * (u * (c.p2.xMm - 2 * c.p1.xMm + c.p0.xMm) + t * (c.p3.xMm - 2 * c.p2.xMm + c.p1.xMm)),
    yMm: 6 * (u * (c.p2.yMm - 2 * c.p1.yMm + c.p0.yMm) + t * (c.p3.yMm - 2 * c.p2.yMm + c.p1.yMm)),
  };
}

/** Signed curvature at t, 1 per mm: + when it turns from +x toward +y. @source plane-geometry */
export function cubicCurvaturePerMm(c: Cubic, t: number): number {
  const v = cubicVelocity(c, t);
  const a = cubicAcceleration(c, t);
  const speed = Math.hypot(v.xMm, v.yMm);
  return (v.xMm * a.yMm - v.yMm * a.xMm) / (speed * speed * speed);
}

const rule = gaussLegendre(12);

function lengthByRuleMm(c: Cubic, from: number, to: number): number {
  const half = (to - from) / 2;
  const middle = (to + from) / 2;
  let sum = 0;
  for (let i = 0; i < rule.nodes.length; i++) {
    const v = cubicVelocity(c, middle + half * rule.nodes[i]!);
    sum += rule.weights[i]! * Math.hypot(v.xMm, v.yMm);
  }
  return sum * half;
}

/**
 * Arc length of a stretch of a cubic piece, by Gauss-Legendre quadrature halved until it settles.
 *
 * @param from  parameter where it begins, 0..1
 * @param to    parameter where it ends; smaller than `from` gives a negative length
 * @returns     arc length, mm
 * @source      plane-geometry
 */
export function cubicLengthMm(c: Cubic, from = 0, to = 1): number {
  const whole = lengthByRuleMm(c, from, to);
  return settledLengthMm(c, from, to, whole, 0);
}

function settledLengthMm(c: Cubic, from: number, to: number, wholeMm: number, depth: number): number {
  const middle = (from + to) / 2;
  const first = lengthByRuleMm(c, from, middle);
  const second = lengthByRuleMm(c, middle, to);
  if (depth >= 20 || Math.abs(first + second - wholeMm) <= 1e-11 * (1 + Math.abs(wholeMm)))
    return first + second;
  return (
    settledLengthMm(c, from, middle, first, depth + 1) + settledLengthMm(c, middle, to, second, depth + 1)
  );
}

/** Cuts a piece in two at t. @source plane-geometry */
export function splitCubic(c: Cubic, t: number): readonly [Cubic, Cubic] {
  const mix = (a: Point, b: Point): Point => ({
    xMm: a.xMm + (b.xMm - a.xMm) * t,
    yMm: a.yMm + (b.yMm - a.yMm) * t,
  });
  const a = mix(c.p0, c.p1);
  const m = mix(c.p1, c.p2);
  const b = mix(c.p2, c.p3);
  const am = mix(a, m);
  const mb = mix(m, b);
  const cut = mix(am, mb);
  return [cubic(c.p0, a, am, cut), cubic(cut, mb, b, c.p3)];
}

/** The same piece run the other way. @source plane-geometry */
export function reversedCubic(c: Cubic): Cubic {
  return cubic(c.p3, c.p2, c.p1, c.p0);
}

/** The piece with every point mapped; exact for scaling, turning, shifting and mirroring. @source plane-geometry */
export function mappedCubic(c: Cubic, map: (p: Point) => Point): Cubic {
  return cubic(map(c.p0), map(c.p1), map(c.p2), map(c.p3));
}

/** Box along the axes. */
export interface Box {
  readonly minXMm: number;
  readonly minYMm: number;
  readonly maxXMm: number;
  readonly maxYMm: number;
}

/** Smallest box along the axes that holds the piece. @source plane-geometry */
export function cubicBounds(c: Cubic): Box {
  const turns = (a: number, b: number, d: number, e: number): readonly number[] =>
    quadraticRoots([b - a, 2 * (d - 2 * b + a), e - 3 * d + 3 * b - a], 0, 1);
  const places = [
    0,
    1,
    ...turns(c.p0.xMm, c.p1.xMm, c.p2.xMm, c.p3.xMm),
    ...turns(c.p0.yMm, c.p1.yMm, c.p2.yMm, c.p3.yMm),
  ].map((t) => cubicAt(c, t));
  return {
    minXMm: Math.min(...places.map((p) => p.xMm)),
    minYMm: Math.min(...places.map((p) => p.yMm)),
    maxXMm: Math.max(...places.map((p) => p.xMm)),
    maxYMm: Math.max(...places.map((p) => p.yMm)),
  };
}

/**
 * Where a piece crosses the line through two points.
 *
 * @returns parameters of the piece in 0..1, rising
 * @source  plane-geometry
 */
export function cubicLineHits(c: Cubic, a: Point, b: Point): readonly number[] {
  const nx = b.yMm - a.yMm;
  const ny = a.xMm - b.xMm;
  const off = (p: Point): number => (p.xMm - a.xMm) * nx + (p.yMm - a.yMm) * ny;
  const d0 = off(c.p0);
  const d1 = off(c.p1);
  const d2 = off(c.p2);
  const d3 = off(c.p3);
  return cubicRoots([d0, 3 * (d1 - d0), 3 * (d2 - 2 * d1 + d0), d3 - 3 * d2 + 3 * d1 - d0], 0, 1);
}

/**
 * Where a piece crosses the stretch between two points.
 *
 * @returns parameters of the piece in 0..1, rising
 * @source  plane-geometry
 */
export function cubicSegmentHits(c: Cubic, a: Point, b: Point): readonly number[] {
  const dx = b.xMm - a.xMm;
  const dy = b.yMm - a.yMm;
  const lengthSquared = dx * dx + dy * dy;
  return cubicLineHits(c, a, b).filter((t) => {
    const p = cubicAt(c, t);
    const share = ((p.xMm - a.xMm) * dx + (p.yMm - a.yMm) * dy) / lengthSquared;
    return share >= -1e-12 && share <= 1 + 1e-12;
  });
}

/**
 * The place of a piece nearest to a point, refined from the best of 24 samples.
 *
 * @returns parameter and distance, mm
 * @source  plane-geometry
 */
export function nearestOnCubic(c: Cubic, p: Point): { readonly t: number; readonly distanceMm: number } {
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i <= 24; i++) {
    const q = cubicAt(c, i / 24);
    const d = (q.xMm - p.xMm) ** 2 + (q.yMm - p.yMm) ** 2;
    if (d < least) {
      least = d;
      best = i;
    }
  }
  return refineNearest(c, p, best / 24, 1 / 24);
}

/**
 * Refines a nearest place on a piece from a good start.
 *
 * @param start   parameter near the answer, 0..1
 * @param reach   how far from the start it may lie, in t
 * @returns       parameter and distance, mm
 * @source        plane-geometry
 */
export function refineNearest(
  c: Cubic,
  p: Point,
  start: number,
  reach: number,
): { readonly t: number; readonly distanceMm: number } {
  const low = Math.max(0, start - reach);
  const high = Math.min(1, start + reach);
  const slopeAt = (t: number): number => {
    const q = cubicAt(c, t);
    const v = cubicVelocity(c, t);
    return (q.xMm - p.xMm) * v.xMm + (q.yMm - p.yMm) * v.yMm;
  };
  let a = low;
  let b = high;
  let t = start;
  if (slopeAt(a) < 0 && slopeAt(b) > 0)
    for (let i = 0; i < 40 && b - a > 1e-13; i++) {
      // regula falsi alternating with halving keeps it both safe and quick
      const fa = slopeAt(a);
      const fb = slopeAt(b);
      t = i % 3 === 2 ? (a + b) / 2 : (a * fb - b * fa) / (fb - fa);
      const f = slopeAt(t);
      if (f === 0) break;
      if (f < 0) a = t;
      else b = t;
    }
  const candidates = [low, t, high];
  let best = t;
  let least = Number.POSITIVE_INFINITY;
  for (const candidate of candidates) {
    const q = cubicAt(c, candidate);
    const d = Math.hypot(q.xMm - p.xMm, q.yMm - p.yMm);
    if (d < least) {
      least = d;
      best = candidate;
    }
  }
  return { t: best, distanceMm: least };
}
