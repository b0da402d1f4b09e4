import { describe, expect, it } from 'vitest';
import { expectClose } from '../../../test/support/expect-close.ts';
import { judge } from '../../graph/rule.ts';
import { limitsOf } from '../../route/limits.ts';
import { ownRoute } from '../../route/route.ts';
import type { Reading } from '../../route/route-types.ts';
import { parseReading, readingText, typedUnit } from './parse-reading.ts';

const readings = ownRoute().operations.flatMap((o) => o.readings);
const named = (id: string): Reading => readings.find((r) => r.id === id) as Reading;
const typed = (id: string, text: string) => {
  const limits = limitsOf(named(id), 'steel', () => undefined);
  return { limits, read: parseReading(named(id), limits, text) };
};

describe('a typed share of a whole', () => {
  it.each([
    ['S10b.1', 'chalk contact', '20', 20],
    ['S10b.1', 'chalk contact', '0', 0],
    ['R4.3', 'humidity at gluing', '8', 8],
    ['R4.3', 'humidity at gluing', '92', 92],
    ['A4.2', 'mass change over 24 h', '-1.5', -1.5],
  ])('%s %s of %s is out of limits and kept as it is', (id, _name, text, value) => {
    const { limits, read } = typed(id, text);
    expect(read).toEqual({ value });
    expect(judge(value, limits.hard)).not.toBe('met');
  });

  it.each([
    ['S10b.1', '101', 'Chalk contact is "101", and it must be between 0 and 100; '],
    ['R4.3', '-1', 'Humidity at gluing is "-1", and it must be between 0 and 100; '],
    ['A4.2', '150', 'Mass change over 24 h is "150", and it must be between -100 and 100; '],
  ])('%s of %s cannot be, and is refused in one sentence', (id, text, words) => {
    const { read } = typed(id, text);
    expect('says' in read && read.says.replaceAll('−', '-')).toContain(words);
  });
});

describe('an offset about zero', () => {
  it('is kept when the hole lies 1.8 mm off the joint, and refused only where no hand drills', () => {
    const limits = limitsOf(named('T6.1'), 'steel', () => undefined);
    const read = (text: string, unit: 'mm' | 'in') => parseReading(named('T6.1'), limits, text, unit);
    expect(read('1.8', 'mm')).toEqual({ value: 1.8 });
    const inches = read('.071', 'in');
    expectClose('value' in inches ? inches.value : 0, 1.8034, { tol: 1e-9, source: 'inch-1959' });
    expect(read('-1.8', 'mm')).toEqual({ value: -1.8 });
    expect(read('18', 'mm')).toHaveProperty('says');
  });
});

describe('a length typed in a class that works in inches', () => {
  const limits = { hard: { low: 2.7, high: 2.95 }, nominal: 2.8 };
  const inches = (text: string) => parseReading(named('T10.1'), limits, text, 'in');

  it.each([
    ['.097', 2.4638],
    ['7/64', 2.778125],
    ['2.46 mm', 2.46],
  ])('%s is %f mm', (text, mm) => {
    const read = inches(text);
    expectClose('value' in read ? read.value : Number.NaN, mm, { tol: 1e-9, source: 'inch-1959' });
  });

  it('refuses what would be millimetres, and is shown again as it is typed', () => {
    expect('says' in inches('2.46')).toBe(true);
    expect([typedUnit(named('T10.1'), 'in'), typedUnit(named('R4.3'), 'in')]).toEqual(['in', '% RH']);
    expect(readingText(named('T10.1'), 2.4638, 'in')).toBe('.097');
  });
});
