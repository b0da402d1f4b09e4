import { fretPlace } from '../figures/frets.ts';
import { input } from '../figures/inputs.ts';
import { neckJoin } from '../figures/join.ts';
import { scarfLength } from '../figures/neck.ts';
import { neckAngle } from '../figures/neck-angle.ts';
import { figureValue, type Sheet } from '../graph/sheet.ts';
import { formatDecimal } from '../quantity/print-length.ts';
import { heading, mark, note, pageOf } from './drawing-page.ts';
import { type DimensionWords, PLAIN_WORDS } from './drawn-number.ts';
import {
  alignedDimension,
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
  polyline,
  verticalDimension,
} from './model.ts';
import { allOf, lengthWords, shownAs } from './shown-figure.ts';

/** Shape of the heel: length of its cap and where its curve begins between fret 9 and the join (common practice, no published source). */
const HEEL_CAP_MM = 24;
const HEEL_FROM_SHARE = 0.3;
const RAD = Math.PI / 180;

interface Neck {
  readonly boardMm: number;
  readonly boardLengthMm: number;
  readonly joinMm: number;
  readonly fret1Mm: number;
  readonly fret9Mm: number;
  readonly thickAt: (xMm: number) => number;
  readonly heelMm: number;
  readonly headMm: number;
  readonly headThickMm: number;
  readonly headRad: number;
  /** Lean of the heel face: how much nearer to the nut each mm further down. */
  readonly leanRad: number;
}

function neckOf(sheet: Sheet): Neck | undefined {
  const v = allOf(sheet, {
    boardMm: input('board.thickness'),
    boardLengthMm: input('board.length'),
    joinMm: neckJoin,
    frets: fretPlace,
    at1: input('neck.fret_1.final'),
    at9: input('neck.fret_9.final'),
    heelMm: input('neck.heel.height'),
    headMm: input('neck.head.length'),
    headThickMm: input('neck.head.thickness'),
    headDeg: input('neck.head.angle'),
    neckDeg: neckAngle,
  });
  const [fret1Mm, fret9Mm] = [v?.frets[0], v?.frets[8]];
  if (!v || fret1Mm === undefined || fret9Mm === undefined) return undefined;
  const thickAt = (x: number): number => v.at1 + ((v.at9 - v.at1) * (x - fret1Mm)) / (fret9Mm - fret1Mm);
  return { ...v, fret1Mm, fret9Mm, thickAt, headRad: v.headDeg * RAD, leanRad: v.neckDeg * RAD };
}

/**
 * The neck from the side, nut at x = 0 and head to the left: board, thickness at frets 1 and 9, heel, head, rod slot,
 * and how the scarf of the head is sawn.
 *
 * @param words  unit of the dimensions, and the last revision to compare with
 * @returns      a drawing; parts whose figures cannot be had are left out
 * @assumes      the curves of heel and head are a shop habit; thicknesses, lengths and angles come from the pattern
 * @source       common practice, no published source
 */
export function neckProfile(sheet: Sheet, words: DimensionWords = PLAIN_WORDS): Drawing {
  const neck = neckOf(sheet);
  const entities = neck
    ? [
        ...wood(neck),
        ...boardSide(neck),
        ...rodSlot(sheet, neck, words),
        ...lengths(sheet, neck, words),
        ...thicknesses(sheet, neck, words),
        ...headSizes(sheet, neck, words),
        ...heelSizes(sheet, neck, words),
        ...scarf(sheet, neck, words),
      ]
    : [];
  return pageOf('neck-profile', 'Neck from the side', 'the side', entities);
}

/** A point of the head: along its face from the nut, and down square to the face. */
function onHead({ boardMm, headRad }: Neck, alongMm: number, deepMm: number): PointMm {
  return {
    x: -alongMm * Math.cos(headRad) + deepMm * Math.sin(headRad),
    y: boardMm + alongMm * Math.sin(headRad) + deepMm * Math.cos(headRad),
  };
}

/** Corners of the heel: at the board and at the cap. */
function heelCorners({ joinMm, boardMm, heelMm, leanRad }: Neck): readonly [PointMm, PointMm] {
  return [
    { x: joinMm, y: boardMm },
    { x: joinMm - heelMm * Math.sin(leanRad), y: boardMm + heelMm * Math.cos(leanRad) },
  ];
}

