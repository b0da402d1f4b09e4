import { describe, expect, it } from 'vitest';
import { judge } from '../../graph/rule.ts';
import { limitsOf } from '../../route/limits.ts';
import { ownRoute } from '../../route/route.ts';
import type { Reading } from '../../route/route-types.ts';
import { parseReading } from './parse-reading.ts';

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
