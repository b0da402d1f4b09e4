import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import {
  type BestEnds,
  bothEndsLeastSquares,
  CENTS_PER_NEPER,
  fretErrorsCents,
  fretPlaceMm,
  idealTensionN,
  plainStringMassGPerM,
  type StrungString,
  setbackAtOctaveMm,
  setbackLeastSquares,
  stiffStringHz,
  strungTensionN,
  tensionForHzN,
  woundStringMassGPerM,
} from './stiff-string.ts';

const neck = { scaleMm: 628, pressDepthMm: 0.2, endFixityRatio: 0.5, sharedLengthMm: 0 };
const frets = Array.from({ length: 14 }, (_, i) => i + 1);
const twice = 'the same model worked out twice, apart from this code';

/** f, g/m, EA, EI of a light steel set, treble to bass; then T, dS at 12, dS least squares, rms, two-end dS, dN, rms. */
const steel: readonly (readonly number[])[] = [
  [329.63, 0.574, 14612, 85, 98.6, 1.99, 2.04, 0.37, 1.74, 0.25, 0.08],
  [246.94, 1.016, 25892, 267, 98.4, 3.71, 3.8, 0.66, 3.27, 0.44, 0.14],
  [196, 2.087, 12315, 60.3, 126.8, 1.48, 1.52, 0.25, 1.32, 0.17, 0.05],
  [146.83, 3.674, 14612, 85, 125.4, 1.86, 1.9, 0.3, 1.65, 0.2, 0.06],
  [110, 6.305, 19908, 158, 121, 2.73, 2.78, 0.43, 2.44, 0.29, 0.09],
  [82.41, 10.022, 29315, 342, 108.3, 4.6, 4.69, 0.71, 4.12, 0.48, 0.15],
];
const strungString = (i: number): StrungString => {
  const [frequencyHz, massGPerM, axialStiffnessN, bendingStiffnessNmm2] = steel[i] as readonly [
    number,
    number,
    number,
    number,
  ];
  return {
    frequencyHz,
    massGPerM,
    axialStiffnessN,
    bendingStiffnessNmm2,
    nutHeightMm: 0.12,
    action12Mm: 1.8 + 0.1 * i,
  };
};

describe('mass of a string', () => {
  it('plain steel 0.305 mm', () => {
    expectClose(plainStringMassGPerM(0.305, 7850), 0.574, { tol: 0.001, source: twice });
  });
  it('wound, 0.305 core', () => {
    // outer 0.610: wrap (0.610 - 0.305 of core)/2; the G of the set has a 0.28 core
    expectClose(woundStringMassGPerM(0.28, 0.165, 7850, 8850), 2.087, { tol: 0.01, source: twice });
  });
  it('wound with nothing is the core', () => {
    expectClose(woundStringMassGPerM(0.4, 0, 7850, 8850), plainStringMassGPerM(0.4, 7850), {
      tol: 1e-12,
      source: 'plane-geometry',
    });
  });
});

