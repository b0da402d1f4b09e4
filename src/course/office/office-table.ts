import type { Pattern } from '../../pattern/pattern.ts';
import type { BuildFacts } from '../build-facts.ts';
import { type ClassState, labelOf } from '../class-state.ts';
import type { CivilOf } from '../course-export.ts';

/** What the tables of the office are computed from. */
export interface OfficeInput {
  readonly state: ClassState;
  readonly nowMs: number;
  /** The workshop's own clock. */
  readonly civil: CivilOf;
  readonly patternOf: (facts: BuildFacts) => Pattern;
}

/** What a cell may hold; undefined where nothing was entered. */
export type OfficeCell = string | number | undefined;

/** A column of a table of the office. */
export interface OfficeColumn {
  /** Heading in the file, with the unit at its end. */
  readonly id: string;
  /** Heading on screen and paper. */
  readonly label: string;
  /** `mark`: a narrow cell of a register, its heading turned on paper. */
  readonly kind: 'words' | 'number' | 'mark';
  /** Share of the paper's width against the other columns; marks have a width of their own. */
  readonly share: number;
  /** Decimals on screen and paper. */
  readonly decimals?: number;
}

/** One table of the office: the same on screen, on paper and as a file. */
export interface OfficeTable {
  readonly id: string;
  readonly title: string;
  /** What it says and leaves out, in one or two sentences. */
  readonly says: string;
  readonly columns: readonly OfficeColumn[];
  readonly rows: readonly (readonly OfficeCell[])[];
  /** Last line with what adds up. */
  readonly sums?: readonly OfficeCell[];
  /** What stands there when there is no row. */
  readonly none: string;
}

/**
 * A cell as it is read: numbers with the decimals of their column.
 *
 * @source arithmetic
 */
export function cellText(cell: OfficeCell, column: OfficeColumn): string {
  if (cell === undefined) return '';
  return typeof cell === 'number' ? cell.toFixed(column.decimals ?? 0) : cell;
}

/**
 * A cell as it stands in a file: numbers keep no more figures than the column shows and one more.
 *
 * @source arithmetic
 */
export function cellValue(cell: OfficeCell, column: OfficeColumn): OfficeCell {
  return typeof cell === 'number' ? Number(cell.toFixed((column.decimals ?? 0) + 1)) : cell;
}

/** A column of words. @source arithmetic */
export const words = (id: string, label: string, share = 2): OfficeColumn => ({
  id,
  label,
  kind: 'words',
  share,
});

/** A column of numbers. @source arithmetic */
export const numbers = (id: string, label: string, decimals = 0, share = 1): OfficeColumn => ({
  id,
  label,
  kind: 'number',
  share,
  decimals,
});

/** What a person is called; the teacher is not in the list of people. @source arithmetic */
export function personName(state: ClassState, person: string): string {
  return person === 'teacher' ? 'the teacher' : labelOf(state, person);
}

/** Name of an operation of the route in plain words. @source arithmetic */
export function operationName(state: ClassState, op: string): string {
  return state.route.operations.find((o) => o.id === op)?.name ?? op;
}

/** Name of a station in plain words. @source arithmetic */
export function stationName(state: ClassState, station: string): string {
  return state.route.stations.find((s) => s.id === station)?.name ?? station;
}

/** Number of a build on the wall. @source arithmetic */
export function buildNumber(state: ClassState, build: string): number | undefined {
  return [...state.course.learners.values()].find((l) => l.build === build)?.number;
}

/** Sum of the cells of a column that are numbers. @source arithmetic */
export function sumOf(rows: readonly (readonly OfficeCell[])[], column: number): number {
  return rows.reduce((sum, row) => {
    const cell = row[column];
    return typeof cell === 'number' ? sum + cell : sum;
  }, 0);
}
