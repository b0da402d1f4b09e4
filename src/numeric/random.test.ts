import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { makeRandom } from './random.ts';
import { mean, quantile, variance } from './statistics.ts';

const draw = (seed: number, count: number, take: 'next' | 'normal'): number[] => {
  const random = makeRandom(seed);
  return Array.from({ length: count }, () => random[take]());
};

describe('seeded chance', () => {
  it('gives the same numbers for the same seed and others for another', () => {
    expect(draw(7, 50, 'next')).toEqual(draw(7, 50, 'next'));
    expect(draw(7, 50, 'next')).not.toEqual(draw(8, 50, 'next'));
    expect(draw(-1, 5, 'next')).not.toEqual(draw(1, 5, 'next'));
  });

  it('is uniform: mean 1/2, variance 1/12, every twentieth filled alike', () => {
    const values = draw(3, 100_000, 'next');
    // five standard errors: 5 / sqrt(12 * 100000) = 0.0046
    expectClose(mean(values), 0.5, { tol: 0.0046, source: 'arithmetic' });
    expectClose(variance(values), 1 / 12, { tol: 0.001, source: 'arithmetic' });
    const boxes = new Array<number>(20).fill(0);
    for (const v of values) boxes[Math.floor(v * 20)]!++;
    // chi-square with 19 degrees of freedom has mean 19 and standard deviation sqrt(38) = 6.2
    const chi = boxes.reduce((sum, n) => sum + (n - 5000) ** 2 / 5000, 0);
    expect(chi).toBeLessThan(50);
    expect(chi).toBeGreaterThan(3);
  });

  it('has a normal with mean 0, variance 1 and 2.5 % beyond 1.96', () => {
    const values = draw(4, 100_000, 'normal').sort((a, b) => a - b);
    expectClose(mean(values), 0, { tol: 0.016, source: 'arithmetic' });
    expectClose(variance(values), 1, { tol: 0.023, source: 'arithmetic' });
    expectClose(quantile(values, 0.975), 1.96, { tol: 0.04, source: 'from memory' });
  });

  it('refuses a seed that is not a number', () => {
    expect(() => makeRandom(Number.NaN)).toThrow('seed NaN must be a finite number');
  });
});

describe('statistics', () => {
  it('interpolates quantiles between order statistics', () => {
    // positions 0, 1, 2, 3 hold 10, 20, 30, 50: a quarter lies at position 0.75, nine tenths at 2.7
    expectClose(quantile([10, 20, 30, 50], 0.25), 17.5, { tol: 1e-12, source: 'arithmetic' });
    expectClose(quantile([10, 20, 30, 50], 0.9), 44, { tol: 1e-12, source: 'arithmetic' });
    expectClose(quantile([10, 20, 30, 50], 1), 50, { tol: 1e-12, source: 'arithmetic' });
    expect(() => quantile([], 0.5)).toThrow('empty');
    expect(() => quantile([1], 1.5)).toThrow('1.5 must lie in 0..1');
  });

  it('has mean and variance with n - 1', () => {
    expectClose(mean([1, 2, 6]), 3, { tol: 1e-12, source: 'arithmetic' });
    // (4 + 1 + 9) / 2
    expectClose(variance([1, 2, 6]), 7, { tol: 1e-12, source: 'arithmetic' });
    expect(() => variance([1])).toThrow('needs at least 2');
  });
});
