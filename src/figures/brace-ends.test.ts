import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { STARTING, startingPattern } from '../../test/support/patterns.ts';
import { halfOutline, isInsideOutline } from '../geometry/half-outline.ts';
import { outlineHandles, outlinePieces } from '../geometry/outline-from-numbers.ts';
import { polygonAreaMm2, rectangleAbout } from '../geometry/polygon.ts';
import { trimToOutline } from '../geometry/trim-to-outline.ts';
import { judgeRule } from '../graph/rule.ts';
import { figureValue, numberOf } from '../graph/sheet.ts';
import { backFeet, braceFeet } from './brace-ends.ts';
import { braceFanRules } from './brace-fan.ts';
import { backSegments, braceSegments } from './braces.ts';
import { outline } from './outline.ts';
import { sheetOfPattern } from './pattern-sheet.ts';

const plan = 'check of the brace plans: what sticks out of the curve, rounded to 0.1 mm';

describe('bar ends at the outline', () => {
  it('stick out with square corners as the plan says: X 0.1, BB3 1.0, BB4 0.6 mm, no others', () => {
    const sheet = sheetOfPattern(startingPattern('small-steel-string'));
    // the plan rounds the ends of the legs by up to 0.06 mm
    expectClose(numberOf(sheet, 'brace.corner_trimmed.X-treble'), 0.1, { tol: 0.099, source: plan });
    expect(numberOf(sheet, 'brace.corner_trimmed.X-treble')).toBeGreaterThan(0);
    expectClose(numberOf(sheet, 'back.corner_trimmed.BB3'), 1, { tol: 0.06, source: plan });
    expectClose(numberOf(sheet, 'back.corner_trimmed.BB4'), 0.6, { tol: 0.06, source: plan });
    for (const id of ['brace.corner_trimmed.UT', 'brace.corner_trimmed.TB1', 'back.corner_trimmed.BB1'])
      expect(numberOf(sheet, id)).toBe(0);
  });

  it.each(STARTING)('are trimmed to the curve and lose next to nothing, %s', (name) => {
    const sheet = sheetOfPattern(startingPattern(name));
    const shape = figureValue(sheet, outline);
    const pairs = [
      [figureValue(sheet, braceFeet), figureValue(sheet, braceSegments)],
      [figureValue(sheet, backFeet), figureValue(sheet, backSegments)],
    ] as const;
    for (const [feet, segments] of pairs)
      feet?.forEach((foot, i) => {
        const whole = Math.abs(polygonAreaMm2(segments?.[i]?.polygon ?? []));
        const trimmed = Math.abs(polygonAreaMm2(foot.polygon));
        expect(trimmed).toBeLessThanOrEqual(whole + 1e-9);
        expect(trimmed).toBeGreaterThan(whole - 15);
        for (const p of foot.polygon) {
          const towardMiddle = { xMm: p.xMm * 0.9999, yMm: p.yMm + (p.yMm < 200 ? 0.01 : -0.01) };
          expect(shape && isInsideOutline(shape, towardMiddle)).toBe(true);
        }
      });
  });

  it('cuts a wide strip along the whole tail: what is left of it is the plate there', () => {
    const numbers = {
      lengthMm: 480,
      upperWidthMm: 278,
      upperYMm: 96,
      upperRadiusMm: 100,
      waistWidthMm: 236,
      waistYMm: 178,
      waistRadiusMm: 85,
      lowerWidthMm: 370,
      lowerYMm: 352,
      lowerRadiusMm: 135,
      neckEndRadiusMm: 300,
      tailRadiusMm: 400,
    };
    const shape = halfOutline(outlinePieces(numbers, outlineHandles(numbers)));
    // from y 300 to beyond the tail, wider than the body there only below the lower bout
    const strip = rectangleAbout({ xMm: 0, yMm: 352 }, { xMm: 0, yMm: 520 }, 360);
    const trimmed = trimToOutline(shape, strip);
    // count of a fine grid inside both
    let inside = 0;
    for (let x = -179.5; x < 180; x++)
      for (let y = 352.5; y < 480; y++) if (isInsideOutline(shape, { xMm: x, yMm: y })) inside++;
    expectClose(Math.abs(polygonAreaMm2(trimmed)), inside, { tol: 60, source: 'plane-geometry' });
    expect(trimToOutline(shape, rectangleAbout({ xMm: 300, yMm: 0 }, { xMm: 400, yMm: 0 }, 5))).toEqual([]);
  });
});

describe('a ladder of three bars for the ukulele', () => {
  const bar = (id: string, x: number, y: number) => ({
    kind: 'straight' as const,
    id,
    role: 'ladder bar',
    from: { xMm: -x, yMm: y },
    to: { xMm: x, yMm: y },
    widthMm: 5.5,
    heightMm: 8,
  });
  const ladder = (thirdY: number) =>
    sheetOfPattern({
      ...startingPattern('tenor-ukulele'),
      scheme: 'ladder',
      topBars: [bar('L1', 74.1, 40), bar('L2', 67, 123), bar('L3', 106, thirdY)],
    });
  const rule = braceFanRules.find((r) => r.id === 'brace-cross-bar-to-bridge');

  it('clears the hole by 6.25 and the bridge by what the plan leaves', () => {
    const sheet = ladder(224);
    expectClose(numberOf(sheet, 'brace.clear_of_hole'), 6.25, { tol: 1e-9, source: plan });
    // bridge 194.03 - 8 to + 14; L3 begins at 221.25
    expectClose(numberOf(sheet, 'brace.cross_bar_to_bridge'), 221.25 - 208.03, { tol: 0.006, source: plan });
    expect(rule && judgeRule(sheet, rule).state).toBe('met');
    expect(numberOf(sheet, 'brace.fan.strut_count')).toBeUndefined();
  });
  it('is broken where a bar half meets the bridge and met squarely under it', () => {
    expect(rule && judgeRule(ladder(209), rule).state).toBe('broken');
    expect(rule && judgeRule(ladder(196), rule).state).toBe('met');
  });
});
