import { boardWidthEnd } from '../figures/board.ts';
import { fretMarks, fretPlace, markedFrets } from '../figures/frets.ts';
import { handed, input, instrument } from '../figures/inputs.ts';
import { neckJoin } from '../figures/join.ts';
import { stringXNut, stringXSaddle } from '../figures/spacing.ts';
import { figureValue, type Sheet } from '../graph/sheet.ts';
import { mark, note, pageOf } from './drawing-page.ts';
import { type DimensionWords, PLAIN_WORDS } from './drawn-number.ts';
import { trebleSide } from './face-parts.ts';
import {
  arcAbout,
  circle,
  closedPath,
  type Drawing,
  type Entity,
  horizontalDimension,
  leader,
  line,
  lineTo,
  type PointMm,
  polyline,
  verticalDimension,
} from './model.ts';
import { allOf, exactWords, lengthWords, shownAs } from './shown-figure.ts';

/** The tapered board: y from the nut face. */
interface Board {
  readonly lengthMm: number;
  readonly halfAt: (yMm: number) => number;
  readonly widestMm: number;
}

function boardOf(sheet: Sheet): Board | undefined {
  const v = allOf(sheet, {
    nutMm: input('board.width.nut'),
    endMm: boardWidthEnd,
    lengthMm: input('board.length'),
  });
  if (!v) return undefined;
  const halfAt = (yMm: number): number => (v.nutMm + ((v.endMm - v.nutMm) * yMm) / v.lengthMm) / 2;
  return { lengthMm: v.lengthMm, halfAt, widestMm: Math.max(v.nutMm, v.endMm) / 2 };
}

/**
 * The fretboard from the front with its slots, the running total of each beside it, taper, dots, outer strings and
 * cut ends, and its end seen along the neck.
 *
 * @param words  unit of the dimensions, and the last revision to compare with
 * @returns      a drawing; parts whose figures cannot be had are left out
 * @source       plane-geometry
 */
export function fretboard(sheet: Sheet, words: DimensionWords = PLAIN_WORDS): Drawing {
  const board = boardOf(sheet);
  const entities = board
    ? [
        ...edge(board),
        ...slots(sheet, board),
        ...slotList(sheet, board, words),
        ...dots(sheet, board),
        ...outerStrings(sheet, board),
        ...joinLine(sheet, board),
        ...widths(sheet, board, words),
        ...lengths(sheet, board, words),
        ...boardEnd(sheet, board, words),
        ...boardMarks(sheet, board),
      ]
    : [];
  return pageOf('fretboard', 'Fretboard with slots', 'the front', entities);
}

function edge({ lengthMm, halfAt }: Board): readonly Entity[] {
  const corners: readonly PointMm[] = [
    { x: -halfAt(0), y: 0 },
    { x: halfAt(0), y: 0 },
    { x: halfAt(lengthMm), y: lengthMm },
    { x: -halfAt(lengthMm), y: lengthMm },
  ];
  return [
    polyline('cut', corners, true, { key: 'board' }),
    line('centre', { x: 0, y: -8 }, { x: 0, y: lengthMm + 8 }),
  ];
}

/** Each slot as its middle line, across the whole board. */
function slots(sheet: Sheet, { halfAt }: Board): readonly Entity[] {
  return (figureValue(sheet, fretPlace) ?? []).map((y) =>
    line('visible', { x: -halfAt(y), y }, { x: halfAt(y), y }, { key: 'frets', widthMm: 0.2 }),
  );
}

const LIST_GAP_MM = 12;
const LIST_COLUMNS_MM = [4, 20, 36] as const;