describe('stiffStringHz', () => {
  const limp = { massGPerM: 1, axialStiffnessN: 1e4, bendingStiffnessNmm2: 0 };

  it('without stiffness is the ideal string, by a problem in round numbers', () => {
    // 100 N, 1 g/m: waves run at root(100/0.001) = 316.228 m/s; half a metre is half a wave
    expectClose(stiffStringHz(limp, 100, 500, 1), 316.2278, {
      tol: 1e-3,
      source: 'worked in the comment above',
    });
    expectClose(idealTensionN(1, 500, 316.2278), 100, { tol: 1e-3, source: 'worked in the comment above' });
  });

  it('hinged, equals a beam under tension: root of (pi/L)^2 T/mu + (pi/L)^4 EI/mu, exactly', () => {
    const s = { ...limp, bendingStiffnessNmm2: 900 };
    const k = Math.PI / 0.65;
    const mu = 0.001;
    const exact = Math.sqrt((k ** 2 * 80) / mu + (k ** 4 * 900e-6) / mu) / (2 * Math.PI);
    expectClose(stiffStringHz(s, 80, 650, 0), exact, { tol: 1e-9, source: 'beam-theory' });
  });

  it('clamped, comes within a tenth of a cent of the clamped beam under tension', () => {
    // Clamped-clamped bar under tension: roots of the characteristic equation
    // 2 a b (1 - cosh(a L) cos(b L)) + (a^2 - b^2) sinh(a L) sin(b L) = 0, a^2 - b^2 = T/EI, a b = w root(mu/EI)
    const s = { ...limp, bendingStiffnessNmm2: 85 };
    const lengthM = 0.628;
    const tension = 98.6;
    const ei = 85e-6;
    const w = 2 * Math.PI * stiffStringHz(s, tension, 628, 1);
    const residual = (wTry: number): number => {
      const q = tension / (2 * ei);
      const root = Math.sqrt(q * q + (0.001 * wTry ** 2) / ei);
      const a = Math.sqrt(root + q);
      const b = Math.sqrt(root - q);
      // divided by cosh(aL), which is huge
      const one = 1 / Math.cosh(a * lengthM);
      return (
        2 * a * b * (one - Math.cos(b * lengthM)) +
        (a * a - b * b) * Math.tanh(a * lengthM) * Math.sin(b * lengthM)
      );
    };
    let low = w * 0.99;
    let high = w * 1.01;
    expect(residual(low) * residual(high)).toBeLessThan(0);
    for (let i = 0; i < 80; i++) {
      const middle = (low + high) / 2;
      if (residual(low) * residual(middle) <= 0) high = middle;
      else low = middle;
    }
    const cents = CENTS_PER_NEPER * Math.log(w / low);
    expect(Math.abs(cents)).toBeLessThan(0.1);
    const hinged = CENTS_PER_NEPER * Math.log((2 * Math.PI * stiffStringHz(s, tension, 628, 0)) / low);
    expect(hinged, 'the hinged formula is several cents off, so the check can fail').toBeLessThan(-4);
  });

  it('is undone by tensionForHzN (seed 4)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 40, max: 300, noNaN: true }),
        fc.double({ min: 0, max: 400, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (tension, stiffness, fixity) => {
          const s = { massGPerM: 2, axialStiffnessN: 1e4, bendingStiffnessNmm2: stiffness };
          const back = tensionForHzN(s, 600, stiffStringHz(s, tension, 600, fixity), fixity);
          expect(Math.abs(back - tension)).toBeLessThan(1e-8 * tension);
        },
      ),
      { seed: 4, numRuns: 300 },
    );
  });
});

describe('fret errors', () => {
  it('vanish for a limp string at the fret tops that does not stretch: equal temperament', () => {
    const s: StrungString = {
      frequencyHz: 110,
      massGPerM: 6,
      axialStiffnessN: 0,
      bendingStiffnessNmm2: 0,
      nutHeightMm: 0,
      action12Mm: 0,
    };
    for (const error of fretErrorsCents(s, { ...neck, pressDepthMm: 0 }, { saddleMm: 0, nutMm: 0 }, frets))
      expect(Math.abs(error)).toBeLessThan(1e-9);
  });

  it('grow with the action, the stiffness and the depth of the finger, and shrink with the setback', () => {
    const s = strungString(5);
    const at12 = (change: Partial<StrungString>, press = 0.2, saddleMm = 0): number =>
      fretErrorsCents(
        { ...s, ...change },
        { ...neck, pressDepthMm: press },
        { saddleMm, nutMm: 0 },
        [12],
      )[0] as number;
    const base = at12({});
    expect(at12({ action12Mm: 3 })).toBeGreaterThan(base + 1);
    expect(at12({ axialStiffnessN: 40000 })).toBeGreaterThan(base);
    expect(at12({ bendingStiffnessNmm2: 700 })).toBeGreaterThan(base);
    expect(at12({}, 0.4)).toBeGreaterThan(base);
    expect(at12({}, 0.2, 2)).toBeLessThan(base - 4);
  });

  it('change with the saddle as -1731.23 e (2^(n/12) - 1) / S', () => {
    const s = { ...strungString(2), axialStiffnessN: 0, bendingStiffnessNmm2: 0 };
    const [before] = fretErrorsCents(s, neck, { saddleMm: 0, nutMm: 0 }, [7]);
    const [after] = fretErrorsCents(s, neck, { saddleMm: 0.01, nutMm: 0 }, [7]);
    expectClose((after as number) - (before as number), (-1731.23 * 0.01 * (2 ** (7 / 12) - 1)) / 628, {
      tol: 2e-6,
      source: 'derivative of the length ratio, equal-temperament',
    });
  });

  it('a nut 0.3 mm too high about doubles the error of the first frets', () => {
    const s = strungString(0);
    const errors = (nutHeightMm: number) =>
      fretErrorsCents({ ...s, nutHeightMm }, neck, { saddleMm: 1.99, nutMm: 0 }, [1]);
    expect(errors(0.42)[0] as number).toBeGreaterThan(1.8 * (errors(0.12)[0] as number));
  });
});

