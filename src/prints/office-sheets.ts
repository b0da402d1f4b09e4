import { cellText, type OfficeColumn, type OfficeTable } from '../course/office/office-table.ts';
import { type Drawing, type Entity, line, text } from '../drawing/model.ts';
import { textWidthMm, wrapWords } from '../drawing/text-size.ts';
import { BODY_MM, fittedHeight, fittedText, SMALL_MM, wordsBlock } from './card-words.ts';
import { SHEET_HEIGHT_MM, SHEET_WIDTH_MM, type SheetAbout, sheetHead } from './session-sheet.ts';

/** Who prints the office's tables, when. */
export type OfficeAbout = Pick<SheetAbout, 'course' | 'printedOn' | 'isDemo'> & {
  /** `up to 11 March 2031`. */
  readonly until: string;
};

/** Width of a mark: as wide as there is room for, between these. */
const MARK_LEAST_MM = 5.6;
const MARK_MOST_MM = 10;
/** Width of the columns beside marks. */
const BESIDE_MARKS_MM = 85;
const PAD_MM = 1.4;
const LINE_MM = BODY_MM * 1.7;
/** Marks that stand beside the other columns on one page; the rest goes on a further one. */
const MOST_MARKS = 30;

interface Laid {
  readonly column: OfficeColumn;
  readonly index: number;
  readonly x: number;
  readonly widthMm: number;
}

/** Which columns stand on which page, and where. */
function layout(columns: readonly OfficeColumn[]): readonly (readonly Laid[])[] {
  const all = columns.map((column, index) => ({ column, index }));
  const plain = all.filter((c) => c.column.kind !== 'mark');
  const marks = all.filter((c) => c.column.kind === 'mark');
  const stretches = Math.max(1, Math.ceil(marks.length / MOST_MARKS));
  return Array.from({ length: stretches }, (_, s) => {
    const own = marks.slice(s * MOST_MARKS, (s + 1) * MOST_MARKS);
    const plainMm = marks.length > 0 ? BESIDE_MARKS_MM : SHEET_WIDTH_MM;
    const markMm = Math.min(
      MARK_MOST_MM,
      Math.max(MARK_LEAST_MM, (SHEET_WIDTH_MM - plainMm) / Math.max(1, own.length)),
    );
    const shares = plain.reduce((sum, c) => sum + c.column.share, 0);
    let x = 0;
    return [...plain, ...own].map(({ column, index }): Laid => {
      const widthMm = column.kind === 'mark' ? markMm : (plainMm * column.share) / shares;
      const laid = { column, index, x, widthMm };
      x += widthMm;
      return laid;
    });
  });
}

const sans = (weight: 400 | 600 | 700, heightMm: number) => ({ heightMm, weight, face: 'sans' as const });

/** Height the heading takes: turned headings as long as their words. */
function headingMm(laid: readonly Laid[]): number {
  return Math.max(
    ...laid.map(({ column, widthMm }) =>
      column.kind === 'mark'
        ? textWidthMm(column.label, sans(600, SMALL_MM)) + 2
        : wrapWords(column.label, widthMm - 2 * PAD_MM, sans(600, SMALL_MM)).length * SMALL_MM * 1.7 + 1.4,
    ),
  );
}

function headings(laid: readonly Laid[], y: number, heightMm: number): readonly Entity[] {
  const base = y + heightMm - 1.2;
  const words = laid.flatMap(({ column, x, widthMm }): readonly Entity[] => {
    if (column.kind === 'mark')
      return [
        text('text', { x: x + widthMm / 2 + SMALL_MM / 2, y: base }, column.label, SMALL_MM, {
          weight: 600,
          rotationRad: -Math.PI / 2,
        }),
      ];
    const lines = wrapWords(column.label, widthMm - 2 * PAD_MM, sans(600, SMALL_MM));
    return lines.map((said, i) => {
      const at = base - (lines.length - 1 - i) * SMALL_MM * 1.7;
      return column.kind === 'number'
        ? text('text', { x: x + widthMm - PAD_MM, y: at }, said, SMALL_MM, { weight: 600, anchorX: 'end' })
        : text('text', { x: x + PAD_MM, y: at }, said, SMALL_MM, { weight: 600 });
    });
  });
  return [
    ...words,
    line('text', { x: 0, y: y + heightMm }, { x: SHEET_WIDTH_MM, y: y + heightMm }, { widthMm: 0.4 }),
  ];
}

