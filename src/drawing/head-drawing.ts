import { tuners } from '../figures/head.ts';
import { input, instrument } from '../figures/inputs.ts';
import { stringXNut } from '../figures/spacing.ts';
import { SLOT_WALL_MM, SLOT_WIDTH_MM, type TunerPlace } from '../figures/tuner-places.ts';
import { figureValue, type Sheet } from '../graph/sheet.ts';
import { mark, note, pageOf } from './drawing-page.ts';
import { type DimensionWords, PLAIN_WORDS } from './drawn-number.ts';
import { trebleSide } from './face-parts.ts';
import {
  arcAbout,
  circle,
  closedPath,
  cubicTo,
  type Drawing,
  type Entity,
  horizontalDimension,
  leader,
  line,
  lineTo,
  openPath,
  type PointMm,
  verticalDimension,
} from './model.ts';
import { allOf, lengthWords, shownAs } from './shown-figure.ts';

/** The head in its own plane: y = 0 at the nut, the head upward. */
interface Head {
  readonly lengthMm: number;
  readonly topMm: number;
  readonly nutSideMm: number;
  readonly boardNutMm: number;
  readonly halfAt: (alongMm: number) => number;
}

/** How much of the neck is shown below the nut, mm. */
const NECK_MM = 26;
const CORNER_MM = 6;

function headOf(sheet: Sheet): Head | undefined {
  const v = allOf(sheet, {
    lengthMm: input('neck.head.length'),
    topMm: input('neck.head.width_top'),
    nutSideMm: input('neck.head.width_nut'),
    boardNutMm: input('board.width.nut'),
  });
  if (!v) return undefined;
  const halfAt = (alongMm: number): number =>
    (v.nutSideMm + ((v.topMm - v.nutSideMm) * alongMm) / v.lengthMm) / 2;
  return { ...v, halfAt };
}

/**
 * The head seen square to its face: outline, tuner holes or slots with rollers, strings and nut line.
 *
 * @param words  unit of the dimensions, and the last revision to compare with
 * @returns      a drawing; parts whose figures cannot be had are left out
 * @source       plane-geometry
 */
export function headDrawing(sheet: Sheet, words: DimensionWords = PLAIN_WORDS): Drawing {
  const head = headOf(sheet);
  const places = figureValue(sheet, tuners);
  const isSlotted = figureValue(sheet, instrument) === 'nylon';
  const entities = head
    ? [
        ...outline(head),
        ...(places ? stringsTo(sheet, places) : []),
        ...(places ? (isSlotted ? slotsAndRollers(sheet, head, places) : holes(sheet, places)) : []),
        ...sizes(sheet, head, words),
        ...(places ? tunerSizes(sheet, head, places, isSlotted, words) : []),
        ...headMarks(sheet, head, isSlotted),
      ]
    : [];
  return pageOf('head', 'Head', 'square to its face', entities);
}

/** How far the shoulder runs up from the nut. */
function shoulderMm({ nutSideMm, boardNutMm, lengthMm }: Head): number {
  return Math.min(lengthMm / 3, Math.max(8, Math.abs(nutSideMm - boardNutMm)));
}

function outline(head: Head): readonly Entity[] {
  const { lengthMm, boardNutMm, halfAt } = head;
  const rise = shoulderMm(head);
  const nut = boardNutMm / 2;
  const edge = halfAt(rise);
  const top = halfAt(lengthMm);
  const lean = Math.atan((top - edge) / (lengthMm - rise));
  // a corner tangent to the leaning edge and to the level top
  const run = CORNER_MM * Math.tan(Math.PI / 4 - lean / 2);
  const corner = { x: top - run, y: -lengthMm + CORNER_MM };
  const touch = { x: corner.x + CORNER_MM * Math.cos(lean), y: corner.y + CORNER_MM * Math.sin(lean) };
  const sweep = -(Math.PI / 2 + lean);
  const mirrored = (p: PointMm): PointMm => ({ x: -p.x, y: p.y });
  const shoulder = [
    { x: nut, y: -rise * 0.55 },
    { x: edge - (edge - nut) * 0.12, y: -rise * 0.45 },
    { x: edge, y: -rise },
  ] as const;
  const path = openPath(
    'cut',
    { x: nut, y: NECK_MM },
    [
      lineTo({ x: nut, y: 0 }),
      cubicTo(...shoulder),
      lineTo(touch),
      arcAbout(corner, sweep),
      lineTo({ x: -corner.x, y: -lengthMm }),
      arcAbout(mirrored(corner), sweep),
      lineTo(mirrored({ x: edge, y: -rise })),
      cubicTo(mirrored(shoulder[1]), mirrored(shoulder[0]), { x: -nut, y: 0 }),
      lineTo({ x: -nut, y: NECK_MM }),
    ],
    { key: 'head' },
  );
  return [
    path,
    line('visible', { x: -nut, y: 0 }, { x: nut, y: 0 }, { key: 'nut', widthMm: 0.7 }),
    line('centre', { x: 0, y: -lengthMm - 8 }, { x: 0, y: NECK_MM + 4 }),
  ];
}

