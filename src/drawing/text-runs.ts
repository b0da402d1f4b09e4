/** A stretch of a text that is set in one way. */
export interface TextRun {
  readonly words: string;
  /** true: set as a small stacked fraction (font feature `frac`). */
  readonly isFraction: boolean;
  /** Space before the run in parts of the font size; a fraction stands 0.12 after its whole number. */
  readonly gapBeforeRatio: number;
}

const FRACTION_GAP_RATIO = 0.12;

/** A proper inch fraction: at most 63/64, with nothing numeric or another stroke touching it. */
const FRACTION = /( ?)(?<![\d/.,])(\d{1,2}\/(?:2|4|8|16|32|64))(?![\d/.,]\d|\/)/g;

/**
 * Splits a text so that inch fractions can be set as fractions: `3 15/16 in` gives `3`, `15/16`, ` in`.
 *
 * @returns  runs in order; the words together are the text, but for the one space before a fraction after a digit
 * @source   common practice, no published source
 */
export function splitFractions(text: string): readonly TextRun[] {
  const runs: TextRun[] = [];
  let done = 0;
  for (const match of text.matchAll(FRACTION)) {
    const isAfterDigit = match[1] === ' ' && /\d/.test(text[match.index - 1] ?? '');
    const before = text.slice(done, match.index) + (isAfterDigit ? '' : match[1]);
    if (before !== '') runs.push({ words: before, isFraction: false, gapBeforeRatio: 0 });
    const gapBeforeRatio = isAfterDigit ? FRACTION_GAP_RATIO : 0;
    runs.push({ words: match[2] ?? '', isFraction: true, gapBeforeRatio });
    done = match.index + match[0].length;
  }
  if (done < text.length) runs.push({ words: text.slice(done), isFraction: false, gapBeforeRatio: 0 });
  return runs;
}
