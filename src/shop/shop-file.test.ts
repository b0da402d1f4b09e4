import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { InputError } from '../quantity/input-error.ts';
import { withOffset, withPrinter } from './edit-shop.ts';
import { schemaOf } from './shape-schema.ts';
import { jigsOf, machineAt, mouldsOf } from './shop.ts';
import { readShop, SHOP_SCHEMA_HEAD } from './shop-file.ts';
import { SHOP_SHAPE } from './shop-shape.ts';

const file = (name: string): string => readFileSync(new URL(`../../data/${name}`, import.meta.url), 'utf8');
const example = file('shops/evening-workshop.yaml');
const head = 'format: bracewright-shop/1\nname: Test\n';
const source = 'arithmetic';

describe('shop file', () => {
  it('reads the example with lengths as they are written on the tools', () => {
    const shop = readShop(example);
    expect(shop.name).toBe('Evening workshop');
    const sander = machineAt(shop, 'thickness-sander', 'thickness');
    expectClose(sander?.offset.alphaMm, 0.16, { tol: 1e-9, source });
    expectClose(sander?.offset.beta, 0.975, { tol: 1e-9, source });
    expect(sander?.offset.provedOn).toBe('2026-10-12');
    const ledge = machineAt(shop, 'binding-bench', 'height');
    expectClose(ledge?.reads.stepMm, 25.4 / 256, { tol: 1e-9, source: 'inch-1959' });
    expectClose(shop.drillsMm[3], 6.35, { tol: 1e-9, source: 'inch-1959' });
    expect(jigsOf(shop, 'slot-template').map((j) => j.adjust)).toContainEqual({ kind: 'fixed', at: [628] });
    expect(mouldsOf(shop)).toHaveLength(3);
    expect(shop.stations.get('buffer')?.isHere).toBe(false);
    expect(shop.ageRules.get('bandsaw')?.under_16).toBe('teacher does it');
  });

  it.each([
    ['a key that is not known', `${head}pin: [6 mm]`, /the key pin is not known here; write pins instead/],
    [
      'a wrong unit',
      `${head}pins: [6 kg]`,
      /pins 1: Centre pins on hand is "6 kg", and kg is no unit of a length/,
    ],
    ['a slip of ten', `${head}pins: [63.5 mm]`, /between 2 and 16 mm; was 6.35 mm meant/],
    ['NaN', `${head}pins: [.nan]`, /is "NaN", which is no number/],
    ['1e9', `${head}pins: [1e9]`, /is "1000000000", and it must be between 2 and 16 mm/],
    [
      'another version',
      'format: bracewright-shop/9\nname: x',
      /format "bracewright-shop\/9".*bracewright-shop\/1/,
    ],
    ['another kind of file', 'format: bracewright-pattern/1\nname: x', /format "bracewright-pattern\/1"/],
    ['broken YAML', `${head}pins: [6 mm`, /no readable YAML at line \d+, column \d+: /],
    [
      'a list where a group belongs',
      `${head}printer: [1]`,
      /printer: Printer is a list, and it must be a group/,
    ],
    ['nothing', '', /no format line/],
    ['a missing key', 'format: bracewright-shop/1', /Name of the shop is missing; write name:/],
    [
      'a machine without a way to read',
      `${head}machines: [{ id: a }]`,
      /How the machine reads is missing; write reads: with one of digital, scale, crank/,
    ],
    [
      'a jig both fixed and adjustable',
      `${head}jigs: [{ id: a, kind: hole-cutter, fixed: [50 mm], from: 30 mm, to: 50 mm, step: 1 mm }]`,
      /jig a: a hole-cutter needs its pin centre to knife edge, either fixed/,
    ],
    [
      'the same id twice',
      `${head}jigs: [{ id: a, kind: top-dish, fixed: [8 m] }, { id: a, kind: top-dish, fixed: [9 m] }]`,
      /two entries are called a/,
    ],
    [
      'an age rule of another word',
      `${head}age_rules: { bandsaw: { under_16: maybe, from_16_to_17: alone, adult: alone } }`,
      /must be one of alone, adult beside, teacher does it, never/,
    ],
  ])('refuses %s in one sentence', (_what, text, sentence) => {
    expect(() => readShop(text)).toThrow(InputError);
    expect(() => readShop(text)).toThrow(sentence);
  });

  it('is published as a JSON Schema that follows the shape', () => {
    const made = { ...SHOP_SCHEMA_HEAD, ...schemaOf(SHOP_SHAPE) };
    expect(JSON.parse(file('schemas/shop.schema.json')), 'run: npx tsx scripts/write-shop-schema.ts').toEqual(
      JSON.parse(JSON.stringify(made)),
    );
  });
});

describe('writing a shop back', () => {
  it('changes the offset and nothing else, comments included', () => {
    const next = withOffset(example, 'thickness-sander', {
      alphaMm: 0.12,
      beta: 0.98,
      provedOn: '2026-11-02',
    });
    const changed = next.split('\n').filter((line, i) => line !== example.split('\n')[i]);
    expect(changed).toEqual([
      '    offset: { alpha: 0.12 mm, beta: 0.98, proved: 2026-11-02 } # new belt that day',
    ]);
  });

  it('adds an offset where there was none and keeps the comments', () => {
    const next = withOffset(example, 'saddle-router', { alphaMm: -0.05, beta: 1 });
    expectClose(readShop(next).machines.at(-1)?.offset.alphaMm, -0.05, { tol: 1e-9, source });
    for (const comment of example.match(/#.*$/gm) ?? []) expect(next).toContain(comment);
  });

  it('writes what the printer made of 100 mm', () => {
    const next = withPrinter(example, 99.5, 100);
    expectClose(readShop(next).printed100.xMm, 99.5, { tol: 1e-9, source });
    expect(() => withPrinter(example, 50, 100)).toThrow(/between 90 and 110 mm/);
  });

  it('names the machines when asked for one that is not there', () => {
    expect(() => withOffset(example, 'planer', { alphaMm: 0, beta: 1 })).toThrow(
      /no machine planer; it has thickness-sander/,
    );
  });
});

describe('a damaged shop file', () => {
  it('always ends in one sentence, never in another error (seed 5)', () => {
    const junk = fc.constantFrom(
      '{',
      '}',
      ':',
      '- ',
      '\t',
      '"',
      '1e9',
      'NaN',
      'null',
      '[',
      '\n',
      '*a',
      '&a',
      '!!x',
      '<<: ',
      '#',
      '\u0000',
      'mm',
    );
    fc.assert(
      fc.property(fc.nat(example.length), fc.nat(60), fc.array(junk, { maxLength: 4 }), (at, cut, bits) => {
        const text = example.slice(0, at) + bits.join('') + example.slice(at + cut);
        try {
          expect(typeof readShop(text).name).toBe('string');
        } catch (error) {
          if (!(error instanceof InputError)) throw error;
          expect(error.message).toMatch(/[.?]$/);
          expect(error.message.length).toBeLessThan(700);
        }
      }),
      { seed: 5, numRuns: 300 },
    );
  });
});