function stringsTo(sheet: Sheet, places: readonly TunerPlace[]): readonly Entity[] {
  const nut = figureValue(sheet, stringXNut) ?? [];
  return places.flatMap((place, i) => {
    const x = nut[i];
    if (x === undefined) return [];
    return [
      line(
        'hidden',
        { x, y: 0 },
        { x: place.stringXMm, y: -place.alongMm },
        {
          key: `neck.nut_side_angle.${i + 1}`,
          widthMm: 0.18,
        },
      ),
    ];
  });
}

function holes(sheet: Sheet, places: readonly TunerPlace[]): readonly Entity[] {
  const diameter = figureValue(sheet, input('neck.tuner_hole'));
  if (diameter === undefined) return [];
  return places.flatMap(({ xMm, alongMm }, i) => {
    const at = { x: xMm, y: -alongMm };
    const reach = diameter / 2 + 3;
    const key = `neck.tuner.x.${i + 1}`;
    return [
      circle('cut', at, diameter / 2, { key, widthMm: 0.35 }),
      line('centre', { x: at.x - reach, y: at.y }, { x: at.x + reach, y: at.y }, { key }),
      line('centre', { x: at.x, y: at.y - reach }, { x: at.x, y: at.y + reach }, { key }),
    ];
  });
}

/** Slots along both edges and the rollers that cross them. */
function slotsAndRollers(sheet: Sheet, head: Head, places: readonly TunerPlace[]): readonly Entity[] {
  const alongs = places.map(({ alongMm }) => alongMm);
  const diameter = figureValue(sheet, input('neck.tuner_hole'));
  const r = SLOT_WIDTH_MM / 2;
  const [first, last] = [Math.min(...alongs) - 16, Math.max(...alongs) + 16];
  const middleAt = (alongMm: number): number => head.halfAt(alongMm) - SLOT_WALL_MM - r;
  return ([1, -1] as const).flatMap((side) => {
    const [a, b] = [
      { x: side * middleAt(first), y: -first },
      { x: side * middleAt(last), y: -last },
    ];
    const way = Math.atan2(b.y - a.y, b.x - a.x);
    const square = { x: -Math.sin(way) * r, y: Math.cos(way) * r };
    const slot = closedPath(
      'cut',
      { x: a.x + square.x, y: a.y + square.y },
      [
        lineTo({ x: b.x + square.x, y: b.y + square.y }),
        arcAbout(b, -Math.PI),
        lineTo({ x: a.x - square.x, y: a.y - square.y }),
        arcAbout(a, -Math.PI),
      ],
      { key: 'neck.tuner.places', widthMm: 0.35 },
    );
    const rollers = [...new Set(alongs)].flatMap((alongMm) => {
      const outer = head.halfAt(alongMm);
      const inner = outer - SLOT_WALL_MM - SLOT_WIDTH_MM - 6;
      const at = (x: number, y: number): PointMm => ({ x: side * x, y: -alongMm + y });
      const half = (diameter ?? 0) / 2;
      return [
        line('centre', at(outer + 4, 0), at(inner - 2, 0), { key: 'neck.tuner.along' }),
        ...(half > 0
          ? [
              line('hidden', at(outer, half), at(inner, half), { key: 'neck.tuner_hole' }),
              line('hidden', at(outer, -half), at(inner, -half), { key: 'neck.tuner_hole' }),
              line('hidden', at(inner, half), at(inner, -half), { key: 'neck.tuner_hole' }),
            ]
          : []),
      ];
    });
    return [slot, ...rollers];
  });
}

