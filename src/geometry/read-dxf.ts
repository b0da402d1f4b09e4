import { type Run, sampleArc } from './curve-file.ts';
import type { Point } from './point.ts';

/** One entity: its group codes in order. */
interface Entity {
  readonly type: string;
  readonly codes: readonly (readonly [number, string])[];
}

/** Curves of a drawing with the size of its unit. */
export interface DxfCurves {
  readonly runs: readonly Run[];
  /** Millimetres a drawing unit; undefined when the drawing does not say. */
  readonly mmPerUnit: number | undefined;
}

/** `$INSUNITS` of the drawing header. */
const UNIT_MM: Readonly<Record<number, number>> = {
  1: 25.4,
  2: 304.8,
  4: 1,
  5: 10,
  6: 1000,
  13: 0.001,
  14: 100,
};

const radians = (degrees: number): number => (degrees * Math.PI) / 180;
const all = (e: Entity, code: number): number[] =>
  e.codes.flatMap(([c, v]) => (c === code ? [Number(v)] : []));
const first = (e: Entity, code: number, otherwise = 0): number => all(e, code)[0] ?? otherwise;

/**
 * Curves of a DXF text: LINE, ARC, CIRCLE, ELLIPSE, LWPOLYLINE, POLYLINE and SPLINE of the model, in drawing units.
 *
 * @param text  ASCII DXF
 * @returns     runs of points, y upward as in the drawing; undefined when the text is no DXF
 * @assumes     no blocks; entities of the paper space and of hidden layers count too
 * @source      from memory
 */
export function readDxfCurves(text: string): DxfCurves | undefined {
  const lines = text.split(/\r\n|\r|\n/);
  const pairs: (readonly [number, string])[] = [];
  for (let i = 0; i + 1 < lines.length; i += 2) {
    const code = Number.parseInt(lines[i]!.trim(), 10);
    if (Number.isNaN(code)) return undefined;
    pairs.push([code, lines[i + 1]!.trim()]);
  }
  const section = pairs.findIndex(([c, v]) => c === 2 && v === 'ENTITIES');
  if (section < 0) return undefined;
  const unitAt = pairs.findIndex(([c, v]) => c === 9 && v === '$INSUNITS');
  const unit = unitAt < 0 ? 0 : Number(pairs[unitAt + 1]?.[1] ?? 0);
  return { runs: runsOf(entitiesFrom(pairs, section + 1)), mmPerUnit: UNIT_MM[unit] };
}

function entitiesFrom(pairs: readonly (readonly [number, string])[], from: number): readonly Entity[] {
  const entities: { type: string; codes: (readonly [number, string])[] }[] = [];
  for (let i = from; i < pairs.length; i++) {
    const pair = pairs[i]!;
    if (pair[0] === 0) {
      if (pair[1] === 'ENDSEC') break;
      entities.push({ type: pair[1], codes: [] });
    } else entities[entities.length - 1]?.codes.push(pair);
  }
  return entities;
}

function runsOf(entities: readonly Entity[]): readonly Run[] {
  const runs: Run[] = [];
  for (let i = 0; i < entities.length; i++) {
    const e = entities[i]!;
    if (e.type === 'POLYLINE') {
      const vertices: Entity[] = [];
      while (entities[i + 1]?.type === 'VERTEX') vertices.push(entities[++i]!);
      const corners = vertices.map((v) => ({ xMm: first(v, 10), yMm: first(v, 20), bulge: first(v, 42) }));
      runs.push(bulgedRun(corners, (first(e, 70) & 1) === 1));
    } else {
      const run = entityRun(e);
      if (run) runs.push(run);
    }
  }
  return runs;
}

function entityRun(e: Entity): Run | undefined {
  const centre: Point = { xMm: first(e, 10), yMm: first(e, 20) };
  switch (e.type) {
    case 'LINE':
      return { points: [centre, { xMm: first(e, 11), yMm: first(e, 21) }], isClosed: false };
    case 'CIRCLE':
    case 'ARC': {
      const r = first(e, 40);
      const isClosed = e.type === 'CIRCLE';
      const from = isClosed ? 0 : radians(first(e, 50));
      const sweep = isClosed ? 2 * Math.PI : positiveTurn(radians(first(e, 51)) - from);
      // an extrusion downward mirrors the arc
      const side = first(e, 230, 1) < 0 ? -1 : 1;
      const point = (a: number): Point => ({
        xMm: side * (centre.xMm + r * Math.cos(a)),
        yMm: centre.yMm + r * Math.sin(a),
      });
      return { points: [point(from), ...sampleArc(point, from, sweep)], isClosed };
    }
    case 'ELLIPSE': {
      const [ax, ay, ratio] = [first(e, 11), first(e, 21), first(e, 40, 1)];
      const from = first(e, 41);
      const sweep = positiveTurn(first(e, 42, 2 * Math.PI) - from);
      const side = first(e, 230, 1) < 0 ? -1 : 1;
      const point = (a: number): Point => ({
        xMm: centre.xMm + ax * Math.cos(a) - side * ratio * ay * Math.sin(a),
        yMm: centre.yMm + ay * Math.cos(a) + side * ratio * ax * Math.sin(a),
      });
      return {
        points: [point(from), ...sampleArc(point, from, sweep)],
        isClosed: Math.abs(sweep - 2 * Math.PI) < 1e-6,
      };
    }
    case 'LWPOLYLINE':
      return bulgedRun(lightCorners(e), (first(e, 70) & 1) === 1);
    case 'SPLINE':
      return splineRun(e);
    default:
      return undefined;
  }
}

