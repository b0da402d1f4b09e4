import DxfParser from 'dxf-parser';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pointOnCubic } from '../src/drawing/bounds.ts';
import { allDrawings, drawingNamed } from '../src/drawing/drawing-table.ts';
import type { Drawing, PathEntity } from '../src/drawing/model.ts';
import { distanceMm, walkPath } from '../src/drawing/path-walk.ts';
import { sheetOfPattern } from '../src/figures/pattern-sheet.ts';
import { numberOf, type Sheet } from '../src/graph/sheet.ts';
import { drawingToDxf } from '../src/output/dxf.ts';
import { drawingToSvg } from '../src/output/svg.ts';
import type { Pattern } from '../src/pattern/pattern.ts';
import { expectClose } from './support/expect-close.ts';
import { expectGolden } from './support/golden.ts';
import { STARTING, startingPattern } from './support/patterns.ts';
import { hasSecondReader, readWithSecondReader } from './support/second-reader.ts';
import { wordCollisions } from './support/word-collisions.ts';

const geometry = 'plane-geometry';
const steel = startingPattern('small-steel-string');
const leftHanded = (pattern: Pattern): Pattern => ({ ...pattern, handed: 'left' });
const drawn = (id: string, sheet: Sheet): Drawing => drawingNamed(id)!.draw(sheet);
const ids = allDrawings.map(({ id }) => id);
/** Bars carry their own names there, on a rim of paper. */
const FACES = ['front-face', 'inside-face'];

function pathOf(drawing: Drawing, key: string, layer = 'cut'): PathEntity {
  const found = drawing.entities.find((e) => e.kind === 'path' && e.key === key && e.layer === layer);
  if (found?.kind !== 'path') throw new Error(`${drawing.id} has no path ${key}`);
  return found;
}

/** Length of the cubics of a path by 400 chords each. */
function cubicsMm(path: PathEntity): number {
  return walkPath(path).reduce((sum, piece) => {
    if (piece.kind !== 'cubic') return sum;
    const points = Array.from({ length: 401 }, (_, i) => pointOnCubic(piece, i / 400));
    return sum + points.slice(1).reduce((mm, point, i) => mm + distanceMm(points[i]!, point), 0);
  }, 0);
}

describe('drawings of the small steel-string', () => {
  const sheet = sheetOfPattern(steel);
  it.each(ids)('%s is as it was', (id) => {
    expectGolden(drawingToSvg(drawn(id, sheet)), `${id}.svg`);
  });
});

describe.each(STARTING)('every drawing of %s', (name) => {
  const pattern = startingPattern(name);
  const sheets = [pattern, leftHanded(pattern)].map((p) => sheetOfPattern(p));

  it.each(ids.filter((id) => !FACES.includes(id)))('%s keeps words off lines and other words', (id) => {
    for (const sheet of sheets)
      for (const lengthUnit of ['mm', 'in'] as const) {
        const drawing = drawingNamed(id)!.draw(sheet, { lengthUnit });
        expect(drawing.entities.length).toBeGreaterThan(8);
        expect({ lengthUnit, touching: wordCollisions(drawing) }).toEqual({ lengthUnit, touching: [] });
      }
  });

  it('has the strip as long as the half outline, both edges of it true to the rim', () => {
    const sheet = sheets[0]!;
    const cut = pathOf(drawn('side-strip', sheet), 'side.strip');
    const xs = walkPath(cut).map(({ to }) => to.x);
    expectClose(Math.max(...xs), numberOf(sheet, 'outline.half_perimeter')!, { tol: 1e-6, source: geometry });
    const template = pathOf(drawn('half-template', sheet), 'outline');
    expectClose(cubicsMm(template), numberOf(sheet, 'outline.half_perimeter')!, {
      tol: 0.002,
      source: geometry,
    });
  });

  it('mirrors for the left hand what has a bass and a treble side', () => {
    const [right, left] = sheets as [Sheet, Sheet];
    const holes = (sheet: Sheet) =>
      drawn('head', sheet)
        .entities.flatMap((e) => (e.kind === 'line' && e.key?.startsWith('neck.nut_side_angle') ? [e] : []))
        .map((e) => e.to.x);
    expect(holes(left)).toHaveLength(holes(right).length);
    holes(right).forEach((x, i) => {
      expectClose(holes(left)[i]!, -x, { tol: 1e-9, source: geometry });
    });
    const slot = (sheet: Sheet) => walkPath(pathOf(drawn('bridge', sheet), 'saddle')).map(({ to }) => to);
    const ys = (sheet: Sheet, sign: number) =>
      slot(sheet)
        .filter(({ x }) => x * sign > 0)
        .reduce((sum, { y }) => sum + y, 0);
    expectClose(ys(left, 1), ys(right, -1), { tol: 1e-9, source: geometry });
    expect(pathOf(drawn('half-template', left), 'outline')).toEqual(
      pathOf(drawn('half-template', right), 'outline'),
    );
  });
});

describe('marks of rules', () => {
  it('stay off paper: they wait on the page until their rule is looked at', () => {
    const drawing = drawn('front-face', sheetOfPattern(steel));
    expect(drawing.entities.some(({ layer }) => layer === 'accent')).toBe(true);
    expect(drawingToSvg(drawing)).not.toContain('class="layer accent"');
    const file = new DxfParser().parseSync(drawingToDxf(drawing));
    const layers = new Set((file?.entities ?? []).map(({ layer }) => layer));
    expect(layers.has('cut')).toBe(true);
    expect(layers.has('accent')).toBe(false);
  });
});