function sizes(sheet: Sheet, head: Head, words: DimensionWords): readonly Entity[] {
  const { lengthMm, halfAt, boardNutMm } = head;
  const [top, nut] = [halfAt(lengthMm), boardNutMm / 2];
  const rise = shoulderMm(head);
  return [
    horizontalDimension({ x: -top, y: -lengthMm }, { x: top, y: -lengthMm }, -lengthMm - 16, {
      ...shownAs(sheet, 'neck.head.width_top', words),
    }),
    horizontalDimension({ x: -halfAt(0), y: -rise }, { x: halfAt(0), y: -rise }, NECK_MM + 12, {
      ...shownAs(sheet, 'neck.head.width_nut', words),
      textAtFrac: 0.3,
    }),
    horizontalDimension({ x: -nut, y: NECK_MM }, { x: nut, y: NECK_MM }, NECK_MM + 23, {
      ...shownAs(sheet, 'board.width.nut', words),
      textAtFrac: 0.3,
    }),
    verticalDimension({ x: -nut, y: 0 }, { x: -top + CORNER_MM, y: -lengthMm }, -top - 24, {
      ...shownAs(sheet, 'neck.head.length', words),
    }),
  ];
}

/** Pitch, ends, edge and hole of the tuners, on the right side. */
function tunerSizes(
  sheet: Sheet,
  head: Head,
  places: readonly TunerPlace[],
  isSlotted: boolean,
  words: DimensionWords,
): readonly Entity[] {
  const right = places.filter(({ xMm }) => xMm > 0).toSorted((a, b) => a.alongMm - b.alongMm);
  const [first, second] = right;
  if (!first) return [];
  const widest = Math.max(head.halfAt(0), head.halfAt(head.lengthMm));
  const x = widest + 14;
  const from = (p: TunerPlace): PointMm => ({
    x: isSlotted ? head.halfAt(p.alongMm) + 4 : p.xMm + 9,
    y: -p.alongMm,
  });
  const last = right.at(-1) ?? first;
  const diameter = figureValue(sheet, input('neck.tuner_hole'));
  const edge = { x: -head.halfAt(last.alongMm), y: -last.alongMm };
  const hole = { x: -last.xMm, y: -last.alongMm };
  return [
    verticalDimension(
      { x: head.boardNutMm / 2, y: 0 },
      from(first),
      x,
      shownAs(sheet, 'neck.tuner.from_ends', words),
    ),
    ...(second
      ? [verticalDimension(from(first), from(second), x, shownAs(sheet, 'neck.tuner_pitch', words))]
      : []),
    ...(isSlotted
      ? []
      : [
          horizontalDimension(edge, hole, -head.lengthMm - 6, {
            ...shownAs(sheet, 'neck.tuner.from_edge', words),
          }),
        ]),
    ...(diameter === undefined
      ? []
      : [
          leader(
            isSlotted
              ? { x: head.halfAt(last.alongMm), y: -last.alongMm - diameter / 2 }
              : { x: last.xMm + (diameter / 2) * 0.8, y: -last.alongMm - (diameter / 2) * 0.6 },
            { x: x - 6, y: -last.alongMm - 22 },
            `\u00d8 ${lengthWords(diameter, words)}`,
            { key: 'neck.tuner_hole' },
          ),
        ]),
  ];
}

function headMarks(sheet: Sheet, head: Head, isSlotted: boolean): readonly Entity[] {
  const treble = trebleSide(sheet);
  const x = head.halfAt(0) + 8;
  const side = (sign: number, word: string): Entity =>
    mark({ x: sign * x, y: 18 }, word, { anchorX: sign > 0 ? 'start' : 'end' });
  return [
    side(treble, 'TREBLE'),
    side(-treble, 'BASS'),
    note({ x: 6, y: 6 }, 'nut'),
    note(
      { x: -head.halfAt(0), y: NECK_MM + 32 },
      isSlotted
        ? `Slots ${SLOT_WIDTH_MM} wide, outer wall ${SLOT_WALL_MM}; rollers drilled from the edge`
        : 'Dashed: strings from the nut to their posts',
    ),
    note({ x: -head.halfAt(0), y: NECK_MM + 37 }, 'The contour of the top is yours; holes and slots are not'),
  ];
}
