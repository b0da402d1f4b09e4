import { gapToPolygonMm } from '../geometry/polygon.ts';
import { absent, type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { perString } from './family.ts';
import { bridgePlateOutline, handed, input, instrument } from './inputs.ts';
import { saddleSlope } from './saddle-line.ts';
import { anchorY, bridgeBackY, saddleY } from './saddle-place.ts';
import { stringXSaddle } from './spacing.ts';

const practice = 'common practice, no published source';
const bridgeHeight = input('bridge.height');
const bridgeWidth = input('bridge.width');
const fromFront = input('bridge.saddle_from_front');
const slotWidth = input('bridge.saddle_slot.width');
const slotDepth = input('bridge.saddle_slot.depth');
const slotLength = input('bridge.saddle_slot.length');
const protrusion = input('bridge.protrusion');
const anchorBehind = input('bridge.anchor_behind');
const saddleSpread = input('saddle.spread');

/** Outer pins. */
export const pinSpread: Figure<number> = figure({
  id: 'bridge.pin_spread',
  unit: 'mm',
  label: 'Outer pins, centre to centre',
  formula: 'spread at the saddle + 1 (steel strings only)',
  source: practice,
  from: { kind: instrument, spreadMm: saddleSpread },
  compute: ({ kind, spreadMm }) =>
    kind === 'steel' ? spreadMm + 1 : absent('the strings are tied or knotted, there are no pins'),
});

/** Places of the pins across. */
export const pinX: Figure<readonly number[]> = figure({
  id: 'bridge.pin_x',
  unit: 'mm',
  label: 'Pin from the centre line',
  formula: 'string at the saddle, spread out to the outer pins',
  source: practice,
  from: { x: stringXSaddle, pinsMm: pinSpread, spreadMm: saddleSpread },
  compute: ({ x, pinsMm, spreadMm }) => x.map((c) => (c * pinsMm) / spreadMm),
  members: perString,
});

/** Nearest pin hole to an edge of the bridge plate. */
export const pinHoleInPlate: Figure<number> = figure({
  id: 'bridge_plate.hole_margin',
  unit: 'mm',
  label: 'Pin holes inside the bridge plate by',
  formula: 'smallest distance of a pin centre to the edge of the bridge plate, minus when outside',
  source: 'plane-geometry',
  from: { outline: bridgePlateOutline, x: pinX, y: anchorY, handed },
  compute: (v) => {
    // the outline is given with the treble at + x, whichever hand the instrument is for
    const treble = v.handed === 'left' ? -1 : 1;
    return Math.min(...v.x.map((xMm) => -gapToPolygonMm(v.outline, { xMm: treble * xMm, yMm: v.y })));
  },
});

/** Wood between the string holes and the back edge of the bridge. */
export const anchorToBack: Figure<number> = figure({
  id: 'bridge.anchor_to_back',
  unit: 'mm',
  label: 'String holes to the back edge of the bridge',
  formula: 'bridge back edge - line of the string holes',
  source: 'plane-geometry',
  from: { backY: bridgeBackY, holeY: anchorY },
  compute: ({ backY, holeY }) => backY - holeY,
});

/** String over the top at the saddle. */
export const stringHeight: Figure<number> = figure({
  id: 'bridge.string_height',
  unit: 'mm',
  label: 'String over the top at the saddle',
  formula: 'bridge height + saddle above the bridge',
  source: 'plane-geometry',
  from: { heightMm: bridgeHeight, outMm: protrusion },
  compute: ({ heightMm, outMm }) => heightMm + outMm,
});

/** Bridge blank before the foot is fitted. */
export const bridgeRough: Figure<number> = figure({
  id: 'bridge.height.rough',
  unit: 'mm',
  label: 'Bridge at the saddle before the foot is fitted',
  formula: 'height at the saddle + 0.5',
  source: practice,
  from: { heightMm: bridgeHeight },
  compute: ({ heightMm }) => heightMm + 0.5,
});

/** Wood under the saddle slot. */
export const woodUnderSaddle: Figure<number> = figure({
  id: 'bridge.wood_under_slot',
  unit: 'mm',
  label: 'Wood under the saddle slot',
  formula: 'bridge height - slot depth',
  source: 'plane-geometry',
  from: { heightMm: bridgeHeight, depthMm: slotDepth },
  compute: ({ heightMm, depthMm }) => heightMm - depthMm,
});

/** Depth of the slot as a share of the bridge height. */
export const saddleSlotShare: Figure<number> = figure({
  id: 'bridge.saddle_slot.share',
  unit: 'fraction',
  label: 'Saddle slot depth as a share of the bridge height',
  formula: 'slot depth / bridge height',
  source: practice,
  from: { heightMm: bridgeHeight, depthMm: slotDepth },
  compute: ({ heightMm, depthMm }) => depthMm / heightMm,
});

/** Saddle held in the slot against what stands out. */
export const saddleHeld: Figure<number> = figure({
  id: 'bridge.saddle_held',
  unit: 'fraction',
  label: 'Saddle in the slot for each mm above it',
  formula: 'slot depth / saddle above the bridge',
  source: practice,
  from: { depthMm: slotDepth, outMm: protrusion },
  compute: ({ depthMm, outMm }) => depthMm / outMm,
});

/** Slot beyond the outer strings. */
export const saddleSlotEnds: Figure<number> = figure({
  id: 'bridge.saddle_slot.beyond_strings',
  unit: 'mm',
  label: 'Saddle beyond the outer strings, each end',
  formula: '(slot length - spread at the saddle) / 2',
  source: 'plane-geometry',
  from: { lengthMm: slotLength, spreadMm: saddleSpread },
  compute: ({ lengthMm, spreadMm }) => (lengthMm - spreadMm) / 2,
});

/** Wood in front of the slot where it comes nearest to the front. */
export const saddleSlotFront: Figure<number> = figure({
  id: 'bridge.saddle_slot.wood_in_front',
  unit: 'mm',
  label: 'Wood in front of the saddle slot, least',
  formula:
    'saddle behind the bridge front - half the slot width - fall of the slant over half the slot length',
  source: 'plane-geometry',
  from: { frontMm: fromFront, widthMm: slotWidth, lengthMm: slotLength, slope: saddleSlope },
  compute: ({ frontMm, widthMm, lengthMm, slope }) =>
    frontMm - widthMm / 2 - (Math.abs(slope) * lengthMm) / 2,
});

function slotEnd(side: '+' | '-'): Figure<number> {
  const sign = side === '+' ? 1 : -1;
  return figure({
    id: side === '+' ? 'bridge.saddle_slot.right_y' : 'bridge.saddle_slot.left_y',
    unit: 'mm',
    label: `Saddle slot end at ${side === '+' ? '+ x (right, seen from the front)' : '- x (left)'}, from the neck end`,
    formula: 'saddle place + slope x half the slot length',
    source: 'plane-geometry',
    from: { y: saddleY, slope: saddleSlope, lengthMm: slotLength },
    compute: ({ y, slope, lengthMm }) => y + (sign * slope * lengthMm) / 2,
  });
}
/** Slot end at + x. */
export const saddleSlotRightY = slotEnd('+');
/** Slot end at - x. */
export const saddleSlotLeftY = slotEnd('-');

/** Saddle blank height. */
export const saddleBlankHeight: Figure<number> = figure({
  id: 'saddle.blank.height',
  unit: 'mm',
  label: 'Saddle blank, height',
  formula: 'slot depth + saddle above the bridge + 1',
  source: practice,
  from: { depthMm: slotDepth, outMm: protrusion },
  compute: ({ depthMm, outMm }) => depthMm + outMm + 1,
});
/** Saddle blank thickness. */
export const saddleBlankThickness: Figure<number> = figure({
  id: 'saddle.blank.thickness',
  unit: 'mm',
  label: 'Saddle blank, thickness',
  formula: 'slot width - 0.04 (fit 0.02 to 0.06)',
  source: practice,
  from: { widthMm: slotWidth },
  compute: ({ widthMm }) => widthMm - 0.04,
});

/** Figures of the bridge. */
export const bridgeFigures: readonly Figure[] = [
  pinSpread,
  pinX,
  pinHoleInPlate,
  anchorToBack,
  stringHeight,
  bridgeRough,
  woodUnderSaddle,
  saddleSlotShare,
  saddleHeld,
  saddleSlotEnds,
  saddleSlotFront,
  saddleSlotRightY,
  saddleSlotLeftY,
  saddleBlankHeight,
  saddleBlankThickness,
];

/** Rules of the bridge. */
export const bridgeRules: readonly Rule[] = [
  {
    id: 'pin-holes-in-plate',
    label: 'Pin holes well inside the bridge plate',
    subject: pinHoleInPlate,
    hard: { low: 8 },
    why: 'The ball of a string pulls up against the plate; nearer than 8 mm to an edge it splits the plate.',
    remedies: [{ input: anchorBehind }, { input: saddleSpread, toward: 'less' }],
    source: practice,
    place: 'bridge_plate',
  },
  {
    id: 'anchor-off-bridge-back',
    label: 'String holes off the back edge of the bridge',
    subject: anchorToBack,
    hard: { low: 5 },
    why: 'Holes nearer than 5 mm to the back edge split the bridge along the holes.',
    remedies: [
      { input: bridgeWidth, toward: 'more' },
      { input: anchorBehind, toward: 'less' },
    ],
    source: practice,
    place: 'bridge',
  },
  {
    id: 'saddle-slot-depth',
    label: 'Saddle slot about half the bridge height',
    subject: saddleSlotShare,
    hard: { low: 0.4, high: 0.7 },
    soft: { low: 0.5, high: 0.6 },
    why: 'A shallow slot lets the saddle lean and crack the bridge front; a deep one leaves too little wood under it.',
    remedies: [{ input: slotDepth }, { input: bridgeHeight }],
    source: practice,
    place: 'bridge',
  },
  {
    id: 'saddle-held',
    label: 'Saddle held as deep as it stands out',
    subject: saddleHeld,
    hard: { low: 1 },
    soft: { low: 1.25 },
    why: 'A saddle that stands out further than it is held leans forward under the strings.',
    remedies: [
      { input: protrusion, toward: 'less' },
      { input: slotDepth, toward: 'more' },
    ],
    source: practice,
    place: 'saddle',
  },
  {
    id: 'saddle-long-enough',
    label: 'Saddle long enough for the strings',
    subject: saddleSlotEnds,
    hard: { low: 2 },
    soft: { low: 3 },
    why: 'The outer strings need saddle on both sides of them, or they slip off its end.',
    remedies: [
      { input: slotLength, toward: 'more' },
      { input: saddleSpread, toward: 'less' },
    ],
    source: practice,
    place: 'saddle',
  },
  {
    id: 'wood-in-front-of-saddle',
    label: 'Wood in front of the saddle slot',
    subject: saddleSlotFront,
    hard: { low: 4 },
    soft: { low: 5 },
    why: 'The strings push the saddle against this wall; a thin one breaks out.',
    remedies: [
      { input: fromFront, toward: 'more' },
      { input: slotWidth, toward: 'less' },
    ],
    source: practice,
    place: 'bridge',
  },
];