function wood(neck: Neck): readonly Entity[] {
  const { fret1Mm, fret9Mm, joinMm, thickAt, headMm, headThickMm } = neck;
  const [atBoard, atCap] = heelCorners(neck);
  const heelFrom = fret9Mm + (joinMm - fret9Mm) * HEEL_FROM_SHARE;
  const slope = (thickAt(fret9Mm) - thickAt(fret1Mm)) / (fret9Mm - fret1Mm);
  const cap = { x: atCap.x - HEEL_CAP_MM, y: atCap.y };
  const back = (x: number): PointMm => ({ x, y: thickAt(x) });
  const headBack = onHead(neck, 18, headThickMm);
  const along = { x: Math.cos(neck.headRad), y: -Math.sin(neck.headRad) };
  const reach = Math.hypot(fret1Mm * 0.6 - headBack.x, thickAt(fret1Mm * 0.6) - headBack.y) / 3;
  return [
    closedPath(
      'cut',
      { x: 0, y: neck.boardMm },
      [
        lineTo(atBoard),
        lineTo(atCap),
        lineTo(cap),
        cubicTo(
          { x: cap.x - 2, y: cap.y - neck.heelMm * 0.45 },
          { x: heelFrom + (cap.x - heelFrom) * 0.7, y: thickAt(heelFrom) + slope * (cap.x - heelFrom) * 0.7 },
          back(heelFrom),
        ),
        lineTo(back(fret1Mm * 0.6)),
        cubicTo(
          { x: fret1Mm * 0.6 - reach, y: thickAt(fret1Mm * 0.6) - slope * reach },
          { x: headBack.x + along.x * reach, y: headBack.y + along.y * reach },
          headBack,
        ),
        lineTo(onHead(neck, headMm, headThickMm)),
        lineTo(onHead(neck, headMm, 0)),
      ],
      { key: 'neck' },
    ),
  ];
}

function boardSide({ boardMm, boardLengthMm }: Neck): readonly Entity[] {
  return [
    polyline(
      'visible',
      [
        { x: 0, y: boardMm },
        { x: 0, y: 0 },
        { x: boardLengthMm, y: 0 },
        { x: boardLengthMm, y: boardMm },
        { x: 0, y: boardMm },
      ],
      false,
      { key: 'board' },
    ),
  ];
}

/** The slot for a rod or stiffener, dashed; left out where the instrument has none. */
function rodSlot(sheet: Sheet, neck: Neck, words: DimensionWords): readonly Entity[] {
  const v = allOf(sheet, { depthMm: input('neck.rod_slot.depth'), widthMm: input('neck.rod_slot.width') });
  if (!v) return [];
  const floor = neck.boardMm + v.depthMm;
  const from = { x: 6, y: neck.boardMm };
  const at = (neck.fret1Mm + neck.fret9Mm) / 2;
  return [
    openPath(
      'hidden',
      from,
      [
        lineTo({ x: 6, y: floor }),
        lineTo({ x: neck.joinMm - 6, y: floor }),
        lineTo({ x: neck.joinMm - 6, y: neck.boardMm }),
      ],
      { key: 'neck.rod_slot.depth' },
    ),
    leader(
      { x: at, y: floor },
      { x: at + 10, y: neck.thickAt(at) + 26 },
      `slot ${lengthWords(v.widthMm, words)} wide, ${lengthWords(v.depthMm, words)} deep`,
      { key: 'neck.rod_slot.depth' },
    ),
  ];
}

function lengths(sheet: Sheet, neck: Neck, words: DimensionWords): readonly Entity[] {
  const along = (id: string, x: number, y: number): Entity =>
    horizontalDimension({ x: 0, y: 0 }, { x, y: 0 }, y, {
      ...shownAs(sheet, id, words),
      textAtFrac: 0.5,
    });
  return [
    along('fret.place.1', neck.fret1Mm, -10),
    along('fret.place.9', neck.fret9Mm, -20),
    along('neck.join', neck.joinMm, -30),
    along('board.length', neck.boardLengthMm, -40),
    line(
      'centre',
      { x: neck.joinMm, y: -6 },
      { x: neck.joinMm, y: neck.boardMm + neck.heelMm + 10 },
      { key: 'neck.join' },
    ),
  ];
}

