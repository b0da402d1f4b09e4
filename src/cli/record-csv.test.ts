import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import Papa from 'papaparse';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import type { RecordEvent } from '../course/event.ts';
import { eventsRepository } from '../store/events/events.repository.ts';
import { openStore } from '../store/open-store.ts';
import { main } from './main.ts';
import { readingsToCsv, recordToCsv } from './record-csv.ts';

const event = (counter: number, kind: string, body: object, stream = 'build:b1'): RecordEvent => ({
  id: `e${counter}`,
  stream: stream as RecordEvent['stream'],
  kind,
  device: 'd1',
  counter,
  time: Date.UTC(2030, 8, 2, 18, 30, counter),
  by: 'p1',
  body,
});
const verdict = { state: 'doubtful', words: 'near', low: 2.7, high: 2.85 };
const reading = {
  op: 'T10',
  reading: 'T10.1',
  value: 2.72,
  unit: 'mm',
  spot: 'bridge, treble side',
  tool: 'gauge',
  verdict,
};
const events = [
  event(1, 'note', { text: 'a "knot",\nand resin' }),
  event(2, 'reading', reading),
  event(3, 'reading', { op: 'T3', reading: 'T3.1', said: '=HYPERLINK("x")' }),
  event(4, 'event-withdrawn', { event: 'e3' }),
];

/** Reads a table with a parser, heading by heading. */
const rows = (csv: string): readonly Record<string, string>[] =>
  Papa.parse<Record<string, string>>(csv.trimEnd(), { header: true }).data;

describe('the record as CSV', () => {
  it('has one row an event with the time in ISO 8601 and a body that reads back', () => {
    const table = rows(recordToCsv(events));
    expect(table.map((r) => r['id'])).toEqual(['e1', 'e2', 'e3', 'e4']);
    expect(table[1]?.['time']).toBe('2030-09-02T18:30:02.000Z');
    expect(table.map((r) => JSON.parse(r['body'] as string))).toEqual(events.map((e) => e.body));
  });
  it('has one row a reading, with limits as shown, and says what was taken back', () => {
    const table = rows(readingsToCsv(events));
    expect(table).toHaveLength(2);
    expect(table[0]).toMatchObject({
      build: 'b1',
      operation: 'T10',
      reading: 'T10.1',
      spot: 'bridge, treble side',
      value: '2.72',
      unit: 'mm',
      verdict: 'doubtful',
      low: '2.7',
      high: '2.85',
      tool: 'gauge',
      taken_back: 'no',
    });
    expect(table[1]?.['taken_back']).toBe('yes');
  });
  it('lets no typed word run as a formula in a spreadsheet', () => {
    expect(rows(readingsToCsv(events))[1]?.['said']).toBe('\'=HYPERLINK("x")');
    const named = recordToCsv([{ ...event(9, 'note', { text: 'x' }), by: '-cmd' }]);
    expect(rows(named)[0]?.['by']).toBe("'-cmd");
  });
});

