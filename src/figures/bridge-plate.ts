import { mirrored, type Point } from '../geometry/point.ts';
import { convexGapMm, gapToPolygonMm, polygonAreaMm2 } from '../geometry/polygon.ts';
import { absent, type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { braceSegments } from './braces.ts';
import { bridgePlateFitted, bridgePlateOutline, byInstrument, handed, input } from './inputs.ts';
import { mend } from './rule-parts.ts';
import { saddleY } from './saddle-place.ts';

const practice = 'common practice, no published source';

/** Outline of the plate as it lies on the top, seen from the front. */
export const plateShape: Figure<readonly Point[]> = figure({
  id: 'bridge_plate.shape',
  unit: 'shape',
  label: 'Bridge plate',
  formula: 'corners as typed; mirrored when left-handed',
  source: practice,
  from: { corners: bridgePlateOutline, hand: handed },
  compute: ({ corners, hand }) => (hand === 'left' ? corners.map(mirrored) : corners),
});

/** Front edge ahead of the saddle line. */
export const plateAhead: Figure<number> = figure({
  id: 'bridge_plate.ahead_of_saddle',
  unit: 'mm',
  label: 'Bridge plate ahead of the saddle line',
  formula: 'saddle place less the front edge of the plate',
  source: 'plane-geometry',
  from: { shape: plateShape, saddleMm: saddleY },
  compute: ({ shape, saddleMm }) => saddleMm - Math.min(...shape.map((p) => p.yMm)),
});

/** Back edge behind the saddle line. */
export const plateBehind: Figure<number> = figure({
  id: 'bridge_plate.behind_saddle',
  unit: 'mm',
  label: 'Bridge plate behind the saddle line',
  formula: 'back edge of the plate less saddle place',
  source: 'plane-geometry',
  from: { shape: plateShape, saddleMm: saddleY },
  compute: ({ shape, saddleMm }) => Math.max(...shape.map((p) => p.yMm)) - saddleMm,
});

/** Area of the plate. */
export const plateArea: Figure<number> = figure({
  id: 'bridge_plate.area',
  unit: 'cm2',
  label: 'Area of the bridge plate',
  formula: 'area inside its corners',
  source: 'plane-geometry',
  from: { shape: plateShape },
  compute: ({ shape }) => Math.abs(polygonAreaMm2(shape)) / 100,
});

/** Gap between the plate and the X leg it comes nearest to. */
export const plateReach: Figure<number> = figure({
  id: 'bridge_plate.leg_gap',
  unit: 'mm',
  label: 'Bridge plate to the X legs',
  formula: 'distance from the nearest corner of the plate to the side of the leg; the larger of both legs',
  source: practice,
  from: { shape: plateShape, segments: braceSegments },
  compute: ({ shape, segments }) => {
    const legs = segments.filter((s) => s.crossing === 'lap');
    if (legs.length === 0) return absent('this brace plan has no X');
    return Math.max(...legs.map((leg) => Math.min(...shape.map((p) => gapToPolygonMm(leg.polygon, p)))));
  },
});

/** Gap between a plate in one piece and the bars beside it. */
export const plateBarGap: Figure<number> = figure({
  id: 'bridge_plate.bar_gap',
  unit: 'mm',
  label: 'Bridge plate in one piece to the nearest bar',
  formula:
    'distance from the plate to the foot of the nearest bar; minus the overlap where a bar runs through it',
  source: practice,
  from: { fitted: bridgePlateFitted, shape: plateShape, segments: braceSegments },
  compute: ({ fitted, shape, segments }) => {
    if (fitted !== 'one-piece') return absent('the bridge plate is fitted in pieces between the struts');
    return Math.min(...segments.map((s) => convexGapMm(shape, s.polygon)));
  },
});

const limit = (
  id: string,
  label: string,
  values: { readonly steel: number; readonly nylon: number; readonly uke: number },
): Figure<number> => byInstrument({ id: `bridge_plate.${id}`, unit: 'mm', label, source: practice, values });

/** Limits by instrument. */
const aheadLow = limit('ahead.low', 'Bridge plate ahead, usual low end', { steel: 8, nylon: 8, uke: 8 });
const aheadHigh = limit('ahead.high', 'Bridge plate ahead, usual high end', {
  steel: 14,
  nylon: 14,
  uke: 14,
});
const behindLow = limit('behind.low', 'Bridge plate behind, usual low end', {
  steel: 18,
  nylon: 18,
  uke: 12,
});
const behindHigh = limit('behind.high', 'Bridge plate behind, usual high end', {
  steel: 28,
  nylon: 28,
  uke: 16,
});
const thinLow = limit('thickness.low', 'Bridge plate, usual thin end', { steel: 2, nylon: 1, uke: 1.5 });
const thickHigh = limit('thickness.high', 'Bridge plate, usual thick end', { steel: 3, nylon: 1.5, uke: 2 });
const thinLeast = limit('thickness.least', 'Bridge plate, thinnest', { steel: 1.5, nylon: 0.6, uke: 1 });
const thickMost = limit('thickness.most', 'Bridge plate, thickest', { steel: 4, nylon: 2.5, uke: 3 });

/** Figures of the bridge plate. */
export const bridgePlateFigures: readonly Figure[] = [
  plateShape,
  plateAhead,
  plateBehind,
  plateArea,
  plateReach,
  plateBarGap,
  aheadLow,
  aheadHigh,
  behindLow,
  behindHigh,
  thinLow,
  thickHigh,
  thinLeast,
  thickMost,
];

/** Rules of the bridge plate. */
export const bridgePlateRules: readonly Rule[] = [
  {
    id: 'bridge-plate-ahead',
    label: 'Bridge plate ahead of the saddle',
    subject: plateAhead,
    hard: { low: 4, high: 25 },
    soft: { low: aheadLow, high: aheadHigh },
    why: 'The plate takes the pull of the strings in front of the saddle; too short and the top caves in there.',
    remedies: [mend('scale.length', undefined, 0.5), { input: bridgePlateOutline }],
    source: practice,
    place: 'bridge_plate',
  },
  {
    id: 'bridge-plate-behind',
    label: 'Bridge plate behind the saddle',
    subject: plateBehind,
    hard: { low: 8, high: 45 },
    soft: { low: behindLow, high: behindHigh },
    why: 'The plate holds the string ends behind the saddle; too short and they tear into the top.',
    remedies: [mend('scale.length', undefined, 0.5), { input: bridgePlateOutline }],
    source: practice,
    place: 'bridge_plate',
  },
  {
    id: 'bridge-plate-meets-legs',
    label: 'Bridge plate reaches the X legs',
    subject: plateReach,
    hard: { high: 1.5 },
    soft: { high: 0.5 },
    why: 'A gap between plate and leg is a hinge in the top right beside the bridge.',
    remedies: [
      mend('brace.x.crossing_y', 'more', 0.1),
      mend('brace.x.opening_angle', 'less', 0.1),
      mend('brace.x.width', 'more', 0.1),
    ],
    source: practice,
    place: 'bridge_plate',
  },
  {
    id: 'bridge-plate-no-bar-through',
    label: 'No bar through an unsplit bridge plate',
    subject: plateBarGap,
    hard: { low: 0 },
    why: 'A bar and an unsplit plate cannot lie in the same place; split the plate or move the bar.',
    remedies: [
      mend('brace.x.crossing_y', 'less', 0.1),
      mend('brace.x.opening_angle', 'more', 0.1),
      mend('brace.x.width', 'less', 0.1),
      { input: bridgePlateFitted },
    ],
    source: practice,
    place: 'bridge_plate',
  },
  {
    id: 'bridge-plate-thickness',
    label: 'Bridge plate thickness',
    subject: input('bridge_plate.thickness'),
    hard: { low: thinLeast, high: thickMost },
    soft: { low: thinLow, high: thickHigh },
    why: 'A thin plate is chewed through by the string ends, a thick one takes loudness.',
    remedies: [mend('bridge_plate.thickness')],
    source: practice,
    place: 'bridge_plate',
  },
];