describe('setbacks of a light steel set at 628 mm', () => {
  it.each(steel.map((row, i) => [i + 1, row, i] as const))('string %d', (_n, row, i) => {
    const s = strungString(i);
    const match = setbackAtOctaveMm(s, neck) as number;
    const least = setbackLeastSquares(s, neck, frets, match) as BestEnds;
    const both = bothEndsLeastSquares(s, neck, frets, match) as BestEnds;
    const [tension, at12, leastMm, rms, bothMm, nutMm, bothRms] = row.slice(4) as [
      number,
      number,
      number,
      number,
      number,
      number,
      number,
    ];
    expectClose(strungTensionN(s, neck, { saddleMm: match, nutMm: 0 }), tension, {
      tol: 0.13,
      source: twice,
    });
    expectClose(match, at12, { tol: 0.006, source: twice });
    expectClose(least.saddleMm, leastMm, { tol: 0.006, source: twice });
    expectClose(least.rmsCents, rms, { tol: 0.006, source: twice });
    expectClose(both.saddleMm, bothMm, { tol: 0.006, source: twice });
    expectClose(both.nutMm, nutMm, { tol: 0.006, source: twice });
    expectClose(both.rmsCents, bothRms, { tol: 0.006, source: twice });
  });

  it.each([
    [0, 1.07],
    [0.5, 1.99],
    [1, 2.9],
  ])('first string with end fixity %d', (endFixityRatio, wanted) => {
    expectClose(setbackAtOctaveMm(strungString(0), { ...neck, endFixityRatio }), wanted, {
      tol: 0.006,
      source: twice,
    });
  });

  it('least squares lies in a valley: 0.05 mm either way is worse', () => {
    const s = strungString(3);
    const best = setbackLeastSquares(s, neck, frets) as { saddleMm: number; rmsCents: number };
    for (const away of [-0.05, 0.05]) {
      const errors = fretErrorsCents(s, neck, { saddleMm: best.saddleMm + away, nutMm: 0 }, frets);
      const rms = Math.sqrt(errors.reduce((sum, e) => sum + e * e, 0) / errors.length);
      expect(rms).toBeGreaterThan(best.rmsCents);
    }
  });

  it('gives nothing without frets', () => {
    expect(setbackLeastSquares(strungString(0), neck, [])).toBeUndefined();
    expect(bothEndsLeastSquares(strungString(0), neck, [1])).toBeUndefined();
  });
});

describe('fretPlaceMm', () => {
  it('halves at 12 and sounds A4 = 440 from A3 = 220', () => {
    expect(fretPlaceMm(628, 12)).toBe(314);
    const ratio = 628 / (628 - fretPlaceMm(628, 4));
    expectClose(349.2282 * ratio, 440, {
      tol: 0.001,
      source: 'equal-temperament, F4 = 349.2282 Hz from memory',
    });
  });
});
