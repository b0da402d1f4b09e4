import { describe, expect, it } from 'vitest';
import { expectClose } from '../../../test/support/expect-close.ts';
import type { InputSpec } from '../../pattern/input-spec.ts';
import { inputSpec } from '../../pattern/pattern-file.ts';
import { fieldText, readTyped } from './typed-number.ts';

const inch = { tol: 1e-9, source: 'inch-1959: 25.4 mm exactly' };
const spec = (id: string): InputSpec => {
  const found = inputSpec(id);
  if (!found) throw new Error(id);
  return found;
};

describe('readTyped', () => {
  it('reads a fraction as inches and keeps how it was written', () => {
    const read = readTyped(spec('hole.radius'), '1 15/16', 'mm');
    if (read.kind !== 'value') throw new Error(read.text);
    expectClose(read.value, 49.2125, inch);
    expect(read.text).toBe('1 15/16 in');
  });

  it('reads a bare number in the unit that is large on the page', () => {
    const read = readTyped(spec('hole.radius'), '1.9375', 'in');
    if (read.kind !== 'value') throw new Error(read.text);
    expectClose(read.value, 49.2125, inch);
    expect(read.text).toBe('1.9375 in');
  });

  it('asks when only inches make sense in a field of mm', () => {
    const read = readTyped(spec('top.thickness.final'), '.110', 'mm');
    expect(read.kind).toBe('question');
    if (read.kind === 'question') expectClose(read.meant[0]?.value ?? 0, 2.794, inch);
  });

  it('catches a slip of ten in one sentence', () => {
    const read = readTyped(spec('top.thickness.final'), '28', 'mm');
    expect(read).toMatchObject({ kind: 'refusal' });
    if (read.kind === 'refusal') expect(read.text).toContain('2.8 mm');
  });
});

describe('fieldText', () => {
  it('begins with a text that reads back as the same value', () => {
    for (const [value, unit] of [
      [480, 'mm'],
      [49.2125, 'in'],
      [2.8, 'in'],
      [98.37, 'mm'],
    ] as const) {
      const id = value > 100 ? 'body.length' : value < 10 ? 'top.thickness.final' : 'rim.height.neck';
      const read = readTyped(spec(id), fieldText(spec(id), value, unit), unit);
      if (read.kind !== 'value') throw new Error(read.text);
      expectClose(read.value, value, { tol: 0.002, source: 'arithmetic: four decimals of an inch' });
    }
  });
});
