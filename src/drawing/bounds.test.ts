import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { bounds, boundsOfPath, boundsOfPoints, pointOnCubic } from './bounds.ts';
import { arc, closedPath, cubicTo, openPath, text } from './model.ts';
import { pointOnCircle } from './path-walk.ts';
import { textWidthMm } from './text-size.ts';

const coordinate = fc.double({ min: -500, max: 500, noNaN: true });
const point = fc.record({ x: coordinate, y: coordinate });

describe('bounds', () => {
  it('seed 21: the box around a cubic touches what 2000 sampled points touch', () => {
    fc.assert(
      fc.property(point, point, point, point, (from, control1, control2, to) => {
        const exact = boundsOfPath(openPath('cut', from, [cubicTo(control1, control2, to)]));
        const sampled = boundsOfPoints(
          Array.from({ length: 2001 }, (_, i) => pointOnCubic({ from, control1, control2, to }, i / 2000)),
        );
        for (const side of ['minX', 'minY'] as const) {
          expect(exact[side]).toBeLessThanOrEqual(sampled[side] + 1e-9);
          expect(sampled[side] - exact[side]).toBeLessThan(0.01);
        }
        for (const side of ['maxX', 'maxY'] as const)
          expect(Math.abs(exact[side] - sampled[side])).toBeLessThan(0.01);
      }),
      { seed: 21 },
    );
  });

  it('seed 22: the box around an arc is that of its sampled points', () => {
    const angle = fc.double({ min: -7, max: 7, noNaN: true });
    fc.assert(
      fc.property(angle, fc.double({ min: -6.28, max: 6.28, noNaN: true }), (startRad, sweepRad) => {
        const centre = { x: 3, y: 142 };
        const exact = bounds([arc('cut', centre, 49, startRad, sweepRad)])!;
        const sampled = boundsOfPoints(
          Array.from({ length: 2001 }, (_, i) => pointOnCircle(centre, 49, startRad + (sweepRad * i) / 2000)),
        );
        for (const side of ['minX', 'minY', 'maxX', 'maxY'] as const)
          expect(Math.abs(exact[side] - sampled[side])).toBeLessThan(0.001);
      }),
      { seed: 22 },
    );
  });

  it('a circle of four cubics is as wide as the circle within the known error of that approximation', () => {
    // handle 4/3 (sqrt(2) - 1) r: quadrant ends lie exactly on the circle, so the box is exact
    const k = (4 / 3) * (Math.SQRT2 - 1) * 100;
    const circleOfCubics = closedPath('cut', { x: 100, y: 0 }, [
      cubicTo({ x: 100, y: k }, { x: k, y: 100 }, { x: 0, y: 100 }),
      cubicTo({ x: -k, y: 100 }, { x: -100, y: k }, { x: -100, y: 0 }),
      cubicTo({ x: -100, y: -k }, { x: -k, y: -100 }, { x: 0, y: -100 }),
      cubicTo({ x: k, y: -100 }, { x: 100, y: -k }, { x: 100, y: 0 }),
    ]);
    expectClose(bounds([circleOfCubics])!.maxX, 100, { tol: 1e-9, source: 'plane-geometry' });
    expectClose(bounds([circleOfCubics])!.minY, -100, { tol: 1e-9, source: 'plane-geometry' });
  });

  it('words: an upward text is as high as it is long', () => {
    const words = text('text', { x: 0, y: 0 }, 'Small steel-string', 5, { rotationRad: -Math.PI / 2 });
    const at = bounds([words])!;
    expectClose(at.maxY - at.minY, textWidthMm(words.text, words), { tol: 1e-9, source: 'plane-geometry' });
    expectClose(at.minX, -5, { tol: 1e-9, source: 'plane-geometry' });
  });

  it('nothing has no box', () => {
    expect(bounds([])).toBeUndefined();
  });
});
