import { createHash } from 'node:crypto';
import Papa from 'papaparse';
import { openBoxFaults } from '../course/closing-list.ts';
import { type EventDraft, type RecordEvent, readEvent } from '../course/event.ts';
import { checkBody } from '../course/event-kinds.ts';
import { foldEvents } from '../course/fold.ts';
import { draftsOfRows, recordColumns, recordRows } from '../course/record-table.ts';
import { InputError } from '../quantity/input-error.ts';
import { ownRoute } from '../route/route.ts';

type Cells = Readonly<Record<string, string>>;

/** What a table brings to a record. */
export interface CsvRead {
  readonly read: number;
  /** New to the record; empty when a line is wrong. */
  readonly events: readonly RecordEvent[];
  /** One sentence for each wrong line. */
  readonly faults: readonly string[];
}

const EVENT_COLUMNS = ['time', 'stream', 'kind', 'by', 'id', 'device', 'counter', 'body'] as const;
const STEP_COLUMNS = recordColumns.map((c) => c.heading).filter((h) => h !== 'verdict' && h !== 'by');

/** The apostrophe that keeps a spreadsheet from running a word as a formula does not belong to the word. */
const plainCell = (cell: string): string => cell.replace(/^'(?=[=+\-@\t\r])/, '');

function tableOf(text: string): { readonly headings: readonly string[]; readonly rows: readonly Cells[] } {
  const { data, meta, errors } = Papa.parse<Record<string, string>>(text.replace(/^\uFEFF/, ''), {
    header: true,
    skipEmptyLines: 'greedy',
  });
  const broken = errors.find((e) => e.type === 'Quotes' || e.type === 'FieldMismatch');
  if (broken)
    throw new InputError(
      'broken-csv',
      `Line ${(broken.row ?? 0) + 2} of the table cannot be read (${broken.message.replace(/\.$/, '')}); take the table out again and add to that.`,
    );
  const rows = data.map((row) =>
    Object.fromEntries(Object.entries(row).map(([name, cell]) => [name, plainCell(cell ?? '')])),
  );
  return { headings: meta.fields ?? [], rows };
}

function eventOfRow(row: Cells, line: number): RecordEvent {
  try {
    let body: unknown;
    try {
      body = JSON.parse(row['body'] ?? '');
    } catch {
      throw new InputError('event-form', 'The body of an event is no JSON; leave that column as it was.');
    }
    const event = readEvent({
      ...row,
      time: Date.parse(row['time'] ?? ''),
      counter: Number(row['counter'] || Number.NaN),
      body,
    });
    checkBody(event);
    return event;
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(error.code, `Line ${line}: ${error.message}`, error.member);
  }
}

function readEventRows(rows: readonly Cells[], kept: readonly RecordEvent[]): CsvRead {
  const known = new Set(kept.map((e) => e.id));
  const events: RecordEvent[] = [];
  const faults: string[] = [];
  rows.forEach((row, i) => {
    try {
      const event = eventOfRow(row, i + 2);
      if (!known.has(event.id)) events.push(event);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      faults.push(error.message);
    }
  });
  return { read: rows.length, events: faults.length > 0 ? [] : events, faults };
}

const hash = (text: string): string => createHash('sha256').update(text).digest('hex').slice(0, 26);

/** Events under ids made of what they say, so that the same table brought twice adds nothing the second time. */
function eventsOf(drafts: readonly EventDraft[], text: string, startMs: number): readonly RecordEvent[] {
  const device = `table-${hash(text)}`;
  return drafts.map((draft, i) => ({
    ...draft,
    id: `table-${hash(JSON.stringify([draft.stream, draft.kind, draft.body]))}`,
    device,
    counter: i + 1,
    time: startMs + i,
  }));
}

/** Boxes that a table says are glued while their closing list is open, one sentence each. */
function openBoxes(events: readonly RecordEvent[], kept: readonly RecordEvent[]): readonly string[] {
  return [...openBoxFaults(ownRoute(), events, kept)].map(
    ([e, fault]) => `Build ${e.stream.slice('build:'.length)}: ${fault}`,
  );
}

function readStepRows(
  text: string,
  rows: readonly Cells[],
  kept: readonly RecordEvent[],
  nowMs: number,
): CsvRead {
  const { withdrawn } = foldEvents({ empty: () => 0, copy: (n) => n, apply: () => undefined }, kept);
  const builds = new Set(
    kept.filter((e) => e.kind === 'build-set-up').map((e) => e.stream.slice('build:'.length)),
  );
  const found = draftsOfRows(ownRoute(), builds, rows, 'teacher', recordRows(kept, withdrawn));
  const lastMs = kept.reduce((ms, e) => Math.max(ms, e.time), 0);
  const known = new Set(kept.map((e) => e.id));
  const events = eventsOf(found.drafts, text, Math.max(nowMs, lastMs + 1)).filter((e) => !known.has(e.id));
  const faults = [...found.faults, ...openBoxes(events, kept)];
  return { read: rows.length, events: faults.length > 0 ? [] : events, faults };
}

/**
 * Reads a table for a record: whole events, or steps and readings. Nothing is kept here.
 *
 * @param text   CSV with a line of headings
 * @param kept   the record as it is
 * @param nowMs  the moment, ms
 * @throws InputError when it is none of the two tables
 */
export function readCsv(text: string, kept: readonly RecordEvent[], nowMs: number): CsvRead {
  const { headings, rows } = tableOf(text);
  if (EVENT_COLUMNS.every((name) => headings.includes(name))) return readEventRows(rows, kept);
  if (STEP_COLUMNS.every((name) => headings.includes(name))) return readStepRows(text, rows, kept, nowMs);
  throw new InputError(
    'csv-columns',
    `The first line of the table is "${headings.join(',').slice(0, 80)}", and a record can be brought in with the columns ${STEP_COLUMNS.join(', ')} or ${EVENT_COLUMNS.join(', ')}; take a table out with "bracewright export --format csv --what steps" and add to it.`,
  );
}
