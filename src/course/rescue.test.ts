import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { rectangleAbout } from '../geometry/polygon.ts';
import { readPattern } from '../pattern/pattern-file.ts';
import { planRoute } from '../route/planned-route.ts';
import { ownRoute } from '../route/route.ts';
import { foldBuild } from './build-facts.ts';
import { judgeNumber } from './reading-verdict.ts';
import { replacementOf } from './replace-part.ts';
import { sayIn } from './rescue.ts';
import { holeRescue, shiftWindow } from './rescue-hole.ts';
import { actionChange, actionRescue, neckAngleRescue } from './rescue-neck.ts';
import { deepestChannelMm, heightForStiffnessMm, type ThinPlate, thinPlateRescue } from './rescue-plate.ts';

const practice = 'common practice, no published source';
const plate = (more: Partial<ThinPlate>): ThinPlate => ({
  measuredMm: 2.46,
  drawnMm: 2.8,
  scrapMm: 2.3,
  channelMm: 1.3,
  channelIsCut: false,
  bars: [{ id: 'X-treble', widthMm: 8, heightMm: 15 }],
  modulusMPa: 11_600,
  blankSpareMm: 1,
  ...more,
});

describe('thin plate', () => {
  it('leaves 45 % and at least 1.0 mm under the deepest channel, cut 0.05 too deep', () => {
    // 2.46 - 0.45 x 2.46 - 0.05; 1.6 - 1.0 - 0.05
    expectClose(deepestChannelMm(2.46), 1.303, { tol: 1e-9, source: practice });
    expectClose(deepestChannelMm(1.6), 0.55, { tol: 1e-9, source: practice });
    expect(deepestChannelMm(0.9)).toBe(0);
  });

  it('finds the bar height by the beam rule: bar and plate strip about their common middle', () => {
    const bar = { id: 'x', widthMm: 8, heightMm: 15 };
    const heightMm = heightForStiffnessMm(bar, 2.8, 2.46, 11_600);
    // Written out again: E I of a T of 8 x h on 40 x t about its own middle must be that of 8 x 15 on 40 x 2.8.
    const ei = (h: number, t: number): number => {
      const [a, b] = [8 * h, 40 * t];
      const middle = (a * (t + h / 2) + (b * t) / 2) / (a + b);
      return (
        (8 * h ** 3) / 12 + a * (t + h / 2 - middle) ** 2 + (40 * t ** 3) / 12 + b * (middle - t / 2) ** 2
      );
    };
    expectClose(ei(heightMm, 2.46), ei(15, 2.8), { tol: 0.01, source: 'beam-theory' });
    expect(heightMm).toBeGreaterThan(15);
    expectClose(heightForStiffnessMm(bar, 2.8, 2.8, 11_600), 15, { tol: 1e-6, source: 'beam-theory' });
  });

  it('says the stiffness lost with the cube of the thickness', () => {
    const lost = thinPlateRescue(plate({})).numbers.find((n) => n.unit === '%')?.value;
    // 1 - (2.46 / 2.8)^3 = 32.2 %
    expectClose(lost, 32.18, { tol: 0.01, source: 'beam-theory' });
  });

  it('asks for no higher bars once they are carved, and offers to replace the top beside it', () => {
    const rescue = thinPlateRescue(plate({ channelIsCut: true, channelMm: 1.2, barsAre: 'carved' }));
    expect(rescue).toMatchObject({
      action: 'stop',
      decision: 'carry on',
      orReplace: 'If it gives too much:',
    });
    expect(rescue.sentence).not.toContain('leave the bars');
    expect(rescue.numbers.some((n) => n.label.startsWith('bar '))).toBe(false);
    const lost = rescue.numbers.find((n) => n.label.includes('tallest bar'))?.value as number;
    expect(lost).toBeGreaterThan(0);
    // a bar as stiff as drawn needs more height, so without it some stiffness is missing, but less than of the bare plate
    expect(lost).toBeLessThan(32);
    expect(
      thinPlateRescue(plate({ measuredMm: 2.31, blankSpareMm: 0.2, barsAre: 'glued' })).sentence,
    ).toContain('the rest stays missing');
  });

  it('adjusts while it can, patches under a channel too deep, replaces under the scrap limit', () => {
    expect(thinPlateRescue(plate({}))).toMatchObject({ action: 'adjust', decision: 'carry on' });
    expect(thinPlateRescue(plate({ channelMm: 1.5 })).sentence).toContain(
      'cut the channel at most 1.3 mm deep',
    );
    expect(thinPlateRescue(plate({ channelMm: 1.5, channelIsCut: true }))).toMatchObject({
      action: 'stop',
      decision: 'repair',
    });
    expect(thinPlateRescue(plate({ scrapMm: 2.5 }))).toMatchObject({ action: 'stop', decision: 'replace' });
    expect(thinPlateRescue(plate({ blankSpareMm: 0.1 })).sentence).toContain('plane new blanks');
  });
});

