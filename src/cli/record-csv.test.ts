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
    let err = '';
    const out = vi.spyOn(process.stdout, 'write').mockImplementation(() => true);
    const bad = vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
      err += String(text);
      return true;
    });
    try {
      const code = await main(['export', ...args, '--data', path.join(folder, 'data')]);
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
});
