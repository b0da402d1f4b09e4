import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { findRoot } from './roots.ts';

describe('findRoot', () => {
  it('finds the root of two and the fixed point of the cosine', () => {
    expectClose(
      findRoot((x) => x * x - 2, { low: 0, high: 2 }),
      Math.SQRT2,
      { tol: 1e-12, source: 'arithmetic' },
    );
    expectClose(
      findRoot((x) => Math.cos(x) - x, { low: 0, high: 1 }),
      0.7390851332151607,
      { tol: 1e-12, source: 'the number x with cos x = x, any table of constants, from memory' },
    );
  });

  it('is not led astray by a flat root or a steep one', () => {
    expectClose(
      findRoot((x) => (x - 0.3) ** 9, { low: -1, high: 1.1 }),
      0.3,
      { tol: 1e-4, source: 'arithmetic' },
    );
    expectClose(
      findRoot((x) => Math.atan(1000 * (x - 0.7)), { low: -5, high: 9 }),
      0.7,
      { tol: 1e-9, source: 'arithmetic' },
    );
  });

  it('finds any root of a cubic that rises, wherever it lies (seed 3)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -50, max: 50, noNaN: true }),
        fc.double({ min: 1e-3, max: 10, noNaN: true }),
        (root, lean) => {
          const found = findRoot((x) => (x - root) ** 3 + lean * (x - root), { low: -60, high: 60 });
          expect(found).toBeDefined();
          expect(Math.abs((found as number) - root)).toBeLessThan(1e-9 * Math.max(1, Math.abs(root)));
        },
      ),
      { seed: 3, numRuns: 300 },
    );
  });

  it('needs few steps on a smooth function', () => {
    let calls = 0;
    findRoot(
      (x) => {
        calls++;
        return Math.exp(x) - 3;
      },
      { low: -4, high: 4 },
    );
    expect(calls).toBeLessThan(16);
  });

  it('gives nothing where the ends do not differ in sign or a value is none', () => {
    expect(findRoot((x) => x * x + 1, { low: -1, high: 1 })).toBeUndefined();
    expect(findRoot((x) => Math.sqrt(x), { low: -1, high: 1 })).toBeUndefined();
  });
});
