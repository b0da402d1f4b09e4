import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { type Glue, glueLeft, glues, glueTimes } from './glues.ts';

const practice = 'common practice, no published source';
const water = glues.find((g) => g.id === 'water') as Glue;

describe('glue times', () => {
  it('are those of the table at 20 degrees C, also when the room was not read', () => {
    for (const g of glues) {
      expect(glueTimes(g, undefined)).toEqual(glueTimes(g, 20));
      expectClose(glueTimes(g, 20).openMin, g.openMin, { tol: 1e-9, source: practice });
      expect(g.openMin).toBeLessThan(g.closeByMin);
    }
    expectClose(water.openMin, 5, { tol: 1e-9, source: practice });
    expectClose(water.closeByMin, 8, { tol: 1e-9, source: practice });
  });
  it('double for 10 degrees colder and halve for 10 warmer', () => {
    expectClose(glueTimes(water, 10).openMin, 10, { tol: 1e-9, source: practice });
    expectClose(glueTimes(water, 30).closeByMin, 4, { tol: 1e-9, source: practice });
    expectClose(glueTimes(water, 15).openMin, 5 * Math.SQRT2, { tol: 1e-9, source: practice });
  });
  it('say when the room is too cold for the glue', () => {
    expect(glueTimes(water, 12).says).toContain('at least 13');
    expect(glueTimes(water, 13).says).toBeUndefined();
    expect(() => glueTimes(water, 90)).toThrow(RangeError);
  });
});

describe('minutes left', () => {
  const times = glueTimes(water, 20);
  const minutesOn = (min: number) => glueLeft(times, min * 60_000);
  it('count down to the end of the open time, then to the closing, in whole minutes that are never too many', () => {
    expect(minutesOn(0)).toEqual({ stage: 'open', leftMin: 5 });
    expect(minutesOn(0.1)).toEqual({ stage: 'open', leftMin: 4 });
    expect(minutesOn(4.9)).toEqual({ stage: 'open', leftMin: 0 });
    expect(minutesOn(5)).toEqual({ stage: 'closing', leftMin: 3 });
    expect(minutesOn(8)).toEqual({ stage: 'over', leftMin: 0 });
  });
  it('begin anew for a clock that runs behind', () => {
    expect(minutesOn(-3)).toEqual({ stage: 'open', leftMin: 5 });
  });
});
