import { parse } from 'yaml';
import type { Point } from '../geometry/point.ts';
import { InputError } from '../quantity/input-error.ts';
import { parseQuantity } from '../quantity/parse-quantity.ts';

/** A list of numbers with a heading for each column. */
interface Table {
  /** In small letters without unit. */
  readonly heads: readonly string[];
  readonly units: readonly string[];
  readonly rows: readonly (readonly string[])[];
  /** Named values outside the list, e.g. `length`. */
  readonly named: ReadonlyMap<string, string>;
}

/** What is measured of a template. */
export interface MeasuredStations {
  /** Half width and place from the neck end, neck end first; the two ends on the centre line left out. */
  readonly points: readonly Point[];
  /** Length of the body when it was measured. */
  readonly lengthMm?: number;
  /** How far the two sides differ, and where, when both were measured. */
  readonly asymmetryMm?: number;
  readonly asymmetryYMm?: number;
}

/** One measured fret place. */
export interface MeasuredFret {
  /** 0 is the nut face. */
  readonly fret: number;
  /** From any one datum, measured along the centre line; mm. */
  readonly placeMm: number;
}

const LENGTH_UNITS = /\b(mm|cm|in|inch|inches|ft)\b|"/;

function splitHead(text: string): { readonly name: string; readonly unit: string } {
  const unit = LENGTH_UNITS.exec(text)?.[0] ?? '';
  const name = text
    .toLowerCase()
    .replace(/[([].*?[)\]]/g, '')
    .replace(/[_\s]+/g, ' ')
    .replace(/ (mm|cm|in|inch|inches)$/, '')
    .trim();
  return { name, unit: unit === 'inch' || unit === 'inches' || unit === '"' ? 'in' : unit };
}

