import { type BoundsMm, box, type Entity, line, type PointMm, text } from '../drawing/model.ts';
import { formatDecimal, formatInches, formatMm, type Sizes, sizesIn } from '../quantity/print-length.ts';
import type { Pass } from '../settings/pass-plan.ts';
import type { PassesPicture, SlotsPicture } from '../settings/picture.ts';

/** One column of a list: heading, where it stands, and how it is lined up. */
interface Column {
  readonly head: string;
  readonly atFrac: number;
  readonly anchor: 'start' | 'end';
  readonly weight?: 400 | 600 | 700;
}

/** Height of one row that still leaves the words readable, mm. */
const LEAST_ROW_MM = 3.1;

/** Rows share the room, but stay between readable and wide. */
const rowHeight = (count: number, room: BoundsMm): number =>
  Math.min(7.4, Math.max(LEAST_ROW_MM, (room.maxY - room.minY - 5) / Math.max(1, count)));

/** A ruled list; every second row lies on pale ground. */
function list(
  columns: readonly Column[],
  rows: readonly (readonly string[])[],
  room: BoundsMm,
  rowMm = rowHeight(rows.length, room),
): readonly Entity[] {
  const heightMm = Math.min(3.1, rowMm * 0.5);
  const widthMm = room.maxX - room.minX;
  const x = (c: Column): number => room.minX + c.atFrac * widthMm;
  const headY = room.minY + 2.6;
  const entities: Entity[] = columns.map((c) =>
    text('text', { x: x(c), y: headY }, c.head, 1.8, { anchorX: c.anchor }),
  );
  entities.push(
    line('text', { x: room.minX, y: headY + 1.2 }, { x: room.maxX, y: headY + 1.2 }, { widthMm: 0.35 }),
  );
  rows.forEach((cells, i) => {
    const top = headY + 1.2 + i * rowMm;
    if (i % 2 === 1)
      entities.push(
        box(
          'hidden',
          { minX: room.minX, maxX: room.maxX, minY: top, maxY: top + rowMm },
          { fill: 'pale', isStroked: false },
        ),
      );
    cells.forEach((words, j) => {
      const c = columns[j] as Column;
      entities.push(
        text('text', { x: x(c), y: top + rowMm / 2 + heightMm / 2 }, words, heightMm, {
          anchorX: c.anchor,
          weight: c.weight ?? 400,
        }),
      );
    });
  });
  return entities;
}

/** The board with its slots, drawn to the length of the room. */
function boardStrip(p: SlotsPicture, room: BoundsMm): readonly Entity[] {
  const k = (room.maxX - room.minX) / p.lengthMm;
  const middle = (room.minY + room.maxY) / 2;
  const half = (alongMm: number): number => {
    const widthMm = p.nutWidthMm + ((p.widthAt12Mm - p.nutWidthMm) * alongMm) / (p.scaleMm / 2);
    return Math.min((room.maxY - room.minY) / 2, (widthMm * k) / 2 + 1.5);
  };
  const at = (alongMm: number, side: 1 | -1): PointMm => ({
    x: room.minX + alongMm * k,
    y: middle + side * half(alongMm),
  });
  const edge = [at(0, -1), at(p.lengthMm, -1), at(p.lengthMm, 1), at(0, 1)];
  return [
    {
      kind: 'path',
      layer: 'cut',
      start: edge[0] as PointMm,
      segments: edge.slice(1).map((to) => ({ kind: 'line', to })),
      isClosed: true,
    },
    ...p.placesMm.map(
      (place, i): Entity =>
        line('visible', at(place, -1), at(place, 1), { widthMm: [4, 6, 11].includes(i) ? 0.5 : 0.25 }),
    ),
    ...[5, 7, 12].flatMap((n): Entity[] => {
      const place = p.placesMm[n - 1];
      return place === undefined
        ? []
        : [
            text('text', { x: room.minX + place * k - 0.8, y: room.maxY + 2.4 }, String(n), 1.9, {
              anchorX: 'end',
              weight: 600,
            }),
          ];
    }),
    text('text', { x: room.minX, y: room.maxY + 2.4 }, 'NUT', 1.9, { weight: 600 }),
  ];
}

/**
 * The slot list: every place from the nut face, with the gap to the slot before for the eye only.
 *
 * @source equal-temperament
 */
