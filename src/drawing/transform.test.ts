import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { bounds, boundsOfPath } from './bounds.ts';
import { measuredText } from './dimension-text.ts';
import {
  arc,
  arcAbout,
  circle,
  closedPath,
  cubicTo,
  diameterDimension,
  type Entity,
  horizontalDimension,
  lineTo,
  type PathEntity,
  text,
  verticalDimension,
} from './model.ts';
import { walkPath } from './path-walk.ts';
import { readableAngle } from './readable.ts';
import { mirrorX, rotate, scale, translate } from './transform.ts';

const GEOMETRY = 'plane-geometry';
const half = Math.PI / 2;

/** A quarter disc with one cubic edge: line, arc, cubic. */
const leaf = closedPath('cut', { x: 0, y: 0 }, [
  lineTo({ x: 30, y: 0 }),
  arcAbout({ x: 0, y: 0 }, half),
  cubicTo({ x: -8, y: 28 }, { x: -12, y: 6 }, { x: 0, y: 0 }),
]);

function endsOf(path: PathEntity): number[] {
  return walkPath(path).flatMap(({ to }) => [to.x, to.y]);
}

describe('mirrorX', () => {
  it('turns x round and keeps y, for every kind of segment', () => {
    const [mirrored] = mirrorX([leaf]) as [PathEntity];
    const expected = endsOf(leaf).map((value, index) => (index % 2 === 0 ? -value : value));
    endsOf(mirrored).forEach((value, index) => {
      expect(Math.abs(value - expected[index]!)).toBeLessThan(1e-9);
    });
  });

  it('seed 11: twice mirrored is where it was, whatever the arc', () => {
    const angle = fc.double({ min: -6, max: 6, noNaN: true });
    fc.assert(
      fc.property(angle, fc.double({ min: -6.2, max: 6.2, noNaN: true }), (start, sweep) => {
        const once = arc('cut', { x: 12, y: -7 }, 40, start, sweep);
        const twice = mirrorX(mirrorX([once]));
        const [a, b] = [bounds([once])!, bounds(twice)!];
        for (const side of ['minX', 'minY', 'maxX', 'maxY'] as const)
          expect(Math.abs(a[side] - b[side])).toBeLessThan(1e-9);
      }),
      { seed: 11 },
    );
  });

  it('keeps words readable: a text on the right reads the same way on the left and ends where it began', () => {
    const [left] = mirrorX([text('text', { x: 100, y: 5 }, 'TREBLE', 5)]);
    expect(left).toMatchObject({ text: 'TREBLE', anchorX: 'end', anchorY: 'baseline' });
    const [before, after] = [bounds([text('text', { x: 100, y: 5 }, 'TREBLE', 5)])!, bounds([left!])!];
    expectClose(after.minX, -before.maxX, { tol: 1e-9, source: GEOMETRY });
    expectClose(after.minY, before.minY, { tol: 1e-9, source: GEOMETRY });
  });

  it('seed 12: mirrored words stay on the mirrored area and never stand on their head', () => {
    fc.assert(
      fc.property(fc.double({ min: -half, max: half - 0.001, noNaN: true }), (rotationRad) => {
        const words = text('text', { x: 30, y: 10 }, 'X, treble leg', 3, { rotationRad });
        const [moved] = mirrorX([words]);
        const [before, after] = [bounds([words])!, bounds([moved!])!];
        // the box hangs below the baseline, so a flipped text may differ by the depth of g and p
        expect(Math.abs(after.minX + before.maxX)).toBeLessThan(1);
        expect(Math.abs(after.maxY - before.maxY)).toBeLessThan(1);
        const turn = moved!.kind === 'text' ? moved!.rotationRad : Number.NaN;
        expect(turn).toBeGreaterThanOrEqual(-half - 1e-6);
        expect(turn).toBeLessThan(half);
      }),
      { seed: 12 },
    );
  });

  it('measures the same after mirroring', () => {
    const dims: Entity[] = [
      horizontalDimension({ x: -188, y: 300 }, { x: 188, y: 300 }, 500),
      verticalDimension({ x: 0, y: 0 }, { x: 0, y: 142 }, 240),
      diameterDimension({ x: 0, y: 142 }, 49, 0.9),
    ];
    const words = (entities: readonly Entity[]) =>
      entities.map((entity) => (entity.kind === 'dimension' ? measuredText(entity) : ''));
    expect(words(mirrorX(dims))).toEqual(['376', '142', '98']);
  });

  it('moves the centre a handle turns about', () => {
    const handle = { inputId: 'brace.angle', axis: 'angle', about: { x: 20, y: 5 } } as const;
    const [moved] = mirrorX([circle('cut', { x: 20, y: 5 }, 3, { handle })]);
    expect(moved?.handle?.about).toEqual({ x: -20, y: 5 });
  });
});

describe('rotate, translate, scale', () => {
  it('turns a horizontal dimension into a vertical one with the same number', () => {
    const [turned] = rotate([horizontalDimension({ x: 0, y: 0 }, { x: 80, y: 30 }, -20)], half);
    expect(turned?.kind === 'dimension' && measuredText(turned)).toBe('80');
  });

  it('turns about the point asked for', () => {
    const at = boundsOfPath(rotate([leaf], Math.PI, { x: 5, y: 5 })[0] as PathEntity);
    expectClose(at.minX, -20, { tol: 1e-9, source: GEOMETRY });
    expectClose(at.maxY, 10, { tol: 1e-9, source: GEOMETRY });
  });

  it('shifts everything by the same step', () => {
    const [before, after] = [bounds([leaf])!, bounds(translate([leaf], { x: 3, y: -4 }))!];
    expectClose(after.minX - before.minX, 3, { tol: 1e-9, source: GEOMETRY });
    expectClose(after.minY - before.minY, -4, { tol: 1e-9, source: GEOMETRY });
  });

  it('keeps the full-size number of a dimension in a small picture', () => {
    const [small] = scale([verticalDimension({ x: 0, y: 0 }, { x: 0, y: 480 }, 200)], 0.2);
    expect(small?.kind === 'dimension' && small.text).toBe('480');
    expect(() => scale([], 0)).toThrow('ratio 0 must be above 0');
  });
});

describe('readableAngle', () => {
  it.each([
    [0, 0, false],
    [half, -half, true],
    [-half, -half, false],
    [Math.PI, 0, true],
    [3, 3 - Math.PI, true],
  ])('%f reads along %f, turned half round: %s', (given, expected, isFlipped) => {
    const turn = readableAngle(given);
    expect(Math.abs(turn.angleRad - expected)).toBeLessThan(1e-9);
    expect(turn.isFlipped).toBe(isFlipped);
  });
});
