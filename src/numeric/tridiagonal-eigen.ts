/** Eigenvalues, ascending, of a symmetric tridiagonal matrix and the last component of each unit eigenvector. */
export interface TridiagonalEigen {
  readonly values: Float64Array;
  /** Column i (from i * size) is the unit eigenvector of value i. */
  readonly vectors: Float64Array;
}

/**
 * All eigenpairs of a symmetric tridiagonal matrix by implicit QL steps.
 *
 * @param diagonal  the diagonal, n numbers
 * @param beside    the numbers beside it, n - 1
 * @returns         eigenvalues ascending with their vectors
 * @throws RangeError when 60 steps do not settle one value (not seen for finite input)
 * @source          from memory
 */
export function tridiagonalEigen(diagonal: readonly number[], beside: readonly number[]): TridiagonalEigen {
  const n = diagonal.length;
  const d = Float64Array.from(diagonal);
  const e = new Float64Array(n);
  e.set(beside.slice(0, n - 1));
  const z = new Float64Array(n * n);
  for (let i = 0; i < n; i++) z[i * n + i] = 1;
  for (let l = 0; l < n; l++) {
    for (let step = 0; ; step++) {
      let m = l;
      while (m < n - 1 && Math.abs(e[m]!) > 1e-16 * (Math.abs(d[m]!) + Math.abs(d[m + 1]!))) m++;
      if (m === l) break;
      if (step === 60) throw new RangeError('tridiagonalEigen: no convergence in 60 steps');
      qlStep(d, e, z, n, l, m);
    }
  }
  return sortPairs(d, z, n);
}

function qlStep(d: Float64Array, e: Float64Array, z: Float64Array, n: number, l: number, m: number): void {
  let g = (d[l + 1]! - d[l]!) / (2 * e[l]!);
  let r = Math.hypot(g, 1);
  g = d[m]! - d[l]! + e[l]! / (g + (g >= 0 ? r : -r));
  let [s, c, p] = [1, 1, 0];
  for (let i = m - 1; i >= l; i--) {
    const f = s * e[i]!;
    const b = c * e[i]!;
    r = Math.hypot(f, g);
    e[i + 1] = r;
    if (r === 0) {
      d[i + 1]! -= p;
      e[m] = 0;
      return;
    }
    s = f / r;
    c = g / r;
    g = d[i + 1]! - p;
    r = (d[i]! - g) * s + 2 * c * b;
    p = s * r;
    d[i + 1] = g + p;
    g = c * r - b;
    for (let k = 0; k < n; k++) {
      const upper = z[(i + 1) * n + k]!;
      const lower = z[i * n + k]!;
      z[(i + 1) * n + k] = s * lower + c * upper;
      z[i * n + k] = c * lower - s * upper;
    }
  }
  d[l]! -= p;
  e[l] = g;
  e[m] = 0;
}

function sortPairs(d: Float64Array, z: Float64Array, n: number): TridiagonalEigen {
  const order = Array.from(d, (_, i) => i).sort((a, b) => d[a]! - d[b]!);
  const vectors = new Float64Array(n * n);
  order.forEach((from, to) => {
    vectors.set(z.subarray(from * n, from * n + n), to * n);
  });
  return { values: Float64Array.from(order, (i) => d[i]!), vectors };
}
