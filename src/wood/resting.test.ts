import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { moistureAfterDays, restingDays } from './resting.ts';

const source = 'common practice, no published source';

describe('resting', () => {
  it('meets the two known thicknesses and lies between them in between', () => {
    const [thin, middle, thick] = [restingDays(3), restingDays(8), restingDays(25)];
    expectClose(thin.low, 1, { tol: 1e-9, source });
    expectClose(thin.high, 3, { tol: 1e-9, source });
    expectClose(thick.low, 21, { tol: 1e-9, source });
    expectClose(thick.high, 42, { tol: 1e-9, source });
    expect(middle.likely).toBeGreaterThan(thin.likely);
    expect(middle.likely).toBeLessThan(thick.likely);
  });
  it('makes nine tenths of the change in the named days', () => {
    expectClose(moistureAfterDays(0.12, 0.08, 2, 2), 0.084, { tol: 1e-9, source: 'arithmetic' });
    expectClose(moistureAfterDays(0.12, 0.08, 0, 2), 0.12, { tol: 1e-9, source: 'arithmetic' });
  });
  it('refuses a thickness it knows nothing of', () => {
    expect(() => restingDays(0.1)).toThrow(/known from 0.5 to 60/);
  });
});