export function slotsPicture(p: SlotsPicture, room: BoundsMm, size: Sizes): readonly Entity[] {
  const strip = { minX: room.minX, maxX: room.maxX, minY: room.minY + 1, maxY: room.minY + 15 };
  const half = Math.ceil(p.placesMm.length / 2);
  const middle = (room.minX + room.maxX) / 2;
  const columns: readonly Column[] = [
    { head: 'fret', atFrac: 0.1, anchor: 'end' },
    { head: `from the nut, ${size.unit}`, atFrac: 0.44, anchor: 'end', weight: 700 },
    { head: size.unit === 'in' ? 'mm' : 'in', atFrac: 0.73, anchor: 'end' },
    { head: 'gap', atFrac: 0.98, anchor: 'end' },
  ];
  const rows = p.placesMm.map((x, i) => [
    String(i + 1),
    size.text(x, 2),
    size.unit === 'in' ? formatMm(x, 2) : formatInches(x),
    size.text(x - (p.placesMm[i - 1] ?? 0), 2),
  ]);
  const top = strip.maxY + 5;
  const rowMm = Math.min(5.2, rowHeight(half, { ...room, minY: top }));
  return [
    ...boardStrip(p, strip),
    ...list(
      columns,
      rows.slice(0, half),
      {
        minX: room.minX,
        maxX: middle - 2.5,
        minY: top,
        maxY: room.maxY,
      },
      rowMm,
    ),
    ...list(
      columns,
      rows.slice(half),
      { minX: middle + 2.5, maxX: room.maxX, minY: top, maxY: room.maxY },
      rowMm,
    ),
  ];
}

const FACE_WORDS = { A: 'face A', B: 'face B', inside: 'inside' } as const;

/** All passes, or the first and the last ones with a gap where there is no room for all. */
function shownPasses(passes: readonly Pass[], room: BoundsMm): readonly (Pass | undefined)[] {
  const roomCount = Math.floor((room.maxY - room.minY - 12) / LEAST_ROW_MM);
  if (passes.length <= roomCount) return passes;
  const tail = 4;
  return [...passes.slice(0, roomCount - tail - 1), undefined, ...passes.slice(-tail)];
}

/**
 * The pass plan: what to type, pass by pass, with room for what was read.
 *
 * @source common practice, no published source
 */
export function passesPicture(p: PassesPicture, room: BoundsMm): readonly Entity[] {
  if (p.passes.length === 0)
    return [text('text', { x: room.minX, y: room.minY + 6 }, 'Nothing to take off.', 2.6)];
  const isSetInInches = p.passes[0]?.text.endsWith(' in') === true;
  const length = (valueMm: number): string => sizesIn(p.unit).text(valueMm, 2);
  const columns: readonly Column[] = [
    { head: 'pass', atFrac: 0.07, anchor: 'end' },
    { head: 'set', atFrac: 0.3, anchor: 'end', weight: 700 },
    { head: isSetInInches ? 'mm' : 'in', atFrac: 0.44, anchor: 'end' },
    { head: `gives ${p.unit}`, atFrac: 0.6, anchor: 'end' },
    { head: 'takes', atFrac: 0.73, anchor: 'end' },
    { head: 'up', atFrac: 0.77, anchor: 'start' },
    { head: 'read', atFrac: 0.91, anchor: 'start' },
  ];
  const rows = shownPasses(p.passes, room).map((pass) =>
    pass === undefined
      ? ['...', '', '', '', '', '', '']
      : [
          String(pass.n),
          pass.text,
          isSetInInches ? formatMm(pass.typeMm, 2) : formatDecimal(pass.typeIn, 3),
          length(pass.resultMm),
          length(pass.cutMm),
          FACE_WORDS[pass.face],
          '',
        ],
  );
  const head = { ...room, minY: room.minY + 7 };
  const limits = [
    `Plate ${length(p.startMm)} ${p.unit} at its thickest place`,
    ...(p.lowMm === undefined ? [] : [`no pass under ${length(p.lowMm)}`]),
    ...(p.scrapMm === undefined ? [] : [`scrap under ${length(p.scrapMm)}`]),
  ].join(', ');
  const rowMm = rowHeight(rows.length, head);
  const top = head.minY + 3.8;
  const readX = room.minX + 0.9 * (room.maxX - room.minX);
  return [
    text('text', { x: room.minX, y: room.minY + 3.4 }, limits, 2.3, { weight: 600 }),
    ...list(columns, rows, head),
    ...rows.map(
      (_, i): Entity =>
        line(
          'text',
          { x: readX, y: top + (i + 1) * rowMm - 0.5 },
          { x: room.maxX, y: top + (i + 1) * rowMm - 0.5 },
          { widthMm: 0.2 },
        ),
    ),
  ];
}
