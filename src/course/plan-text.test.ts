import { describe, expect, it } from 'vitest';
import { type PublishedStep, readPlanText, writePlanText } from './plan-text.ts';

const steps: readonly PublishedStep[] = [
  {
    activityId: 'b1/T3.2',
    op: 'T3',
    part: '2',
    builds: ['b1'],
    pieces: [
      { startMs: 60_000_000, endMs: 61_200_000 },
      { startMs: 660_000_000, endMs: 661_200_000 },
    ],
    wayIndex: 1,
    station: 'bench',
    setUpMin: 4,
    people: ['teacher', undefined],
    helper: 'b2',
  },
  {
    activityId: 'course/A1.1.1',
    op: 'A1',
    part: '1',
    builds: ['b1', 'b2'],
    pieces: [{ startMs: 0, endMs: 60_000 }],
    wayIndex: 0,
    setUpMin: 0,
    people: [],
  },
];

describe('the text of a published plan', () => {
  it('gives back every step as it was', () => {
    expect(readPlanText(writePlanText(steps))).toEqual(steps);
  });

  it('is read as no step when it is empty', () => {
    expect(readPlanText('')).toEqual([]);
  });

  it('names the line that is not a step', () => {
    expect(() => readPlanText(`${writePlanText(steps)}\nb3/T4`)).toThrow(
      'Line 3 of the published plan has 1 fields, of which 10 make a step; publish the plan anew.',
    );
    expect(() => readPlanText(writePlanText(steps).replace('0+1', 'soon'))).toThrow('Line');
  });
});
