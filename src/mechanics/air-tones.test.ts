import { describe, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { coupledTones, plugLengthMm, rigidAirHz, soundSpeedMPerS } from './air-tones.ts';

const twice = 'the same equations worked out twice, apart from this code';
const boxes = [
  ['steel', 13.11, 49, 2.8, 400, 75, 185, 141.2, 123.5, 211.6],
  ['nylon', 12.7, 42.5, 2.4, 380, 65, 170, 133.6, 113.3, 200.5],
  ['uke', 3.04, 30, 1.8, 145, 26, 290, 229.4, 206.7, 321.8],
] as const;

describe('air tones', () => {
  it('sound at 20 C', () => {
    expectClose(soundSpeedMPerS(20), 343.2, { tol: 0.05, source: 'helmholtz-resonator' });
  });

  it.each(boxes)('%s', (_n, volumeLitre, holeRadiusMm, topMm, areaCm2, massG, bareHz, rigid, low, high) => {
    const box = { volumeLitre, holeRadiusMm, topMm, tempC: 20 };
    // volumes are rounded to 0.01 litre: 0.2 Hz on the smallest box
    expectClose(rigidAirHz(box), rigid, { tol: 0.25, source: twice });
    const tones = coupledTones(box, { areaCm2, massG, bareHz });
    expectClose(tones.lowHz, low, { tol: 0.15, source: twice });
    expectClose(tones.highHz, high, { tol: 0.15, source: twice });
    expectClose(Math.hypot(tones.lowHz, tones.highHz), Math.hypot(tones.stoppedHz, rigidAirHz(box)), {
      tol: 1e-6,
      source:
        'christensen-vistisen-1980: the squares of the two tones add up to those of stopped top and rigid air',
    });
  });

  it('follow hole and volume: df/f is half of dr/r and minus half of dV/V', () => {
    const base = rigidAirHz({ volumeLitre: 13.11, holeRadiusMm: 49, topMm: 0, tempC: 20 });
    const wider = rigidAirHz({ volumeLitre: 13.11, holeRadiusMm: 49.49, topMm: 0, tempC: 20 });
    const bigger = rigidAirHz({ volumeLitre: 13.11 * 1.01, holeRadiusMm: 49, topMm: 0, tempC: 20 });
    expectClose(wider / base - 1, 0.005, { tol: 2e-5, source: 'arithmetic, to first order' });
    expectClose(bigger / base - 1, -0.005, { tol: 5e-5, source: 'arithmetic, to first order' });
  });

  it('a top that cannot move leaves the rigid tone', () => {
    const box = { volumeLitre: 13.11, holeRadiusMm: 49, topMm: 2.8, tempC: 20 };
    const tones = coupledTones(box, { areaCm2: 400, massG: 1e9, bareHz: 400 });
    expectClose(tones.lowHz, rigidAirHz(box), { tol: 1e-3, source: 'helmholtz-resonator' });
    expectClose(plugLengthMm(2.8, 49), 86.1, { tol: 1e-9, source: '2.8 + 1.7 x 49' });
  });
});
