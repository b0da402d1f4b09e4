/** One number as written, before anyone has decided what its unit is. */
export interface WrittenNumber {
  readonly value: number;
  /** It has a fraction stroke: `3 15/16`. */
  readonly hasStroke: boolean;
  /** For one comma, no point and three digits after it: the reading where the comma groups thousands. */
  readonly groupedValue?: number;
}

/** A number with the unit written behind it; no unit is the empty word. */
export interface WrittenTerm {
  readonly number: WrittenNumber;
  readonly unit: string;
}

/** What was written, taken apart: `5 ft 2 in` is two terms. */
export interface WrittenAmount {
  readonly isNegative: boolean;
  readonly terms: readonly WrittenTerm[];
}

const VULGAR: Readonly<Record<string, string>> = {
  '½': '1/2',
  '⅓': '1/3',
  '⅔': '2/3',
  '¼': '1/4',
  '¾': '3/4',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
  '⅕': '1/5',
  '⅖': '2/5',
  '⅗': '3/5',
  '⅘': '4/5',
  '⅙': '1/6',
  '⅚': '5/6',
};

/**
 * Brings the many signs of keyboards and word processors to one: minus, dashes, fraction strokes, one-sign
 * fractions, curly inch and foot marks, hard spaces.
 *
 * @param text  as typed or pasted
 * @returns     the same with plain signs
 * @source      arithmetic
 */
export function plainSigns(text: string): string {
  return text
    .replace(/[½⅓⅔¼¾⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚]/g, (sign) => ` ${VULGAR[sign]}`)
    .replace(/[\u2212\u2010-\u2014\ufe63\uff0d]/g, '-')
    .replace(/[\u2044\u2215]/g, '/')
    .replace(/[\u201c\u201d\u2033]|''|\u2032\u2032/g, '"')
    .replace(/[\u2018\u2019\u2032]/g, "'")
    .replace(/[\s\u00a0\u2000-\u200a\u202f]+/g, ' ')
    .trim();
}

const MIXED = /^(\d{1,6})(?: | ?- ?)(\d{1,4}) ?\/ ?(\d{1,4})/;
const STROKE = /^(\d{1,6}) ?\/ ?(\d{1,4})/;
const PLAIN = /^(?:\d[\d.,]*|[.,]\d+)(?:[eE][+-]?\d{1,3})?/;
const UNIT = /^[a-zA-Z°%"'/²³]+[23]?/;

/** Value of digits with points and commas, or undefined when they make no number. */
function decimal(digits: string): WrittenNumber | undefined {
  const [mantissa = '', exponent] = digits.split(/[eE]/);
  const power = exponent === undefined ? '' : `e${exponent}`;
  const points = mantissa.split('.').length - 1;
  const commas = mantissa.split(',').length - 1;
  const number = (clean: string): WrittenNumber | undefined => {
    const value = Number(clean + power);
    return Number.isFinite(value) ? { value, hasStroke: false } : undefined;
  };
  if (commas === 0) return points <= 1 ? number(mantissa) : undefined;
  if (points === 0 && commas === 1) {
    const read = number(mantissa.replace(',', '.'));
    if (!read || !/^[1-9]\d{0,2},\d{3}$/.test(mantissa)) return read;
    return { ...read, groupedValue: Number(mantissa.replace(',', '') + power) };
  }
  if (/^\d{1,3}(,\d{3})+(\.\d*)?$/.test(mantissa)) return number(mantissa.replaceAll(',', ''));
  if (/^\d{1,3}(\.\d{3})+,\d*$/.test(mantissa)) return number(mantissa.replaceAll('.', '').replace(',', '.'));
  return undefined;
}

/** The number at the start of the text and what is left behind it. */
function firstNumber(text: string): { number: WrittenNumber; rest: string } | undefined {
  const mixed = MIXED.exec(text);
  if (mixed) {
    const den = Number(mixed[3]);
    if (den === 0) return undefined;
    const value = Number(mixed[1]) + Number(mixed[2]) / den;
    return { number: { value, hasStroke: true }, rest: text.slice(mixed[0].length) };
  }
  const stroke = STROKE.exec(text);
  if (stroke) {
    const den = Number(stroke[2]);
    if (den === 0) return undefined;
    return {
      number: { value: Number(stroke[1]) / den, hasStroke: true },
      rest: text.slice(stroke[0].length),
    };
  }
  const plain = PLAIN.exec(text);
  if (!plain) return undefined;
  const number = decimal(plain[0]);
  return number ? { number, rest: text.slice(plain[0].length) } : undefined;
}

/**
 * Takes a written amount apart: `-3 15/16 in`, `5 ft 2 in`, `98,5`, `.100`, `1/8"`.
 *
 * @param text  as typed
 * @returns     sign, numbers and units; undefined when it is not a number
 * @source      arithmetic
 */
export function readAmount(text: string): WrittenAmount | undefined {
  let rest = plainSigns(text);
  const isNegative = rest.startsWith('-');
  rest = rest.replace(/^[-+] ?/, '');
  const terms: WrittenTerm[] = [];
  while (rest !== '') {
    const first = firstNumber(rest);
    if (!first) return undefined;
    rest = first.rest.replace(/^ ?-? ?(?=[a-zA-Z°%"'])/, '');
    const unit = UNIT.exec(rest)?.[0] ?? '';
    rest = rest.slice(unit.length).replace(/^ ?-? ?/, '');
    if (unit === '' && rest !== '') return undefined;
    terms.push({ number: first.number, unit });
  }
  const [first, last] = terms;
  if (terms.length === 2 && last?.unit === '' && /^('|ft|foot|feet)$/i.test(first?.unit ?? ''))
    terms[1] = { ...last, unit: 'in' }; // 5' 2 1/2
  const isMixed = terms.length > 1 && terms.some((t) => t.unit === '');
  return terms.length === 0 || terms.length > 3 || isMixed ? undefined : { isNegative, terms };
}
