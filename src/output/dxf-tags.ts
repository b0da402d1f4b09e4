/** One line pair of a DXF file: group code and value. */
export type DxfTag = readonly [code: number, value: string | number];

/** Decimals of coordinates: 1e-6 mm, so that ends that meet still meet after reading. */
const DECIMALS = 1e6;

/**
 * A DXF file from its tags, CRLF lines as the format asks.
 *
 * @throws RangeError when a number is not finite
 */
export function dxfText(tags: readonly DxfTag[]): string {
  return tags.map(([code, value]) => `${code}\r\n${valueText(code, value)}\r\n`).join('');
}

function valueText(code: number, value: string | number): string {
  if (typeof value === 'string') return value;
  if (!Number.isFinite(value)) throw new RangeError(`a drawing holds the number ${value}; it must be finite`);
  if (!isRealCode(code)) return String(value);
  const rounded = Math.round(value * DECIMALS) / DECIMALS;
  const text = rounded === 0 ? '0' : String(rounded);
  // small numbers would come out as 1e-7; DECIMALS keeps them at 0.000001 or more
  const plain = text.includes('e') ? rounded.toFixed(6) : text;
  return plain.includes('.') ? plain : `${plain}.0`;
}

/** Group codes that hold reals, by the ranges of the DXF reference (named from memory). */
function isRealCode(code: number): boolean {
  return (code >= 10 && code <= 59) || (code >= 140 && code <= 149) || (code >= 210 && code <= 239);
}

/** Words on one line: control characters become spaces, and a double percent sign, which starts a code, is split. */
export function dxfWords(words: string): string {
  return words.replace(/[\p{Cc}\p{Cs}]/gu, ' ').replaceAll('%%', '% %');
}
