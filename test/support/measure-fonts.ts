import PDFDocument from 'pdfkit';
import { loadFonts } from '../../src/output/fonts-node.ts';

/** The part of a font object of the PDF writer that is used here. */
interface OpenedFont {
  readonly characterSet: readonly number[];
  readonly capHeight: number;
  readonly unitsPerEm: number;
  layout(
    words: string,
    features?: readonly string[],
  ): { readonly glyphs: readonly { readonly advanceWidth: number }[] };
  hasGlyphForCodePoint(code: number): boolean;
}

/** One bundled font, both files opened. */
export interface MeasuredFont {
  readonly key: string;
  readonly latin: OpenedFont;
  readonly latinExt: OpenedFont;
}

function open(bytes: Uint8Array): OpenedFont {
  const doc = new PDFDocument({ autoFirstPage: false });
  doc.registerFont('probe', Buffer.from(bytes));
  doc.font('probe');
  return (doc as unknown as { _font: { font: OpenedFont } })._font.font;
}

/** Opens every bundled font. */
export function openFonts(): readonly MeasuredFont[] {
  return loadFonts().map((files) => ({
    key: files.face === 'name' ? 'name-700' : `sans-${files.weight}`,
    latin: open(files.latin),
    latinExt: open(files.latinExt),
  }));
}

/** The table `data/font-widths.json`, made from the font files. */
export function measureFonts(): unknown {
  const fonts = openFonts();
  const characters = printableCharacters(fonts);
  return {
    source: 'fontsource-5.3',
    about:
      'Advance widths of the bundled fonts in font units, tabular figures on, one per character of `characters`; fractionWidths: 0 to 9 and the stroke as parts of an inch fraction.',
    characters,
    fonts: Object.fromEntries(fonts.map((font) => [font.key, measureFont(font, characters)])),
  };
}

function printableCharacters(fonts: readonly MeasuredFont[]): string {
  const codes = new Set(fonts.flatMap((font) => [...font.latin.characterSet, ...font.latinExt.characterSet]));
  return [...codes]
    .filter(
      (code) =>
        code >= 32 && code < 0xfff0 && /[\p{L}\p{N}\p{P}\p{S}\p{Zs}]/u.test(String.fromCodePoint(code)),
    )
    .filter((code) =>
      fonts.every(
        ({ latin, latinExt }) => latin.hasGlyphForCodePoint(code) || latinExt.hasGlyphForCodePoint(code),
      ),
    )
    .sort((a, b) => a - b)
    .map((code) => String.fromCodePoint(code))
    .join('');
}

function measureFont({ latin, latinExt }: MeasuredFont, characters: string): unknown {
  return {
    unitsPerEm: latin.unitsPerEm,
    capHeight: latin.capHeight,
    widths: [...characters].map((character) => {
      const font = latin.hasGlyphForCodePoint(character.codePointAt(0)!) ? latin : latinExt;
      return advance(font, character, ['tnum']);
    }),
    fractionWidths: [...'0123456789']
      .map((digit) => glyphWidth(latin, `${digit}\u20442`, 0))
      .concat(glyphWidth(latin, '1\u20442', 1)),
  };
}

/** Width of one glyph of a fraction: numerator, stroke, denominator are set by the font's own rules about U+2044. */
function glyphWidth(font: OpenedFont, fraction: string, index: number): number {
  return font.layout(fraction).glyphs[index]!.advanceWidth;
}

function advance(font: OpenedFont, words: string, features: readonly string[]): number {
  return font.layout(words, features).glyphs.reduce((sum, glyph) => sum + glyph.advanceWidth, 0);
}