/** Reads lines with commas, semicolons or tabs; `#` begins a remark; the first line may be headings. */
function tableOfLines(text: string): Table {
  const lines = text
    .split(/\r\n|\r|\n/)
    .map((l) => l.replace(/#.*$/, '').trim())
    .filter((l) => l !== '');
  const mark = lines.some((l) => l.includes('\t')) ? '\t' : lines.some((l) => l.includes(';')) ? ';' : ',';
  const named = new Map<string, string>();
  const cells = lines.flatMap((l) => {
    const parts = l.split(mark).map((c) => c.trim());
    const name = (parts[0] ?? '').toLowerCase().replace(/[:=]$/, '');
    if (name !== 'length') return [parts];
    named.set(name, parts[1] ?? '');
    return [];
  });
  const hasHeads = cells[0]?.some((c) => /^[^\d.+-]*[a-z]/i.test(c)) ?? false;
  const heads = (hasHeads ? (cells[0] ?? []) : []).map(splitHead);
  return {
    heads: heads.map((h) => h.name),
    units: heads.map((h) => h.unit),
    rows: hasHeads ? cells.slice(1) : cells,
    named,
  };
}

/** Reads YAML: a list of rows, or a map with `length`, `unit` and one list. */
function tableOfYaml(text: string, file: string): Table | undefined {
  let value: unknown;
  try {
    value = parse(text);
  } catch (error) {
    const line = /line (\d+)/.exec(String(error))?.[1];
    throw new InputError(
      'broken-yaml',
      `${file} is no YAML${line ? ` (line ${line})` : ''}; write a list of rows, or commas in a .csv file.`,
    );
  }
  const named = new Map<string, string>();
  let list: unknown = value;
  let unit = '';
  if (typeof value === 'object' && value !== null && !Array.isArray(value)) {
    list = undefined;
    for (const [key, v] of Object.entries(value)) {
      if (Array.isArray(v)) list = v;
      else if (key === 'unit') unit = String(v);
      else named.set(key, String(v));
    }
  }
  if (!Array.isArray(list) || list.length === 0) return undefined;
  const first: unknown = list[0];
  if (Array.isArray(first) || typeof first !== 'object' || first === null) {
    const rows = list.map((r) => (Array.isArray(r) ? r : [r]).map(String));
    return { heads: [], units: rows[0]?.map(() => unit) ?? [], rows, named };
  }
  const keys = Object.keys(first);
  const heads = keys.map(splitHead);
  return {
    heads: heads.map((h) => h.name),
    units: heads.map((h) => h.unit || unit),
    rows: list.map((r) => keys.map((k) => String((r as Record<string, unknown>)[k] ?? ''))),
    named,
  };
}

function tableOf(text: string, file: string): Table {
  const table = /\.(ya?ml|json)$/i.test(file) ? tableOfYaml(text, file) : tableOfLines(text);
  if (!table || table.rows.length === 0)
    throw new InputError(
      'no-rows',
      `${file} has no rows of numbers; write one measured place a line, such as "120, 138.4".`,
    );
  return table;
}

/** A length cell in mm. */
function lengthMm(cell: string | undefined, what: string, unit: string, high = 1500, low = -1500): number {
  const parsed = parseQuantity(cell ?? '', { kind: 'length', unit: unit || 'mm', low, high, what });
  if (parsed.kind === 'value') return parsed.value;
  throw new InputError(
    'bad-cell',
    parsed.kind === 'refusal' ? parsed.text : `${what} is "${cell}"; write the unit behind it.`,
  );
}

const columnOf = (table: Table, ...names: readonly string[]): number =>
  table.heads.findIndex((h) => names.includes(h));

/**
 * Half widths of a template from a text of rows: `y, half width` (two columns without headings), `y, full width`, or
 * `y, left, right`; any unit, in the heading or behind the number; `length` as a row of its own.
 *
 * @param file  name of the file, for sentences and to tell YAML from lines
 * @throws InputError naming row and column
 * @source inch-1959
 */
export function readStations(text: string, file: string): MeasuredStations {
  const table = tableOf(text, file);
  const y = Math.max(0, columnOf(table, 'y', 'place', 'station', 'from neck end'));
  const half = columnOf(table, 'half width', 'half', 'x');
  const whole = columnOf(table, 'full width', 'width', 'full');
  const left = columnOf(table, 'left', 'bass');
  const right = columnOf(table, 'right', 'treble');
  const unitOf = (column: number): string => table.units[column] ?? '';
  let asymmetryMm: number | undefined;
  let asymmetryYMm = 0;
  const points = table.rows.map((row, i) => {
    const cell = (column: number, what: string): number =>
      lengthMm(row[column], `${what} in row ${i + 1} of ${file}`, unitOf(column));
    const yMm = cell(y, 'The place');
    if (left >= 0 && right >= 0) {
      const a = Math.abs(cell(left, 'The left side'));
      const b = Math.abs(cell(right, 'The right side'));
      if (asymmetryMm === undefined || Math.abs(a - b) / 2 > asymmetryMm) {
        asymmetryMm = Math.abs(a - b) / 2;
        asymmetryYMm = yMm;
      }
      return { xMm: (a + b) / 2, yMm };
    }
    if (whole >= 0 && half < 0) return { xMm: cell(whole, 'The width') / 2, yMm };
    return { xMm: cell(half >= 0 ? half : y === 0 ? 1 : 0, 'The half width'), yMm };
  });
  const length = table.named.get('length');
  const tail = points.find((p) => p.xMm === 0 && p.yMm > 100);
  const lengthFound =
    length === undefined ? tail?.yMm : lengthMm(length, `The length in ${file}`, unitOf(y), 700, 150);
  return {
    points: points.filter((p) => p.xMm !== 0),
    ...(lengthFound === undefined ? {} : { lengthMm: lengthFound }),
    ...(asymmetryMm === undefined ? {} : { asymmetryMm, asymmetryYMm }),
  };
}

/**
 * Fret places from a text of rows: `fret, place`, or one place a row (frets 1, 2, 3, ... in order).
 *
 * @throws InputError naming row and column
 * @source inch-1959
 */
export function readFretPlaces(text: string, file: string): readonly MeasuredFret[] {
  const table = tableOf(text, file);
  const isSingle = (table.rows[0]?.length ?? 0) < 2;
  const fretColumn = Math.max(0, columnOf(table, 'fret', 'n'));
  const placeColumn = isSingle ? 0 : fretColumn === 0 ? 1 : 0;
  return table.rows.map((row, i) => {
    const placeMm = lengthMm(
      row[placeColumn],
      `The place in row ${i + 1} of ${file}`,
      table.units[placeColumn] ?? '',
    );
    if (isSingle) return { fret: i + 1, placeMm };
    const fret = Number(row[fretColumn]);
    if (!(Number.isInteger(fret) && fret >= 0 && fret <= 36))
      throw new InputError(
        'bad-fret',
        `The fret in row ${i + 1} of ${file} is "${row[fretColumn]}"; write a whole number from 0 (the nut) to 36.`,
      );
    return { fret, placeMm };
  });
}
