import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import {
  breakingFrequencyHz,
  breakMargin,
  musicWireStrength,
  notesNear,
  saddleBreak,
  stiffPartials,
} from './strings.ts';

describe('strength of music wire', () => {
  it.each([
    [0.012, 377, 417],
    [0.016, 362, 400],
    [0.059, 296, 327],
    [0.004, 439, 485],
  ])('%f in', (inches, least, most) => {
    const strength = musicWireStrength(inches * 25.4);
    expectClose(strength?.leastMPa, least * 6.894757, { tol: 0.01, source: 'astm-a228' });
    expectClose(strength?.mostMPa, most * 6.894757, { tol: 0.01, source: 'astm-a228' });
  });

  it('falls with the diameter between the rows and ends with the table', () => {
    const at = (mm: number) => musicWireStrength(mm)!.leastMPa;
    for (let mm = 0.11; mm < 1.49; mm += 0.01) expect(at(mm + 0.01)).toBeLessThan(at(mm));
    expect(musicWireStrength(1.6)).toBeUndefined();
    expect(musicWireStrength(0)).toBeUndefined();
  });

  it('a wire of 0.010 in breaks at 135.2 N', () => {
    expectClose(breakMargin(50, 0.254)?.breakingN, 135.2, { tol: 0.1, source: 'astm-a228' });
  });
});

describe('margins', () => {
  it('the first string of a small steel-string stands at half its strength', () => {
    // 98.6 N on 0.305 mm
    const margin = breakMargin(98.6, 0.305)!;
    expectClose(margin.stressMPa, 1349.5, { tol: 1, source: 'arithmetic' });
    expectClose(margin.usedFrac, 0.519, { tol: 0.002, source: 'astm-a228' });
    const up = breakMargin(98.6 * 2 ** (margin.semitonesLeft / 6), 0.305)!;
    expectClose(up.usedFrac, 1, { tol: 1e-9, source: 'equal-temperament' });
  });

  it('the breaking note does not depend on the diameter', () => {
    const hz = breakingFrequencyHz(628, 2600, 7800);
    expectClose(hz, Math.sqrt(2600e6 / 7800) / 1.256, { tol: 1e-6, source: 'arithmetic' });
    // the same through the pull at which 0.3 mm breaks
    const pull = (2600 * Math.PI * 0.09) / 4;
    const mass = (7800 * Math.PI * 0.09e-6) / 4;
    expectClose(hz, Math.sqrt(pull / mass) / (2 * 0.628), { tol: 1e-6, source: 'arithmetic' });
  });
});

describe('partials, saddle, notes', () => {
  it('a flexible string has harmonics, a stiff one rises with the square of the number', () => {
    expectClose(stiffPartials(100, 0, 80, 650, 5)[4]?.frequencyHz, 500, {
      tol: 1e-9,
      source: 'fletcher-1964',
    });
    const partials = stiffPartials(100, 100, 80, 650, 12);
    const b = (Math.PI ** 2 * 100) / (80 * 650 ** 2);
    expectClose(partials[0]?.frequencyHz, 100, { tol: 1e-9, source: 'fletcher-1964' });
    expectClose(partials[9]?.frequencyHz, 1000 * Math.sqrt((1 + 100 * b) / (1 + b)), {
      tol: 1e-9,
      source: 'fletcher-1964',
    });
    expectClose(partials[9]!.sharpCents / partials[4]!.sharpCents, 99 / 24, {
      tol: 0.02,
      source: 'fletcher-1964',
    });
  });

  it('pins 6.5 behind a saddle 3 high bend the strings by 24.8 degrees: 284 N of 678.5', () => {
    const { angleDeg, downForceN } = saddleBreak(678.5, 3, 6.5);
    const source = 'common practice, no published source';
    expectClose(angleDeg, 24.8, { tol: 0.05, source });
    expectClose(downForceN, 284, { tol: 1, source });
  });

  it('finds the notes near a resonance', () => {
    const near = notesNear(112, [82.41, 110], 5, 60);
    expect(near.map(({ stringIndex, fret }) => [stringIndex, fret])).toEqual([
      [1, 0],
      [0, 5],
    ]);
    expectClose(near[0]?.offCents, 1200 * Math.log2(112 / 110), { tol: 1e-9, source: 'equal-temperament' });
    expect(notesNear(112, [82.41, 110], 5, 10)).toEqual([]);
  });
});
