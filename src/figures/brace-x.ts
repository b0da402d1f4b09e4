import { absent, type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { braceScheme, input } from './inputs.ts';
import { mend } from './rule-parts.ts';
import { saddleY } from './saddle-place.ts';

const practice = 'common practice, no published source';
const noX = absent('this brace plan has no X');
const crossingY = input('brace.x.crossing_y');
const opening = input('brace.x.opening_angle');
const legWidth = input('brace.x.width');
const halfAngleRad = (openingDeg: number): number => (openingDeg * Math.PI) / 360;

/** Hole edge to the crossing. */
export const crossingBehindHole: Figure<number> = figure({
  id: 'brace.x.crossing_behind_hole',
  unit: 'mm',
  label: 'Hole edge to the X crossing',
  formula: 'crossing, less hole centre, less hole radius',
  source: practice,
  from: {
    scheme: braceScheme,
    crossingMm: crossingY,
    centreMm: input('hole.centre_y'),
    radiusMm: input('hole.radius'),
  },
  compute: ({ scheme, crossingMm, centreMm, radiusMm }) =>
    scheme === 'x' ? crossingMm - centreMm - radiusMm : noX,
});

/** Hole edge to the side of an X leg. */
export const xClearOfHole: Figure<number> = figure({
  id: 'brace.x.clear_of_hole',
  unit: 'mm',
  label: 'Hole edge to X side',
  formula:
    '(crossing - hole centre) x sin(half the opening angle), less hole radius, less half the leg width',
  source: 'plane-geometry',
  from: {
    scheme: braceScheme,
    crossingMm: crossingY,
    openingDeg: opening,
    widthMm: legWidth,
    centreMm: input('hole.centre_y'),
    radiusMm: input('hole.radius'),
  },
  compute: ({ scheme, crossingMm, openingDeg, widthMm, centreMm, radiusMm }) =>
    scheme === 'x'
      ? Math.abs(crossingMm - centreMm) * Math.sin(halfAngleRad(openingDeg)) - radiusMm - widthMm / 2
      : noX,
});

/** Leg centre off the centre line at the saddle line. */
export const legAtSaddle: Figure<number> = figure({
  id: 'brace.x.leg_at_saddle',
  unit: 'mm',
  label: 'X leg off the centre line at the saddle',
  formula: '(saddle place - crossing) x tan(half the opening angle)',
  source: 'plane-geometry',
  from: { scheme: braceScheme, crossingMm: crossingY, openingDeg: opening, saddleMm: saddleY },
  compute: ({ scheme, crossingMm, openingDeg, saddleMm }) =>
    scheme === 'x' ? (saddleMm - crossingMm) * Math.tan(halfAngleRad(openingDeg)) : noX,
});

/** How far the bridge wing passes the leg. */
export const wingBeyondLeg: Figure<number> = figure({
  id: 'brace.x.wing_beyond_leg',
  unit: 'mm',
  label: 'Bridge wing beyond the X leg',
  formula: 'half the bridge length, less the leg at the saddle',
  source: practice,
  from: { legMm: legAtSaddle, bridgeMm: input('bridge.length') },
  compute: ({ legMm, bridgeMm }) => bridgeMm / 2 - legMm,
});

/** Depth of the notch in each leg. */
export const lapDepth: Figure<number> = figure({
  id: 'brace.x.lap_depth',
  unit: 'mm',
  label: 'Lap notch, depth in each leg',
  formula: 'half the leg height',
  source: practice,
  from: { scheme: braceScheme, heightMm: input('brace.x.height') },
  compute: ({ scheme, heightMm }) => (scheme === 'x' ? heightMm / 2 : noX),
});

/** Width of the notch along each leg. */
export const lapWidth: Figure<number> = figure({
  id: 'brace.x.lap_width',
  unit: 'mm',
  label: 'Lap notch, width along the leg',
  formula: 'leg width / sin(opening angle)',
  source: 'plane-geometry',
  from: { scheme: braceScheme, widthMm: legWidth, openingDeg: opening },
  compute: ({ scheme, widthMm, openingDeg }) =>
    scheme === 'x' ? widthMm / Math.sin((openingDeg * Math.PI) / 180) : noX,
});

/** Opening angle where the scheme is an X. */
export const openingAngle: Figure<number> = figure({
  id: 'brace.x.opening',
  unit: 'deg',
  label: 'Opening angle of the X, as drawn',
  formula: 'the typed angle, where the plan has an X',
  source: practice,
  from: { scheme: braceScheme, openingDeg: opening },
  compute: ({ scheme, openingDeg }) => (scheme === 'x' ? openingDeg : noX),
});

/** Figures of the X. */
export const braceXFigures: readonly Figure[] = [
  crossingBehindHole,
  xClearOfHole,
  legAtSaddle,
  wingBeyondLeg,
  lapDepth,
  lapWidth,
  openingAngle,
];

/** Rules of the X. */
export const braceXRules: readonly Rule[] = [
  {
    id: 'brace-x-clear-of-hole',
    label: 'X clear of the hole',
    subject: xClearOfHole,
    hard: { low: 6 },
    why: 'An X leg closer to the hole edge is hit by the hole cutter and shows through the hole.',
    remedies: [
      mend('brace.x.crossing_y', 'more', 0.5),
      mend('hole.radius', 'less', 0.5),
      mend('brace.x.width', 'less', 0.5),
    ],
    source: practice,
    place: 'brace.x',
  },
  {
    id: 'brace-x-wing-beyond-leg',
    label: 'Bridge wing passes the X leg',
    subject: wingBeyondLeg,
    hard: { low: 6, high: 16 },
    why: 'The bridge must stand on both legs: too short and the top folds beside it, too long and its wing tips lift.',
    remedies: [
      mend('brace.x.crossing_y', undefined, 0.5),
      mend('bridge.length', undefined, 1),
      mend('brace.x.opening_angle', undefined, 0.5),
    ],
    source: practice,
    place: 'bridge',
  },
  {
    id: 'brace-x-crossing-behind-hole',
    label: 'X crossing behind the hole',
    subject: crossingBehindHole,
    hard: { low: 15, high: 60 },
    soft: { low: 25, high: 45 },
    why: 'The distance from hole to crossing decides how much of the top in front of the bridge is held stiff.',
    remedies: [mend('brace.x.crossing_y', undefined, 0.5), mend('hole.centre_y', undefined, 0.5)],
    source: practice,
    place: 'brace.x',
  },
  {
    id: 'brace-x-opening-angle',
    label: 'Opening angle of the X',
    subject: openingAngle,
    hard: { low: 80, high: 115 },
    soft: { low: 90, high: 102 },
    why: 'A narrow X leaves the lower bout soft across, a wide one along; the lap notches also get long.',
    remedies: [mend('brace.x.opening_angle', undefined, 0.5)],
    source: practice,
    place: 'brace.x',
  },
  {
    id: 'brace-x-lap-depth',
    label: 'Wood left in the lap of the X',
    subject: lapDepth,
    hard: { low: 4 },
    soft: { low: 5 },
    why: 'Each leg keeps half its height at the crossing, where the load of the bridge is greatest.',
    remedies: [mend('brace.x.height', 'more', 0.5)],
    source: practice,
    place: 'brace.x',
  },
];
