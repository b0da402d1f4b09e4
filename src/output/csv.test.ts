import fc from 'fast-check';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { tableToCsv } from './csv.ts';

interface Row {
  readonly name: string;
  readonly lengthMm: number | undefined;
}

const columns = [
  { heading: 'name', cell: (row: Row) => row.name },
  { heading: 'length_mm', cell: (row: Row) => row.lengthMm },
];

describe('tableToCsv', () => {
  it('writes headings, rows and empty cells', () => {
    const csv = tableToCsv(columns, [
      { name: 'upper bar', lengthMm: 264.5 },
      { name: 'tone bar, "1"', lengthMm: undefined },
    ]);
    expect(csv).toBe('name,length_mm\r\nupper bar,264.5\r\n"tone bar, ""1""",\r\n');
  });

  it.each(['=1+1', '+1', '@sum', '-2+3', '\t=1'])(
    'disarms the formula %j and leaves numbers alone',
    (name) => {
      const [line] = tableToCsv(columns, [{ name, lengthMm: -0.05 }])
        .split('\r\n')
        .slice(1);
      expect(line).toMatch(/^"?'/);
      expect(line).toMatch(/,-0\.05$/);
    },
  );

  it('seed 51: whatever words go in come back out', () => {
    const words = fc.string({ unit: 'grapheme' }).filter((s) => !/^[=+\-@\t\r]/.test(s));
    fc.assert(
      fc.property(fc.array(fc.record({ name: words, lengthMm: fc.integer() }), { minLength: 1 }), (rows) => {
        const read = Papa.parse<string[]>(tableToCsv(columns, rows).replace(/\r\n$/, '')).data.slice(1);
        expect(read).toEqual(rows.map(({ name, lengthMm }) => [name, String(lengthMm)]));
      }),
      { seed: 51 },
    );
  });

  it('refuses a number that is not finite, naming the column and row', () => {
    expect(() => tableToCsv(columns, [{ name: 'x', lengthMm: Number.NaN }])).toThrow(
      'length_mm of row 1 is NaN',
    );
    expect(() => tableToCsv([], [])).toThrow('0 columns');
  });
});
