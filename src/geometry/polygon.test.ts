import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { convexGapMm, gapToPolygonMm, polygonAreaMm2, rectangleAbout, segmentCrossing } from './polygon.ts';
import { ringPasses } from './ring-passes.ts';

const source = 'plane-geometry';

describe('polygons', () => {
  it('measures a slanted rectangle and the gap of two', () => {
    const a = rectangleAbout({ xMm: 0, yMm: 0 }, { xMm: 30, yMm: 40 }, 8);
    expectClose(Math.abs(polygonAreaMm2(a)), 400, { tol: 1e-9, source });
    const b = rectangleAbout({ xMm: 60, yMm: 0 }, { xMm: 60, yMm: 40 }, 8);
    // corner (30 + 3.2, 40 - 2.4) to the line x = 56
    expectClose(convexGapMm(a, b), 22.8, { tol: 1e-9, source });
    const shifted = rectangleAbout({ xMm: 36, yMm: 0 }, { xMm: 36, yMm: 100 }, 8);
    expectClose(convexGapMm(a, shifted), -1.2, { tol: 1e-9, source });
    expectClose(gapToPolygonMm(b, { xMm: 50, yMm: 20 }), 6, { tol: 1e-9, source });
    expectClose(gapToPolygonMm(b, { xMm: 59, yMm: 20 }), -3, { tol: 1e-9, source });
  });
  it('has the same gap either way round and when both move (seed 2)', () => {
    const n = fc.double({ min: -100, max: 100, noNaN: true });
    fc.assert(
      fc.property(n, n, n, n, n, (x, y, u, v, shift) => {
        fc.pre(Math.hypot(x - u, y - v) > 1);
        const a = rectangleAbout({ xMm: x, yMm: y }, { xMm: u, yMm: v }, 6);
        const b = rectangleAbout({ xMm: -20, yMm: 5 }, { xMm: 40, yMm: 9 }, 8);
        const move = (p: { xMm: number; yMm: number }) => ({ xMm: p.xMm + shift, yMm: p.yMm - shift });
        const gap = convexGapMm(a, b) + 1000;
        expectClose(convexGapMm(b, a) + 1000, gap, { tol: 1e-9, source });
        expectClose(convexGapMm(a.map(move), b.map(move)) + 1000, gap, { tol: 1e-9, source });
      }),
      { seed: 2 },
    );
  });
  it('crosses two stretches in the middle', () => {
    const hit = segmentCrossing(
      { xMm: 0, yMm: 0 },
      { xMm: 2, yMm: 2 },
      { xMm: 0, yMm: 2 },
      { xMm: 2, yMm: 0 },
    );
    expectClose(hit?.shareOfFirstFrac, 0.5, { tol: 1e-12, source });
    expect(
      segmentCrossing({ xMm: 0, yMm: 0 }, { xMm: 1, yMm: 0 }, { xMm: 2, yMm: 1 }, { xMm: 2, yMm: -1 }),
    ).toBeUndefined();
  });
});

describe('ringPasses', () => {
  it('clears a channel of 7 with a cutter of 3.175 in two rings and one between', () => {
    const rings = ringPasses(55, 62, 3.175);
    expectClose(rings?.innerCentreMm, 56.5875, { tol: 1e-9, source: 'common practice, no published source' });
    expectClose(rings?.outerCentreMm, 60.4125, { tol: 1e-9, source: 'common practice, no published source' });
    // ceil((7 - 3.175) / 1.905) - 1 = 2
    expect(rings?.betweenCount).toBe(2);
  });
  it('leaves no ridge: neighbours are never farther apart than the cutter less four tenths (seed 9)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 6, noNaN: true }),
        fc.double({ min: 0, max: 30, noNaN: true }),
        (cutter, more) => {
          const rings = ringPasses(40, 40 + cutter + more, cutter);
          const c = rings?.centresMm ?? [];
          for (let i = 1; i < c.length; i++)
            expect(c[i]! - c[i - 1]!).toBeLessThanOrEqual(0.6 * cutter + 1e-6);
          expectClose((c[0] ?? 0) - cutter / 2, 40, { tol: 1e-9, source });
          expectClose((c[c.length - 1] ?? 0) + cutter / 2, 40 + cutter + more, { tol: 1e-6, source });
        },
      ),
      { seed: 9 },
    );
  });
  it('has no rings for a cutter wider than the channel and refuses a channel inside out', () => {
    expect(ringPasses(34, 39, 6.35)).toBeUndefined();
    expect(() => ringPasses(39, 34, 3)).toThrow('none');
  });
});
