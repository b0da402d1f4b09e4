import { cubic } from './cubic.ts';
import { type Run, sampleArc, sampleCubic } from './curve-file.ts';
import type { Point } from './point.ts';

const MM_PER_PX = 25.4 / 96;
const UNIT_MM: Readonly<Record<string, number>> = {
  mm: 1,
  cm: 10,
  in: 25.4,
  pt: 25.4 / 72,
  pc: 25.4 / 6,
  px: MM_PER_PX,
  '': MM_PER_PX,
};

/** Matrix a b c d e f of an SVG transform. */
type Matrix = readonly [number, number, number, number, number, number];
const unchanged: Matrix = [1, 0, 0, 1, 0, 0];
const times = (m: Matrix, n: Matrix): Matrix => [
  m[0] * n[0] + m[2] * n[1],
  m[1] * n[0] + m[3] * n[1],
  m[0] * n[2] + m[2] * n[3],
  m[1] * n[2] + m[3] * n[3],
  m[0] * n[4] + m[2] * n[5] + m[4],
  m[1] * n[4] + m[3] * n[5] + m[5],
];
const applied = (m: Matrix, p: Point): Point => ({
  xMm: m[0] * p.xMm + m[2] * p.yMm + m[4],
  yMm: m[1] * p.xMm + m[3] * p.yMm + m[5],
});

const numbersIn = (text: string): number[] =>
  (text.match(/[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?/g) ?? []).map(Number);

/** Reads a `transform` attribute. */
function transformOf(text: string | undefined): Matrix {
  let m = unchanged;
  for (const [, name, body] of (text ?? '').matchAll(/(\w+)\s*\(([^)]*)\)/g)) {
    const [a = 0, b, c, d, e, f] = numbersIn(body ?? '');
    const turn = (a * Math.PI) / 180;
    if (name === 'translate') m = times(m, [1, 0, 0, 1, a, b ?? 0]);
    else if (name === 'scale') m = times(m, [a, 0, 0, b ?? a, 0, 0]);
    else if (name === 'matrix') m = times(m, [a, b ?? 0, c ?? 0, d ?? 1, e ?? 0, f ?? 0]);
    else if (name === 'skewX') m = times(m, [1, 0, Math.tan(turn), 1, 0, 0]);
    else if (name === 'skewY') m = times(m, [1, Math.tan(turn), 0, 1, 0, 0]);
    else if (name === 'rotate') {
      const [x, y] = [b ?? 0, c ?? 0];
      const turned: Matrix = [Math.cos(turn), Math.sin(turn), -Math.sin(turn), Math.cos(turn), 0, 0];
      m = times(times(times(m, [1, 0, 0, 1, x, y]), turned), [1, 0, 0, 1, -x, -y]);
    }
  }
  return m;
}

/** Millimetres for one user unit of the document, from width, height and viewBox. */
function userScale(attributes: ReadonlyMap<string, string>): readonly [number, number] {
  const box = numbersIn(attributes.get('viewBox') ?? '');
  const one = (name: string, span: number | undefined): number => {
    const found = /^\s*([\d.eE+-]+)\s*(mm|cm|in|pt|pc|px)?\s*$/.exec(attributes.get(name) ?? '');
    if (!found || !span) return MM_PER_PX;
    return (Number(found[1]) * (UNIT_MM[found[2] ?? ''] ?? MM_PER_PX)) / span;
  };
  const sx = one('width', box[2]);
  const sy = one('height', box[3]);
  // a picture keeps its shape unless it says otherwise: the smaller scale counts
  return attributes.get('preserveAspectRatio') === 'none' ? [sx, sy] : [Math.min(sx, sy), Math.min(sx, sy)];
}

const attributesOf = (text: string): ReadonlyMap<string, string> =>
  new Map(
    [...text.matchAll(/([\w:-]+)\s*=\s*(?:"([^"]*)"|'([^']*)')/g)].map((m) => [
      m[1] as string,
      m[2] ?? m[3] ?? '',
    ]),
  );

/**
 * Curves of an SVG document: paths, polygons, polylines, lines, circles, ellipses and rectangles, with their transforms, in mm.
 *
 * @param text  the document; width, height and viewBox give its size, else 96 units an inch
 * @returns     runs of points in mm, y downward as in the document
 * @assumes     no style sheets, clips or `use`; what they draw is not seen
 * @source      from memory
 */
