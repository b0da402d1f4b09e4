import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { fitLine, minimiseSquares, solveLeastSquares } from './least-squares.ts';

describe('fitLine', () => {
  it('gives the line of a small problem worked by hand', () => {
    // x 0 1 2 3, y 1 3 2 5: mean 1.5 and 2.75, sxy 5.5, sxx 5 -> slope 1.1, intercept 1.1
    const line = fitLine([1, 3, 2, 5].map((y, x) => ({ x, y })));
    expectClose(line.slope, 1.1, { tol: 1e-12, source: 'worked in the comment above' });
    expectClose(line.intercept, 1.1, { tol: 1e-12, source: 'worked in the comment above' });
    expectClose(line.residuals[3], 0.6, { tol: 1e-12, source: '5 - 1.1 - 3.3' });
  });

  it('lies level through points at one x, and needs at least one point', () => {
    expect(fitLine([{ x: 2, y: 4 }])).toEqual({ intercept: 4, slope: 0, residuals: [0] });
    expect(() => fitLine([])).toThrow('no points');
  });

  it('leaves residuals that balance and do not lean (seed 5)', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: -99, max: 99 }), fc.integer({ min: -99, max: 99 })), {
          minLength: 2,
          maxLength: 20,
        }),
        (pairs) => {
          const points = pairs.map(([x, y]) => ({ x, y }));
          const { residuals } = fitLine(points);
          const sum = residuals.reduce((s, r) => s + r, 0);
          const lean = residuals.reduce((s, r, i) => s + r * (points[i] as { x: number }).x, 0);
          expect(Math.abs(sum)).toBeLessThan(1e-9);
          expect(Math.abs(lean)).toBeLessThan(1e-7);
        },
      ),
      { seed: 5, numRuns: 200 },
    );
  });
});

describe('solveLeastSquares', () => {
  it('solves a square set exactly and a tall one like fitLine', () => {
    const exact = solveLeastSquares(
      [
        [2, 1],
        [1, 3],
      ],
      [5, 10],
    );
    expectClose(exact?.[0], 1, { tol: 1e-12, source: 'arithmetic' });
    expectClose(exact?.[1], 3, { tol: 1e-12, source: 'arithmetic' });
    const tall = solveLeastSquares(
      [0, 1, 2, 3].map((x) => [1, x]),
      [1, 3, 2, 5],
    );
    expectClose(tall?.[1], 1.1, { tol: 1e-12, source: 'least-squares' });
  });

  it('gives nothing where the equations leave an unknown free', () => {
    expect(
      solveLeastSquares(
        [
          [1, 2],
          [2, 4],
          [3, 6],
        ],
        [1, 2, 3],
      ),
    ).toBeUndefined();
    expect(solveLeastSquares([[1, 2]], [1])).toBeUndefined();
  });
});

describe('minimiseSquares', () => {
  it('walks down the curved valley of Rosenbrock to (1, 1)', () => {
    const found = minimiseSquares(
      ([x, y]) => [10 * ((y as number) - (x as number) ** 2), 1 - (x as number)],
      [-1.2, 1],
      [1e-6, 1e-6],
      200,
    );
    expectClose(found?.values[0], 1, { tol: 1e-4, source: 'Rosenbrock 1960, from memory' });
    expectClose(found?.values[1], 1, { tol: 2e-4, source: 'Rosenbrock 1960, from memory' });
  });

  it('stays inside what is possible and refuses an impossible start', () => {
    const inside = minimiseSquares(
      ([x]) => ((x as number) < 0 ? undefined : [Math.sqrt(x as number) - 3]),
      [0.5],
      [1e-6],
    );
    expectClose(inside?.values[0], 9, { tol: 1e-4, source: 'arithmetic' });
    expect(minimiseSquares(() => undefined, [1], [1])).toBeUndefined();
  });
});
