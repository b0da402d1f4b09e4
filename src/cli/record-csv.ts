import type { RecordEvent } from '../course/event.ts';
import { type BodyOf, bodyFault } from '../course/event-kinds.ts';
import { foldEvents } from '../course/fold.ts';
import { recordColumns, recordRows } from '../course/record-table.ts';
import { type CsvColumn, tableToCsv } from '../output/csv.ts';

/** Steps, rests, readings and signatures as CSV, one row each: a table that can be added to and brought in again. */
export function stepsToCsv(events: readonly RecordEvent[]): string {
  const { withdrawn } = foldEvents({ empty: () => 0, copy: (n) => n, apply: () => undefined }, events);
  return tableToCsv(recordColumns, recordRows(events, withdrawn));
}

/** Time in the words of ISO 8601, UTC. */
const iso = (timeMs: number): string => new Date(timeMs).toISOString();

const eventColumns: readonly CsvColumn<RecordEvent>[] = [
  { heading: 'time', cell: (e) => iso(e.time) },
  { heading: 'stream', cell: (e) => e.stream },
  { heading: 'kind', cell: (e) => e.kind },
  { heading: 'by', cell: (e) => e.by },
  { heading: 'id', cell: (e) => e.id },
  { heading: 'device', cell: (e) => e.device },
  { heading: 'counter', cell: (e) => e.counter },
  { heading: 'body', cell: (e) => JSON.stringify(e.body) },
];

/**
 * The record as CSV: one row an event, the body as JSON in the last column. People are ids only.
 *
 * @param events  in the order they are to stand in
 */
export function recordToCsv(events: readonly RecordEvent[]): string {
  return tableToCsv(eventColumns, events);
}

type ReadingEvent = RecordEvent<BodyOf<'reading'>>;

const readingColumns: readonly CsvColumn<ReadingEvent>[] = [
  { heading: 'time', cell: (e) => iso(e.time) },
  { heading: 'build', cell: (e) => e.stream.slice('build:'.length) },
  { heading: 'operation', cell: (e) => e.body.op },
  { heading: 'reading', cell: (e) => e.body.reading },
  { heading: 'spot', cell: (e) => e.body.spot },
  { heading: 'value', cell: (e) => e.body.value },
  { heading: 'said', cell: (e) => e.body.said },
  { heading: 'unit', cell: (e) => e.body.unit },
  { heading: 'verdict', cell: (e) => e.body.verdict?.state },
  { heading: 'low', cell: (e) => e.body.verdict?.low },
  { heading: 'high', cell: (e) => e.body.verdict?.high },
  { heading: 'tool', cell: (e) => e.body.tool },
  { heading: 'by', cell: (e) => e.by },
];

/**
 * The readings of a record as CSV: one row a reading, with the verdict and the limits as they were shown; what was
 * taken back stands in the table and says so in the last column.
 *
 * @param events  in the order they are to stand in; what is no reading is passed over
 */
export function readingsToCsv(events: readonly RecordEvent[]): string {
  const { withdrawn } = foldEvents({ empty: () => 0, copy: (n) => n, apply: () => undefined }, events);
  const readings = events.filter(
    (e): e is ReadingEvent => e.kind === 'reading' && bodyFault(e) === undefined,
  );
  const takenBack: CsvColumn<ReadingEvent> = {
    heading: 'taken_back',
    cell: (e) => (withdrawn.has(e.id) ? 'yes' : 'no'),
  };
  return tableToCsv([...readingColumns, takenBack], readings);
}
