import type { TextEntity } from '../drawing/model.ts';
import { splitFractions } from '../drawing/text-runs.ts';
import { fontSizeMm } from '../drawing/text-size.ts';
import { FONT_NAMES, type FontFiles } from './fonts.ts';
import { baselinePoint } from './text-place.ts';

type PdfDoc = PDFKit.PDFDocument;

/** A stretch of words in one font file, laid behind the one before. */
interface PlacedRun {
  readonly words: string;
  readonly font: string;
  readonly isFraction: boolean;
  readonly fromMm: number;
}

/** Writes words into one PDF with the bundled fonts. */
export interface PdfWriter {
  /** Draws one text; the document's unit has to be the mm. */
  write(entity: TextEntity, colour: string): void;
}

/** The part of an opened font of the PDF writer that says which characters it has. */
interface OpenedFont {
  readonly font: { hasGlyphForCodePoint(code: number): boolean };
  layoutRun(words: string, features?: readonly string[]): unknown;
}

/**
 * Lets a font remember the words it has set: each is laid out several times for one print, and the same title block
 * stands on every sheet. The writer itself remembers only words without features, and figures of one width are one.
 */
function rememberLayouts(font: OpenedFont): void {
  const known = new Map<string, unknown>();
  const setWords = font.layoutRun.bind(font);
  font.layoutRun = (words, features) => {
    const key = `${features?.join() ?? ''}\n${words}`;
    const before = known.get(key);
    if (before !== undefined) return before;
    const made = setWords(words, features);
    known.set(key, made);
    return made;
  };
}

/** Rim of paper around words that must not touch lines, parts of their height. */
const HALO_RATIO = 0.14;

/**
 * Registers the fonts in a document and gives what writes with them.
 *
 * @param fonts  the four bundled fonts
 * @throws RangeError when one is missing
 */
export function pdfWriter(doc: PdfDoc, fonts: readonly FontFiles[]): PdfWriter {
  for (const { face, weight } of FONT_NAMES) registerFont(doc, fonts, face, weight);
  const hasCharacter = characterTest(doc);
  return {
    write(entity, colour) {
      const sizeMm = fontSizeMm(entity);
      const runs = placeRuns(doc, entity, sizeMm, hasCharacter);
      const at = baselinePoint(entity);
      doc.save();
      doc.translate(at.x, at.y);
      if (entity.rotationRad !== 0) doc.rotate((entity.rotationRad * 180) / Math.PI);
      const leftMm = -runs.widthMm * { start: 0, middle: 0.5, end: 1 }[entity.anchorX];
      if (entity.hasHalo === true) coverLines(doc, leftMm, runs.widthMm, entity.heightMm);
      doc.fillColor(colour);
      for (const run of runs.placed) {
        doc.font(run.font).fontSize(sizeMm);
        doc.text(run.words, leftMm + run.fromMm, 0, textOptions(run.isFraction));
      }
      doc.restore();
    },
  };
}

function registerFont(
  doc: PdfDoc,
  fonts: readonly FontFiles[],
  face: FontFiles['face'],
  weight: FontFiles['weight'],
): void {
  const files = fonts.find((font) => font.face === face && font.weight === weight);
  if (files === undefined) throw new RangeError(`pdfWriter: no font ${face} ${weight} among ${fonts.length}`);
  const key = fontKey(face, weight);
  doc.registerFont(key, files.latin as Buffer);
  doc.registerFont(`${key}-ext`, files.latinExt as Buffer);
}

function fontKey(face: FontFiles['face'], weight: FontFiles['weight']): string {
  return face === 'name' ? 'name-700' : `sans-${weight}`;
}

function textOptions(isFraction: boolean): PDFKit.Mixins.TextOptions {
  return { lineBreak: false, baseline: 'alphabetic', features: isFraction ? [] : ['tnum'] };
}

/** A white box behind the capitals: lines stop short of the words. */
function coverLines(doc: PdfDoc, leftMm: number, widthMm: number, heightMm: number): void {
  const rim = heightMm * HALO_RATIO;
  doc.rect(leftMm - rim, -heightMm - rim, widthMm + 2 * rim, heightMm + 2 * rim).fill('#ffffff');
}

type CharacterTest = (font: string, character: string) => boolean;

/** Whether a registered font has a character; asked once for each. A font is opened, and told to remember, at the first question. */
function characterTest(doc: PdfDoc): CharacterTest {
  const known = new Map<string, boolean>();
  const remembering = new Set<OpenedFont>();
  return (font, character) => {
    const key = font + character;
    const answer = known.get(key);
    if (answer !== undefined) return answer;
    doc.font(font);
    const opened = (doc as unknown as { _font: OpenedFont })._font;
    if (!remembering.has(opened)) rememberLayouts(opened);
    remembering.add(opened);
    const isThere = opened.font.hasGlyphForCodePoint(character.codePointAt(0) ?? 0);
    known.set(key, isThere);
    return isThere;
  };
}

function placeRuns(
  doc: PdfDoc,
  entity: TextEntity,
  sizeMm: number,
  hasCharacter: CharacterTest,
): { readonly placed: readonly PlacedRun[]; readonly widthMm: number } {
  const key = fontKey(entity.face, entity.weight);
  const placed: PlacedRun[] = [];
  let widthMm = 0;
  for (const { words, isFraction, gapBeforeRatio } of splitFractions(entity.text.normalize('NFC'))) {
    widthMm += gapBeforeRatio * sizeMm;
    const shown = isFraction ? words.replace('/', '\u2044') : words;
    for (const run of splitByFont(shown, key, hasCharacter)) {
      placed.push({ ...run, isFraction, fromMm: widthMm });
      doc.font(run.font).fontSize(sizeMm);
      widthMm += doc.widthOfString(run.words, textOptions(isFraction));
    }
  }
  return { placed, widthMm };
}

/** Splits words where the letters change from one font file to the other. */
function splitByFont(
  words: string,
  key: string,
  hasCharacter: CharacterTest,
): readonly { readonly words: string; readonly font: string }[] {
  const runs: { words: string; font: string }[] = [];
  for (const raw of words) {
    const { character, font } = printable(raw, key, hasCharacter);
    const last = runs.at(-1);
    if (last?.font === font) last.words += character;
    else runs.push({ words: character, font });
  }
  return runs;
}

/** A character that no bundled font has becomes its base letter, and failing that a question mark. */
function printable(
  raw: string,
  key: string,
  hasCharacter: CharacterTest,
): { readonly character: string; readonly font: string } {
  for (const character of [raw, raw.normalize('NFD').charAt(0), '?'])
    for (const font of [key, `${key}-ext`]) if (hasCharacter(font, character)) return { character, font };
  return { character: '?', font: key };
}
