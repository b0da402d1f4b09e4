import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { crownMm, domeHeightMm, sagittaMm } from './sphere.ts';

const twice = 'worked out twice from R - root(R^2 - (c/2)^2)';

describe('sagittaMm', () => {
  it.each([
    [8500, 370, 2.013],
    [4600, 370, 3.722],
    [7500, 218, 0.792],
    [4600, 480, 6.265],
  ])('of radius %d over %d is %d', (radius, chord, wanted) => {
    expectClose(sagittaMm(radius, chord), wanted, { tol: 0.0006, source: twice });
  });

  it('is the radius for the whole diameter and nothing beyond it', () => {
    expectClose(sagittaMm(50, 100), 50, { tol: 1e-12, source: 'plane-geometry' });
    expect(sagittaMm(50, 100.1)).toBeUndefined();
  });

  it('gives the radius back: R = c^2 / 8h + h / 2 (seed 2)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 200, max: 20000, noNaN: true }),
        fc.double({ min: 10, max: 390, noNaN: true }),
        (radius, chord) => {
          const h = sagittaMm(radius, chord) as number;
          expect(Math.abs(chord ** 2 / (8 * h) + h / 2 - radius)).toBeLessThan(1e-7 * radius);
        },
      ),
      { seed: 2, numRuns: 300 },
    );
  });
});

describe('crownMm', () => {
  it('is 0 at the neck end and largest at the apex, where it is the sagitta over twice the way', () => {
    expect(crownMm(8500, 240, 0)).toBe(0);
    expectClose(crownMm(8500, 240, 240), sagittaMm(8500, 480) as number, {
      tol: 1e-12,
      source: 'plane-geometry',
    });
  });

  it.each([
    ['steel', 8500, 240, 282.48, 3.28],
    ['nylon', 9000, 243, 326.89, 2.89],
    ['uke', 7500, 150, 194.03, 1.37],
    ['steel board end', 8500, 240, 89.74, 2.06],
  ])('%s', (_name, radius, apex, y, wanted) => {
    expectClose(crownMm(radius, apex, y), wanted, { tol: 0.005, source: twice });
  });

  it('falls off across as it does along, on a sphere', () => {
    const onLine = domeHeightMm(8500, 240, 0, 240 + 130) as number;
    expectClose(domeHeightMm(8500, 240, 130, 240), onLine, { tol: 1e-12, source: 'plane-geometry' });
    expect(domeHeightMm(300, 240, 0, 700)).toBeUndefined();
  });
});