/** Beside each slot: its number and how far it lies from the nut face, in both units. */
function slotList(sheet: Sheet, { widestMm }: Board, { lengthUnit }: DimensionWords): readonly Entity[] {
  const left = widestMm + LIST_GAP_MM;
  const row = (y: number, cells: readonly string[], key?: string): readonly Entity[] =>
    cells.map((cell, i) =>
      note({ x: left + (LIST_COLUMNS_MM[i] ?? 0), y }, cell, {
        anchorX: 'end',
        anchorY: 'middle',
        ...(key === undefined ? {} : { key }),
      }),
    );
  const inOrder = (mm: string, inch: string): readonly string[] =>
    lengthUnit === 'mm' ? [mm, inch] : [inch, mm];
  const places = figureValue(sheet, fretPlace) ?? [];
  const rows = places.flatMap((y, i) => {
    const { mm, inch } = exactWords(y);
    const key = `fret.place.${i + 1}`;
    return [
      ...row(y, [String(i + 1), ...inOrder(mm, inch)], key),
      line('dimension', { x: widestMm + 3, y }, { x: left - 1, y }, { key }),
    ];
  });
  return [
    ...row(0, ['fret', ...inOrder('mm', 'in')]),
    note({ x: left - 4, y: -6 }, 'Slot middles, running total from the nut face'),
    ...rows,
  ];
}

const DOT_RADIUS_MM = 3;
const SIDE_DOT_RADIUS_MM = 1;

/** Face dots (none on a nylon-string board) and, beside the bass edge, where the side dots go. */
function dots(sheet: Sheet, { halfAt }: Board): readonly Entity[] {
  const places = figureValue(sheet, fretMarks) ?? [];
  const frets = markedFrets(figureValue(sheet, fretPlace)?.length ?? 0);
  const bass = -trebleSide(sheet);
  const hasFaceDots = figureValue(sheet, instrument) !== 'nylon';
  return places.flatMap((y, i) => {
    const key = `fret.mark.${frets[i]}`;
    const isDouble = frets[i] === 12;
    const across = isDouble ? [-halfAt(y) / 2, halfAt(y) / 2] : [0];
    const onSide = isDouble ? [y - 2, y + 2] : [y];
    const x = bass * (halfAt(y) + 2.5);
    return [
      ...(hasFaceDots
        ? across.map((at) => circle('visible', { x: at, y }, DOT_RADIUS_MM, { key, widthMm: 0.25 }))
        : []),
      ...onSide.map((at) =>
        circle('visible', { x, y: at }, SIDE_DOT_RADIUS_MM, { key, fill: 'black', widthMm: 0.2 }),
      ),
    ];
  });
}

/** Where the outer strings run over the board. */
function outerStrings(sheet: Sheet, { lengthMm }: Board): readonly Entity[] {
  const v = allOf(sheet, { nut: stringXNut, saddle: stringXSaddle, scaleMm: input('scale.length') });
  if (!v) return [];
  return [0, v.nut.length - 1].flatMap((i) => {
    const [a, b] = [v.nut[i], v.saddle[i]];
    if (a === undefined || b === undefined) return [];
    const end = a + ((b - a) * lengthMm) / v.scaleMm;
    return [line('hidden', { x: a, y: 0 }, { x: end, y: lengthMm }, { key: 'strings' })];
  });
}

function joinLine(sheet: Sheet, { halfAt, lengthMm }: Board): readonly Entity[] {
  const y = figureValue(sheet, neckJoin);
  if (y === undefined || y > lengthMm) return [];
  const reach = halfAt(y) + 8;
  return [line('centre', { x: -reach, y }, { x: reach - 5, y }, { key: 'neck.join', widthMm: 0.35 })];
}

function widths(sheet: Sheet, board: Board, words: DimensionWords): readonly Entity[] {
  const { halfAt, lengthMm } = board;
  const across = (id: string, y: number, lineY: number): Entity =>
    horizontalDimension({ x: -halfAt(y), y }, { x: halfAt(y), y }, lineY, {
      ...shownAs(sheet, id, words),
      textAtFrac: 0.5,
    });
  const nut = figureValue(sheet, stringXNut);
  const treble = trebleSide(sheet);
  const outer = nut ? Math.max(...nut.map((x) => x * treble)) * treble : undefined;
  const margin =
    outer === undefined
      ? []
      : [
          horizontalDimension(
            { x: outer, y: 0 },
            { x: treble * halfAt(0), y: 0 },
            -14,
            shownAs(sheet, 'string.margin.nut', words),
          ),
        ];
  return [...margin, across('board.width.nut', 0, -26), across('board.width.end', lengthMm, lengthMm + 18)];
}

