import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { type RingSegment, ringPaths, segmentDegrees } from './ring-shape.ts';

const segment = (part: Partial<RingSegment>): RingSegment => ({
  likelyMin: 100,
  doneFrac: 0,
  state: 'untouched',
  holdAhead: false,
  ...part,
});

describe('the ring', () => {
  it('keeps sixty degrees free under the board and gives each stage its share of the rest', () => {
    const degrees = segmentDegrees([
      segment({ likelyMin: 100 }),
      segment({ likelyMin: 200 }),
      segment({ likelyMin: 300 }),
    ]);
    expect(degrees[0]?.from).toBe(30);
    expectClose(degrees[2]?.to, 330, { tol: 1e-9, source: 'arithmetic' });
    const length = (i: number): number =>
      (degrees[i] as { from: number; to: number }).to - (degrees[i] as { from: number; to: number }).from;
    expectClose(length(1) / length(0), 2, { tol: 1e-9, source: 'arithmetic' });
    expectClose((degrees[1] as { from: number }).from - (degrees[0] as { to: number }).to, 2.2, {
      tol: 1e-9,
      source: 'arithmetic',
    });
  });

  it('draws each state by a shape of its own', () => {
    const looks = (state: RingSegment['state'], doneFrac = 0.5): string[] =>
      ringPaths([segment({ state, doneFrac })]).map((p) => p.look);
    expect(looks('untouched', 0)).toEqual(['open']);
    expect(looks('ready', 0)).toEqual(['ready']);
    expect(looks('done', 1)).toEqual(['open', 'done']);
    expect(looks('at work')).toEqual(['open', 'done', 'work']);
    expect(looks('resting')).toEqual(['open', 'done', 'rest']);
    expect(looks('to sign')).toEqual(['open', 'done', 'sign']);
    expect(looks('to repair')).toEqual(['open', 'done', 'repair-gap', 'repair']);
    expect(looks('left out')).toEqual(['left-out']);
  });

  it('cuts a notch where a hold point lies ahead', () => {
    const plain = ringPaths([segment({})])[0]?.d ?? '';
    const notched = ringPaths([segment({ holdAhead: true })])[0]?.d ?? '';
    expect(notched.split('L').length).toBe(plain.split('L').length + 2);
  });
});
