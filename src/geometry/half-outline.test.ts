import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { cubic, mappedCubic, reversedCubic, splitCubic } from './cubic.ts';
import {
  arcAtPlaceMm,
  arcAtYMm,
  depthInsideMm,
  type HalfOutline,
  halfOutline,
  halfWidthAtMm,
  inflectionCount,
  isInsideOutline,
  nearestOnOutline,
  outlineAreaMm2,
  outlineTurns,
  placeAtArc,
  pointAtArc,
  scaledOutline,
  tightestBend,
} from './half-outline.ts';
import { offsetOutline } from './offset-outline.ts';

const geometry = 'plane-geometry';

/** Half ellipse with semi-axes a across and b along, neck end at (0, 0): `perQuarter` pieces a quarter, each with the handles of an arc. */
function ellipse(a: number, b: number, perQuarter: number): HalfOutline {
  const n = 2 * perQuarter;
  const step = Math.PI / n;
  const h = (4 / 3) * Math.tan(step / 4);
  const at = (angle: number, along = 0) => ({
    xMm: a * (Math.sin(angle) + along * Math.cos(angle)),
    yMm: b * (1 - Math.cos(angle) + along * Math.sin(angle)),
  });
  return halfOutline(
    Array.from({ length: n }, (_, i) =>
      cubic(at(i * step), at(i * step, h), at((i + 1) * step, -h), at((i + 1) * step)),
    ),
  );
}

/** Perimeter of an ellipse by the arithmetic-geometric mean (complete elliptic integral of the second kind). */
function ellipsePerimeter(a: number, b: number): number {
  let x = Math.max(a, b);
  let y = Math.min(a, b);
  const first = x;
  let sum = 0;
  let power = 0.5;
  const e2 = 1 - (y / x) ** 2;
  sum += power * e2 * first * first;
  for (let i = 0; i < 20; i++) {
    const nx = (x + y) / 2;
    const c = (x - y) / 2;
    y = Math.sqrt(x * y);
    x = nx;
    power *= 2;
    sum += power * c * c;
  }
  return ((2 * Math.PI) / x) * (first * first - sum);
}

describe('circle and ellipse through the outline code', () => {
  it('measures a circle: half perimeter, area, radius, half width', () => {
    const circle = ellipse(100, 100, 4);
    expectClose(circle.lengthMm, Math.PI * 100, { tol: 1e-4, source: geometry });
    expectClose(outlineAreaMm2(circle), Math.PI * 1e4, { tol: 0.05, source: geometry });
    expectClose(tightestBend(circle).radiusMm, 100, { tol: 0.01, source: geometry });
    expectClose(halfWidthAtMm(circle, 40), 80, { tol: 1e-4, source: geometry });
    expect(inflectionCount(circle)).toBe(0);
  });

  it('approaches a circle with the sixth power of the piece', () => {
    const off = (pieces: number) => Math.abs(ellipse(1, 1, pieces).lengthMm - Math.PI);
    expectClose(Math.log2(off(1) / off(2)), 6, { tol: 0.3, source: 'from memory' });
  });

  it('measures ellipses as the elliptic integral says, and close to the second formula of Ramanujan', () => {
    for (const [a, b] of [
      [185, 240],
      [109, 150],
      [60, 200],
    ] as const) {
      const e = ellipse(a, b, 8);
      const exact = ellipsePerimeter(a, b);
      expectClose(2 * e.lengthMm, exact, { tol: 2e-5, source: 'plane-geometry' });
      const h = ((a - b) / (a + b)) ** 2;
      const ramanujan = Math.PI * (a + b) * (1 + (3 * h) / (10 + Math.sqrt(4 - 3 * h)));
      expectClose(2 * e.lengthMm, ramanujan, { tol: 0.01, source: 'from memory' });
      expectClose(outlineAreaMm2(e), Math.PI * a * b, { tol: 0.02, source: geometry });
      expectClose(tightestBend(e).radiusMm, Math.min(a, b) ** 2 / Math.max(a, b), {
        tol: 0.01,
        source: geometry,
      });
    }
  });

  it('finds the bout of an ellipse with its radius of curvature', () => {
    const [bout] = outlineTurns(ellipse(60, 200, 8));
    expect(bout?.kind).toBe('bout');
    expectClose(bout?.point.yMm, 200, { tol: 1e-6, source: geometry });
    expectClose(bout?.radiusMm, (200 * 200) / 60, { tol: 0.5, source: geometry });
  });
});

