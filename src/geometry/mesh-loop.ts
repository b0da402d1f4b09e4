/** A place in the plane, mm. */
export type Place = readonly [number, number];

/** A closed line walked by its length: `lengthMm[i]` is the way from point 0 to point i, the last entry the whole. */
export interface Loop {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly lengthMm: Float64Array;
  /** Turn of the line at each point, rad, positive to the left. */
  readonly turnRad: Float64Array;
}

/** A polygon vertex that turns by more than this is a corner, less is part of a curve drawn with many points. */
export const cornerRad = (20 * Math.PI) / 180;

/**
 * A loop from its points.
 *
 * @param points  corners in order, mm; the last one is joined to the first; doubled points are dropped
 * @returns       the loop
 * @source        plane-geometry
 */
export function makeLoop(points: readonly Place[]): Loop {
  const kept = points.filter(([px, py], i) => {
    const [qx, qy] = points[(i + 1) % points.length]!;
    return Math.hypot(px - qx, py - qy) > 1e-6;
  });
  const n = kept.length;
  const x = Float64Array.from(kept, (p) => p[0]);
  const y = Float64Array.from(kept, (p) => p[1]);
  const lengthMm = new Float64Array(n + 1);
  const turnRad = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const [before, next] = [(i + n - 1) % n, (i + 1) % n];
    lengthMm[i + 1] = lengthMm[i]! + Math.hypot(x[next]! - x[i]!, y[next]! - y[i]!);
    const [ux, uy] = [x[i]! - x[before]!, y[i]! - y[before]!];
    const [vx, vy] = [x[next]! - x[i]!, y[next]! - y[i]!];
    turnRad[i] = Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy);
  }
  return { x, y, lengthMm, turnRad };
}

/** An ellipse (or circle) as a loop of many points, counter-clockwise. */
export function ellipseLoop(centre: Place, semiXMm: number, semiYMm: number): Loop {
  const count = 720;
  return makeLoop(
    Array.from({ length: count }, (_, i): Place => {
      const angle = (2 * Math.PI * i) / count;
      return [centre[0] + semiXMm * Math.cos(angle), centre[1] + semiYMm * Math.sin(angle)];
    }),
  );
}

/** Signed area, mm2, positive when the loop runs counter-clockwise. */
export function loopAreaMm2(loop: Loop): number {
  let sum = 0;
  for (let i = 0; i < loop.x.length; i++) {
    const j = (i + 1) % loop.x.length;
    sum += loop.x[i]! * loop.y[j]! - loop.x[j]! * loop.y[i]!;
  }
  return sum / 2;
}

/** Whether a place lies inside the loop. */
export function isInsideLoop(loop: Loop, px: number, py: number): boolean {
  const { x, y } = loop;
  let isInside = false;
  for (let i = 0, j = x.length - 1; i < x.length; j = i++)
    if (y[i]! > py !== y[j]! > py && px < ((x[j]! - x[i]!) * (py - y[i]!)) / (y[j]! - y[i]!) + x[i]!)
      isInside = !isInside;
  return isInside;
}

/** The nearest place on the loop: how far, and how far along the loop. */
export function nearestOnLoop(loop: Loop, px: number, py: number): { distanceMm: number; alongMm: number } {
  let best = { distanceMm: Number.MAX_VALUE, alongMm: 0 };
  for (let i = 0; i < loop.x.length; i++) {
    const j = (i + 1) % loop.x.length;
    const ex = loop.x[j]! - loop.x[i]!;
    const ey = loop.y[j]! - loop.y[i]!;
    const part = Math.min(
      1,
      Math.max(0, ((px - loop.x[i]!) * ex + (py - loop.y[i]!) * ey) / (ex * ex + ey * ey)),
    );
    const distanceMm = Math.hypot(loop.x[i]! + part * ex - px, loop.y[i]! + part * ey - py);
    if (distanceMm < best.distanceMm)
      best = { distanceMm, alongMm: loop.lengthMm[i]! + part * Math.hypot(ex, ey) };
  }
  return best;
}

/** The whole length of a loop, mm. */
export function loopLengthMm(loop: Loop): number {
  return loop.lengthMm[loop.x.length]!;
}

/** The piece of the loop that holds a distance along it (taken modulo the whole). */
export function pieceAt(loop: Loop, alongMm: number): { index: number; wrappedMm: number } {
  const total = loopLengthMm(loop);
  const wrappedMm = ((alongMm % total) + total) % total;
  let [lo, hi] = [0, loop.x.length - 1];
  while (lo < hi) {
    const mid = (lo + hi + 1) >> 1;
    if (loop.lengthMm[mid]! <= wrappedMm) lo = mid;
    else hi = mid - 1;
  }
  return { index: lo, wrappedMm };
}

