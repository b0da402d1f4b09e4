import { describe, expect, it } from 'vitest';
import { ownRoute } from '../route/route.ts';
import { foldBuild } from './build-facts.ts';
import type { RecordEvent } from './event.ts';
import { bodyFault } from './event-kinds.ts';
import { draftsOfRows, recordColumns, recordRows } from './record-table.ts';

const route = ownRoute();
const event = (id: string, kind: string, body: object, time: number): RecordEvent => ({
  id,
  stream: 'build:b1',
  kind,
  device: 'd',
  counter: time,
  time,
  by: 'p1',
  body,
});
const events = [
  event('a', 'step-done', { op: 'T9', part: '1', atMs: 1_000_000 }, 5_000_000),
  event(
    'b',
    'reading',
    {
      op: 'T10',
      reading: 'T10.1',
      value: 2.46,
      unit: 'mm',
      spot: 'bridge, bass side',
      verdict: { state: 'broken', words: 'x' },
    },
    6_000_000,
  ),
  event('c', 'note', { text: 'about a person' }, 7_000_000),
  event('d', 'hold-signed', { op: 'T10', sign: 'target' }, 8_000_000),
];
/** The table as a reader gives it: every cell a text. */
const cells = (rows: ReturnType<typeof recordRows>) =>
  rows.map((r) => Object.fromEntries(recordColumns.map((c) => [c.heading, String(c.cell(r) ?? '')])));

describe('recordRows', () => {
  it('gives steps, rests, readings and signatures, no words about people', () => {
    const rows = recordRows(events);
    expect(rows.map((r) => r.what)).toEqual(['done', 'reading', 'signed']);
    expect(rows[0]?.atUtc).toBe('1970-01-01T00:16:40.000Z');
    expect(rows[1]).toMatchObject({ value: 2.46, unit: 'mm', verdict: 'broken', spot: 'bridge, bass side' });
    expect(recordRows(events, new Set(['b'])).map((r) => r.what)).toEqual(['done', 'signed']);
  });
});

describe('draftsOfRows', () => {
  const back = (change: Readonly<Record<string, string>> = {}) =>
    draftsOfRows(
      route,
      new Set(['b1']),
      cells(recordRows(events))
        .slice(0, 2)
        .map((r, i) => (i === 1 ? { ...r, ...change } : r)),
      'teacher',
    );

  it('brings steps and readings back as they were', () => {
    const made = back().drafts.map(
      (d, i): RecordEvent => ({ ...d, id: `n${i}`, device: 'x', counter: i + 1, time: 9_000_000 + i }),
    );
    expect(made.map(bodyFault)).toEqual([undefined, undefined]);
    const [before, after] = [foldBuild(events), foldBuild(made)];
    const doneAt = (facts: typeof after) => facts.operations.get('T9')?.parts.get('1')?.doneMs;
    expect(doneAt(after)).toBe(doneAt(before));
    expect(doneAt(after)).toBe(1_000_000);
    expect(after.readings.get('T10.1')?.[0]).toMatchObject({
      value: 2.46,
      spot: 'bridge, bass side',
      atMs: 6_000_000,
    });
  });

  it.each([
    ['build', 'b9', 'the id of a build'],
    ['operation', 'Z1', 'the id of an operation'],
    ['at_utc', 'yesterday', 'a time such as'],
    ['what', 'signed', 'started, done or reading'],
    ['reading', 'T4.1', 'one of T10.1, T10.2 of T10'],
    ['value', '2,46', 'a number with a point'],
    ['value', '', 'a number with a point'],
    ['unit', 'in', 'mm'],
  ])('refuses a line whose %s is "%s", naming the line, and takes nothing', (name, value, wanted) => {
    const { drafts, faults } = back({ [name]: value });
    expect(drafts).toEqual([]);
    expect(faults).toHaveLength(1);
    expect(faults[0]).toContain(`Line 3: ${name} is "${value}", wanted is ${wanted}`);
  });

  it('has one sentence for each wrong line, and passes over what stands in the record already', () => {
    const rows = cells(recordRows(events));
    const wrong = rows.map((r) => ({ ...r, build: 'b9' }));
    expect(draftsOfRows(route, new Set(['b1']), wrong, 'teacher').faults.map((f) => f.slice(0, 7))).toEqual([
      'Line 2:',
      'Line 3:',
      'Line 4:',
    ]);
    const again = draftsOfRows(route, new Set(['b1']), rows, 'teacher', recordRows(events));
    expect(again).toEqual({ drafts: [], knownCount: 3, faults: [] });
  });
});
