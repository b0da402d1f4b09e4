import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { isFinding } from '../quantity/finding.ts';
import { batchPlan } from './batch-plan.ts';
import { PLAIN_READING, type ReadsBy, roundToMachine, turnsText } from './machine-rounding.ts';
import { comesOut, fitOffset, toType } from './offset-line.ts';
import { type PassPlan, type PassPlanInput, passPlan, passPlanText } from './pass-plan.ts';

const common = 'common practice, no published source';
const crank: ReadsBy = {
  unit: 'in',
  reads: { kind: 'crank', stepMm: 25.4 / 64, travelMm: 25.4 / 16, partsCount: 4, zeroMm: 0 },
  offset: { alphaMm: 0, beta: 1 },
};
const scale: ReadsBy = {
  unit: 'in',
  reads: { kind: 'scale', stepMm: 25.4 / 32 },
  offset: { alphaMm: 0, beta: 1 },
};

function plan(input: PassPlanInput): PassPlan {
  const made = passPlan(input);
  if (isFinding(made)) throw new Error(made.text);
  return made;
}

describe('offset of a display', () => {
  it('finds the line through two strips and the number to type', () => {
    const proved = fitOffset([
      { typedMm: 3.2, measuredMm: 3.28 },
      { typedMm: 4, measuredMm: 4.06 },
    ]);
    if (isFinding(proved)) throw new Error(proved.text);
    expectClose(proved.line.beta, 0.975, { tol: 1e-9, source: 'arithmetic: (4.06 - 3.28)/(4.00 - 3.20)' });
    expectClose(proved.line.alphaMm, 0.16, { tol: 1e-9, source: 'arithmetic: 3.28 - 0.975 x 3.20' });
    expectClose(toType(2.75, proved.line), 2.66, { tol: 0.005, source: 'arithmetic: (2.75 - 0.16)/0.975' });
    expectClose(comesOut(toType(2.75, proved.line), proved.line), 2.75, { tol: 1e-9, source: 'arithmetic' });
    expect(proved.needsService).toBe(false);
  });

  it('asks for service when a strip lies more than 0.05 off the line', () => {
    const strips = [3, 4, 5].map((typedMm, i) => ({ typedMm, measuredMm: typedMm + (i === 1 ? 0.15 : 0) }));
    const proved = fitOffset(strips);
    if (isFinding(proved)) throw new Error(proved.text);
    expectClose(proved.worstMm, 0.1, {
      tol: 1e-9,
      source: 'arithmetic: least squares of 0, 0.15, 0 is 0.05',
    });
    expect(proved.needsService).toBe(true);
  });

  it('shifts only, when there is one strip, and refuses strips that were mixed up', () => {
    const one = fitOffset([{ typedMm: 3, measuredMm: 3.1 }]);
    expect(one).toMatchObject({ line: { beta: 1 } });
    expect(
      isFinding(
        fitOffset([
          { typedMm: 3, measuredMm: 4 },
          { typedMm: 4, measuredMm: 3 },
        ]),
      ),
    ).toBe(true);
    expect(isFinding(fitOffset([]))).toBe(true);
  });
});

