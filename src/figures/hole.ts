import { depthInsideMm } from '../geometry/half-outline.ts';
import { type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { byInstrument, input } from './inputs.ts';
import { boardEndY } from './join.ts';
import { outline, waistY } from './outline.ts';
import { mend } from './rule-parts.ts';

const practice = 'common practice, no published source';

/** Diameter of the sound hole. */
export const holeDiameter: Figure<number> = figure({
  id: 'hole.diameter',
  unit: 'mm',
  label: 'Sound hole',
  formula: '2 x hole radius',
  source: 'plane-geometry',
  from: { radiusMm: input('hole.radius') },
  compute: ({ radiusMm }) => 2 * radiusMm,
});

/** Reach of a cutter on a pin: pin centre to the edge that cuts. */
export const holeReach: Figure<number> = figure({
  id: 'hole.reach',
  unit: 'mm',
  label: 'Pin centre to the hole edge',
  formula: 'half the hole diameter',
  source: 'plane-geometry',
  from: { diameterMm: holeDiameter },
  compute: ({ diameterMm }) => diameterMm / 2,
});

/** Area of the hole. */
export const holeArea: Figure<number> = figure({
  id: 'hole.area',
  unit: 'cm2',
  label: 'Area of the sound hole',
  formula: 'pi x radius squared',
  source: 'plane-geometry',
  from: { radiusMm: input('hole.radius') },
  compute: ({ radiusMm }) => (Math.PI * radiusMm * radiusMm) / 100,
});

/** Nearest edge of the hole to the board end. */
export const holeToBoardEnd: Figure<number> = figure({
  id: 'hole.to_board_end',
  unit: 'mm',
  label: 'Board end to hole edge',
  formula: 'hole centre, less hole radius, less board end',
  source: practice,
  from: { centreMm: input('hole.centre_y'), radiusMm: input('hole.radius'), endMm: boardEndY },
  compute: ({ centreMm, radiusMm, endMm }) => centreMm - radiusMm - endMm,
});

/** Nearest edge of the hole to the outline. */
export const holeToOutline: Figure<number> = figure({
  id: 'hole.to_outline',
  unit: 'mm',
  label: 'Hole edge to the outline',
  formula: 'distance from the hole centre to the nearest place of the outline, less hole radius',
  source: 'plane-geometry',
  from: { shape: outline, centreMm: input('hole.centre_y'), radiusMm: input('hole.radius') },
  compute: ({ shape, centreMm, radiusMm }) => depthInsideMm(shape, { xMm: 0, yMm: centreMm }) - radiusMm,
});

/** Waist against the hole centre. */
export const waistBehindHole: Figure<number> = figure({
  id: 'hole.waist_tailward',
  unit: 'mm',
  label: 'Waist tailward of the hole centre',
  formula: 'waist from the neck end, less hole centre',
  source: practice,
  from: { waistMm: waistY, centreMm: input('hole.centre_y') },
  compute: ({ waistMm, centreMm }) => waistMm - centreMm,
});

const usual = (side: 'low' | 'high' | 'least' | 'most', values: Record<'steel' | 'nylon' | 'uke', number>) =>
  byInstrument({
    id: `hole.radius.${side}`,
    unit: 'mm',
    label: `Hole radius, ${{ low: 'usual low end', high: 'usual high end', least: 'least', most: 'most' }[side]}`,
    source: practice,
    values,
  });

/** Usual and outermost radii; the outermost take in soprano ukuleles and full-size steel-strings. */
export const holeRadiusLow = usual('low', { steel: 48, nylon: 42, uke: 28 });
export const holeRadiusHigh = usual('high', { steel: 51, nylon: 44, uke: 32 });
export const holeRadiusLeast = usual('least', { steel: 38, nylon: 36, uke: 20 });
export const holeRadiusMost = usual('most', { steel: 58, nylon: 52, uke: 38 });

/** Figures of the sound hole. */
export const holeFigures: readonly Figure[] = [
  holeDiameter,
  holeReach,
  holeArea,
  holeToBoardEnd,
  holeToOutline,
  waistBehindHole,
  holeRadiusLow,
  holeRadiusHigh,
  holeRadiusLeast,
  holeRadiusMost,
];

/** Rules of the sound hole. */
export const holeRules: readonly Rule[] = [
  {
    id: 'hole-to-board-end',
    label: 'Gap between board end and hole',
    subject: holeToBoardEnd,
    hard: { low: 0, high: 14 },
    soft: { low: 1, high: 6 },
    why: 'A board that reaches into the hole has to be cut round, and a wide gap shows bare top and ring joint.',
    remedies: [mend('hole.centre_y'), mend('board.length'), mend('hole.radius')],
    source: practice,
    place: 'hole',
  },
  {
    id: 'hole-to-outline',
    label: 'Hole edge to the outline',
    subject: holeToOutline,
    hard: { low: 25 },
    why: 'A narrow strip of top between hole and waist cracks under the pull of the strings.',
    remedies: [mend('hole.radius', 'less'), mend('body.waist.width', 'more', 1), mend('hole.centre_y')],
    source: practice,
    place: 'hole',
  },
  {
    id: 'hole-waist-place',
    label: 'Waist tailward of the hole centre',
    subject: waistBehindHole,
    hard: { low: 0, high: 65 },
    soft: { low: 10, high: 40 },
    why: 'A waist beside or before the hole puts the weakest part of the top between hole and edge.',
    remedies: [mend('body.waist.y', undefined, 1), mend('hole.centre_y', undefined, 1)],
    source: practice,
    place: 'hole',
  },
  {
    id: 'hole-radius-usual',
    label: 'Hole radius',
    subject: input('hole.radius'),
    hard: { low: holeRadiusLeast, high: holeRadiusMost },
    soft: { low: holeRadiusLow, high: holeRadiusHigh },
    why: 'The hole sets the main air tone: half a percent of tone for each percent of radius.',
    remedies: [mend('hole.radius')],
    source: practice,
    place: 'hole',
  },
];
