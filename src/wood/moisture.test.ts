import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { table42 } from './emc-table.fixture.ts';
import { equilibriumMoistureFrac, humidityForMoistureFrac } from './moisture.ts';

describe('moisture in equilibrium with the air', () => {
  it.each(table42)('agrees with the handbook table at %i F within 0.07 %% moisture', (tempF, cells) => {
    expect(cells.length).toBeGreaterThan(5);
    for (const [humidityPct, moisturePct] of cells)
      expectClose(
        100 * equilibriumMoistureFrac({ tempC: ((tempF - 32) * 5) / 9, humidityFrac: humidityPct / 100 }),
        moisturePct,
        { tol: 0.07, source: 'wood-handbook, Table 4-2' },
      );
  });

  it('grows with humidity, and the way back finds the same humidity', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 5, max: 40, noNaN: true }),
        fc.double({ min: 0.02, max: 0.95, noNaN: true }),
        (tempC, humidityFrac) => {
          const moisture = equilibriumMoistureFrac({ tempC, humidityFrac });
          expect(equilibriumMoistureFrac({ tempC, humidityFrac: humidityFrac + 0.01 })).toBeGreaterThan(
            moisture,
          );
          expectClose(humidityForMoistureFrac(moisture, tempC), humidityFrac, {
            tol: 1e-6,
            source: 'arithmetic',
          });
        },
      ),
      { seed: 31, numRuns: 200 },
    );
  });

  it('has no humidity for wood wetter than the air can make it', () => {
    expect(humidityForMoistureFrac(0.4, 20)).toBeUndefined();
    expect(humidityForMoistureFrac(-0.01, 20)).toBeUndefined();
  });

  it('refuses air that no room has, in one sentence', () => {
    expect(() => equilibriumMoistureFrac({ tempC: 21, humidityFrac: 45 })).toThrow(
      'Humidity is 4500 %; it must lie between 0 and 99 %, read the meter again.',
    );
    expect(() => equilibriumMoistureFrac({ tempC: 300, humidityFrac: 0.4 })).toThrow(/Temperature is 300 C/);
    expect(() => equilibriumMoistureFrac({ tempC: Number.NaN, humidityFrac: 0.4 })).toThrow(/Temperature/);
  });
});
