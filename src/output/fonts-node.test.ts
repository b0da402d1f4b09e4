import { readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { measureFonts, openFonts } from '../../test/support/measure-fonts.ts';

const TABLE = new URL('../../data/font-widths.json', import.meta.url);

describe('the table of letter widths', () => {
  it('is what the font files say; remake it with UPDATE_FONT_WIDTHS=1', () => {
    const measured = `${JSON.stringify(measureFonts(), undefined, 1).replace(/(?<=\d,)\s+|(?<=\[)\s+(?=\d)|(?<=\d)\s+(?=\])/g, '')}\n`;
    if (process.env['UPDATE_FONT_WIDTHS'] === '1') writeFileSync(TABLE, measured);
    expect(readFileSync(TABLE, 'utf8')).toBe(measured);
  });

  it('knows every letter the product prints', () => {
    const { characters } = JSON.parse(readFileSync(TABLE, 'utf8')) as { characters: string };
    for (const character of 'AZaz09.,:;()/+-\u2212\u00d7\u00d8\u00b0\u00b1\u2033\u2032\u2044\u0141\u0142\u017c\u010d\u0159\u00fc\u00df\u00e9')
      expect(characters).toContain(character);
    for (const absent of '\u2264\u2265\u2192\u2713') expect(characters).not.toContain(absent);
  });
});

describe('the bundled fonts', () => {
  it('are the four that the look names', () => {
    expect(openFonts().map((font) => font.key)).toEqual(['sans-400', 'sans-600', 'sans-700', 'name-700']);
  });
});