interface LaidRow {
  readonly heightMm: number;
  readonly draw: (y: number) => readonly Entity[];
}

function rowOf(cells: OfficeTable['rows'][number], laid: readonly Laid[], weight: 400 | 700): LaidRow {
  const set = laid.map(({ column, index, widthMm }) => {
    const said = cellText(cells[index], column);
    const lines =
      column.kind === 'words' ? wrapWords(said, widthMm - 2 * PAD_MM, sans(weight, BODY_MM)) : [said];
    return lines;
  });
  const most = Math.max(1, ...set.map((lines) => lines.length));
  const heightMm = most * LINE_MM + 1.3;
  const cell = ({ column, x, widthMm }: Laid, i: number, y: number): readonly Entity[] =>
    (set[i] as readonly string[])
      .filter((said) => said !== '')
      .map((said, n) => {
        const at = y + BODY_MM + 1 + n * LINE_MM;
        if (column.kind === 'words')
          return fittedText(said, { x: x + PAD_MM, y: at }, widthMm - 2 * PAD_MM, BODY_MM, { weight });
        if (column.kind === 'number')
          return text('text', { x: x + widthMm - PAD_MM, y: at }, said, BODY_MM, { weight, anchorX: 'end' });
        const size = fittedHeight(said, widthMm - 0.8, 2.1, { weight, face: 'sans' });
        return text('text', { x: x + widthMm / 2, y: at }, said, size, { weight, anchorX: 'middle' });
      });
  return {
    heightMm,
    draw: (y) => [
      ...laid.flatMap((l, i) => cell(l, i, y)),
      line('text', { x: 0, y: y + heightMm }, { x: SHEET_WIDTH_MM, y: y + heightMm }, { widthMm: 0.12 }),
    ],
  };
}

const TOP_MM = 12.5;
const FOOT_MM = 5;

/** One stretch of columns over as many pages as its rows take. */
function stretchPages(
  table: OfficeTable,
  laid: readonly Laid[],
  saysMm: number,
): readonly (readonly Entity[])[] {
  const headMm = headingMm(laid);
  const rows = table.rows.map((r) => rowOf(r, laid, 400));
  const sums = table.sums ? rowOf(table.sums, laid, 700) : undefined;
  const pages: Entity[][] = [];
  let y = 0;
  const newPage = (): void => {
    const from = pages.length === 0 ? TOP_MM + saysMm : TOP_MM;
    pages.push([...headings(laid, from, headMm)]);
    y = from + headMm;
  };
  const put = (row: LaidRow): void => {
    if (pages.length === 0 || y + row.heightMm > SHEET_HEIGHT_MM - FOOT_MM) newPage();
    (pages.at(-1) as Entity[]).push(...row.draw(y));
    y += row.heightMm;
  };
  for (const row of rows) put(row);
  if (sums) put(sums);
  return pages;
}

/**
 * A table of the office on as many pages, across, as it takes: heading on each, lines between rows, what adds up at the
 * end, the course and the demo mark on every page.
 *
 * @source common practice, no published source
 */
export function officeSheets(table: OfficeTable, about: OfficeAbout): readonly Drawing[] {
  const head = { ...about, session: about.until };
  const says = wordsBlock(table.says, { x: 0, y: TOP_MM }, SHEET_WIDTH_MM, { heightMm: SMALL_MM });
  const saysMm = says.heightMm + 3.4;
  const none = wordsBlock(table.none, { x: 0, y: TOP_MM + saysMm }, SHEET_WIDTH_MM, { heightMm: BODY_MM });
  const pages: readonly (readonly Entity[])[] =
    table.rows.length === 0
      ? [none.entities]
      : layout(table.columns).flatMap((laid) => stretchPages(table, laid, saysMm));
  return pages.map((entities, i) => ({
    id: `${table.id}-${i + 1}`,
    title: table.title,
    seenFrom: 'the desk',
    frame: { minX: 0, minY: 0, maxX: SHEET_WIDTH_MM, maxY: SHEET_HEIGHT_MM },
    entities: [
      ...sheetHead(table.title, head),
      ...(i === 0 ? says.entities : []),
      ...entities,
      text(
        'text',
        { x: SHEET_WIDTH_MM, y: SHEET_HEIGHT_MM - 1 },
        `page ${i + 1} of ${pages.length}`,
        SMALL_MM,
        { anchorX: 'end' },
      ),
    ],
  }));
}