describe('the command', () => {
  let folder = '';
  beforeAll(async () => {
    folder = fs.mkdtempSync(path.join(os.tmpdir(), 'bracewright-export-'));
    const store = await openStore(path.join(folder, 'data'));
    await eventsRepository(store.db).append(events);
    await store.close();
  });
  afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

  /** Runs it; gives the exit code and what went to standard error. */
  async function run(...args: string[]): Promise<{ code: number; err: string }> {
    return call('export', ...args, '--data', path.join(folder, 'data'));
  }

  async function call(...args: string[]): Promise<{ code: number; err: string }> {
    let err = '';
    const out = vi.spyOn(process.stdout, 'write').mockImplementation(() => true);
    const bad = vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
      err += String(text);
      return true;
    });
    try {
      const code = await main(args);
      return { code, err };
    } finally {
      out.mockRestore();
      bad.mockRestore();
    }
  }

  it('writes events, readings and JSON', async () => {
    const file = path.join(folder, 'out');
    expect((await run(file, '--format', 'csv')).code).toBe(0);
    expect(fs.readFileSync(file, 'utf8')).toBe(recordToCsv(events));
    expect((await run(file, '--format', 'csv', '--what', 'readings')).code).toBe(0);
    expect(fs.readFileSync(file, 'utf8')).toBe(readingsToCsv(events));
    expect((await run(file)).code).toBe(0);
    expect(JSON.parse(fs.readFileSync(file, 'utf8')).events).toHaveLength(4);
  });
  it('refuses what it does not know in one sentence and writes nothing', async () => {
    const file = path.join(folder, 'none');
    const other = await run(file, '--format', 'xml');
    expect(other.code).toBe(2);
    expect(other.err).toContain('--format is "xml"');
    const readings = await run(file, '--what', 'readings');
    expect(readings.code).toBe(2);
    expect(readings.err).toContain('--what is "readings"');
    expect(fs.existsSync(file)).toBe(false);
  });

  /** Everything a folder holds, without the numbers of arrival. */
  async function heldIn(data: string): Promise<readonly RecordEvent[]> {
    const store = await openStore(data);
    const held = await eventsRepository(store.db).all();
    await store.close();
    return held.map(({ arrival: _, ...e }) => e);
  }

  it('brings events back as CSV without a change, once however often, and a trial keeps nothing', async () => {
    const file = path.join(folder, 'events.csv');
    const other = path.join(folder, 'other');
    await run(file, '--format', 'csv');
    expect((await call('import', file, '--data', other, '--dry-run')).code).toBe(0);
    expect(await heldIn(other)).toEqual([]);
    for (let i = 0; i < 2; i++) expect((await call('import', file, '--data', other)).code).toBe(0);
    expect(await heldIn(other)).toEqual(events);
  });

  it('takes a table of steps out, adds what was written under it, and refuses the whole table for two wrong lines', async () => {
    const data = path.join(folder, 'class');
    const setUp = event(9, 'build-set-up', {
      course: 'c1',
      person: 'p1',
      instrument: 'steel',
      pattern: 'r1',
      handed: 'right',
    });
    const store = await openStore(data);
    await eventsRepository(store.db).append([...events, setUp]);
    await store.close();
    const file = path.join(folder, 'steps.csv');
    expect((await call('export', file, '--format', 'csv', '--what', 'steps', '--data', data)).code).toBe(0);
    const table = fs.readFileSync(file, 'utf8');
    expect((await call('import', file, '--data', data)).code).toBe(0);
    expect(await heldIn(data)).toHaveLength(5);

    const line = (what: string, value: string) =>
      `2030-09-09T18:30:00Z,b1,T10,,${what},T10.1,,${value},mm,,\r\n`;
    fs.writeFileSync(
      file,
      `${table}${line('reading', 'thick')}${line('finished', '2.8')}${line('reading', '2.8')}`,
    );
    const wrong = await call('import', file, '--data', data);
    expect(wrong.code).toBe(2);
    expect(wrong.err.trim().split('\n')).toEqual([
      expect.stringMatching(/^Line 3: value is "thick".*\.$/),
      expect.stringMatching(/^Line 4: what is "finished".*\.$/),
      'Nothing was taken: 2 of 4 lines are wrong.',
    ]);
    expect(await heldIn(data)).toHaveLength(5);

    fs.writeFileSync(file, `${table}${line('reading', '2.8')}`);
    for (let i = 0; i < 2; i++) expect((await call('import', file, '--data', data)).code).toBe(0);
    const held = await heldIn(data);
    expect(held).toHaveLength(6);
    expect(held.at(-1)).toMatchObject({
      kind: 'reading',
      stream: 'build:b1',
      body: { value: 2.8, unit: 'mm' },
    });
    // the box is not glued by a table either while its closing list is open
    fs.writeFileSync(file, `${table}2030-09-09T18:30:00Z,b1,X5,,done,,,,,,\r\n`);
    const glued = await call('import', file, '--data', data);
    expect(glued.code).toBe(2);
    expect(glued.err).toMatch(/^Build b1: the box cannot be glued yet, \d+ of the closing list are open/);
    expect(await heldIn(data)).toHaveLength(6);
    expect((await call('check-data', '--data', data)).code).toBe(0);
  });

  it('says what a table must have when it is another one', async () => {
    const file = path.join(folder, 'names.csv');
    fs.writeFileSync(file, 'name,age\nAda,30\n');
    const { code, err } = await call('import', file, '--data', path.join(folder, 'data'));
    expect(code).toBe(2);
    expect(err).toMatch(/^The first line of the table is "name,age".*\.$/m);
  });
});
