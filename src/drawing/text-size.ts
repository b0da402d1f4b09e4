import widths from '../../data/font-widths.json';
import type { FaceName, FontWeight, TextEntity } from './model.ts';
import { splitFractions } from './text-runs.ts';

/** How a text is set: what its width depends on. */
export type TextLook = Pick<TextEntity, 'heightMm' | 'face' | 'weight'>;

type FontKey = keyof typeof widths.fonts;

interface FontTable {
  readonly capRatio: number;
  readonly widthByCharacter: ReadonlyMap<string, number>;
  readonly fractionWidthByCharacter: ReadonlyMap<string, number>;
  readonly widestRatio: number;
}

const tables = new Map<FontKey, FontTable>();

function tableOf(face: FaceName, weight: FontWeight): FontTable {
  const key: FontKey = face === 'name' ? 'name-700' : `sans-${weight}`;
  const known = tables.get(key);
  if (known !== undefined) return known;
  const font = widths.fonts[key];
  const table: FontTable = {
    capRatio: font.capHeight / font.unitsPerEm,
    widthByCharacter: ratios(widths.characters, font.widths, font.unitsPerEm),
    fractionWidthByCharacter: ratios('0123456789/', font.fractionWidths, font.unitsPerEm),
    widestRatio: Math.max(...font.widths) / font.unitsPerEm,
  };
  tables.set(key, table);
  return table;
}

function ratios(characters: string, units: readonly number[], unitsPerEm: number): Map<string, number> {
  return new Map([...characters].map((character, index) => [character, (units[index] ?? 0) / unitsPerEm]));
}

/**
 * The font size that gives capitals of a height.
 *
 * @returns  font size (em), mm
 * @source   fontsource-5.3
 */
export function fontSizeMm({ heightMm, face, weight }: TextLook): number {
  return heightMm / tableOf(face, weight).capRatio;
}

/**
 * Width of a text in the bundled fonts with tabular figures and inch fractions set as fractions.
 *
 * @returns   mm
 * @assumes   no kerning: the real width is a little smaller, by 2 % at most in ordinary words
 * @outside   a character that the fonts lack counts as the widest one
 * @source    fontsource-5.3
 */
export function textWidthMm(words: string, look: TextLook): number {
  const table = tableOf(look.face, look.weight);
  let ratio = 0;
  for (const run of splitFractions(words)) {
    const byCharacter = run.isFraction ? table.fractionWidthByCharacter : table.widthByCharacter;
    ratio += run.gapBeforeRatio;
    for (const character of run.words) ratio += byCharacter.get(character) ?? table.widestRatio;
  }
  return ratio * fontSizeMm(look);
}

/**
 * Breaks a text into lines that fit a width; a single word that is too wide stays whole on its own line.
 *
 * @param maxWidthMm  > 0
 * @returns           lines without spaces at their ends; a line break in the text is kept
 * @source            arithmetic
 */
export function wrapWords(words: string, maxWidthMm: number, look: TextLook): readonly string[] {
  return words.split('\n').flatMap((paragraph) => wrapParagraph(paragraph, maxWidthMm, look));
}

function wrapParagraph(paragraph: string, maxWidthMm: number, look: TextLook): readonly string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of paragraph.split(/ +/).filter((part) => part !== '')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && textWidthMm(longer, look) > maxWidthMm) {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  return [...lines, line];
}

/**
 * The characters of a text that the bundled fonts do not have.
 *
 * @returns  each missing character once, in order; empty when all are there
 * @source   fontsource-5.3
 */
export function missingCharacters(words: string): readonly string[] {
  const known = tableOf('sans', 400).widthByCharacter;
  return [...new Set(words)].filter((character) => !known.has(character) && character !== '\n');
}
