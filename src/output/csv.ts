import Papa from 'papaparse';

/** What a cell may hold; undefined gives an empty cell. */
export type CsvValue = string | number | undefined;

/** A column: its heading (with the unit, e.g. `length_mm`) and the cell of a row. */
export interface CsvColumn<Row> {
  readonly heading: string;
  readonly cell: (row: Row) => CsvValue;
}

/**
 * A table as CSV after RFC 4180: a line of headings, commas, CRLF, quotes where needed. Words that a spreadsheet would
 * run as a formula get an apostrophe in front; numbers stay numbers.
 *
 * @throws RangeError when a number is not finite, or no column is given
 */
export function tableToCsv<Row>(columns: readonly CsvColumn<Row>[], rows: readonly Row[]): string {
  if (columns.length === 0) throw new RangeError('tableToCsv: 0 columns, at least 1 is needed');
  const data = rows.map((row, index) =>
    columns.map((column) => checked(column.cell(row), column.heading, index)),
  );
  const fields = columns.map(({ heading }) => heading);
  const text = Papa.unparse({ fields, data }, { newline: '\r\n', escapeFormulae: true });
  return `${text}\r\n`;
}

function checked(value: CsvValue, heading: string, index: number): string | number {
  if (typeof value === 'number' && !Number.isFinite(value))
    throw new RangeError(`tableToCsv: ${heading} of row ${index + 1} is ${value}; it must be finite`);
  return value ?? '';
}
