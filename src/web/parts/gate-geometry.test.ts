import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../../test/support/expect-close.ts';
import { gatePlaces } from './gate-geometry.ts';

const own = { tol: 0.02, source: 'plane-geometry: a linear scale' };

describe('gatePlaces', () => {
  it('keeps order and proportion: a number twice as far past the limit stands twice as far from the bar', () => {
    const near = gatePlaces(5, { low: 6 }, undefined, 4, 300);
    expect(near).toBeDefined();
    expectClose((near?.bars[0] ?? 0) - (near?.was ?? 0), 2 * ((near?.bars[0] ?? 0) - (near?.dot ?? 0)), own);
  });

  it('puts a number that lies on its limit onto the bar', () => {
    const places = gatePlaces(16, { low: 6, high: 16 }, undefined, undefined, 300);
    expectClose(places?.dot ?? 0, places?.bars[1] ?? -1, own);
  });

  it('keeps everything inside the box and in order, whatever the numbers (seed 11)', () => {
    const number = fc.double({ min: -1e4, max: 1e4, noNaN: true });
    fc.assert(
      fc.property(
        number,
        number,
        fc.double({ min: 0.01, max: 1e3, noNaN: true }),
        fc.boolean(),
        (value, low, width, isOpen) => {
          const hard = isOpen ? { low } : { low, high: low + width };
          const places = gatePlaces(value, hard, undefined, undefined, 300);
          if (!places) throw new Error('no places');
          for (const x of [...places.bars, places.dot]) {
            expect(x).toBeGreaterThanOrEqual(3.9);
            expect(x).toBeLessThanOrEqual(296.1);
          }
          if (value < low - 0.01 * Math.abs(low)) expect(places.dot).toBeLessThanOrEqual(places.bars[0] ?? 0);
          if (value > low) expect(places.dot).toBeGreaterThanOrEqual((places.bars[0] ?? 0) - 0.02);
        },
      ),
      { seed: 11, numRuns: 400 },
    );
  });

  it('gives nothing without a limit', () => {
    expect(gatePlaces(3, {}, undefined, undefined, 300)).toBeUndefined();
  });
});
