import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { InputError } from './input-error.ts';
import { type LengthField, parseLength, requireLengthMm } from './length.ts';
import { formatInches, formatMm, fractionText, inchText, lengthForFile, nearest64 } from './print-length.ts';

const wide: LengthField = { unit: 'mm', lowMm: 0.5, highMm: 2000, what: 'Body length' };
const wideIn: LengthField = { ...wide, unit: 'in' };
const top: LengthField = { unit: 'mm', lowMm: 1.5, highMm: 6, what: 'Top thickness' };
const source = 'inch-1959';

function mm(text: string | number, field: LengthField = wide): number {
  const parsed = parseLength(text, field);
  if (parsed.kind !== 'length') throw new Error(`${text}: ${parsed.kind} ${parsed.text}`);
  return parsed.valueMm;
}

describe('parseLength', () => {
  it.each([
    ['3 15/16', 3.9375 * 25.4],
    ['3-15/16 in', 3.9375 * 25.4],
    ['3 15/16"', 3.9375 * 25.4],
    ['3 \u00bd in', 88.9],
    ['3\u00bd\u2033', 88.9],
    ['1/8"', 3.175],
    ['2.5 mm', 2.5],
    ['2.5mm', 2.5],
    ['98,5', 98.5],
    ['5 ft 2 in', 62 * 25.4],
    ['5\' 2 1/2"', 62.5 * 25.4],
    ["5' 2 1/2", 62.5 * 25.4],
    ['18 57/64 in', (18 + 57 / 64) * 25.4],
    ['18\u00a057\u204464 inches', (18 + 57 / 64) * 25.4],
    ['48 cm', 480],
    ['1,250.5 mm', 1250.5],
    ['1.250,5 mm', 1250.5],
    ['0,650', 0.65],
    ['480', 480],
  ])('%s', (text, expected) => {
    expectClose(mm(text), expected, { tol: 1e-9, source });
  });

  it('reads a bare number in the unit of the field', () => {
    expectClose(mm('4', wide), 4, { tol: 1e-9, source });
    expectClose(mm('4', wideIn), 101.6, { tol: 1e-9, source });
    expectClose(mm('.100', wideIn), 2.54, { tol: 1e-9, source });
    expectClose(mm(480, wide), 480, { tol: 1e-9, source });
  });

  it('reads a minus sign of any kind', () => {
    const field = { ...wide, lowMm: -10 };
    for (const text of ['-2.5', '\u22122.5 mm', '\u20132.5'])
      expectClose(mm(text, field), -2.5, { tol: 1e-9, source });
    expectClose(mm('-1 1/2"', { ...wide, lowMm: -100 }), -38.1, { tol: 1e-9, source });
  });

  it('keeps the unit that was written', () => {
    expect(parseLength('1/8"', wide)).toMatchObject({ unit: 'in', isBare: false });
    expect(parseLength('480', wide)).toMatchObject({ unit: 'mm', isBare: true });
  });

  it('asks about .100 in a field of mm, where only the inch reading is plausible', () => {
    const parsed = parseLength('.100', top);
    expect(parsed).toMatchObject({ kind: 'question', text: '0.100 in?' });
    if (parsed.kind === 'question') expectClose(parsed.meant[0]?.value, 2.54, { tol: 1e-9, source });
  });

  it('catches a slip of ten and says what may have been meant', () => {
    for (const text of ['28', '.28', '28 mm', '0,28'])
      expect(parseLength(text, top)).toMatchObject({ kind: 'refusal', code: 'slip-of-ten' });
    expect(parseLength('28', top)).toMatchObject({
      text: 'Top thickness is "28", and it must be between 1.5 and 6 mm; was 2.8 mm meant? Type it again.',
    });
  });

  it('refuses 1,250 only where both readings are plausible', () => {
    expect(parseLength('1,250', wide)).toMatchObject({ kind: 'refusal', code: 'two-readings' });
    expectClose(mm('1,250', { ...wide, lowMm: 100 }), 1250, { tol: 1e-9, source });
    expectClose(mm('1,250', { ...wide, highMm: 100 }), 1.25, { tol: 1e-9, source });
  });

  it.each([
    'NaN',
    'Infinity',
    '1e9',
    '',
    '  ',
    'abc',
    '3 kg',
    '1/0',
    '1.2.3',
    '5 5',
    '-480',
    '12 ft',
    '1,2,3',
    '--3',
    '3 1',
  ])('refuses "%s" in one sentence', (text) => {
    const parsed = parseLength(text, wide);
    expect(parsed.kind).toBe('refusal');
    if (parsed.kind === 'refusal')
      expect(parsed.text).toMatch(/^Body length is .*between 0\.5 and 2000 mm.*\.$/);
  });

  it('throws the sentence at doors that cannot ask', () => {
    expect(() => requireLengthMm('.100', top, 'top.thickness')).toThrow(InputError);
    expect(() => requireLengthMm('.100', top)).toThrow(/was it 0\.100 in\?/);
    expect(() => requireLengthMm(Number.NaN, top)).toThrow(/no number/);
  });
});

describe('printing lengths', () => {
  it('prints mm, thousandths and the nearest 1/64', () => {
    expect(formatMm(98)).toBe('98.0');
    expect(formatMm(2.675, 2)).toBe('2.68');
    expect(formatMm(-0.04)).toBe('0.0');
    expect(formatMm(-2.5)).toBe('\u22122.5');
    expect(formatInches(98)).toBe('3.858');
    expect(formatInches(2.667)).toBe('.105');
    expect(formatInches(6.35)).toBe('0.250');
    expect(fractionText(nearest64(100.0125))).toBe('3 15/16');
    expect(fractionText(nearest64(50.8))).toBe('2');
    expect(fractionText(nearest64(0))).toBe('0');
    expect(inchText(3.175)).toBe('.125 in');
    expect(inchText(9.525)).toBe('3/8 in');
    expect(lengthForFile(479.821875, 'in')).toBe('18 57/64 in');
    expect(lengthForFile(98, 'in')).toBe('3.858268 in');
    expect(lengthForFile(-2.5, 'mm')).toBe('-2.5 mm');
  });

  it('carries a fraction that rounds up to the next inch', () => {
    expect(nearest64(25.4 * 0.9999)).toMatchObject({ whole: 1, num: 0, den: 1 });
  });

  it('round trips: what is printed reads as what was meant (seed 11)', () => {
    const field = { ...wide, lowMm: -2000 };
    const lengths = fc.double({ min: -1999, max: 1999, noNaN: true });
    const near = (difference: number, tol: number): void =>
      expectClose(difference, 0, { tol, source: 'arithmetic' });
    fc.assert(
      fc.property(lengths, (value) => near(mm(`${formatMm(value, 2)} mm`, field) - value, 0.005 + 1e-8)),
      { seed: 11 },
    );
    fc.assert(
      fc.property(fc.integer({ min: -4000, max: 4000 }), (parts) => {
        const value = (parts * 25.4) / 64;
        near(mm(`${fractionText(nearest64(value))} in`, field) - value, 1e-9);
        near(mm(lengthForFile(value, 'in'), field) - value, 1e-9);
      }),
      { seed: 11 },
    );
    fc.assert(
      fc.property(lengths, fc.constantFrom('mm' as const, 'in' as const), (value, unit) => {
        near(mm(lengthForFile(value, unit), field) - value, 1.4e-5);
        near(nearest64(value).restMm, 25.4 / 128 + 1e-9);
      }),
      { seed: 11 },
    );
  });
});
