import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { requireQuantity } from './length.ts';
import { parseQuantity, type QuantityField } from './parse-quantity.ts';

const from = (kind: QuantityField['kind'], unit: string, low: number, high: number): QuantityField => ({
  kind,
  unit,
  low,
  high,
  what: 'It',
});

describe('parseQuantity', () => {
  it.each([
    ['14 deg', from('angle', 'deg', 0, 90), 14],
    ['14\u00b0', from('angle', 'deg', 0, 90), 14],
    ['0.5 rad', from('angle', 'deg', 0, 90), (0.5 * 180) / Math.PI],
    ['17.5 lbf', from('force', 'N', 1, 1000), 17.5 * 4.4482216152605],
    ['180 g', from('mass', 'kg', 0.01, 10), 0.18],
    ['6 oz', from('mass', 'kg', 0.01, 10), 0.17009713875],
    ['12 GPa', from('stress', 'MPa', 1000, 30000), 12000],
    ['1000 psi', from('stress', 'MPa', 1, 30000), 6.894757293168],
    ['440 Hz', from('frequency', 'Hz', 10, 1000), 440],
    ['45 %', from('fraction', '%', 0, 1), 0.45],
    ['45', from('fraction', '%', 0, 1), 0.45],
    ['70 F', from('temperature', 'C', 0, 40), 21.111111111111],
    ['-5', from('temperature', 'C', -20, 40), -5],
    ['1 h 30 min', from('duration', 'min', 0, 1000), 90],
    ['2 days', from('duration', 'min', 0, 10000), 2880],
    ['0.000314 lb/in', from('line-mass', 'g/m', 0.1, 30), 0.000314 * 17857.96732283],
    ['26 lb/ft3', from('density', 'kg/m3', 100, 1500), 26 * 16.018463373960138],
    ['6', from('count', 'count', 1, 12), 6],
  ])('%s', (text, field, expected) => {
    const tol = Math.abs(expected) * 1e-9;
    expectClose(requireQuantity(text, field), expected, { tol, source: 'inch-1959' });
  });

  it('refuses the unit of another kind, naming it', () => {
    const parsed = parseQuantity('14 mm', from('angle', 'deg', 0, 90));
    expect(parsed).toMatchObject({ kind: 'refusal', code: 'wrong-unit' });
    if (parsed.kind === 'refusal') expect(parsed.text).toContain('mm is no unit of an angle');
  });

  it('refuses temperatures made of two terms', () => {
    expect(parseQuantity('20 C 5 F', from('temperature', 'C', 0, 40)).kind).toBe('refusal');
  });

  it('shortens what is quoted back', () => {
    const parsed = parseQuantity('x'.repeat(500), from('angle', 'deg', 0, 90));
    expect(parsed.kind === 'refusal' && parsed.text.length).toBeLessThan(200);
  });
});

describe('anything typed', () => {
  it('is a value inside the limits, a question or one sentence (seed 12)', () => {
    const bits = fc.constantFrom(
      '1',
      '2',
      '5',
      '0',
      '.',
      ',',
      '/',
      ' ',
      '-',
      '\u2212',
      'in',
      '"',
      "'",
      'mm',
      'ft',
      '\u00bd',
      'e',
      '%',
      'kg',
      '9',
    );
    const field: QuantityField = { kind: 'length', unit: 'mm', low: 1, high: 500, what: 'It' };
    fc.assert(
      fc.property(fc.array(bits, { maxLength: 9 }), (parts) => {
        const parsed = parseQuantity(parts.join(''), field);
        if (parsed.kind === 'value') {
          expect(parsed.value).toBeGreaterThanOrEqual(1 - 1e-6);
          expect(parsed.value).toBeLessThanOrEqual(500 + 1e-6);
        } else expect(parsed.text).toMatch(parsed.kind === 'question' ? /\?$/ : /^It .*\.$/);
      }),
      { seed: 12, numRuns: 2000 },
    );
  });
});
