import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import {
  cubic,
  cubicAt,
  cubicBounds,
  cubicLengthMm,
  cubicLineHits,
  cubicSegmentHits,
  nearestOnCubic,
  reversedCubic,
  splitCubic,
} from './cubic.ts';

const number = fc.double({ min: -300, max: 300, noNaN: true });
const point = fc.record({ xMm: number, yMm: number });
const anyCubic = fc.tuple(point, point, point, point).map(([a, b, c, d]) => cubic(a, b, c, d));

describe('cubic pieces', () => {
  it('measures a straight piece as its chord, and a parabola as its closed form', () => {
    const straight = cubic({ xMm: 0, yMm: 0 }, { xMm: 1, yMm: 2 }, { xMm: 2, yMm: 4 }, { xMm: 3, yMm: 6 });
    expectClose(cubicLengthMm(straight), Math.hypot(3, 6), { tol: 1e-12, source: 'plane-geometry' });
    // y = x^2 from 0 to 1 raised to a cubic: length (2 sqrt 5 + asinh 2) / 4
    const parabola = cubic(
      { xMm: 0, yMm: 0 },
      { xMm: 1 / 3, yMm: 0 },
      { xMm: 2 / 3, yMm: 1 / 3 },
      { xMm: 1, yMm: 1 },
    );
    expectClose(cubicLengthMm(parabola), (2 * Math.sqrt(5) + Math.asinh(2)) / 4, {
      tol: 1e-11,
      source: 'plane-geometry',
    });
  });

  it('has the same length reversed and in two parts, and stays inside its box (seed 11)', () => {
    fc.assert(
      fc.property(anyCubic, fc.double({ min: 0.05, max: 0.95, noNaN: true }), (c, t) => {
        const length = cubicLengthMm(c);
        const [a, b] = splitCubic(c, t);
        expectClose(cubicLengthMm(reversedCubic(c)) + 1, length + 1, { tol: 1e-3, source: 'plane-geometry' });
        expectClose(cubicLengthMm(a) + cubicLengthMm(b) + 1, length + 1, {
          tol: 1e-3,
          source: 'plane-geometry',
        });
        const p = cubicAt(c, t);
        const box = cubicBounds(c);
        expect(p.xMm >= box.minXMm - 1e-6 && p.xMm <= box.maxXMm + 1e-6).toBe(true);
        expect(p.yMm >= box.minYMm - 1e-6 && p.yMm <= box.maxYMm + 1e-6).toBe(true);
      }),
      { seed: 11 },
    );
  });

  it('meets a line where it says, and is nearest where no sample is nearer (seed 12)', () => {
    fc.assert(
      fc.property(anyCubic, point, point, (c, a, b) => {
        fc.pre(Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm) > 1);
        for (const t of cubicLineHits(c, a, b)) {
          const p = cubicAt(c, t);
          const off =
            ((p.xMm - a.xMm) * (b.yMm - a.yMm) - (p.yMm - a.yMm) * (b.xMm - a.xMm)) /
            Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm);
          expect(Math.abs(off)).toBeLessThan(1e-5);
        }
        const { distanceMm } = nearestOnCubic(c, a);
        for (let i = 0; i <= 24; i++) {
          const p = cubicAt(c, i / 24);
          expect(distanceMm).toBeLessThanOrEqual(Math.hypot(p.xMm - a.xMm, p.yMm - a.yMm) + 1e-9);
        }
      }),
      { seed: 12 },
    );
  });

  it('crosses a stretch once in the middle of an S and not beyond its end', () => {
    const s = cubic({ xMm: 0, yMm: 0 }, { xMm: 30, yMm: 0 }, { xMm: -20, yMm: 10 }, { xMm: 10, yMm: 10 });
    const at = (x0: number, x1: number) =>
      cubicSegmentHits(s, { xMm: x0, yMm: 5 }, { xMm: x1, yMm: 5 }).length;
    expect(at(-50, 50)).toBe(1);
    expect(at(20, 50)).toBe(0);
    expect(cubicLineHits(s, { xMm: 5, yMm: -1 }, { xMm: 5, yMm: 20 })).toHaveLength(3);
  });
});