/** A turn between 0 (left out) and a full circle. */
function positiveTurn(sweepRad: number): number {
  const turn = sweepRad % (2 * Math.PI);
  return turn <= 1e-12 ? turn + 2 * Math.PI : turn;
}

interface Corner extends Point {
  /** Tangent of a quarter of the arc to the next corner; 0: straight. */
  readonly bulge: number;
}

function lightCorners(e: Entity): readonly Corner[] {
  const corners: { xMm: number; yMm: number; bulge: number }[] = [];
  for (const [code, value] of e.codes) {
    if (code === 10) corners.push({ xMm: Number(value), yMm: 0, bulge: 0 });
    const last = corners[corners.length - 1];
    if (last && code === 20) last.yMm = Number(value);
    if (last && code === 42) last.bulge = Number(value);
  }
  return corners;
}

function bulgedRun(corners: readonly Corner[], isClosed: boolean): Run {
  const points: Point[] = [];
  const count = isClosed ? corners.length : corners.length - 1;
  if (corners[0]) points.push({ xMm: corners[0].xMm, yMm: corners[0].yMm });
  for (let i = 0; i < count; i++) {
    const a = corners[i]!;
    const b = corners[(i + 1) % corners.length]!;
    if (a.bulge === 0) points.push({ xMm: b.xMm, yMm: b.yMm });
    else points.push(...bulgePoints(a, b, a.bulge));
  }
  return { points, isClosed };
}

function bulgePoints(a: Point, b: Point, bulge: number): readonly Point[] {
  const sweep = 4 * Math.atan(bulge);
  const dx = b.xMm - a.xMm;
  const dy = b.yMm - a.yMm;
  // the centre lies on the middle line, (1 - bulge^2) / (4 bulge) of the chord to the left
  const off = (1 - bulge * bulge) / (4 * bulge);
  const cx = (a.xMm + b.xMm) / 2 - off * dy;
  const cy = (a.yMm + b.yMm) / 2 + off * dx;
  const r = Math.hypot(a.xMm - cx, a.yMm - cy);
  const from = Math.atan2(a.yMm - cy, a.xMm - cx);
  return sampleArc((t) => ({ xMm: cx + r * Math.cos(t), yMm: cy + r * Math.sin(t) }), from, sweep);
}

/** Points of a B-spline with knots and weights; of its fit points when it has no control points. */
function splineRun(e: Entity): Run {
  const degree = first(e, 71, 3);
  const knots = all(e, 40);
  const xs = all(e, 10);
  const ys = all(e, 20);
  const weights = all(e, 41);
  const isClosed = (first(e, 70) & 1) === 1;
  if (xs.length === 0) {
    const fx = all(e, 11);
    const fy = all(e, 21);
    return { points: fx.map((x, i) => ({ xMm: x, yMm: fy[i] ?? 0 })), isClosed };
  }
  const points: Point[] = [];
  const perSpan = 128;
  for (let k = degree; k < xs.length; k++) {
    const a = knots[k]!;
    const b = knots[k + 1]!;
    if (!(b > a)) continue;
    for (let i = points.length === 0 ? 0 : 1; i <= perSpan; i++)
      points.push(deBoor(degree, knots, xs, ys, weights, k, a + ((b - a) * i) / perSpan));
  }
  return { points, isClosed };
}

/** Point of a B-spline in the span of knot k, by the scheme of de Boor in homogeneous coordinates. */
function deBoor(
  degree: number,
  knots: readonly number[],
  xs: readonly number[],
  ys: readonly number[],
  weights: readonly number[],
  k: number,
  t: number,
): Point {
  const d = Array.from({ length: degree + 1 }, (_, j) => {
    const i = j + k - degree;
    const w = weights[i] ?? 1;
    return [xs[i]! * w, ys[i]! * w, w] as [number, number, number];
  });
  for (let r = 1; r <= degree; r++)
    for (let j = degree; j >= r; j--) {
      const low = knots[j + k - degree]!;
      const share = (t - low) / (knots[j + 1 + k - r]! - low);
      for (let c = 0; c < 3; c++) d[j]![c] = (1 - share) * d[j - 1]![c]! + share * d[j]![c]!;
    }
  const [x, y, w] = d[degree] as [number, number, number];
  return { xMm: x / w, yMm: y / w };
}
