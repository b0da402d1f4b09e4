import { InputError } from '../quantity/input-error.ts';
import type { Operation, Reading, Route } from '../route/route-types.ts';
import type { EventDraft, RecordEvent, StreamId } from './event.ts';

/** What a line of the record's table is about. */
export type RowKind = 'started' | 'done' | 'in clamps' | 'released' | 'reading' | 'signed';

/** One line of the record as a table. */
export interface RecordRow {
  readonly atUtc: string;
  readonly build: string;
  readonly operation: string;
  readonly part?: string;
  readonly what: RowKind;
  readonly reading?: string;
  readonly spot?: string;
  readonly value?: number;
  readonly unit?: string;
  readonly verdict?: string;
  readonly by: string;
}

const kinds: ReadonlyMap<string, RowKind> = new Map([
  ['step-started', 'started'],
  ['step-done', 'done'],
  ['put-in-clamps', 'in clamps'],
  ['released', 'released'],
  ['reading', 'reading'],
  ['hold-signed', 'signed'],
]);

/**
 * The steps, rests, readings and signatures of some builds as lines of a table, for a spreadsheet. People stand in it by
 * id only.
 *
 * @param events     of builds, in order
 * @param withdrawn  ids of events that do not count
 * @source           arithmetic
 */
export function recordRows(
  events: readonly RecordEvent[],
  withdrawn: ReadonlySet<string> = new Set(),
): readonly RecordRow[] {
  return events.flatMap((e) => {
    const what = kinds.get(e.kind);
    if (what === undefined || withdrawn.has(e.id) || !e.stream.startsWith('build:')) return [];
    const body = e.body as Readonly<Record<string, unknown>>;
    const text = (name: string): string | undefined =>
      typeof body[name] === 'string' ? (body[name] as string) : undefined;
    const atMs = typeof body['atMs'] === 'number' ? body['atMs'] : e.time;
    const verdict = (body['verdict'] as { readonly state?: string } | undefined)?.state;
    const row: { -readonly [K in keyof RecordRow]: RecordRow[K] } = {
      atUtc: new Date(atMs).toISOString(),
      build: e.stream.slice('build:'.length),
      operation: text('op') ?? '',
      what,
      by: e.by,
    };
    const part = text('part');
    const reading = text('reading');
    const spot = text('spot');
    const unit = text('unit');
    if (part !== undefined) row.part = part;
    if (reading !== undefined) row.reading = reading;
    if (spot !== undefined) row.spot = spot;
    if (typeof body['value'] === 'number') row.value = body['value'];
    if (unit !== undefined) row.unit = unit;
    if (verdict !== undefined) row.verdict = verdict;
    return [row];
  });
}

/** The columns of the table, in order. */
export const recordColumns: readonly {
  readonly heading: string;
  readonly cell: (row: RecordRow) => string | number | undefined;
}[] = [
  { heading: 'at_utc', cell: (r) => r.atUtc },
  { heading: 'build', cell: (r) => r.build },
  { heading: 'operation', cell: (r) => r.operation },
  { heading: 'part', cell: (r) => r.part },
  { heading: 'what', cell: (r) => r.what },
  { heading: 'reading', cell: (r) => r.reading },
  { heading: 'spot', cell: (r) => r.spot },
  { heading: 'value', cell: (r) => r.value },
  { heading: 'unit', cell: (r) => r.unit },
  { heading: 'verdict', cell: (r) => r.verdict },
  { heading: 'by', cell: (r) => r.by },
];

/** What a table brings: events to be made, or what is wrong with it. */
export interface TableRead {
  /** Empty when a line is wrong. */
  readonly drafts: readonly EventDraft[];
  /** Lines that stand in the record already. */
  readonly knownCount: number;
  /** One sentence for each wrong line. */
  readonly faults: readonly string[];
}

/** What makes two lines the same: everything but the verdict and who wrote it. */
const lineKey = (cell: (heading: string) => string): string =>
  recordColumns
    .filter(({ heading }) => heading !== 'verdict' && heading !== 'by')
    .map(({ heading }) => (heading === 'at_utc' ? String(Date.parse(cell(heading))) : cell(heading)))
    .join('|');

const keyOfRow = (row: RecordRow): string =>
  lineKey((heading) => String(recordColumns.find((c) => c.heading === heading)?.cell(row) ?? ''));

