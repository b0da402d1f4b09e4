import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { outlineChecks } from '../../test/support/outline-checks.ts';
import { STARTING, startingPattern } from '../../test/support/patterns.ts';
import { makeRandom } from '../numeric/random.ts';
import { fitFrets } from './fit-frets.ts';
import { fitOutline, outlineInputs } from './fit-outline.ts';

const typed = 'the numbers the half widths were made from';
const stations = (name: (typeof STARTING)[number], noiseMm = 0, seed = 1) => {
  const random = makeRandom(seed);
  return outlineChecks[name].stationsMm.map(([yMm, xMm]) => ({ xMm: xMm + noiseMm * random.normal(), yMm }));
};

describe('fitOutline', () => {
  it.each(STARTING)('finds the few numbers of %s from its half widths at stations of 20 mm', (name) => {
    const lengthMm = startingPattern(name).numbers.get('body.length') as number;
    const fit = fitOutline({ points: stations(name), lengthMm });
    expect(fit.largestMm).toBeLessThan(0.02);
    expect(fit.isOwnOffered).toBe(false);
    for (const [id, value] of outlineInputs(fit.numbers)) {
      const wanted = startingPattern(name).numbers.get(id) as number;
      expectClose(value, wanted, { tol: id.endsWith('radius') ? 0.02 * wanted : 0.1, source: typed });
    }
  });

  it('finds the length too when it was not measured', () => {
    const fit = fitOutline({ points: stations('small-steel-string') });
    expectClose(fit.numbers.lengthMm, 480, { tol: 0.3, source: typed });
  });

  it('holds widths within 0.4 mm under reading errors of 0.2 mm (seeds 1 to 5)', () => {
    for (let seed = 1; seed <= 5; seed++) {
      const fit = fitOutline({ points: stations('nylon-string', 0.2, seed), lengthMm: 486 });
      expectClose(fit.numbers.lowerWidthMm, 364, { tol: 0.8, source: typed });
      expectClose(fit.numbers.waistWidthMm, 236, { tol: 0.8, source: typed });
      expect(fit.rmsMm).toBeLessThan(0.3);
    }
  });

  it('offers the own outline when the few numbers cannot draw the template', () => {
    const points = stations('small-steel-string').map((p) => ({
      ...p,
      xMm: p.xMm + 3 * Math.exp(-(((p.yMm - 260) / 25) ** 2)),
    }));
    const fit = fitOutline({ points, lengthMm: 480 });
    expect(fit.largestMm).toBeGreaterThan(0.5);
    expect(fit.isOwnOffered).toBe(true);
    expect(fit.ownPoints).toHaveLength(points.length);
  });

  it('refuses a cutaway, too few points and a body without a waist in one sentence', () => {
    const points = stations('small-steel-string');
    expect(() => fitOutline({ points, lengthMm: 480, asymmetryMm: 31, asymmetryYMm: 60 })).toThrow(
      /31\.0 mm off the centre line near 60 mm .* a cutaway cannot be fitted/,
    );
    expect(() => fitOutline({ points: points.slice(0, 9), lengthMm: 480 })).toThrow(/9 measured half widths/);
    expect(() => fitOutline({ points: [...points, { xMm: 90, yMm: 270 }], lengthMm: 480 })).toThrow(
      /270 mm stands twice, with half widths 158\.44 and 90 mm/,
    );
    expect(() => fitOutline({ points, lengthMm: 300 })).toThrow(/at 475 mm, and the body ends at 300 mm/);
    const egg = points.map((p) => ({ ...p, xMm: 185 * Math.sqrt(1 - ((p.yMm - 240) / 240) ** 2) }));
    expect(() => fitOutline({ points: egg, lengthMm: 480 })).toThrow(/no waist/);
  });
});

describe('fitFrets', () => {
  const places = (scaleMm: number, count: number, nutMm = 0) =>
    Array.from({ length: count }, (_, i) => ({
      fret: i + 1,
      placeMm: nutMm + scaleMm * (1 - 2 ** (-(i + 1) / 12)),
    }));

  it('finds scale and nut from any datum', () => {
    const fit = fitFrets(places(628, 20, 12.5));
    expectClose(fit.scaleMm, 628, { tol: 1e-6, source: 'equal-temperament' });
    expectClose(fit.nutMm, 12.5, { tol: 1e-6, source: 'equal-temperament' });
  });

  it('names the one wrong slot and is not pulled by it', () => {
    const measured = places(650, 19).map((f) => (f.fret === 9 ? { ...f, placeMm: f.placeMm + 1 } : f));
    const fit = fitFrets(measured);
    expectClose(fit.scaleMm, 650, { tol: 0.05, source: 'equal-temperament' });
    expect(fit.worst.fret).toBe(9);
    expectClose(fit.worst.residualMm, 1, { tol: 0.03, source: 'equal-temperament' });
    // 1731.23 e / (S - x_n)
    expectClose(fit.worst.cents, 1731.23 / (650 * 2 ** (-9 / 12)), {
      tol: 0.15,
      source: 'equal-temperament',
    });
  });

  it('keeps scale within 0.15 mm under reading errors of 0.05 mm (seeds 1 to 5)', () => {
    for (let seed = 1; seed <= 5; seed++) {
      const random = makeRandom(seed);
      const fit = fitFrets(
        places(430, 19).map((f) => ({ ...f, placeMm: f.placeMm + 0.05 * random.normal() })),
      );
      expectClose(fit.scaleMm, 430, { tol: 0.25, source: 'equal-temperament' });
    }
  });

  it('refuses lists that cannot be frets', () => {
    expect(() => fitFrets(places(628, 3))).toThrow(/3 fret places/);
    expect(() => fitFrets([...places(628, 5), { fret: 3, placeMm: 100 }])).toThrow(/Fret 3 stands twice/);
    expect(() => fitFrets(places(628, 6).map((f) => ({ ...f, placeMm: 300 - f.placeMm })))).toThrow(
      /not beyond fret/,
    );
  });
});
