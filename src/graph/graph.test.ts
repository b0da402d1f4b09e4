import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { finding } from '../quantity/finding.ts';
import { createCatalogue } from './catalogue.ts';
import { absent, type Figure, figure, inputFigure } from './figure.ts';
import { cellOf, computeDear, evaluate, figureValue, numberOf, type Sheet } from './sheet.ts';

const num = (id: string): Figure<number> =>
  inputFigure<number>({ id, unit: 'mm', label: id, source: 'arithmetic' });
const given = (values: Record<string, unknown>) => ({ inputs: new Map(Object.entries(values)) });

/** A random graph of sums in which some nodes fail or vanish on some values; described by plain numbers so that it shrinks. */
function randomGraph(shape: readonly (readonly number[])[], inputCount: number): Figure<number>[] {
  const all: Figure<number>[] = Array.from({ length: inputCount }, (_, i) => num(`in.${i}`));
  shape.forEach((links, i) => {
    const from = Object.fromEntries(links.map((l, k) => [`f${k}`, all[l % all.length] as Figure<number>]));
    all.push(
      figure({
        id: `node.${i}`,
        unit: 'mm',
        label: `node ${i}`,
        formula: 'sum',
        source: 'arithmetic',
        from,
        compute: (v) => {
          const sum = Object.values(v).reduce((a: number, b) => a + (b as number), 1);
          if (sum % 7 === 3) return finding({ code: 'test-three', level: 'blocked', text: 'three' });
          if (sum % 11 === 5) return absent('five');
          return sum % 1000;
        },
      }),
    );
  });
  return all;
}

