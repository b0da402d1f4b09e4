import { describe, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { neckStiffness, sagUnderMomentMm } from './neck-section.ts';

describe('neckStiffness', () => {
  const neck = {
    widthMm: 49,
    woodDepthMm: 15.5,
    boardThicknessMm: 6,
    woodModulusMPa: 10000,
    boardModulusMPa: 16000,
  };
  const twice = 'worked out twice from half ellipse and rectangle';

  it('of 49 x 15.5 wood under a 49 x 6 board', () => {
    const found = neckStiffness(neck);
    expectClose(found.stiffnessNmm2 / 1e6, 355, { tol: 1, source: twice });
    expectClose(found.neutralDepthMm, 8.36, { tol: 0.01, source: twice });
    const armMm = 10.7;
    const moment = 678.5 * armMm;
    expectClose(sagUnderMomentMm(moment, 348.26, found.stiffnessNmm2), 0.31, { tol: 0.006, source: twice });
  });

  it('agrees with a sum over thin layers', () => {
    const { widthMm, woodDepthMm, boardThicknessMm: t, woodModulusMPa, boardModulusMPa } = neck;
    const layers = Array.from({ length: 40000 }, (_, i) => {
      const h = (t + woodDepthMm) / 40000;
      const z = (i + 0.5) * h;
      const wide = z < t ? widthMm : widthMm * Math.sqrt(1 - ((z - t) / woodDepthMm) ** 2);
      return { z, ea: (z < t ? boardModulusMPa : woodModulusMPa) * wide * h };
    });
    const ea = layers.reduce((s, l) => s + l.ea, 0);
    const neutral = layers.reduce((s, l) => s + l.ea * l.z, 0) / ea;
    const stiffness = layers.reduce((s, l) => s + l.ea * (l.z - neutral) ** 2, 0);
    const found = neckStiffness(neck);
    expectClose(found.neutralDepthMm, neutral, { tol: 1e-3, source: 'beam-theory, summed layer by layer' });
    expectClose(found.stiffnessNmm2, stiffness, {
      tol: 1e-4 * stiffness,
      source: 'beam-theory, summed layer by layer',
    });
  });

  it('one wood throughout, no neck wood to speak of: a plain rectangle b h^3 / 12', () => {
    const found = neckStiffness({ ...neck, woodDepthMm: 1e-6, boardModulusMPa: 10000 });
    expectClose(found.stiffnessNmm2, (10000 * 49 * 6 ** 3) / 12, { tol: 100, source: 'beam-theory' });
  });
});