/**
 * Lines of a table as events to be made: steps begun, steps done and readings. Either every line is good or nothing is
 * taken. A line that stands in the record already is passed over, of whatever kind it is, so that a table that was taken
 * out, added to and brought back adds what is new.
 *
 * @param route   holds operations and readings
 * @param builds  ids of the builds there are
 * @param rows    cells by heading, as a table reader gives them
 * @param by      who brings them in
 * @param known   lines of the record as it is
 * @returns       drafts in the order of the lines; verdicts are judged anew and not taken from the table
 * @source        arithmetic
 */
export function draftsOfRows(
  route: Route,
  builds: ReadonlySet<string>,
  rows: readonly Readonly<Record<string, string>>[],
  by: string,
  known: readonly RecordRow[] = [],
): TableRead {
  const there = new Set(known.map(keyOfRow));
  const drafts: EventDraft[] = [];
  const faults: string[] = [];
  let knownCount = 0;
  rows.forEach((row, i) => {
    const key = lineKey((heading) => (row[heading] ?? '').trim());
    if (there.has(key)) {
      knownCount++;
      return;
    }
    there.add(key);
    try {
      drafts.push(draftOfRow(route, builds, row, i + 2, by));
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      faults.push(error.message);
    }
  });
  return { drafts: faults.length > 0 ? [] : drafts, knownCount, faults };
}

function draftOfRow(
  route: Route,
  builds: ReadonlySet<string>,
  row: Readonly<Record<string, string>>,
  line: number,
  by: string,
): EventDraft {
  const cell = (name: string): string => (row[name] ?? '').trim();
  const build = cell('build');
  if (!builds.has(build)) throw refused(line, 'build', build, 'the id of a build of this course');
  const op = route.operations.find((o) => o.id === cell('operation'));
  if (!op)
    throw refused(line, 'operation', cell('operation'), 'the id of an operation of the route, e.g. T10');
  const atMs = Date.parse(cell('at_utc'));
  if (!Number.isFinite(atMs))
    throw refused(line, 'at_utc', cell('at_utc'), 'a time such as 2030-09-02T18:30:00Z');
  const stream: StreamId = `build:${build}`;
  if (cell('what') === 'done')
    return { stream, kind: 'step-done', by, body: doneBody(op, cell('part'), atMs, line) };
  if (cell('what') === 'reading')
    return { stream, kind: 'reading', by, body: readingBody(op, row, atMs, line) };
  if (cell('what') === 'started')
    return { stream, kind: 'step-started', by, body: doneBody(op, cell('part'), atMs, line) };
  throw refused(line, 'what', cell('what'), 'started, done or reading');
}

function doneBody(op: Operation, part: string, atMs: number, line: number): object {
  if (part === '') return { op: op.id, atMs };
  const count = op.parts.length;
  if (!/^\d+(\.\d+)?$/.test(part) || Number.parseInt(part, 10) < 1 || Number.parseInt(part, 10) > count)
    throw refused(line, 'part', part, `nothing or a part of ${op.id} from 1 to ${count}`);
  return { op: op.id, part, atMs };
}

function readingBody(
  op: Operation,
  row: Readonly<Record<string, string>>,
  atMs: number,
  line: number,
): object {
  const id = (row['reading'] ?? '').trim();
  const reading: Reading | undefined = op.readings.find((r) => r.id === id);
  if (!reading)
    throw refused(
      line,
      'reading',
      id,
      `one of ${op.readings.map((r) => r.id).join(', ') || 'no reading'} of ${op.id}`,
    );
  const unit = (row['unit'] ?? '').trim();
  if (unit !== reading.unit) throw refused(line, 'unit', unit, reading.unit);
  const written = (row['value'] ?? '').trim();
  const value = written === '' ? Number.NaN : Number(written);
  if (!Number.isFinite(value))
    throw refused(line, 'value', written, `a number with a point, in ${reading.unit}`);
  const spot = (row['spot'] ?? '').trim();
  return {
    op: op.id,
    reading: id,
    value,
    unit,
    atMs,
    ...(spot === '' ? {} : { spot }),
    ...(reading.toolId === undefined ? {} : { tool: reading.toolId }),
  };
}

function refused(line: number, cell: string, got: string, wanted: string): InputError {
  return new InputError(
    'record-row',
    `Line ${line}: ${cell} is "${got.slice(0, 40)}", wanted is ${wanted}; correct it and load the table again.`,
    cell,
  );
}