describe('places on an outline', () => {
  const e = ellipse(120, 200, 3);
  it('finds the place of an arc length and back (seed 3)', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: e.lengthMm, noNaN: true }), (arc) => {
        expectClose(arcAtPlaceMm(e, placeAtArc(e, arc)) + 1, arc + 1, { tol: 1e-7, source: geometry });
      }),
      { seed: 3 },
    );
  });
  it('has the same arc length at y as at the point of that arc (seed 4)', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 399, noNaN: true }), (y) => {
        const arc = arcAtYMm(e, y);
        expectClose(pointAtArc(e, arc ?? Number.NaN).yMm, y, { tol: 1e-7, source: geometry });
      }),
      { seed: 4 },
    );
  });
  it('has no half width outside the body', () => {
    expect(halfWidthAtMm(e, -1)).toBeUndefined();
    expect(halfWidthAtMm(e, 401)).toBeUndefined();
  });
  it('measures the depth inside a circle from any point (seed 5)', () => {
    const circle = ellipse(100, 100, 6);
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 180, noNaN: true }),
        fc.double({ min: 0, max: 6.3, noNaN: true }),
        (r, angle) => {
          const p = { xMm: r * Math.sin(angle), yMm: 100 - r * Math.cos(angle) };
          expectClose(depthInsideMm(circle, p) + 500, 600 - r, { tol: 1e-4, source: geometry });
          expect(isInsideOutline(circle, p)).toBe(r <= 100);
        },
      ),
      { seed: 5 },
    );
  });
  it('finds the nearest place across the seam of two pieces', () => {
    const circle = ellipse(100, 100, 1);
    const { distanceMm } = nearestOnOutline(circle, { xMm: 150, yMm: 100 });
    expectClose(distanceMm, 50, { tol: 1e-9, source: geometry });
  });
});

describe('properties of outlines', () => {
  const base = ellipse(120, 190, 2);
  it('keeps length and area when pieces are split (seed 6)', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.02, max: 0.98, noNaN: true }), (t) => {
        const split = halfOutline(base.pieces.flatMap((c) => splitCubic(c, t)));
        expectClose(split.lengthMm, base.lengthMm, { tol: 1e-7, source: geometry });
        expectClose(outlineAreaMm2(split), outlineAreaMm2(base), { tol: 1e-5, source: geometry });
      }),
      { seed: 6 },
    );
  });
  it('runs the same length from the tail: reversed and turned about the middle', () => {
    const turned = halfOutline(
      [...base.pieces]
        .reverse()
        .map((c) => mappedCubic(reversedCubic(c), (p) => ({ xMm: p.xMm, yMm: 380 - p.yMm }))),
    );
    expectClose(turned.lengthMm, base.lengthMm, { tol: 1e-8, source: geometry });
    expectClose(halfWidthAtMm(turned, 100), halfWidthAtMm(base, 280) ?? 0, { tol: 1e-8, source: geometry });
    expectClose(outlineAreaMm2(turned), outlineAreaMm2(base), { tol: 1e-6, source: geometry });
  });
  it('scales by any factor, also 1e6 and 1e-6 (seed 8)', () => {
    fc.assert(
      fc.property(fc.constantFrom(1e-6, 0.1, 2, 25.4, 1e6), (k) => {
        const scaled = scaledOutline(base, k);
        expectClose(scaled.lengthMm / k, base.lengthMm, { tol: 1e-6, source: geometry });
        expectClose(outlineAreaMm2(scaled) / k / k, outlineAreaMm2(base), { tol: 1e-4, source: geometry });
        expectClose(tightestBend(scaled).radiusMm / k, tightestBend(base).radiusMm, {
          tol: 1e-5,
          source: geometry,
        });
      }),
      { seed: 8 },
    );
  });
});

describe('offsetOutline', () => {
  it('turns a circle into a circle and grows the length by pi times the offset (Steiner)', () => {
    const base = ellipse(120, 190, 4);
    for (const d of [-20, -2.1, 5, 30]) {
      const moved = offsetOutline(base, d);
      expectClose(moved?.lengthMm, base.lengthMm + Math.PI * d, { tol: 0.01, source: geometry });
      expectClose(
        moved && outlineAreaMm2(moved),
        outlineAreaMm2(base) + 2 * base.lengthMm * d + Math.PI * d * d,
        { tol: 2, source: geometry },
      );
    }
  });
  it('gives nothing when the curve would fold', () => {
    expect(offsetOutline(ellipse(100, 100, 2), -101)).toBeUndefined();
  });
});
