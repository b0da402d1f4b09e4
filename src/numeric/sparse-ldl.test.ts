import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { minimumDegree } from './minimum-degree.ts';
import { type Graph, nestedDissection } from './nested-dissection.ts';
import { makeRandom } from './random.ts';
import { shiftInvertLanczos } from './shift-invert-lanczos.ts';
import { factorLdl, planLdl, postOrder, solveLdl } from './sparse-ldl.ts';
import { type BlockPattern, blockPattern, multiplySymmetric } from './sparse-symmetric.ts';

const source = 'arithmetic';

/** A grid of nodes, each joined to its right and upper neighbour. */
function grid(columns: number, rows: number): { graph: Graph; x: Float64Array; y: Float64Array } {
  const lists = Array.from({ length: columns * rows }, (_, i) => {
    const [c, r] = [i % columns, Math.floor(i / columns)];
    return [
      ...(c > 0 ? [i - 1] : []),
      ...(c + 1 < columns ? [i + 1] : []),
      ...(r > 0 ? [i - columns] : []),
      ...(r + 1 < rows ? [i + columns] : []),
    ];
  });
  const start = Int32Array.from([0, ...lists.map((_, i) => lists.slice(0, i + 1).flat().length)]);
  return {
    graph: { start, neighbour: Int32Array.from(lists.flat()) },
    x: Float64Array.from(lists, (_, i) => i % columns),
    y: Float64Array.from(lists, (_, i) => Math.floor(i / columns)),
  };
}

function makePattern(
  columns: number,
  rows: number,
  dofs: Int32Array,
  isMinimumDegree: boolean,
): BlockPattern {
  const { graph, x, y } = grid(columns, rows);
  const order = isMinimumDegree ? minimumDegree(graph, dofs) : nestedDissection(graph, x, y, dofs);
  expect([...order].sort((a, b) => a - b)).toEqual(Array.from(order, (_, i) => i));
  return blockPattern(graph, postOrder(order, blockPattern(graph, order, dofs)), dofs);
}

describe('sparse LDL (seed 11)', () => {
  it('solves random diagonally heavy systems in either order', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 99999 }), fc.boolean(), (seed, isMinimumDegree) => {
        const random = makeRandom(seed);
        const [columns, rows] = [1 + random.below(9), 1 + random.below(9)];
        const dofs = Int32Array.from({ length: columns * rows }, () => 1 + random.below(5));
        const pattern = makePattern(columns, rows, dofs, isMinimumDegree);
        const values = new Float64Array(pattern.row.length);
        let negative = 0;
        for (let c = 0; c < pattern.size; c++) {
          const sign = random.next() < 0.3 ? -1 : 1;
          if (sign < 0) negative++;
          for (let at = pattern.columnStart[c]!; at < pattern.columnStart[c + 1]!; at++)
            values[at] = pattern.row[at] === c ? sign * (60 + random.next()) : random.next() - 0.5;
        }
        const known = Float64Array.from({ length: pattern.size }, () => random.next() - 0.5);
        const right = new Float64Array(pattern.size);
        multiplySymmetric(pattern, values, known, right);
        const factor = factorLdl(planLdl(pattern), pattern, values)!;
        solveLdl(factor, right);
        right.forEach((value, i) => {
          expectClose(value - known[i]!, 0, { tol: 1e-10, source });
        });
        // Gershgorin: each row keeps the sign of its diagonal
        expect(factor.negativePivotCount).toBe(negative);
      }),
      { seed: 11, numRuns: 40 },
    );
  });

  it('says when a matrix is singular', () => {
    const pattern = makePattern(3, 1, Int32Array.from([1, 1, 1]), false);
    expect(factorLdl(planLdl(pattern), pattern, new Float64Array(pattern.row.length))).toBeUndefined();
  });
});

describe('shift-invert Lanczos', () => {
  it('finds the lowest eigenvalues of a chain of springs, 2 - 2 cos(k pi / (n + 1))', () => {
    const n = 60;
    const pattern = makePattern(n, 1, new Int32Array(n).fill(1), false);
    const stiffness = Float64Array.from(pattern.row, () => -1);
    const mass = new Float64Array(pattern.row.length);
    for (let c = 0; c < n; c++) {
      stiffness[pattern.columnStart[c]!] = 2;
      mass[pattern.columnStart[c]!] = 1;
    }
    const factor = factorLdl(planLdl(pattern), pattern, stiffness)!;
    const pairs = shiftInvertLanczos(
      { pattern, mass, factor, shift: 0, leftOut: [] },
      { wantedCount: 6, roughCount: 1, maxSteps: 60, residualFrac: 1e-6, seed: 3 },
    );
    expect(pairs.length).toBeGreaterThanOrEqual(6);
    for (let k = 1; k <= 6; k++) {
      const exact = 2 - 2 * Math.cos((k * Math.PI) / (n + 1));
      expectClose(pairs[k - 1]?.value, exact, { tol: exact * 1e-9, source });
    }
    const out = new Float64Array(n);
    multiplySymmetric(pattern, stiffness, pairs[2]!.vector, out);
    out.forEach((value, i) => {
      expectClose(value - pairs[2]!.value * pairs[2]!.vector[i]!, 0, { tol: 1e-6, source });
    });
  });
});