/** The place at a distance along the loop. */
export function placeAlong(loop: Loop, alongMm: number): Place {
  const { index, wrappedMm } = pieceAt(loop, alongMm);
  const next = (index + 1) % loop.x.length;
  const length = loop.lengthMm[index + 1]! - loop.lengthMm[index]!;
  const part = (wrappedMm - loop.lengthMm[index]!) / length;
  return [
    loop.x[index]! + part * (loop.x[next]! - loop.x[index]!),
    loop.y[index]! + part * (loop.y[next]! - loop.y[index]!),
  ];
}

/** Signed area between the loop and the chord of a stretch of it, mm2; positive where the loop bulges to the right. */
export function bulgeAreaMm2(loop: Loop, fromMm: number, toMm: number): number {
  const total = loopLengthMm(loop);
  const end = toMm > fromMm ? toMm : toMm + total;
  const start = placeAlong(loop, fromMm);
  const stop = placeAlong(loop, end);
  let sum = 0;
  let last = start;
  const add = (next: Place) => {
    sum += (last[0] - start[0]) * (next[1] - start[1]) - (next[0] - start[0]) * (last[1] - start[1]);
    last = next;
  };
  const n = loop.x.length;
  const first = pieceAt(loop, fromMm).index;
  const laps = Math.floor(fromMm / total);
  for (let k = first + 1; ; k++) {
    const along = loop.lengthMm[k % n]! + total * (laps + Math.floor(k / n));
    if (along >= end - 1e-9) break;
    add([loop.x[k % n]!, loop.y[k % n]!]);
  }
  add(stop);
  return sum / 2;
}

/**
 * A loop whose soft corners are rounded: between points that turn by less than `cornerRad` the chord is replaced by a
 * cubic with the tangents of the circle through three neighbours, so that a curve drawn with few points is a curve.
 *
 * @param loop       the loop
 * @param longestMm  chords shorter than this are left alone
 * @returns          the loop with more points where it was soft and coarse
 * @source           plane-geometry
 */
export function roundedLoop(loop: Loop, longestMm: number): Loop {
  const n = loop.x.length;
  const isCorner = (i: number) => Math.abs(loop.turnRad[i]!) > cornerRad;
  const isSoft = (i: number) => !isCorner(i) && Math.abs(loop.turnRad[i]!) > 1e-7;
  const points: Place[] = [];
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    points.push([loop.x[i]!, loop.y[i]!]);
    const length = loop.lengthMm[i + 1]! - loop.lengthMm[i]!;
    if (length <= longestMm || !(isSoft(i) || isSoft(j))) continue;
    const chord = Math.atan2(loop.y[j]! - loop.y[i]!, loop.x[j]! - loop.x[i]!);
    const startTurn = softTurn(loop, i, length, isSoft(i), isSoft(j), loop.turnRad[j]!, -1);
    const endTurn = softTurn(loop, j, length, isSoft(j), isSoft(i), loop.turnRad[i]!, +1);
    const count = Math.ceil(length / (longestMm / 4));
    for (let k = 1; k < count; k++)
      points.push(cubic(loop, i, j, length, chord + startTurn, chord + endTurn, k / count));
  }
  return makeLoop(points);
}

/** Angle between the chord and the tangent at one end: the turn there is shared by the lengths of both chords. */
function softTurn(
  loop: Loop,
  i: number,
  length: number,
  isSoftHere: boolean,
  isSoftThere: boolean,
  turnThere: number,
  sign: number,
): number {
  const n = loop.x.length;
  if (!isSoftHere) return isSoftThere ? (sign * turnThere) / 2 : 0;
  const other =
    sign < 0
      ? loop.lengthMm[((i + n - 1) % n) + 1]! - loop.lengthMm[(i + n - 1) % n]!
      : loop.lengthMm[i + 1]! - loop.lengthMm[i]!;
  // a long straight side beside a finely drawn curve stays straight
  if (length > 2.5 * other) return 0;
  if (other > 2.5 * length) return sign * loop.turnRad[i]!;
  return (sign * loop.turnRad[i]! * length) / (length + other);
}

function cubic(loop: Loop, i: number, j: number, length: number, a: number, b: number, s: number): Place {
  const h0 = 1 - 3 * s * s + 2 * s ** 3;
  const h1 = 3 * s * s - 2 * s ** 3;
  const g0 = (s - 2 * s * s + s ** 3) * length;
  const g1 = (s ** 3 - s * s) * length;
  return [
    h0 * loop.x[i]! + h1 * loop.x[j]! + g0 * Math.cos(a) + g1 * Math.cos(b),
    h0 * loop.y[i]! + h1 * loop.y[j]! + g0 * Math.sin(a) + g1 * Math.sin(b),
  ];
}
