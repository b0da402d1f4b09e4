import { officeParts, officeTable, officeTables } from '../../course/office/office-parts.ts';
import { cellValue, type OfficeInput, type OfficeTable } from '../../course/office/office-table.ts';
import { shopOfCourse } from '../../course/shop-of-record.ts';
import { tableToCsv } from '../../output/csv.ts';
import { officeSheets } from '../../prints/office-sheets.ts';
import { InputError } from '../../quantity/input-error.ts';
import type { Context } from '../context.ts';
import { courseState } from '../courses/course-state.ts';
import { paperAsked, usualPaper } from '../prints/paper-asked.ts';
import { Refusal } from '../refusal.ts';
import { serverCivil } from '../server-clock.ts';

/**
 * What the office of one course is computed from.
 *
 * @throws Refusal when there is no such course
 */
export async function officeInput(context: Context, course: string): Promise<OfficeInput> {
  const found = await courseState(context, course);
  if (!found)
    throw new Refusal(
      404,
      'no-such-course',
      'There is no course under that id here; open the office page and take it from there.',
    );
  return { ...found, nowMs: context.nowMs(), civil: serverCivil };
}

/**
 * A table of the office that was asked for by its id.
 *
 * @throws InputError when there is none
 */
export function tableAsked(input: OfficeInput, id: string): OfficeTable {
  const table = officeTable(input, id);
  if (table) return table;
  throw new InputError(
    'office-table',
    `The office has no table "${id.slice(0, 40)}"; it has ${officeTables.map((t) => t.id).join(', ')}.`,
    'table',
  );
}

/** A table of the office as CSV. */
export function officeCsv(table: OfficeTable): string {
  return tableToCsv(
    table.columns.map((column, i) => ({
      heading: column.id,
      cell: (row: (typeof table.rows)[number]) => cellValue(row[i], column),
    })),
    table.rows,
  );
}

/** Name of a file of the office; one of the invented class says so. */
export function officeFileName(input: OfficeInput, what: string, ending: string): string {
  const demo = input.state.course.setUp?.demo === true ? 'demo-' : '';
  return `${demo}${what}-${input.civil(input.nowMs).date}.${ending}`;
}

/**
 * One part of the office, or all of it, on paper.
 *
 * @throws InputError when there is no such part or paper
 */
export function officePdf(
  context: Context,
  input: OfficeInput,
  asked: string,
  paper: string | undefined,
): Promise<Uint8Array> {
  const parts = asked === 'all' ? officeParts : officeParts.filter((p) => p.id === asked);
  if (parts.length === 0)
    throw new InputError(
      'office-part',
      `The office has no part "${asked.slice(0, 40)}"; it has all, ${officeParts.map((p) => p.id).join(', ')}.`,
      'part',
    );
  const { state, nowMs, civil } = input;
  const today = civil(nowMs).date;
  const about = {
    course: state.course.setUp?.name ?? 'Course',
    until: `up to ${today}`,
    printedOn: today,
    isDemo: state.course.setUp?.demo === true,
  };
  const drawings = parts.flatMap((p) => p.tables.flatMap((t) => officeSheets(t.make(input), about)));
  return context.pdf.make({
    kind: 'pages',
    pages: drawings.map((drawing) => ({ kind: 'fixed', drawing })),
    options: {
      paper: paperAsked(paper, usualPaper(shopOfCourse(state))),
      documentTitle: `${about.course}: ${asked === 'all' ? 'office' : (parts[0]?.name ?? asked)}`,
      createdOn: today,
    },
  });
}
