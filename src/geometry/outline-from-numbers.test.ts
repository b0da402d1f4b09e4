import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { cubicCurvaturePerMm } from './cubic.ts';
import { fairPoints } from './fair-points.ts';
import {
  depthInsideMm,
  halfOutline,
  inflectionCount,
  outlineAreaMm2,
  pointAtArc,
  tightestBend,
} from './half-outline.ts';
import { endHandles, type OutlineNumbers, outlineHandles, outlinePieces } from './outline-from-numbers.ts';
import { piecesThroughPoints } from './outline-through-points.ts';

const source = 'plane-geometry';

/** Numbers of a body of the usual proportions; radii that leave room between the handles. */
const bodies = fc
  .record({
    length: fc.double({ min: 250, max: 520, noNaN: true }),
    upper: fc.double({ min: 0.73, max: 0.8, noNaN: true }),
    waist: fc.double({ min: 0.62, max: 0.67, noNaN: true }),
    waistY: fc.double({ min: 0.36, max: 0.41, noNaN: true }),
    lowerY: fc.double({ min: 0.71, max: 0.75, noNaN: true }),
    tight: fc.double({ min: 0.6, max: 0.95, noNaN: true }),
  })
  .map((v): OutlineNumbers => {
    const lower = 0.77 * v.length;
    const [bu, bw, bl] = [(lower * v.upper) / 2, (lower * v.waist) / 2, lower / 2];
    const [yu, yw, yl] = [0.2 * v.length, v.waistY * v.length, v.lowerY * v.length];
    const radius = (runMm: number, stepMm: number) => (1.5 * ((runMm / 2) * v.tight) ** 2) / stepMm;
    const waistR = Math.min(radius(yw - yu, bu - bw), radius(yl - yw, bl - bw));
    return {
      lengthMm: v.length,
      upperWidthMm: 2 * bu,
      upperYMm: yu,
      upperRadiusMm: Math.min(radius(yw - yu, bu - bw), (1.5 * (0.6 * yu) ** 2) / (0.4 * bu)),
      waistWidthMm: 2 * bw,
      waistYMm: yw,
      waistRadiusMm: waistR,
      lowerWidthMm: lower,
      lowerYMm: yl,
      lowerRadiusMm: Math.min(radius(yl - yw, bl - bw), (1.5 * (0.6 * (v.length - yl)) ** 2) / (0.4 * bl)),
      neckEndRadiusMm: (1.5 * (0.6 * bu) ** 2) / (0.4 * yu),
      tailRadiusMm: (1.5 * (0.6 * bl) ** 2) / (0.4 * (v.length - yl)),
    };
  });

describe('outlines from the few numbers', () => {
  it('have the typed radii at the stations and ends and equal curvature on both sides of each joint (seed 21)', () => {
    fc.assert(
      fc.property(bodies, (n) => {
        const h = outlineHandles(n);
        fc.pre(
          h.isSettled && Math.min(h.neckEnd.roomMm, h.upper.roomMm, h.lower.roomMm, h.tail.roomMm) > 0.5,
        );
        const pieces = outlinePieces(n, h);
        const radii = [n.neckEndRadiusMm, n.upperRadiusMm, -n.waistRadiusMm, n.lowerRadiusMm, n.tailRadiusMm];
        pieces.forEach((piece, i) => {
          expectClose(1 / cubicCurvaturePerMm(piece, 0), radii[i]!, {
            tol: 1e-5 * Math.abs(radii[i]!),
            source,
          });
          expectClose(1 / cubicCurvaturePerMm(piece, 1), radii[i + 1]!, {
            tol: 1e-5 * Math.abs(radii[i + 1]!),
            source,
          });
        });
        const shape = halfOutline(pieces);
        expect(shape.isRising).toBe(true);
        expect(inflectionCount(shape)).toBe(2);
        const least = Math.min(...radii.map(Math.abs));
        expect(tightestBend(shape).radiusMm).toBeLessThanOrEqual(least + 1e-6);
      }),
      { seed: 21 },
    );
  });

  it('grow in the same proportion when all numbers do (seed 22)', () => {
    fc.assert(
      fc.property(bodies, fc.constantFrom(0.5, 2, 25.4), (n, k) => {
        const scaled = Object.fromEntries(
          Object.entries(n).map(([key, v]) => [key, v * k]),
        ) as unknown as OutlineNumbers;
        const a = halfOutline(outlinePieces(n, outlineHandles(n)));
        const b = halfOutline(outlinePieces(scaled, outlineHandles(scaled)));
        expectClose(b.lengthMm / k, a.lengthMm, { tol: 1e-5, source });
        expectClose(outlineAreaMm2(b) / k / k, outlineAreaMm2(a), { tol: 1e-2, source });
      }),
      { seed: 22 },
    );
  });

  it('solve both equations of an end piece', () => {
    const found = endHandles(139, 96, 100, 300);
    const { endMm, sideMm } = found ?? { endMm: 0, sideMm: 0 };
    expectClose(sideMm ** 2, (2 / 3) * 100 * (139 - endMm), { tol: 1e-6, source });
    expectClose(endMm ** 2, (2 / 3) * 300 * (96 - sideMm), { tol: 1e-6, source });
  });

  it('come out with no room when an end radius asks for more than there is', () => {
    expect(endHandles(185, 128, 135, 1500)?.roomMm).toBeLessThan(0);
  });
});

describe('curves through points', () => {
  const circle = (count: number, wobbleMm = 0) =>
    Array.from({ length: count }, (_, i) => {
      const a = ((i + 1) / (count + 1)) * Math.PI;
      const r = 100 + (i % 2 === 0 ? wobbleMm : -wobbleMm);
      return { xMm: r * Math.sin(a), yMm: 100 - r * Math.cos(a) };
    });

  it('come near a circle with the fourth power of the step', () => {
    const off = (count: number) =>
      Math.abs(halfOutline(piecesThroughPoints(circle(count), 200)).lengthMm - 100 * Math.PI);
    expectClose(Math.log2(off(15) / off(31)), 4, { tol: 0.3, source: 'from memory' });
    expect(off(31)).toBeLessThan(0.005);
  });

  it('leave both ends square to the centre line', () => {
    const shape = halfOutline(piecesThroughPoints(circle(9), 200));
    expect(pointAtArc(shape, 0.5).yMm).toBeLessThan(0.01);
    expect(pointAtArc(shape, shape.lengthMm - 0.5).yMm).toBeGreaterThan(199.99);
  });

  it('are smoothed: a wobble of 0.2 mm on a circle goes, a circle stays', () => {
    const faired = fairPoints(circle(31, 0.2), 200, 60);
    const shape = halfOutline(piecesThroughPoints(faired?.points ?? [], 200));
    expectClose(tightestBend(shape).radiusMm, 100, { tol: 3, source });
    const round = halfOutline(piecesThroughPoints(circle(400), 200));
    for (const p of faired?.points ?? []) expect(Math.abs(depthInsideMm(round, p))).toBeLessThan(0.05);
    expect(fairPoints(circle(31), 200, 60)?.movedMm).toBeLessThan(0.02);
    expect(fairPoints(circle(4), 200, 60)).toBeUndefined();
  });
});