/** Thickness with the board at frets 1 and 9, measured square to the fret plane. */
function thicknesses(sheet: Sheet, neck: Neck, words: DimensionWords): readonly Entity[] {
  const at = (id: string, x: number): readonly Entity[] => {
    const y = neck.thickAt(x);
    return [
      line('dimension', { x, y: -3 }, { x, y: y + 12 }, { key: id }),
      leader({ x, y }, { x: x - 8, y: y + 16 }, `${shownAs(sheet, id, words).text ?? ''} with board`, {
        key: id,
      }),
    ];
  };
  return [...at('neck.fret_1.final', neck.fret1Mm), ...at('neck.fret_9.final', neck.fret9Mm)];
}

function headSizes(sheet: Sheet, neck: Neck, words: DimensionWords): readonly Entity[] {
  const [nut, end, endBack] = [
    onHead(neck, 0, 0),
    onHead(neck, neck.headMm, 0),
    onHead(neck, neck.headMm, neck.headThickMm),
  ];
  const middle = onHead(neck, neck.headMm * 0.5, 0);
  return [
    alignedDimension(end, nut, -14, { ...shownAs(sheet, 'neck.head.length', words), textAtFrac: 0.25 }),
    alignedDimension(end, endBack, 10, shownAs(sheet, 'neck.head.thickness', words)),
    line(
      'centre',
      { x: -neck.headMm * 0.5, y: neck.boardMm },
      { x: 0, y: neck.boardMm },
      { key: 'neck.head.angle' },
    ),
    note(
      { x: middle.x - 20, y: onHead(neck, neck.headMm * 0.5, neck.headThickMm).y + 16 },
      `head ${formatDecimal(neck.headRad / RAD, 1)}\u00b0 to the fret plane; thickness with its veneer`,
      { key: 'neck.head.angle' },
    ),
    mark({ x: end.x + 20, y: -34 }, 'HEAD'),
  ];
}

function heelSizes(sheet: Sheet, neck: Neck, words: DimensionWords): readonly Entity[] {
  const [atBoard, atCap] = heelCorners(neck);
  const face = formatDecimal(90 - neck.leanRad / RAD, 2);
  return [
    verticalDimension(atBoard, { x: atCap.x, y: neck.boardMm + neck.heelMm }, neck.joinMm + 16, {
      ...shownAs(sheet, 'neck.heel.height', words),
      textAtFrac: 0.8,
    }),
    leader(
      { x: (atBoard.x + atCap.x) / 2, y: (atBoard.y + atCap.y) / 2 },
      { x: neck.joinMm + 26, y: neck.boardMm + neck.heelMm * 0.5 + 14 },
      `heel face ${face}\u00b0 to the fret plane`,
      { key: 'neck.heel_face_angle' },
    ),
  ];
}

/** How the end of the blank is sawn for the scarf. */
function scarf(sheet: Sheet, neck: Neck, words: DimensionWords): readonly Entity[] {
  const run = figureValue(sheet, scarfLength);
  if (run === undefined || neck.headRad <= 0) return [];
  const thick = run * Math.tan(neck.headRad);
  const [left, top] = [-run, neck.boardMm + neck.heelMm + 34];
  const right = 70;
  return [
    polyline(
      'visible',
      [
        { x: left - 40, y: top },
        { x: right, y: top },
        { x: right, y: top + thick },
        { x: left - 40, y: top + thick },
      ],
      false,
      { key: 'neck.blank.length' },
    ),
    line('cut', { x: 0, y: top }, { x: left, y: top + thick }, { key: 'neck.scarf.length' }),
    horizontalDimension({ x: left, y: top + thick }, { x: 0, y: top }, top + thick + 12, {
      ...shownAs(sheet, 'neck.scarf.length', words),
    }),
    verticalDimension({ x: right, y: top }, { x: right, y: top + thick }, right + 12, {
      text: lengthWords(thick, words),
      key: 'neck.scarf.length',
    }),
    heading(
      { x: left - 40, y: top - 5 },
      `Scarf in the blank, ${formatDecimal(neck.headRad / RAD, 1)}\u00b0`,
    ),
  ];
}