describe('rounding to what a machine shows', () => {
  it('a crank of 1/16 in a turn, in quarters: 2.75 wanted is 7 quarters and leaves 0.03', () => {
    const shown = roundToMachine(2.75, crank, 'more');
    expect(shown.stepCount).toBe(7);
    expect(shown.text).toBe('1 3/4 turns');
    expectClose(shown.resultMm, 2.78, { tol: 0.005, source: 'arithmetic: 7 x 25.4/64 = 2.778' });
    expectClose(shown.leavesMm, 0.03, { tol: 0.005, source: 'arithmetic' });
  });

  it('a scale of 1/32 in: 2.75 wanted is 4/32 and leaves 0.43', () => {
    const shown = roundToMachine(2.75, scale, 'more');
    expect(shown.stepCount).toBe(4);
    expect(shown.text).toBe('1/8 in');
    expectClose(shown.resultMm, 3.175, { tol: 1e-9, source: 'arithmetic: 4 x 25.4/32' });
    expectClose(shown.leavesMm, 0.43, { tol: 0.006, source: 'arithmetic: 0.425' });
  });

  it('a groove is rounded shallower', () => {
    const shown = roundToMachine(1.3, { ...PLAIN_READING, reads: { kind: 'scale', stepMm: 0.25 } }, 'less');
    expectClose(shown.resultMm, 1.25, { tol: 1e-9, source: 'arithmetic' });
    expect(shown.text).toBe('1.25 mm');
  });

  it('keeps a number that is already a whole step', () => {
    expectClose(
      roundToMachine(
        2.54,
        { ...PLAIN_READING, unit: 'in', reads: { kind: 'digital', stepMm: 0.0254 } },
        'more',
      ).leavesMm,
      0,
      { tol: 1e-9, source: 'arithmetic' },
    );
  });

  it('writes turns', () => {
    expect([0, 1, 2, 4, 5, 7, 8, -2].map((n) => turnsText(n, 4))).toEqual([
      '0 turns',
      '1/4 turn',
      '1/2 turn',
      '1 turn',
      '1 1/4 turns',
      '1 3/4 turns',
      '2 turns',
      '\u22121/2 turn',
    ]);
  });

  const machines = fc.record({
    step: fc.double({ min: 0.001, max: 1.6, noNaN: true }),
    alphaMm: fc.double({ min: -0.5, max: 0.5, noNaN: true }),
    beta: fc.double({ min: 0.9, max: 1.1, noNaN: true }),
    zeroMm: fc.double({ min: -3, max: 3, noNaN: true }),
  });
  const machineFrom = (m: { step: number; alphaMm: number; beta: number; zeroMm: number }): ReadsBy => ({
    unit: 'mm',
    reads: { kind: 'crank', stepMm: m.step, travelMm: 4 * m.step, partsCount: 4, zeroMm: m.zeroMm },
    offset: { alphaMm: m.alphaMm, beta: m.beta },
  });

  it('no rounded setting passes the low limit, nor leaves a whole step too much (seed 3)', () => {
    fc.assert(
      fc.property(
        machines,
        fc.double({ min: 0.5, max: 8, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (m, low, above) => {
          const wanted = low + above;
          const thick = roundToMachine(wanted, machineFrom(m), 'more');
          expect(thick.resultMm).toBeGreaterThanOrEqual(low - 1e-8);
          expect(thick.resultMm).toBeLessThan(wanted + m.step * m.beta + 1e-8);
          const groove = roundToMachine(wanted, machineFrom(m), 'less');
          expect(groove.resultMm).toBeLessThanOrEqual(wanted + 1e-8);
          expect(groove.resultMm).toBeGreaterThan(wanted - m.step * m.beta - 1e-8);
        },
      ),
      { seed: 3, numRuns: 500 },
    );
  });

  it('no pass of any plan on any machine goes under the low limit (seed 4)', () => {
    const cuts = fc.record({
      c: fc.double({ min: 0.1, max: 0.6, noNaN: true }),
      fine: fc.integer({ min: 0, max: 3 }),
    });
    fc.assert(
      fc.property(
        machines,
        cuts,
        fc.double({ min: 1.4, max: 4, noNaN: true }),
        fc.double({ min: 0, max: 4, noNaN: true }),
        (m, { c, fine }, low, stock) => {
          const made = plan({
            startMm: low + stock,
            targetMm: low,
            perPassMm: c,
            lastPerPassMm: 0.1,
            lastPassesCount: fine,
            machine: machineFrom(m),
            lowMm: low,
          });
          for (const p of made.passes) {
            expect(p.resultMm).toBeGreaterThanOrEqual(low - 1e-8);
            expect(comesOut(p.typeIn * 25.4, machineFrom(m).offset)).toBeGreaterThanOrEqual(low - 1e-6);
            expect(p.cutMm).toBeGreaterThan(0);
          }
        },
      ),
      { seed: 4 },
    );
  });
});

describe('pass plan', () => {
  it('0.150 to 0.100 in by 0.010 is 5 more passes after the first, faces in turn', () => {
    const inches: ReadsBy = { ...PLAIN_READING, unit: 'in', reads: { kind: 'digital', stepMm: 0.0254 } };
    const made = plan({
      startMm: 0.15 * 25.4,
      targetMm: 0.1 * 25.4,
      perPassMm: 0.01 * 25.4,
      machine: inches,
    });
    expectClose(made.afterFirstCount, 5, { tol: 0.1, source: common });
    expect(made.passes.map((p) => p.text)).toEqual(['.140 in', '.130 in', '.120 in', '.110 in', '.100 in']);
    expect(made.passes.map((p) => p.face)).toEqual(['A', 'B', 'A', 'B', 'A']);
    expectClose(made.leftMm, 0, { tol: 1e-6, source: common });
  });

  it('starts at the thickest place less one cut: 4.2 to 3.2 by 0.25 is 4 passes', () => {
    const made = plan({ startMm: 4.2, targetMm: 3.2, perPassMm: 0.25 });
    for (const [i, expected] of [3.95, 3.7, 3.45, 3.2].entries())
      expectClose(made.passes[i]?.typeMm, expected, { tol: 1e-6, source: common });
    expect(made.passes).toHaveLength(4);
  });

  it('keeps the last passes fine', () => {
    const made = plan({
      startMm: 4.2,
      targetMm: 2.8,
      perPassMm: 0.25,
      lastPerPassMm: 0.1,
      lastPassesCount: 2,
    });
    expect(made.passes.map((p) => p.thicknessMm.toFixed(2))).toEqual([
      '3.95',
      '3.70',
      '3.45',
      '3.20',
      '3.00',
      '2.90',
      '2.80',
    ]);
  });

  it('types through the offset and works on one face after the ring', () => {
    const made = plan({
      startMm: 3.15,
      targetMm: 2.75,
      perPassMm: 0.1,
      faces: 'one',
      machine: { ...PLAIN_READING, offset: { alphaMm: 0.16, beta: 0.975 } },
    });
    expect(made.passes).toHaveLength(4);
    expectClose(made.passes.at(-1)?.typeMm, 2.66, {
      tol: 1e-9,
      source: 'arithmetic: (2.75 - 0.16)/0.975 rounded up',
    });
    expect(new Set(made.passes.map((p) => p.face))).toEqual(new Set(['inside']));
    expectClose(made.leftMm, 0.0035, { tol: 1e-6, source: 'arithmetic: 0.16 + 0.975 x 2.66 - 2.75' });
    expect(passPlanText(made)).toBe('4 more passes after the first, last number 2.66 mm');
  });

  it('says when a machine is too coarse and leaves out numbers it cannot tell apart', () => {
    const made = plan({ startMm: 3.6, targetMm: 2.8, perPassMm: 0.2, machine: scale });
    expect(made.passes.map((p) => p.text)).toEqual(['1/8 in']);
    expect(made.note).toMatch(/can only take 0\.43 mm at once where 0\.20 mm is wanted/);
    expect(plan({ startMm: 3.3, targetMm: 2.75, perPassMm: 0.4, machine: scale }).note).toMatch(
      /0\.43 mm is left above the target/,
    );
  });

  it.each([
    [
      { startMm: 4, targetMm: 2.4, perPassMm: 0.25, lowMm: 2.5 },
      'target-under-low',
      /2\.40 mm is under the low limit 2\.50 mm/,
    ],
    [
      { startMm: 2.6, targetMm: 2.8, perPassMm: 0.25 },
      'start-under-target',
      /already under the target 2\.80 mm/,
    ],
    [{ startMm: 4, targetMm: 2.8, perPassMm: 0 }, 'cut-not-positive', /takes nothing off/],
    [
      { startMm: 4, targetMm: 2.8, perPassMm: 0.1, lastPerPassMm: 0.2 },
      'last-cut-deeper',
      /make the last ones the finer/,
    ],
    [{ startMm: 100, targetMm: 2.8, perPassMm: 0.1 }, 'too-many-passes', /more than 200 passes/],
  ])('refuses %o', (input, code, text) => {
    const made = passPlan(input);
    expect(made).toMatchObject({ kind: 'finding', code });
    expect(isFinding(made) && made.text).toMatch(text);
  });
});

describe('batch plan', () => {
  it('feeds thickest first at one number, lets thin ones wait and drops a plate at its low limit', () => {
    const made = batchPlan(
      [
        { id: 'ana', thicknessMm: 3.5, lowMm: 2.7 },
        { id: 'ben', thicknessMm: 4, lowMm: 2.7 },
        { id: 'eva', thicknessMm: 3.3, lowMm: 3.25 },
      ],
      { targetMm: 2.8, perPassMm: 0.4 },
    );
    if (isFinding(made)) throw new Error(made.text);
    expect(made.map((s) => s.pass.text)).toEqual(['3.60 mm', '3.20 mm', '2.80 mm']);
    expect(made.map((s) => s.feed)).toEqual([['ben'], ['ben', 'ana'], ['ben', 'ana']]);
    expect(made.map((s) => s.wait)).toEqual([['ana', 'eva'], [], []]);
    expect(made[1]?.out).toMatchObject([{ id: 'eva', reason: expect.stringContaining('low limit 3.25 mm') }]);
    expect(batchPlan([], { targetMm: 2.8, perPassMm: 0.4 })).toEqual([]);
  });

  it('stops before the first number for a plate that no number would touch', () => {
    const made = batchPlan(
      [
        { id: 'ana', thicknessMm: 3.5, lowMm: 2.7 },
        { id: 'ben', thicknessMm: 2.75, lowMm: 2.7 },
        { id: 'eva', thicknessMm: 2.6, lowMm: 2.7 },
      ],
      { targetMm: 2.8, perPassMm: 0.4 },
    );
    if (isFinding(made)) throw new Error(made.text);
    expect(made[0]?.out.map((o) => o.id)).toEqual(['ben', 'eva']);
    expect(made[0]?.out[0]?.reason).toBe(
      '2.75 mm now and the last number leaves 2.80 mm, so no cut is left in it',
    );
    expect(made[0]?.out[1]?.reason).toContain('it is under its low limit 2.70 mm');
    expect(made.flatMap((s) => s.wait)).toEqual([]);
  });
});