describe('evaluate', () => {
  it('gives the same cells step by step as anew, on random graphs (seed 7)', () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(fc.nat(40), { minLength: 1, maxLength: 4 }), { minLength: 1, maxLength: 40 }),
        fc.array(fc.array(fc.tuple(fc.nat(3), fc.nat(50)), { minLength: 1, maxLength: 3 }), {
          minLength: 1,
          maxLength: 6,
        }),
        fc.array(fc.tuple(fc.nat(60), fc.option(fc.nat(50))), { maxLength: 4 }),
        (shape, edits, overridden) => {
          const catalogue = createCatalogue(randomGraph(shape, 4));
          const values = new Map<string, unknown>([
            ['in.0', 1],
            ['in.1', 2],
            ['in.2', 3],
            ['in.3', 4],
          ]);
          const overrides = new Map<string, { value: unknown; by: string }>();
          let sheet: Sheet = evaluate(catalogue, { inputs: new Map(values), overrides: new Map() });
          edits.forEach((edit, e) => {
            for (const [i, v] of edit) values.set(`in.${i}`, v);
            const o = overridden[e];
            if (o) {
              const id = (catalogue.ordered[o[0] % catalogue.ordered.length] as Figure).id;
              if (o[1] === null) overrides.delete(id);
              else overrides.set(id, { value: o[1], by: 'measured' });
            }
            const now = { inputs: new Map(values), overrides: new Map(overrides) };
            sheet = evaluate(catalogue, now, sheet);
            expect(sheet.cells).toEqual(evaluate(catalogue, now).cells);
          });
        },
      ),
      { seed: 7, numRuns: 300 },
    );
  });

  it('computes a diamond once and stops where nothing changed', () => {
    let runs = 0;
    const a = num('a');
    const b = figure({
      id: 'b',
      unit: 'mm',
      label: 'b',
      formula: 'a rounded',
      source: 'arithmetic',
      from: { a },
      compute: (v) => Math.round(v.a),
    });
    const c = figure({
      id: 'c',
      unit: 'mm',
      label: 'c',
      formula: 'b + 1',
      source: 'arithmetic',
      from: { b },
      compute: (v) => v.b + 1,
    });
    const d = figure({
      id: 'd',
      unit: 'mm',
      label: 'd',
      formula: 'b + c',
      source: 'arithmetic',
      from: { b, c },
      compute: (v) => {
        runs++;
        return v.b + v.c;
      },
    });
    const catalogue = createCatalogue([d]);
    const first = evaluate(catalogue, given({ a: 2 }));
    expect(figureValue(first, d)).toBe(5);
    expect(runs).toBe(1);
    const second = evaluate(catalogue, given({ a: 2.1 }), first);
    expect(runs).toBe(1);
    expect(figureValue(second, d)).toBe(5);
    expect(figureValue(evaluate(catalogue, given({ a: 3 }), second), d)).toBe(7);
    expect(runs).toBe(2);
  });

  it('lets a finding travel and keeps the place where it began, while the rest computes', () => {
    const a = num('a');
    const bad = figure({
      id: 'bad',
      unit: 'mm',
      label: 'bad',
      formula: '-',
      source: 'arithmetic',
      from: { a },
      compute: () => finding({ code: 'test', level: 'blocked', text: 'no' }),
    });
    const after = figure({
      id: 'after',
      unit: 'mm',
      label: 'after',
      formula: '-',
      source: 'arithmetic',
      from: { bad, a },
      compute: (v) => (v.bad as unknown as number) + v.a,
    });
    const beside = figure({
      id: 'beside',
      unit: 'mm',
      label: 'beside',
      formula: 'a x 2',
      source: 'arithmetic',
      from: { a },
      compute: (v) => v.a * 2,
    });
    const sheet = evaluate(createCatalogue([after, beside]), given({ a: 2 }));
    expect(cellOf(sheet, 'after')).toMatchObject({ kind: 'finding', figure: 'bad' });
    expect(numberOf(sheet, 'beside')).toBe(4);
  });

  it('turns a number that is none into a finding', () => {
    const a = num('a');
    const root = figure({
      id: 'root',
      unit: 'mm',
      label: 'Root',
      formula: 'root of a',
      source: 'arithmetic',
      from: { a },
      compute: (v) => Math.sqrt(v.a),
    });
    expect(cellOf(evaluate(createCatalogue([root]), given({ a: -1 })), 'root')).toMatchObject({
      code: 'not-a-number',
      figure: 'root',
    });
  });

  it('keeps dear figures pending, and what rests on them, until they are known', () => {
    const a = num('a');
    const dear = figure({
      id: 'dear',
      unit: 'mm',
      label: 'dear',
      formula: 'a x a',
      source: 'arithmetic',
      from: { a },
      compute: (v) => v.a * v.a,
      dear: { version: 1 },
    });
    const rest = figure({
      id: 'rest',
      unit: 'mm',
      label: 'rest',
      formula: 'dear + 1',
      source: 'arithmetic',
      from: { dear },
      compute: (v) => v.dear + 1,
    });
    const catalogue = createCatalogue([rest]);
    const waiting = evaluate(catalogue, given({ a: 3 }));
    expect(cellOf(waiting, 'rest')).toMatchObject({ kind: 'pending', waitsFor: ['dear'] });
    expect(numberOf(evaluate(catalogue, { ...given({ a: 3 }), dear: computeDear }, waiting), 'rest')).toBe(
      10,
    );
  });

  it('passes undefined for an absent figure one can do without', () => {
    const a = num('a');
    const b = num('b');
    const sum = figure({
      id: 'sum',
      unit: 'mm',
      label: 'sum',
      formula: 'a + b',
      source: 'arithmetic',
      from: { a },
      maybe: { b },
      compute: (v) => v.a + (v.b ?? 0),
    });
    const both = figure({
      id: 'both',
      unit: 'mm',
      label: 'both',
      formula: 'a + b',
      source: 'arithmetic',
      from: { a, b },
      compute: (v) => v.a + v.b,
    });
    const sheet = evaluate(createCatalogue([sum, both]), given({ a: 2 }));
    expect(numberOf(sheet, 'sum')).toBe(2);
    expect(cellOf(sheet, 'both')).toMatchObject({ kind: 'absent' });
  });
});

describe('createCatalogue', () => {
  it('names the members of a ring in order', () => {
    const a = { ...num('a'), inputs: [] as Figure[] };
    const b = figure({
      id: 'b',
      unit: 'mm',
      label: 'b',
      formula: '-',
      source: 'arithmetic',
      from: { a: a as Figure<number> },
      compute: (v) => v.a,
    });
    (a.inputs as Figure[]).push(b as Figure);
    expect(() => createCatalogue([b])).toThrow('b -> a -> b');
  });

  it('refuses two figures with one id', () => {
    expect(() => createCatalogue([num('a'), num('a')])).toThrow('Two figures are called a');
  });
});
