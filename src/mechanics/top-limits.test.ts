import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { braceMargin, spruceBendingStrengthMPa, tiltAfterYearDeg } from './top-limits.ts';

describe('limits of a top', () => {
  it('the strength of spruce is 10 200 lbf/in2', () => {
    expectClose(spruceBendingStrengthMPa, 10.2 * 6.894757, { tol: 0.05, source: 'wood-handbook' });
  });

  it('a brace may carry 17.4 MPa for years', () => {
    const margin = braceMargin(8.72);
    expectClose(margin.allowedMPa, 17.43, { tol: 0.01, source: 'wood-handbook' });
    expectClose(margin.usedFrac, 0.5, { tol: 0.001, source: 'arithmetic' });
  });

  it('creep adds 30 to 100 % in a year', () => {
    const year = tiltAfterYearDeg(1.5);
    expectClose(year.leastDeg, 1.95, { tol: 1e-9, source: 'common practice, no published source' });
    expect(year.mostDeg).toBe(3);
  });
});
