import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { airWithTop, rigidAirToneHz } from './air.ts';

const source = 'helmholtz-resonator';
const mode = { linesAlongCount: 0, linesAcrossCount: 0, name: 'one field' };

describe('air tone with a named end correction', () => {
  it('thin hole: 157.59 Hz for 12 l and 50 mm at 343 m/s', () => {
    const box = { volumeLitre: 12, holeRadiusMm: 50, topMm: 2.8, tempC: 19.68 };
    expectClose(rigidAirToneHz(box, 'thinHole'), 157.59, { tol: 0.05, source: 'rayleigh-conductivity' });
  });

  it('flanged: 141.2 Hz for 13.11 l and 49 mm; the thin hole lies 4 % higher', () => {
    const box = { volumeLitre: 13.11, holeRadiusMm: 49, topMm: 2.8, tempC: 20 };
    expectClose(rigidAirToneHz(box, 'flanged'), 141.2, { tol: 1, source });
    const ratio = rigidAirToneHz(box, 'thinHole', true) / rigidAirToneHz(box, 'flanged');
    expectClose(ratio, 1.04, { tol: 0.005, source: 'rayleigh-conductivity' });
  });

  it('a longer plug sounds lower: unflanged above thin hole above flanged', () => {
    const box = { volumeLitre: 10, holeRadiusMm: 45, topMm: 2.5, tempC: 20 };
    const tones = (['unflanged', 'thinHole', 'flangedExact', 'flanged'] as const).map((c) =>
      rigidAirToneHz(box, c, true),
    );
    for (let i = 1; i < tones.length; i++) expect(tones[i]).toBeLessThan(tones[i - 1]!);
  });
});

describe('air with the computed top', () => {
  const box = { volumeLitre: 13.11, holeRadiusMm: 49, topMm: 2.8, tempC: 20 };

  it('a piston of 0.040 m2 and 0.075 kg at 185 Hz gives 123.5 and 211.6 Hz', () => {
    const tones = airWithTop(box, [{ ...mode, frequencyHz: 185, pistonMassKg: 0.075, pistonAreaM2: 0.04 }])!;
    expectClose(tones.lowHz, 123.5, { tol: 0.2, source: 'christensen-vistisen-1980' });
    expectClose(tones.highHz, 211.6, { tol: 0.3, source: 'christensen-vistisen-1980' });
  });

  it('takes the mode that moves most air for its mass', () => {
    const still = { ...mode, frequencyHz: 100, pistonMassKg: 0.05, pistonAreaM2: 0.001 };
    const main = { ...mode, frequencyHz: 185, pistonMassKg: 0.075, pistonAreaM2: 0.04 };
    expect(airWithTop(box, [still, main])?.bareHz).toBe(185);
    expect(airWithTop(box, [])).toBeUndefined();
  });
});
