import { type LdlFactor, solveLdl } from './sparse-ldl.ts';
import { type BlockPattern, multiplySymmetric } from './sparse-symmetric.ts';
import { tridiagonalEigen } from './tridiagonal-eigen.ts';

/** One pair of K x = lambda M x, x scaled to x' M x = 1. */
export interface EigenPair {
  readonly value: number;
  readonly vector: Float64Array;
}

export interface LanczosProblem {
  readonly pattern: BlockPattern;
  /** M, lower triangle; may be singular, not indefinite. */
  readonly mass: Float64Array;
  /** Factor of K - shift M. */
  readonly factor: LdlFactor;
  readonly shift: number;
  /** Vectors to leave out, M-orthonormal (rigid-body modes and pairs already found). */
  readonly leftOut: readonly Float64Array[];
}

export interface LanczosLimits {
  /** Pairs that have to be exact. */
  readonly wantedCount: number;
  /** Further pairs that only have to be roughly known (to find a gap above the wanted ones). */
  readonly roughCount: number;
  readonly maxSteps: number;
  /** Residual bound a pair must reach, relative to its value. */
  readonly residualFrac: number;
  readonly seed: number;
}

/**
 * The eigenpairs of K x = lambda M x nearest above a shift, by Lanczos with full reorthogonalisation.
 *
 * @param problem  matrices and factor
 * @param limits   how many, how exact, first vector's seed
 * @returns        converged pairs, ascending; fewer than wanted when the space is exhausted
 * @source         from memory
 */
export function shiftInvertLanczos(problem: LanczosProblem, limits: LanczosLimits): EigenPair[] {
  const n = problem.pattern.size;
  const leftOut = problem.leftOut.map((vector) => ({ vector, massVector: massTimes(problem, vector) }));
  const basis: Float64Array[] = [];
  const massBasis: Float64Array[] = [];
  const diagonal: number[] = [];
  const beside: number[] = [];
  let vector = firstVector(problem, limits.seed);
  for (const o of leftOut) subtract(vector, o.vector, dot(o.massVector, vector));
  let massVector = massTimes(problem, vector);
  let norm = Math.sqrt(Math.max(0, dot(vector, massVector)));
  const maxSteps = Math.min(limits.maxSteps, n);
  while (basis.length < maxSteps) {
    scale(vector, 1 / norm);
    scale(massVector, 1 / norm);
    basis.push(vector);
    massBasis.push(massVector);
    vector = massVector.slice();
    solveLdl(problem.factor, vector);
    let own = 0;
    for (let pass = 0; pass < 2; pass++) {
      for (const o of leftOut) subtract(vector, o.vector, dot(o.massVector, vector));
      for (let j = basis.length - 1; j >= 0; j--) {
        const part = dot(massBasis[j]!, vector);
        subtract(vector, basis[j]!, part);
        if (j === basis.length - 1) own += part;
      }
    }
    diagonal.push(own);
    massVector = massTimes(problem, vector);
    norm = Math.sqrt(Math.max(0, dot(vector, massVector)));
    const isSpent = norm < 1e-14 * Math.abs(own);
    if (isSpent || basis.length === maxSteps || isTimeToLook(basis.length, limits.wantedCount)) {
      const ritz = tridiagonalEigen(diagonal, beside);
      const good = convergedCount(ritz, isSpent ? 0 : norm, limits);
      if (good >= limits.wantedCount + limits.roughCount || isSpent || basis.length === maxSteps)
        return ritzPairs(problem, ritz, basis, Math.min(good, limits.wantedCount + limits.roughCount));
    }
    beside.push(norm);
  }
  return [];
}

function isTimeToLook(steps: number, wanted: number): boolean {
  return steps >= Math.ceil(1.7 * wanted) + 4 && steps % 2 === 0;
}

/** How many of the largest Ritz values (the lowest modes) have settled, in a row. */
function convergedCount(
  ritz: { readonly values: Float64Array; readonly vectors: Float64Array },
  norm: number,
  limits: LanczosLimits,
): number {
  const n = ritz.values.length;
  let good = 0;
  for (let i = n - 1; i >= 0; i--) {
    const residual = norm * Math.abs(ritz.vectors[i * n + n - 1]!);
    const allowedFrac = good < limits.wantedCount ? limits.residualFrac : 3e-3;
    if (!(ritz.values[i]! > 0) || residual > allowedFrac * ritz.values[i]!) break;
    good++;
  }
  return good;
}

function ritzPairs(
  problem: LanczosProblem,
  ritz: { readonly values: Float64Array; readonly vectors: Float64Array },
  basis: readonly Float64Array[],
  count: number,
): EigenPair[] {
  const n = ritz.values.length;
  return Array.from({ length: count }, (_, k) => {
    const column = n - 1 - k;
    const vector = new Float64Array(problem.pattern.size);
    for (let j = 0; j < n; j++) subtract(vector, basis[j]!, -ritz.vectors[column * n + j]!);
    return { value: problem.shift + 1 / ritz.values[column]!, vector };
  });
}

/** A pseudo-random vector made smooth by one solve, so that it lies where M is felt. */
function firstVector(problem: LanczosProblem, seed: number): Float64Array {
  const n = problem.pattern.size;
  const raw = new Float64Array(n);
  let state = seed >>> 0 || 1;
  for (let i = 0; i < n; i++) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    raw[i] = state / 4294967296 - 0.5;
  }
  const out = massTimes(problem, raw);
  solveLdl(problem.factor, out);
  return out;
}

function massTimes(problem: LanczosProblem, x: Float64Array): Float64Array {
  const out = new Float64Array(x.length);
  multiplySymmetric(problem.pattern, problem.mass, x, out);
  return out;
}

function dot(a: Float64Array, b: Float64Array): number {
  let s0 = 0;
  let s1 = 0;
  let i = 0;
  for (; i + 1 < a.length; i += 2) {
    s0 += a[i]! * b[i]!;
    s1 += a[i + 1]! * b[i + 1]!;
  }
  if (i < a.length) s0 += a[i]! * b[i]!;
  return s0 + s1;
}

function subtract(target: Float64Array, from: Float64Array, factor: number): void {
  for (let i = 0; i < target.length; i++) target[i]! -= factor * from[i]!;
}

function scale(target: Float64Array, factor: number): void {
  for (let i = 0; i < target.length; i++) target[i]! *= factor;
}