describe('hole off centre', () => {
  /** Two bars along the hole, their sides 54.5 from the centre line: clear of a hole of radius 49 by 5.5. */
  const bars = [57, -57].map((xMm, i) => ({
    id: `B${i}`,
    polygon: rectangleAbout({ xMm, yMm: 100 }, { xMm, yMm: 180 }, 5),
    leastMm: 5,
  }));
  const hole = (offsetMm: number) => ({
    offsetMm,
    centreYMm: 142,
    radiusMm: 49,
    bars,
    plateHalfMm: 205,
    bodyHalfMm: 185,
  });

  it('shifts the outline far enough to keep the bars clear and no further than the joint allows', () => {
    // 1.3 off: the bar allows 0.5, so at least 0.8; the joint allows 1.0
    const w = shiftWindow(hole(1.3));
    expectClose(w?.fromMm, 0.8, { tol: 1e-6, source: 'plane-geometry' });
    expectClose(w?.toMm, 1, { tol: 1e-9, source: practice });
    expect(shiftWindow(hole(-1.3))?.fromMm).toBeCloseTo(w?.fromMm as number, 9);
  });

  it('has no way out at 1.8: the bar wants 1.3, the joint allows 1.0', () => {
    expect(shiftWindow(hole(1.8))).toBeUndefined();
    expect(holeRescue(hole(1.8), false)).toMatchObject({ action: 'stop', decision: 'replace' });
    const roomy = { ...hole(1.8), bars: bars.map((b) => ({ ...b, leastMm: 4.5 })) };
    expect(holeRescue(roomy, false)).toMatchObject({ action: 'adjust', decision: 'carry on' });
  });

  it('is limited by the plate too', () => {
    // half plate 191.4: 191.4 - 185 - 6 = 0.4 of shift, the bar wants 0.8
    expect(shiftWindow({ ...hole(1.3), plateHalfMm: 191.4 })).toBeUndefined();
  });

  it('carries on up to 0.5, and drills again while only the pilot is there', () => {
    expect(holeRescue(hole(0.4), true).action).toBe('carry on');
    expect(holeRescue(hole(1.4), true)).toMatchObject({ action: 'adjust', decision: 'repair' });
    expect(holeRescue(hole(1.6), true).decision).toBe('replace');
  });
});

describe('action and neck angle', () => {
  it('takes 1.0 off the saddle, or 0.203 deg and 0.33 off the heel, for 0.5 at fret 12', () => {
    const c = actionChange(0.5, 282.48, 92);
    expectClose(c.saddleMm, 1, { tol: 1e-9, source: 'plane-geometry' });
    expectClose(c.leanDeg, 0.203, { tol: 0.0005, source: 'plane-geometry' });
    expectClose(c.heelOffMm, 0.33, { tol: 0.005, source: 'plane-geometry' });
  });

  it('goes to the neck when the saddle would be too low, and stops when the neck is glued', () => {
    const a = {
      qMm: 0.5,
      saddleYMm: 282.48,
      heelMm: 92,
      protrusionMm: 3,
      protrusionLeastMm: 1.5,
      protrusionMostMm: 5,
      neckComesOff: true,
    };
    expect(actionRescue(a)).toMatchObject({ action: 'adjust', decision: 'carry on' });
    expect(actionRescue({ ...a, qMm: 1 })).toMatchObject({ action: 'adjust', decision: 'repair' });
    expect(actionRescue({ ...a, qMm: 1, neckComesOff: false })).toMatchObject({
      action: 'stop',
      decision: 'repair',
    });
    expect(actionRescue({ ...a, qMm: -0.5 }).sentence).toContain('make a saddle 1 mm higher');
  });

  it('takes 0.16 off a heel of 92 for a tenth of a degree', () => {
    const highMm = 282.48 * Math.tan((0.1 * Math.PI) / 180);
    expectClose(neckAngleRescue(highMm, 282.48, 92).numbers[1]?.value, 0.16, {
      tol: 0.005,
      source: 'plane-geometry',
    });
    expect(neckAngleRescue(1, 282.48, 92).sentence).toContain('at the board end');
    expect(neckAngleRescue(-1, 282.48, 92).sentence).toContain('at the cap end, tapering');
  });
});

describe('replacementOf', () => {
  const pattern = readPattern(readFileSync('data/patterns/small-steel-string.yaml', 'utf8'));
  const plan = planRoute(ownRoute(), { instrument: 'steel' });
  const build = (...ops: string[]) =>
    foldBuild(
      ops.map((op, i) => ({
        id: `e${i}`,
        stream: 'build:b',
        kind: 'step-done',
        device: 'd',
        counter: i,
        time: i,
        by: 'p',
        body: { op },
      })),
    );

  it('counts only what was done, and only the wood that is lost', () => {
    const r = replacementOf(plan, build('S1', 'S2', 'S3', 'T1'), 'sides', pattern.stock);
    expect(r.undone).toEqual(['S1', 'S2', 'S3']);
    // likely 25 + 30 + 50
    expect(r.likelyMin).toBe(105);
    expect(r.stock.map((s) => s.part)).toEqual(['side']);
    const late = replacementOf(plan, build('S1', 'S2', 'S3', 'S4', 'S6', 'S7', 'S8'), 'sides', pattern.stock);
    expect(late.stock.map((s) => s.part)).toEqual(['side', 'linings']);
    // bending 24 h (and half an hour on the former between the sides), blocks 12 h
    expectClose(late.restH, 36.5, { tol: 1e-9, source: 'from memory' });
  });
});

describe('words of a class that works in inches', () => {
  it('say every length as a calliper shows it, and keep the numbers in mm', () => {
    const { sentence, numbers } = thinPlateRescue(plate({ scrapMm: 2.3 }), sayIn('in'));
    expect(sentence).toMatch(/^The plate is \.097 in instead of \.110 in/);
    expect(sentence).not.toContain('mm');
    expect(numbers[0]).toMatchObject({ value: 2.46, unit: 'mm' });
    const limits = { hard: { low: 2.7, high: 2.95 } };
    const verdict = judgeNumber('thickness', 'mm', 2.46, limits, undefined, 'in');
    expect(verdict).toMatchObject({ value: 2.46, low: 2.7 });
    expect(verdict?.words).toBe('thickness .097 in, wanted between .106 and .116 in: broken by .009 in.');
    expect(judgeNumber('angle', 'deg', 2, { hard: { high: 1 } }, undefined, 'in')?.words).toContain('2 deg');
  });
});