function lengths(sheet: Sheet, { halfAt, lengthMm }: Board, words: DimensionWords): readonly Entity[] {
  const join = figureValue(sheet, neckJoin);
  const along = (id: string, y: number, x: number): Entity =>
    verticalDimension({ x: -halfAt(0), y: 0 }, { x: -halfAt(y) - (y === join ? 9 : 0), y }, x, {
      ...shownAs(sheet, id, words),
      textAtFrac: 0.62,
    });
  const left = -halfAt(lengthMm);
  const fret12 = figureValue(sheet, fretPlace)?.[11];
  return [
    ...(fret12 === undefined ? [] : [along('scale.fret_12', fret12, left - 14)]),
    ...(join === undefined || join === fret12 ? [] : [along('neck.join', join, left - 25)]),
    along('board.length', lengthMm, left - 36),
  ];
}

/** The end of the board seen along the neck: face radius, thickness in the middle and at the edge. */
function boardEnd(sheet: Sheet, { halfAt, lengthMm }: Board, words: DimensionWords): readonly Entity[] {
  const thick = figureValue(sheet, input('board.thickness'));
  if (thick === undefined) return [];
  const radius = figureValue(sheet, input('board.radius'));
  const half = halfAt(lengthMm);
  const top = lengthMm + 42;
  const bottom = top + thick;
  const rise = radius === undefined || radius <= half ? 0 : radius - Math.sqrt(radius * radius - half * half);
  const right = { x: half, y: top + rise };
  const face =
    rise === 0 || radius === undefined
      ? lineTo(right)
      : arcAbout({ x: 0, y: top + radius }, 2 * Math.asin(half / radius));
  const section = closedPath(
    'cut',
    { x: -half, y: top + rise },
    [face, lineTo({ x: half, y: bottom }), lineTo({ x: -half, y: bottom })],
    { key: 'board', widthMm: 0.35 },
  );
  const tip = { x: -half * 0.45, y: top + rise * 0.2 };
  const said = rise === 0 || radius === undefined ? 'flat face' : `R ${lengthWords(radius, words)}`;
  return [
    section,
    line('centre', { x: 0, y: top - 4 }, { x: 0, y: bottom + 4 }),
    verticalDimension({ x: 0, y: top }, { x: 0, y: bottom }, -half - 10, {
      ...shownAs(sheet, 'board.thickness', words),
    }),
    verticalDimension({ x: half, y: top + rise }, { x: half, y: bottom }, half + 8, {
      ...shownAs(sheet, 'board.edge_thickness.end', words),
    }),
    leader(tip, { x: tip.x + 4, y: top - 7 }, said, { key: 'board.radius' }),
    note({ x: -half, y: bottom + 8 }, 'Board end, seen along the neck'),
  ];
}

function boardMarks(sheet: Sheet, { halfAt, lengthMm }: Board): readonly Entity[] {
  const treble = trebleSide(sheet);
  const first = figureValue(sheet, fretPlace)?.[0] ?? 30;
  const y = first / 2;
  const side = (sign: 1 | -1): number => sign * halfAt(y) * 0.5;
  const turned = { rotationRad: -Math.PI / 2, anchorX: 'middle', anchorY: 'middle' } as const;
  const hand = figureValue(sheet, handed) === 'left' ? 'Left-handed: ' : '';
  return [
    mark({ x: -halfAt(0) - 4, y: -4 }, 'NUT', { anchorX: 'end' }),
    mark({ x: side(treble), y }, 'TREBLE', turned),
    mark({ x: side(treble === 1 ? -1 : 1), y }, 'BASS', turned),
    note({ x: -halfAt(lengthMm), y: lengthMm + 64 }, `${hand}Black dots beside the BASS edge: side dots`),
    note({ x: -halfAt(lengthMm), y: lengthMm + 69 }, 'Dashed: outer strings. Chain line across: body join'),
    note(
      { x: -halfAt(lengthMm), y: lengthMm + 74 },
      'Every slot is measured from the nut face, never from its neighbour',
    ),
  ];
}
