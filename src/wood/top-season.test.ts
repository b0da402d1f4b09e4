import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { saddleRiseMm, type TopField, twoStripCurvature } from './top-season.ts';

/** Timoshenko's formula for two strips of the same width, written as he does. */
function bimetal(strain: number, t1: number, t2: number, e1: number, e2: number): number {
  const m = t1 / t2;
  const n = e1 / e2;
  const h = t1 + t2;
  return (6 * strain * (1 + m) ** 2) / (h * (3 * (1 + m) ** 2 + (1 + m * n) * (m * m + 1 / (m * n))));
}

const steel: TopField = {
  alongMm: 289,
  acrossMm: 370,
  thicknessMm: 2.8,
  eAlongMPa: 11_000,
  eAcrossMPa: 850,
  shearMPa: 700,
  poissonAlongAcross: 0.37,
  saddleAtFrac: 0.37,
  bars: [1, -1].map((side) => ({
    angleToAcrossRad: (side * 42 * Math.PI) / 180,
    lengthMm: 260,
    widthMm: 8,
    heightMm: 14,
    modulusMPa: 10_800,
    face: 'inside' as const,
  })),
};

describe('two strips', () => {
  it('curve as the closed form says, for any sizes', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 20, noNaN: true }),
        fc.double({ min: 0.5, max: 20, noNaN: true }),
        fc.double({ min: 300, max: 20_000, noNaN: true }),
        fc.double({ min: 300, max: 20_000, noNaN: true }),
        (t1, t2, e1, e2) => {
          const expected = bimetal(0.004, t1, t2, e1, e2);
          const got = twoStripCurvature(
            0.004,
            { widthMm: 10, heightMm: t1, modulusMPa: e1 },
            { widthMm: 10, heightMm: t2, modulusMPa: e2 },
          );
          expectClose(got, expected, { tol: expected * 1e-9, source: 'timoshenko-bimetal' });
        },
      ),
      { seed: 5, numRuns: 100 },
    );
  });
  it('equal strips of one metal: 3 strain / (2 h)', () => {
    const strip = { widthMm: 5, heightMm: 2, modulusMPa: 1000 };
    expectClose(twoStripCurvature(0.001, strip, strip), (3 * 0.001) / (2 * 4), {
      tol: 1e-12,
      source: 'timoshenko-bimetal',
    });
  });
});

describe('the top through the seasons', () => {
  it('a long field with bars straight across is the two-strip bow: curvature x width^2 / 8', () => {
    const barCount = 200;
    const field: TopField = {
      ...steel,
      alongMm: 20_000,
      acrossMm: 300,
      poissonAlongAcross: 0,
      saddleAtFrac: 0.5,
      bars: [
        {
          angleToAcrossRad: 0,
          lengthMm: 300 * barCount,
          widthMm: 8,
          heightMm: 12,
          modulusMPa: 10_800,
          face: 'inside',
        },
      ],
    };
    const curvature = twoStripCurvature(
      0.003,
      { widthMm: 20_000 / barCount, heightMm: 2.8, modulusMPa: 850 },
      { widthMm: 8, heightMm: 12, modulusMPa: 10_800 },
    );
    const expected = (curvature * 300 ** 2) / 8;
    // the sum over half waves stops at 15
    expectClose(saddleRiseMm(field, 0.003), expected, { tol: expected * 0.05, source: 'timoshenko-bimetal' });
  });

  it('rises when damp, falls when dry by as much, and stays without bars', () => {
    const up = saddleRiseMm(steel, 0.0034);
    expect(up).toBeGreaterThan(0);
    expectClose(saddleRiseMm(steel, -0.0034), -up, { tol: 1e-12, source: 'arithmetic' });
    expectClose(saddleRiseMm({ ...steel, bars: [] }, 0.0034), 0, { tol: 1e-12, source: 'arithmetic' });
  });

  it('an X-braced top moves by tenths of a millimetre between 45 and 30 % humidity', () => {
    // common practice, no published source: 0.2 to 0.6 over a season
    const fall = -saddleRiseMm(steel, -0.0034);
    expect(fall).toBeGreaterThan(0.1);
    expect(fall).toBeLessThan(1.2);
  });

  it('a bridge on the outside holds against it', () => {
    const bridge = {
      angleToAcrossRad: 0,
      lengthMm: 152,
      widthMm: 34,
      heightMm: 7,
      modulusMPa: 13_000,
      face: 'outside' as const,
    };
    expect(saddleRiseMm({ ...steel, bars: [...steel.bars, bridge] }, 0.003)).toBeLessThan(
      saddleRiseMm(steel, 0.003),
    );
  });
});
