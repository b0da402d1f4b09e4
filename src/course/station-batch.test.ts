import fs from 'node:fs';
import { describe, expect, it } from 'vitest';
import { classOf, person, startMs, type Told } from '../../test/support/class-of.ts';
import { expectClose } from '../../test/support/expect-close.ts';
import { readPattern } from '../pattern/pattern-file.ts';
import { isFinding } from '../quantity/finding.ts';
import { platesNow, type StationBatch, stationBatch } from './station-batch.ts';

const pattern = readPattern(fs.readFileSync('data/patterns/small-steel-string.yaml', 'utf8'));
const people = ['p1', 'p2', 'p3', 'p4'].map((p) => person(p));
const plate = (i: number, value: number): Told => [
  `build:b${i}`,
  'reading',
  { op: 'T4', reading: 'T4.1', value, unit: 'mm' },
];
const thick: readonly Told[] = [plate(1, 3.4), plate(2, 3.2), plate(3, 3.3), plate(4, 3.3)];
const set = (value: number, builds: readonly string[], min = 5): Told => [
  'shop:main',
  'station-set',
  { station: 'thickness-sander', setting: 'T10', value, unit: 'mm', builds: [...builds] },
  min,
];

function batchOf(told: readonly Told[], builds: readonly string[]): StationBatch {
  const state = classOf(people, [...told]);
  const batch = stationBatch(state, 'thickness-sander', 'T10', builds, startMs, () => pattern);
  if (!batch || isFinding(batch)) throw new Error('these plates make a plan');
  return batch;
}

describe('a batch at the sander', () => {
  it('shows the plates thickest first, with what they are by now and the passes left', () => {
    const begun = batchOf(thick, ['b1', 'b2', 'b3']);
    expect(begun.now).toBe(0);
    const last = begun.steps[1]?.pass;
    if (!last) throw new Error('there are two passes');
    const now = batchOf([...thick, set(last.typeMm, ['b1', 'b2', 'b3'])], ['b1', 'b2', 'b3']);
    expect(now.now).toBe(2);
    const plates = platesNow(now);
    for (const p of plates)
      expectClose(p.nowMm, last.resultMm, { tol: 1e-9, source: 'arithmetic: all went through that number' });
    expect(plates.every((p) => p.passesLeft === now.steps.length - 2)).toBe(true);
    expect(platesNow(begun).map((p) => p.id)).toEqual(['b1', 'b3', 'b2']);
  });

  it('begins anew for a catch-up batch on the evening on which another batch went through', () => {
    const done = set(2.8, ['b1', 'b2', 'b3']);
    const first = batchOf([...thick, done], ['b1', 'b2', 'b3']);
    expect(first.now).toBe(first.steps.length);
    expect(batchOf([...thick, done], ['b4']).now).toBe(0);
  });

  it('knows whose thickness was never read and is only drawn', () => {
    const batch = batchOf([plate(1, 3.4)], ['b1', 'b2']);
    expect(batch.plates.map((p) => [p.id, p.isMeasured])).toEqual([
      ['b1', true],
      ['b2', false],
    ]);
    expect(batch.before).toMatchObject({ figure: 'top.thickness.before_rosette', op: 'T4' });
  });

  it('takes a thin plate out and says stop', () => {
    const batch = batchOf([plate(1, 3.4), plate(2, 2.75)], ['b1', 'b2']);
    const out = batch.steps.flatMap((s) => s.out);
    expect(out.map((o) => o.id)).toEqual(['b2']);
    expect(out[0]?.reason).toMatch(/^2.75 mm now and the last number leaves 2.\d\d mm/);
  });
});
