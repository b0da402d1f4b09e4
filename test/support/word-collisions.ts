import { explode, isPrinted } from '../../src/drawing/assemble.ts';
import { pointOnCubic } from '../../src/drawing/bounds.ts';
import { PRINT_DIMENSION_STYLE } from '../../src/drawing/dimension-style.ts';
import type { Drawing, PlainEntity, PointMm, TextEntity } from '../../src/drawing/model.ts';
import { pointOnCircle, walkPath } from '../../src/drawing/path-walk.ts';
import { textWidthMm } from '../../src/drawing/text-size.ts';

/** The four corners of the ink of a word, a little inside it. */
function cornersOf(t: TextEntity): readonly PointMm[] {
  const inset = 0.15;
  const width = textWidthMm(t.text, t);
  const left = -width * { start: 0, middle: 0.5, end: 1 }[t.anchorX] + inset;
  const top = -t.heightMm * { baseline: 1, middle: 0.5, top: 0 }[t.anchorY] + inset;
  const [right, bottom] = [left + width - 2 * inset, top + t.heightMm - 2 * inset];
  const [cos, sin] = [Math.cos(t.rotationRad), Math.sin(t.rotationRad)];
  const at = (x: number, y: number): PointMm => ({
    x: t.at.x + x * cos - y * sin,
    y: t.at.y + x * sin + y * cos,
  });
  return [at(left, top), at(right, top), at(right, bottom), at(left, bottom)];
}

/** Whether two convex shapes (or a segment) overlap: no line parts them. */
function overlap(a: readonly PointMm[], b: readonly PointMm[]): boolean {
  for (const [p, q] of [
    [a, b],
    [b, a],
  ] as const) {
    for (let i = 0; i < p.length; i++) {
      const [s, e] = [p[i] as PointMm, p[(i + 1) % p.length] as PointMm];
      const [nx, ny] = [e.y - s.y, s.x - e.x];
      if (nx === 0 && ny === 0) continue;
      const reach = (points: readonly PointMm[]) => points.map((c) => c.x * nx + c.y * ny);
      const [u, v] = [reach(p), reach(q)];
      if (Math.max(...u) <= Math.min(...v) || Math.max(...v) <= Math.min(...u)) return false;
    }
  }
  return true;
}

/** Chords of everything that is stroked. */
function chordsOf(e: PlainEntity): readonly (readonly [PointMm, PointMm])[] {
  const run = (points: readonly PointMm[]) =>
    points.slice(1).map((p, i) => [points[i] as PointMm, p] as const);
  const turn = (centre: PointMm, r: number, start: number, sweep: number) =>
    run(Array.from({ length: 65 }, (_, i) => pointOnCircle(centre, r, start + (sweep * i) / 64)));
  switch (e.kind) {
    case 'line':
      return [[e.from, e.to]];
    case 'circle':
      return e.isStroked === false ? [] : turn(e.centre, e.radiusMm, 0, 2 * Math.PI);
    case 'arc':
      return turn(e.centre, e.radiusMm, e.startRad, e.sweepRad);
    case 'path':
      return walkPath(e).flatMap((piece) => {
        if (piece.kind === 'line') return [[piece.from, piece.to] as const];
        if (piece.kind === 'arc') return turn(piece.centre, piece.radiusMm, piece.startRad, piece.sweepRad);
        return run(Array.from({ length: 41 }, (_, i) => pointOnCubic(piece, i / 40)));
      });
    case 'text':
      return [];
  }
}

/** Words of a drawing that touch another word or a line at print size, each said once. */
export function wordCollisions(drawing: Drawing): readonly string[] {
  const plain = explode(drawing.entities.filter(isPrinted), PRINT_DIMENSION_STYLE);
  const words = plain.filter((e): e is TextEntity => e.kind === 'text');
  const boxes = words.map(cornersOf);
  const chords = plain.flatMap((e) => chordsOf(e).map((ends) => ({ e, ends })));
  return words.flatMap((word, i) => {
    const box = boxes[i] as readonly PointMm[];
    const [xs, ys] = [box.map((p) => p.x), box.map((p) => p.y)];
    const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
    const other = words.findIndex((_, k) => k > i && overlap(box, boxes[k] as readonly PointMm[]));
    const said = other < 0 ? [] : [`"${word.text}" on "${words[other]?.text}"`];
    const line = chords.find(
      ({ ends: [p, q] }) =>
        Math.max(p.x, q.x) > x0 &&
        Math.min(p.x, q.x) < x1 &&
        Math.max(p.y, q.y) > y0 &&
        Math.min(p.y, q.y) < y1 &&
        overlap(box, [p, q]),
    );
    return line ? [...said, `"${word.text}" on a line of ${line.e.layer} ${line.e.key ?? ''}`] : said;
  });
}
