import { type BoundsMm, box, type Entity, line, type PointMm, text } from './model.ts';
import { textWidthMm } from './text-size.ts';

/** What the block at the lower right of a print says. Fields in the spirit of ISO 7200 (standard named from memory). */
export interface TitleFields {
  /** Name of the pattern, e.g. `Small steel-string`. */
  readonly pattern: string;
  /** Revision as people say it, e.g. `4` or `4, draft`. */
  readonly revision: string;
  /** What is drawn, e.g. `Front face`. */
  readonly title: string;
  /** From where it is seen, e.g. `the front`. */
  readonly seenFrom: string;
  /** Units of the numbers, e.g. `mm (in)`. */
  readonly units: string;
  /** Day of the drawing in words the caller chooses; never the machine's clock. */
  readonly drawnOn: string;
  readonly isLeftHanded?: boolean;
  readonly isDemo?: boolean;
  /** Sentences that belong to the print, e.g. which inputs are not yet the teacher's own. */
  readonly notes?: readonly string[];
}

interface Cell {
  readonly label: string;
  readonly value: string;
  readonly shareFrac: number;
}

/** Size of a title block. */
export interface TitleBlockSize {
  readonly widthMm: number;
  readonly rowMm: number;
}

export const LARGE_TITLE_BLOCK: TitleBlockSize = { widthMm: 150, rowMm: 12 };
export const SMALL_TITLE_BLOCK: TitleBlockSize = { widthMm: 72, rowMm: 8 };

const BAND_ROW_RATIO = 0.62;

/**
 * How high the block becomes: two rows, and one band for each mark that has to be seen.
 *
 * @source arithmetic
 */
export function titleBlockHeightMm(fields: TitleFields, size: TitleBlockSize): number {
  return size.rowMm * (2 + bandWords(fields).length * BAND_ROW_RATIO);
}

/**
 * The title block with its lower right corner at a point: two rows of labelled cells, black bands above for
 * LEFT-HANDED and for demo data.
 *
 * @param sheet  name of the sheet or tile, e.g. `A1 of 9`
 * @source       from memory
 */
export function titleBlock(
  fields: TitleFields,
  sheet: string,
  corner: PointMm,
  size: TitleBlockSize,
): readonly Entity[] {
  const left = corner.x - size.widthMm;
  const rows = rowsOf(fields, sheet);
  const top = corner.y - rows.length * size.rowMm;
  const bandMm = size.rowMm * BAND_ROW_RATIO;
  const bands = bandWords(fields).flatMap((words, index) =>
    band(words, { minX: left, maxX: corner.x, minY: top - (index + 1) * bandMm, maxY: top - index * bandMm }),
  );
  const cells = rows.flatMap((row, index) =>
    rowEntities(row, { x: left, y: top + index * size.rowMm }, size),
  );
  const frame = box('text', { minX: left, maxX: corner.x, minY: top, maxY: corner.y }, { widthMm: 0.35 });
  const middle = line('text', { x: left, y: top + size.rowMm }, { x: corner.x, y: top + size.rowMm });
  return [frame, middle, ...cells, ...bands];
}

function rowsOf(fields: TitleFields, sheet: string): readonly (readonly Cell[])[] {
  return [
    [
      { label: 'Pattern', value: fields.pattern, shareFrac: 0.5 },
      { label: 'Revision', value: fields.revision, shareFrac: 0.22 },
      { label: 'Sheet', value: sheet, shareFrac: 0.28 },
    ],
    [
      { label: 'Seen from', value: fields.seenFrom, shareFrac: 0.28 },
      { label: 'Drawing', value: fields.title, shareFrac: 0.28 },
      { label: 'Scale, units', value: `1 : 1, ${fields.units}`, shareFrac: 0.24 },
      { label: 'Drawn', value: fields.drawnOn, shareFrac: 0.2 },
    ],
  ];
}

function bandWords({ isLeftHanded, isDemo }: TitleFields): readonly string[] {
  return [
    ...(isLeftHanded === true ? ['LEFT-HANDED'] : []),
    ...(isDemo === true ? ['Demo: invented numbers'] : []),
  ];
}

function band(words: string, at: BoundsMm): readonly Entity[] {
  const heightMm = (at.maxY - at.minY) * 0.5;
  const middle = { x: (at.minX + at.maxX) / 2, y: (at.minY + at.maxY) / 2 };
  return [
    box('text', at, { fill: 'black', widthMm: 0.35 }),
    text('text', middle, words, heightMm, {
      weight: 700,
      anchorX: 'middle',
      anchorY: 'middle',
      ink: 'white',
    }),
  ];
}

function rowEntities(
  row: readonly Cell[],
  at: PointMm,
  { widthMm, rowMm }: TitleBlockSize,
): readonly Entity[] {
  let x = at.x;
  return row.flatMap((cell, index) => {
    const cellMm = widthMm * cell.shareFrac;
    const inset = rowMm * 0.12;
    const entities: Entity[] = [
      text('text', { x: x + inset, y: at.y + rowMm * 0.34 }, cell.label, rowMm * 0.16, { ink: 'grey' }),
      fitted(cell.value, { x: x + inset, y: at.y + rowMm * 0.82 }, rowMm * 0.26, cellMm - 2 * inset),
    ];
    if (index > 0) entities.push(line('text', { x, y: at.y }, { x, y: at.y + rowMm }));
    x += cellMm;
    return entities;
  });
}

const SMALLEST_RATIO = 0.65;

/** Words that fit a width: first smaller, then cut off with three points. */
function fitted(words: string, at: PointMm, heightMm: number, roomMm: number): Entity {
  const look = { face: 'sans', weight: 600 } as const;
  const neededMm = textWidthMm(words, { ...look, heightMm });
  const smaller = heightMm * Math.max(SMALLEST_RATIO, Math.min(1, roomMm / neededMm));
  let shown = words;
  while (shown.length > 1 && textWidthMm(shown, { ...look, heightMm: smaller }) > roomMm + 0.01)
    shown = `${shown
      .replace(/\u2026$/, '')
      .slice(0, -1)
      .trimEnd()}\u2026`;
  return text('text', at, shown, smaller, { weight: 600 });
}