export function readSvgCurves(text: string): readonly Run[] {
  const runs: Run[] = [];
  const stack: Matrix[] = [unchanged];
  let hidden = 0;
  for (const [, closing, name, body, selfClosing] of text
    .replace(/<!--[\s\S]*?-->/g, '')
    .matchAll(/<(\/?)([a-zA-Z][\w:-]*)((?:"[^"]*"|'[^']*'|[^>"'])*?)(\/?)>/g)) {
    const isGroup = name === 'g' || name === 'svg' || name === 'a';
    const isHidden = name === 'defs' || name === 'clipPath' || name === 'symbol' || name === 'mask';
    if (closing) {
      if (isGroup && stack.length > 1) stack.pop();
      if (isHidden) hidden--;
      continue;
    }
    if (isHidden && !selfClosing) hidden++;
    const attributes = attributesOf(body ?? '');
    let matrix = times(stack[stack.length - 1]!, transformOf(attributes.get('transform')));
    if (name === 'svg') matrix = times(matrix, documentMatrix(attributes));
    if (isGroup && !selfClosing) stack.push(matrix);
    if (hidden > 0) continue;
    for (const run of shapeRuns(name ?? '', attributes))
      runs.push({ ...run, points: run.points.map((p) => applied(matrix, p)) });
  }
  return runs;
}

function documentMatrix(attributes: ReadonlyMap<string, string>): Matrix {
  const box = numbersIn(attributes.get('viewBox') ?? '');
  const [sx, sy] = userScale(attributes);
  return [sx, 0, 0, sy, -(box[0] ?? 0) * sx, -(box[1] ?? 0) * sy];
}

function shapeRuns(name: string, attributes: ReadonlyMap<string, string>): readonly Run[] {
  const of = (key: string): number => Number.parseFloat(attributes.get(key) ?? '0') || 0;
  const at = (xMm: number, yMm: number): Point => ({ xMm, yMm });
  if (name === 'path') return pathRuns(attributes.get('d') ?? '');
  if (name === 'polygon' || name === 'polyline') {
    const n = numbersIn(attributes.get('points') ?? '');
    const points = Array.from({ length: n.length >> 1 }, (_, i) => at(n[2 * i]!, n[2 * i + 1]!));
    return [{ points, isClosed: name === 'polygon' }];
  }
  if (name === 'line') return [{ points: [at(of('x1'), of('y1')), at(of('x2'), of('y2'))], isClosed: false }];
  if (name === 'rect') {
    const [x, y, w, h] = [of('x'), of('y'), of('width'), of('height')];
    return [{ points: [at(x, y), at(x + w, y), at(x + w, y + h), at(x, y + h)], isClosed: true }];
  }
  if (name === 'circle' || name === 'ellipse') {
    const rx = name === 'circle' ? of('r') : of('rx');
    const ry = name === 'circle' ? of('r') : of('ry');
    const point = (a: number): Point => at(of('cx') + rx * Math.cos(a), of('cy') + ry * Math.sin(a));
    return [{ points: sampleArc(point, 0, 2 * Math.PI), isClosed: true }];
  }
  return [];
}

const ARGUMENTS: Readonly<Record<string, number>> = {
  M: 2,
  L: 2,
  H: 1,
  V: 1,
  C: 6,
  S: 4,
  Q: 4,
  T: 2,
  A: 7,
  Z: 0,
};

/** Splits path data into single commands with their numbers; arc flags may stand without a space. */
function pathCommands(d: string): readonly { readonly letter: string; readonly n: readonly number[] }[] {
  const commands: { letter: string; n: number[] }[] = [];
  for (const [, letter, body] of d.matchAll(/([MmLlHhVvCcSsQqTtAaZz])([^MmLlHhVvCcSsQqTtAaZz]*)/g)) {
    const upper = (letter as string).toUpperCase();
    const n = upper === 'A' ? arcNumbers(body ?? '') : numbersIn(body ?? '');
    const count = ARGUMENTS[upper] as number;
    if (count === 0) commands.push({ letter: letter as string, n: [] });
    for (let i = 0; count > 0 && i + count <= n.length; i += count) {
      const follow = upper === 'M' && i > 0 ? (letter === 'M' ? 'L' : 'l') : (letter as string);
      commands.push({ letter: follow, n: n.slice(i, i + count) });
    }
  }
  return commands;
}

function arcNumbers(body: string): number[] {
  const n: number[] = [];
  let rest = body;
  while (rest.trim() !== '') {
    const isFlag = n.length % 7 === 3 || n.length % 7 === 4;
    const found = isFlag
      ? /^[\s,]*([01])/.exec(rest)
      : /^[\s,]*([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)/.exec(rest);
    if (!found) break;
    n.push(Number(found[1]));
    rest = rest.slice(found[0].length);
  }
  return n;
}

/**
 * Runs of points of SVG path data.
 *
 * @param d  path data
 * @source   from memory
 */
export function pathRuns(d: string): readonly Run[] {
  const runs: Run[] = [];
  let points: Point[] = [];
  let here: Point = { xMm: 0, yMm: 0 };
  let start = here;
  let handle: { readonly kind: string; readonly at: Point } | undefined;
  const finish = (isClosed: boolean): void => {
    if (points.length > 1) runs.push({ points, isClosed });
    points = [];
  };
  const to = (added: readonly Point[]): void => {
    if (points.length === 0) points.push(here);
    points.push(...added);
    here = added[added.length - 1]!;
  };
  for (const { letter, n } of pathCommands(d)) {
    const upper = letter.toUpperCase();
    const isRelative = letter !== upper;
    const base = here;
    const at = (i: number): Point => ({
      xMm: n[i]! + (isRelative ? base.xMm : 0),
      yMm: n[i + 1]! + (isRelative ? base.yMm : 0),
    });
    const mirrored = (kind: string): Point =>
      handle?.kind === kind ? { xMm: 2 * base.xMm - handle.at.xMm, yMm: 2 * base.yMm - handle.at.yMm } : base;
    let next: typeof handle;
    if (upper === 'M') {
      finish(false);
      here = at(0);
      start = here;
    } else if (upper === 'Z') {
      finish(true);
      here = start;
    } else if (upper === 'L') to([at(0)]);
    else if (upper === 'H') to([{ xMm: n[0]! + (isRelative ? base.xMm : 0), yMm: base.yMm }]);
    else if (upper === 'V') to([{ xMm: base.xMm, yMm: n[0]! + (isRelative ? base.yMm : 0) }]);
    else if (upper === 'C' || upper === 'S') {
      const first = upper === 'C' ? at(0) : mirrored('cubic');
      const second = at(upper === 'C' ? 2 : 0);
      to(sampleCubic(cubic(base, first, second, at(upper === 'C' ? 4 : 2))));
      next = { kind: 'cubic', at: second };
    } else if (upper === 'Q' || upper === 'T') {
      const middle = upper === 'Q' ? at(0) : mirrored('square');
      const end = at(upper === 'Q' ? 2 : 0);
      const third = (p: Point): Point => ({
        xMm: p.xMm + (2 / 3) * (middle.xMm - p.xMm),
        yMm: p.yMm + (2 / 3) * (middle.yMm - p.yMm),
      });
      to(sampleCubic(cubic(base, third(base), third(end), end)));
      next = { kind: 'square', at: middle };
    } else to(arcPoints(base, n, at(5)));
    handle = next;
  }
  finish(false);
  return runs;
}

/** Points of an elliptical arc from one end to the other (centre found as the SVG standard describes). */
function arcPoints(from: Point, n: readonly number[], end: Point): readonly Point[] {
  let rx = Math.abs(n[0]!);
  let ry = Math.abs(n[1]!);
  const tilt = (n[2]! * Math.PI) / 180;
  if (rx === 0 || ry === 0 || (from.xMm === end.xMm && from.yMm === end.yMm)) return [end];
  const [cos, sin] = [Math.cos(tilt), Math.sin(tilt)];
  const hx = (from.xMm - end.xMm) / 2;
  const hy = (from.yMm - end.yMm) / 2;
  const x = cos * hx + sin * hy;
  const y = -sin * hx + cos * hy;
  const grow = Math.sqrt(Math.max(1, (x / rx) ** 2 + (y / ry) ** 2));
  rx *= grow;
  ry *= grow;
  const spare = Math.max(0, (rx * ry) ** 2 - (rx * y) ** 2 - (ry * x) ** 2);
  const k = (n[3] === n[4] ? -1 : 1) * Math.sqrt(spare / ((rx * y) ** 2 + (ry * x) ** 2));
  const cx = (k * rx * y) / ry;
  const cy = (-k * ry * x) / rx;
  const centre = {
    xMm: cos * cx - sin * cy + (from.xMm + end.xMm) / 2,
    yMm: sin * cx + cos * cy + (from.yMm + end.yMm) / 2,
  };
  const first = Math.atan2((y - cy) / ry, (x - cx) / rx);
  const last = Math.atan2((-y - cy) / ry, (-x - cx) / rx);
  let sweep = last - first;
  if (n[4] === 1 && sweep < 0) sweep += 2 * Math.PI;
  if (n[4] === 0 && sweep > 0) sweep -= 2 * Math.PI;
  const point = (a: number): Point => ({
    xMm: centre.xMm + cos * rx * Math.cos(a) - sin * ry * Math.sin(a),
    yMm: centre.yMm + sin * rx * Math.cos(a) + cos * ry * Math.sin(a),
  });
  return [...sampleArc(point, first, sweep).slice(0, -1), end];
}
