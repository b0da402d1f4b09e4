import { sagittaMm } from '../geometry/sphere.ts';
import { type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { finding } from '../quantity/finding.ts';
import { perFret } from './family.ts';
import { fretPlace } from './frets.ts';
import { byInstrument, input } from './inputs.ts';
import { spread12 } from './spacing.ts';

const practice = 'common practice, no published source';
const scale = input('scale.length');
const widthNut = input('board.width.nut');
const width12 = input('board.width.fret_12');
const lengthIn = input('board.length');
const thickness = input('board.thickness');
const radius = input('board.radius');
const slotDepth = input('board.slot_depth');

/** Widening of the board for each millimetre from the nut. */
export const boardTaper: Figure<number> = figure({
  id: 'board.taper',
  unit: 'mm per mm',
  label: 'Board widens by',
  formula: '(width at fret 12 - width at the nut) / half the scale length',
  source: 'plane-geometry',
  from: { nutMm: widthNut, at12Mm: width12, scaleMm: scale },
  compute: ({ nutMm, at12Mm, scaleMm }) => (at12Mm - nutMm) / (scaleMm / 2),
});

/** Angle of one edge against the centre line. */
export const boardHalfAngle: Figure<number> = figure({
  id: 'board.half_angle',
  unit: 'deg',
  label: 'Board edge against the centre line',
  formula: 'arc tangent of half the taper',
  source: 'plane-geometry',
  from: { taper: boardTaper },
  compute: ({ taper }) => (Math.atan(taper / 2) * 180) / Math.PI,
});

/** Width at each fret. */
export const boardWidth: Figure<readonly number[]> = figure({
  id: 'board.width.fret',
  unit: 'mm',
  label: 'Board width at the fret',
  formula: 'width at the nut + taper x place of the fret',
  source: 'plane-geometry',
  from: { nutMm: widthNut, taper: boardTaper, places: fretPlace },
  compute: ({ nutMm, taper, places }) => places.map((x) => nutMm + taper * x),
  members: perFret,
});

/** Width at the end over the body. */
export const boardWidthEnd: Figure<number> = figure({
  id: 'board.width.end',
  unit: 'mm',
  label: 'Board width at its end',
  formula: 'width at the nut + taper x board length',
  source: 'plane-geometry',
  from: { nutMm: widthNut, taper: boardTaper, lengthMm: lengthIn },
  compute: ({ nutMm, taper, lengthMm }) => nutMm + taper * lengthMm,
});

/** How far a taper sled is set over. */
export const taperOffset: Figure<number> = figure({
  id: 'board.taper_offset',
  unit: 'mm',
  label: 'Taper cut: one edge at the end over the nut by',
  formula: '(width at the end - width at the nut) / 2',
  source: 'plane-geometry',
  from: { endMm: boardWidthEnd, nutMm: widthNut },
  compute: ({ endMm, nutMm }) => (endMm - nutMm) / 2,
});

/** Fret wire for one neck. */
export const fretWire: Figure<number> = figure({
  id: 'fret.wire_length',
  unit: 'mm',
  label: 'Fret wire for one neck',
  formula: 'widths at the frets, each with 3 mm over at both ends',
  source: practice,
  from: { widths: boardWidth },
  compute: ({ widths }) => widths.reduce((s, w) => s + w + 6, 0),
});

/** How much lower the edge lies than the centre. */
function riseOf(id: string, label: string, width: Figure<number>): Figure<number> {
  return figure({
    id,
    unit: 'mm',
    label,
    formula:
      'sagitta of the face radius over the board width (about width^2 / (8 x radius)); 0 on a flat board',
    source: 'plane-geometry',
    from: { widthMm: width },
    maybe: { radiusMm: radius },
    compute: ({ widthMm, radiusMm }) => {
      if (radiusMm === undefined) return 0;
      return (
        sagittaMm(radiusMm, widthMm) ??
        finding({
          code: 'board-wider-than-its-arc',
          level: 'blocked',
          got: widthMm,
          limit: 2 * radiusMm,
          unit: 'mm',
          text: `The board is ${widthMm.toFixed(1)} mm wide, more than twice its face radius ${radiusMm.toFixed(0)} mm; give a larger radius.`,
          source: 'plane-geometry',
        })
      );
    },
  });
}
/** Fall of the edge at fret 12. */
export const boardRise12 = riseOf('board.rise.fret_12', 'Centre over the edge at fret 12', width12);
/** Fall of the edge at the end. */
export const boardRiseEnd = riseOf('board.rise.end', 'Centre over the edge at the board end', boardWidthEnd);

function edgeOf(id: string, label: string, rise: Figure<number>): Figure<number> {
  return figure({
    id,
    unit: 'mm',
    label,
    formula: 'thickness at the centre - fall of the edge',
    source: 'plane-geometry',
    from: { thicknessMm: thickness, riseMm: rise },
    compute: ({ thicknessMm, riseMm }) => thicknessMm - riseMm,
  });
}
/** Edge at fret 12. */
export const boardEdge12 = edgeOf('board.edge_thickness.fret_12', 'Board edge at fret 12', boardRise12);
/** Edge at the end. */
export const boardEdgeEnd = edgeOf('board.edge_thickness.end', 'Board edge at its end', boardRiseEnd);

/** Wood under the slots at the thinnest edge. */
export const woodUnderSlotEdge: Figure<number> = figure({
  id: 'board.wood_under_slot.edge',
  unit: 'mm',
  label: 'Wood under the slots at the board edge',
  formula: 'edge at the board end - slot depth (the slot follows the radius)',
  source: 'plane-geometry',
  from: { edgeMm: boardEdgeEnd, slotMm: slotDepth },
  compute: ({ edgeMm, slotMm }) => edgeMm - slotMm,
});

/** Wood under the slots at the centre. */
export const woodUnderSlotCentre: Figure<number> = figure({
  id: 'board.wood_under_slot.centre',
  unit: 'mm',
  label: 'Wood under the slots at the centre',
  formula: 'board thickness - slot depth',
  source: 'plane-geometry',
  from: { thicknessMm: thickness, slotMm: slotDepth },
  compute: ({ thicknessMm, slotMm }) => thicknessMm - slotMm,
});

/** Blank thickness before the face is shaped. */
export const boardRough: Figure<number> = figure({
  id: 'board.thickness.rough',
  unit: 'mm',
  label: 'Board before the face is shaped',
  formula: 'thickness at the centre + 0.3',
  source: practice,
  from: { thicknessMm: thickness },
  compute: ({ thicknessMm }) => thicknessMm + 0.3,
});

/** Tang that suits the slot. */
export const fretTang: Figure<number> = figure({
  id: 'fret.tang_depth',
  unit: 'mm',
  label: 'Tang depth that suits the slot',
  formula: 'slot depth - 0.5',
  source: practice,
  from: { slotMm: slotDepth },
  compute: ({ slotMm }) => slotMm - 0.5,
});

/** Crown after levelling. */
export const crownDressed: Figure<number> = figure({
  id: 'fret.crown.dressed',
  unit: 'mm',
  label: 'Fret crown after levelling',
  formula: 'crown height - 0.1',
  source: practice,
  from: { crownMm: input('fret.crown.height') },
  compute: ({ crownMm }) => crownMm - 0.1,
});

/** Board behind the last fret. */
export const pastLastFret: Figure<number> = figure({
  id: 'board.past_last_fret',
  unit: 'mm',
  label: 'Board behind the last fret',
  formula: 'board length - place of the last fret',
  source: 'plane-geometry',
  from: { lengthMm: lengthIn, places: fretPlace },
  compute: ({ lengthMm, places }) => lengthMm - (places[places.length - 1] as number),
});
const pastLastFretLeast: Figure<number> = figure({
  id: 'board.past_last_fret.least',
  unit: 'mm',
  label: 'Board behind the last fret, least',
  formula: 'half the crown width + 0.5',
  source: practice,
  from: { crownMm: input('fret.crown.width') },
  compute: ({ crownMm }) => crownMm / 2 + 0.5,
});

/** Radius at fret 12 of a face that follows the strings. */
export const coneRadiusEnd: Figure<number> = figure({
  id: 'board.radius.cone_fret_12',
  unit: 'mm',
  label: 'Face radius at fret 12, if the face follows the strings',
  formula: 'radius at the nut x spread at fret 12 / spread at the nut',
  source: 'plane-geometry',
  from: { radiusMm: radius, at12Mm: spread12, nutMm: input('nut.spread') },
  compute: ({ radiusMm, at12Mm, nutMm }) => (radiusMm * at12Mm) / nutMm,
});

const radiusLimit = (
  id: string,
  label: string,
  values: { readonly steel: number; readonly nylon: number; readonly uke: number },
) => byInstrument({ id, unit: 'mm', label, source: practice, values });
const radiusLimits = {
  low: radiusLimit('board.radius.least', 'Face radius, least', { steel: 180, nylon: 380, uke: 200 }),
  softLow: radiusLimit('board.radius.usual_low', 'Face radius, usual from', {
    steel: 300,
    nylon: 600,
    uke: 300,
  }),
  softHigh: radiusLimit('board.radius.usual_high', 'Face radius, usual to (else flat)', {
    steel: 500,
    nylon: 1500,
    uke: 400,
  }),
  high: radiusLimit('board.radius.most', 'Face radius, most before it is better left flat', {
    steel: 900,
    nylon: 1800,
    uke: 900,
  }),
};

/** Figures of the board. */
export const boardFigures: readonly Figure[] = [
  boardTaper,
  boardHalfAngle,
  boardWidth,
  boardWidthEnd,
  taperOffset,
  fretWire,
  boardRise12,
  boardRiseEnd,
  boardEdge12,
  boardEdgeEnd,
  woodUnderSlotEdge,
  woodUnderSlotCentre,
  boardRough,
  fretTang,
  crownDressed,
  pastLastFret,
  coneRadiusEnd,
  ...Object.values(radiusLimits),
];

/** Rules of the board. */
export const boardRules: readonly Rule[] = [
  {
    id: 'board-edge-under-slots',
    label: 'Wood left under the slots at the board edge',
    subject: woodUnderSlotEdge,
    hard: { low: 1 },
    why: 'The radius makes the edge thin; less than 1 mm under the slot (1.5 mm under the tang) and the board breaks through along a fret.',
    remedies: [
      { input: thickness, toward: 'more' },
      { input: slotDepth, toward: 'less' },
    ],
    source: practice,
    place: 'board',
  },
  {
    id: 'board-past-last-fret',
    label: 'Board long enough behind the last fret',
    subject: pastLastFret,
    hard: { low: pastLastFretLeast },
    why: 'A fret too near the end splits the end grain when it is pressed.',
    remedies: [
      { input: lengthIn, toward: 'more' },
      { input: input('scale.fret_count'), toward: 'less', step: 1 },
    ],
    source: practice,
    place: 'board',
  },
  {
    id: 'board-radius-usual',
    label: 'Face radius in the usual range',
    subject: radius,
    hard: { low: radiusLimits.low, high: radiusLimits.high },
    soft: { low: radiusLimits.softLow, high: radiusLimits.softHigh },
    why: 'A face much rounder than usual chokes bent notes and thins the edge; a face nearly flat is easier made flat.',
    remedies: [{ input: radius, step: 5 }],
    source: practice,
    place: 'board',
  },
];
