import { type Absent, absent, type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import type { StockSpec } from '../pattern/pattern.ts';
import { perFret } from './family.ts';
import { fretPlace } from './frets.ts';
import { input, stockPieces } from './inputs.ts';
import { neckJoin } from './join.ts';

const practice = 'common practice, no published source';
const neck1 = input('neck.fret_1.final');
const neck9 = input('neck.fret_9.final');
const boardThickness = input('board.thickness');
const slotDepth = input('neck.rod_slot.depth');
const slotWidth = input('neck.rod_slot.width');
const headLength = input('neck.head.length');
const headAngle = input('neck.head.angle');
const headWidthTop = input('neck.head.width_top');
const headWidthNut = input('neck.head.width_nut');
const RAD = Math.PI / 180;

function rough(fret: 1 | 9, final: Figure<number>): Figure<number> {
  return figure({
    id: `neck.fret_${fret}.rough`,
    unit: 'mm',
    label: `Neck with board at fret ${fret}, rough`,
    formula: 'finished thickness + 0.5',
    source: practice,
    from: { finalMm: final },
    compute: ({ finalMm }) => finalMm + 0.5,
  });
}
/** Rough neck at fret 1. */
export const neckRough1 = rough(1, neck1);
/** Rough neck at fret 9. */
export const neckRough9 = rough(9, neck9);

function wood(fret: 1 | 9, final: Figure<number>): Figure<number> {
  return figure({
    id: `neck.wood.fret_${fret}`,
    unit: 'mm',
    label: `Neck wood under the board at fret ${fret}`,
    formula: 'neck with board - board thickness',
    source: 'arithmetic',
    from: { finalMm: final, boardMm: boardThickness },
    compute: ({ finalMm, boardMm }) => finalMm - boardMm,
  });
}
/** Neck wood at fret 1. */
export const neckWood1 = wood(1, neck1);
/** Neck wood at fret 9. */
export const neckWood9 = wood(9, neck9);

/** Thickness along the neck. */
export const neckThickness: Figure<readonly number[]> = figure({
  id: 'neck.thickness',
  unit: 'mm',
  label: 'Neck with board at the fret, finished',
  formula: 'straight from fret 1 to fret 9',
  source: 'plane-geometry',
  from: { at1Mm: neck1, at9Mm: neck9, places: fretPlace },
  compute: ({ at1Mm, at9Mm, places }) => {
    const x1 = places[0] as number;
    const x9 = places[8] ?? (places[places.length - 1] as number);
    return places.slice(0, 9).map((x) => at1Mm + ((at9Mm - at1Mm) * (x - x1)) / (x9 - x1));
  },
  members: perFret,
});

/** Wood behind the rod. */
export const rodWoodLeft: Figure<number> = figure({
  id: 'neck.rod_slot.wood_left',
  unit: 'mm',
  label: 'Wood behind the rod slot at fret 1',
  formula: 'neck with board at fret 1 - board thickness - slot depth',
  source: 'arithmetic',
  from: { woodMm: neckWood1, depthMm: slotDepth },
  compute: ({ woodMm, depthMm }) => woodMm - depthMm,
});

/** Wood beside the rod. */
export const rodWoodBeside: Figure<number> = figure({
  id: 'neck.rod_slot.wood_beside',
  unit: 'mm',
  label: 'Wood on each side of the rod slot at the nut',
  formula: '(board width at the nut - slot width) / 2',
  source: 'arithmetic',
  from: { widthMm: input('board.width.nut'), slotMm: slotWidth },
  compute: ({ widthMm, slotMm }) => (widthMm - slotMm) / 2,
});

const neckBlank: Figure<StockSpec> = figure({
  id: 'neck.blank',
  unit: 'shape',
  label: 'Neck blank in the rough wood',
  formula: 'the first piece of rough wood called neck blank',
  source: 'arithmetic',
  from: { pieces: stockPieces },
  compute: ({ pieces }): StockSpec | Absent =>
    pieces.find((p) => p.part === 'neck blank') ?? absent('the rough wood names no neck blank'),
});

/** Length of the scarf face. */
export const scarfLength: Figure<number> = figure({
  id: 'neck.scarf.length',
  unit: 'mm',
  label: 'Scarf of the head, length along the blank',
  formula: 'blank thickness / tangent of the head angle',
  source: 'plane-geometry',
  from: { blank: neckBlank, angleDeg: headAngle },
  compute: ({ blank, angleDeg }) =>
    angleDeg > 0
      ? blank.thicknessMm / Math.tan(angleDeg * RAD)
      : absent('the head lies in line with the neck, there is no scarf'),
});

/** Blank length used up. */
export const blankNeeded: Figure<number> = figure({
  id: 'neck.blank.length',
  unit: 'mm',
  label: 'Neck blank, length needed',
  formula: 'nut to join + head length / cosine of the head angle + scarf',
  source: practice,
  from: { joinMm: neckJoin, headMm: headLength, angleDeg: headAngle },
  maybe: { scarfMm: scarfLength },
  compute: ({ joinMm, headMm, angleDeg, scarfMm }) =>
    joinMm + headMm / Math.cos(angleDeg * RAD) + (scarfMm ?? 0),
});

/** Blank length to spare. */
export const blankSpare: Figure<number> = figure({
  id: 'neck.blank.spare_length',
  unit: 'mm',
  label: 'Neck blank, length to spare',
  formula: 'length of the rough neck blank - length needed',
  source: 'arithmetic',
  from: { blank: neckBlank, neededMm: blankNeeded },
  compute: ({ blank, neededMm }) => blank.lengthMm - neededMm,
});

/** Blank width to spare. */
export const blankSpareWidth: Figure<number> = figure({
  id: 'neck.blank.spare_width',
  unit: 'mm',
  label: 'Neck blank, width to spare over the head',
  formula: 'width of the rough neck blank - widest place of the head',
  source: 'arithmetic',
  from: { blank: neckBlank, topMm: headWidthTop, nutMm: headWidthNut },
  compute: ({ blank, topMm, nutMm }) => blank.widthMm - Math.max(topMm, nutMm),
});

/** Neck sawn at the nut. */
export const neckSawnNut: Figure<number> = figure({
  id: 'neck.sawn_width.nut',
  unit: 'mm',
  label: 'Neck sawn at the nut',
  formula: 'board width at the nut + 1.5 on each side',
  source: practice,
  from: { widthMm: input('board.width.nut') },
  compute: ({ widthMm }) => widthMm + 3,
});

/** Heel against the rim. */
export const heelOverRim: Figure<number> = figure({
  id: 'neck.heel.over_rim',
  unit: 'mm',
  label: 'Heel taller than the rim at the neck end by',
  formula: 'heel height - rim height at the neck end',
  source: 'arithmetic',
  from: { heelMm: input('neck.heel.height'), rimMm: input('rim.height.neck') },
  compute: ({ heelMm, rimMm }) => heelMm - rimMm,
});

/** Figures of the neck. */
export const neckFigures: readonly Figure[] = [
  neckRough1,
  neckRough9,
  neckWood1,
  neckWood9,
  neckThickness,
  rodWoodLeft,
  rodWoodBeside,
  neckBlank,
  scarfLength,
  blankNeeded,
  blankSpare,
  blankSpareWidth,
  neckSawnNut,
  heelOverRim,
];

/** Rules of the neck. */
export const neckRules: readonly Rule[] = [
  {
    id: 'rod-slot-wood-behind',
    label: 'Wood behind the rod slot',
    subject: rodWoodLeft,
    hard: { low: 3 },
    soft: { low: 4 },
    why: 'A rod presses outward; with less than 3 mm behind it the back of the neck splits or is carved through.',
    remedies: [
      { input: slotDepth, toward: 'less' },
      { input: neck1, toward: 'more' },
    ],
    source: practice,
    place: 'neck',
  },
  {
    id: 'neck-blank-long-enough',
    label: 'Neck blank long enough for neck, head and scarf',
    subject: blankSpare,
    hard: { low: 10 },
    soft: { low: 20 },
    why: 'The scarf is sawn out of the length; a short blank leaves a head that does not reach.',
    remedies: [
      { input: headLength, toward: 'less', step: 1 },
      { input: headAngle, toward: 'more', step: 0.5 },
    ],
    source: practice,
    place: 'neck',
  },
  {
    id: 'neck-blank-wide-enough',
    label: 'Neck blank wide enough for the head',
    subject: blankSpareWidth,
    hard: { low: 3 },
    why: 'The outline is sawn 1.5 mm outside the line on both sides; a narrower blank needs glued-on ears.',
    remedies: [
      { input: headWidthTop, toward: 'less' },
      { input: headWidthNut, toward: 'less' },
    ],
    source: practice,
    place: 'head',
  },
  {
    id: 'heel-covers-rim',
    label: 'Heel as tall as the rim',
    subject: heelOverRim,
    hard: { low: -8, high: 15 },
    soft: { low: -3, high: 6 },
    why: 'A heel shorter than the rim leaves the side bare under the cap; a taller one stands out past the back.',
    remedies: [{ input: input('neck.heel.height'), step: 1 }],
    source: practice,
    place: 'neck',
  },
];