describe('bars from the side', () => {
  it('have feet that follow the dome: the sagitta of chord and radius', () => {
    const sheet = sheetOfPattern(steel);
    const bar = pathOf(drawn('brace-heights', sheet), 'brace.UT');
    const foot = walkPath(bar).filter((piece) => piece.kind === 'arc');
    expect(foot).toHaveLength(1);
    const [arc] = foot;
    if (arc?.kind !== 'arc') throw new Error('no arc');
    // upper transverse bar: 262.4 long, 170 from the apex of a sphere of 8500
    const radius = Math.sqrt(8500 ** 2 - 170 ** 2);
    expectClose(arc.radiusMm, radius, { tol: 1e-6, source: geometry });
    const chord = distanceMm(arc.from, arc.to);
    expectClose(chord, 262.4, { tol: 1e-6, source: geometry });
    expectClose(arc.centre.y + arc.radiusMm - arc.from.y, 262.4 ** 2 / (8 * radius), {
      tol: 0.001,
      source: geometry,
    });
  });

  it('the legs of the X are notched from opposite sides', () => {
    const legs = drawn('brace-heights', sheetOfPattern(steel)).entities.flatMap((e) =>
      e.kind === 'path' && e.key === 'brace.x' ? [walkPath(e).filter((p) => p.kind === 'arc').length] : [],
    );
    // a notch in the foot parts its arc in two
    expect(legs.sort()).toEqual([1, 2]);
  });
});

describe('the fretboard', () => {
  it('writes running totals of equal temperament beside the slots', () => {
    const drawing = drawn('fretboard', sheetOfPattern(steel));
    const said = drawing.entities.flatMap((e) =>
      e.kind === 'text' && e.key?.startsWith('fret.place.') ? [e.text] : [],
    );
    for (const n of [1, 5, 12, 20]) expect(said).toContain((628 * (1 - 2 ** (-n / 12))).toFixed(2));
  });
});

interface Read {
  readonly type: string;
  readonly layer: string;
  readonly vertices?: readonly { readonly x: number; readonly y: number }[];
}

describe('read back by a general DXF reader', () => {
  it('the slots lie where equal temperament puts them and are as wide as the board', () => {
    const sheet = sheetOfPattern(steel);
    const file = new DxfParser().parseSync(drawingToDxf(drawn('fretboard', sheet)));
    const lines = ((file?.entities ?? []) as unknown as Read[]).filter(
      ({ type, layer, vertices }) =>
        type === 'LINE' && layer === 'visible' && Math.abs(vertices![0]!.y - vertices![1]!.y) < 1e-9,
    );
    expect(lines).toHaveLength(20);
    lines.forEach(({ vertices }, i) => {
      const place = 628 * (1 - 2 ** (-(i + 1) / 12));
      expectClose(-vertices![0]!.y, place, { tol: 1e-5, source: 'equal temperament, arithmetic' });
      expectClose(Math.abs(vertices![1]!.x - vertices![0]!.x), 44 + (11 * place) / 314, {
        tol: 1e-5,
        source: geometry,
      });
    });
  });
});

describe.runIf(hasSecondReader())('measured by the second reader', () => {
  it.each(STARTING)('half template of %s: half width, length, length of the curve', (name) => {
    const sheet = sheetOfPattern(startingPattern(name));
    const read = readWithSecondReader(drawingToDxf(drawn('half-template', sheet)));
    const edge = read.splines.find(({ layer }) => layer === 'cut')!;
    expectClose(edge.height, numberOf(sheet, 'body.length')!, { tol: 0.01, source: geometry });
    expectClose(edge.width, numberOf(sheet, 'body.lower_bout.width')! / 2, { tol: 0.01, source: geometry });
    // the outline and, where the reader closes it, the straight edge on the centre line
    const half = numberOf(sheet, 'outline.half_perimeter')!;
    const straight = numberOf(sheet, 'body.length')!;
    const beyond = edge.length - half > straight / 2 ? straight : 0;
    expectClose(edge.length - beyond, half, { tol: 0.05, source: geometry });
  });
});

describe('a pattern with numbers missing or moved', () => {
  const numbers = [...steel.numbers.keys()];
  it('never throws: what cannot be had is left out (seed 41)', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...STARTING),
        fc.subarray(numbers, { maxLength: 4 }),
        fc.array(fc.tuple(fc.constantFrom(...numbers), fc.double({ min: 0.2, max: 3, noNaN: true })), {
          maxLength: 3,
        }),
        (name, missing, moved) => {
          const pattern = startingPattern(name);
          const changed = new Map(pattern.numbers);
          for (const id of missing) changed.delete(id);
          for (const [id, factor] of moved) {
            const value = changed.get(id);
            if (value !== undefined) changed.set(id, value * factor);
          }
          const sheet = sheetOfPattern({ ...pattern, numbers: changed });
          for (const { draw } of allDrawings) drawingToSvg(draw(sheet));
        },
      ),
      { seed: 41, numRuns: 25 },
    );
  });
});
