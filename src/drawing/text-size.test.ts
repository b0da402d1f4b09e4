import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { splitFractions } from './text-runs.ts';
import { fontSizeMm, missingCharacters, textWidthMm, wrapWords } from './text-size.ts';

const look = { heightMm: 3, face: 'sans', weight: 400 } as const;

describe('splitFractions', () => {
  it.each([
    ['3 15/16 in', ['3', '[15/16]', ' in']],
    ['1/8 in', ['[1/8]', ' in']],
    ['pin 6.35 (1/4 in)', ['pin 6.35 (', '[1/4]', ' in)']],
    ['sheet 1/6', ['sheet 1/6']],
    ['3/5/2027', ['3/5/2027']],
    ['no number', ['no number']],
    ['about 1/2 full', ['about ', '[1/2]', ' full']],
  ])('%s', (given, expected) => {
    const shown = splitFractions(given).map(({ words, isFraction }) => (isFraction ? `[${words}]` : words));
    expect(shown).toEqual(expected);
  });
});

describe('text sizes', () => {
  it('makes capitals as high as asked: Encode Sans has 1480 of 2000 units', () => {
    expectClose(fontSizeMm(look), (3 * 2000) / 1480, { tol: 1e-9, source: 'fontsource-5.3' });
  });

  it('gives every figure the same width', () => {
    const widths = [...'0123456789'].map((digit) => textWidthMm(digit, look));
    expect(new Set(widths).size).toBe(1);
  });

  it('breaks lines so that each fits', () => {
    const words = 'Test board: ring drops in under a thumb, width between 7.00 and 7.10 mm';
    const lines = wrapWords(words, 40, look);
    expect(lines.join(' ')).toBe(words);
    expect(lines.length).toBeGreaterThan(2);
    for (const line of lines) expect(textWidthMm(line, look)).toBeLessThanOrEqual(40);
  });

  it('names the signs the fonts lack', () => {
    expect(missingCharacters('at least 6.00 \u2265 \u00d8 98, 3 15/16')).toEqual(['\u2265']);
  });
});
