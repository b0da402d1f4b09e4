import { expect } from 'vitest';

/** How near is near enough, and who says what the right number is. */
export interface Closeness {
  /** Absolute tolerance, same unit as the numbers; > 0 and smaller than a non-zero expected value. */
  readonly tol: number;
  /** Id in data/SOURCES.md, `from memory`, `common practice, no published source`, or a short derivation. */
  readonly source: string;
}

/**
 * The only way tests compare numbers. Refuses a missing source, a tolerance that cannot fail and NaN.
 */
export function expectClose(actual: number | undefined, expected: number, { tol, source }: Closeness): void {
  if (source.trim() === '') throw new Error('expectClose: name the source of the expected number');
  if (!(tol > 0)) throw new Error(`expectClose: tolerance ${tol} must be above 0`);
  if (expected !== 0 && tol >= Math.abs(expected))
    throw new Error(`expectClose: tolerance ${tol} is as big as the expected value ${expected}`);
  if (actual === undefined || !Number.isFinite(actual))
    expect.fail(`got ${actual}, expected ${expected} +- ${tol} (${source})`);
  if (Math.abs(actual - expected) > tol)
    expect.fail(`got ${actual}, expected ${expected} +- ${tol}, off by ${actual - expected} (${source})`);
}
