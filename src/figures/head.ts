import { type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { perString } from './family.ts';
import { byInstrument, handed, input, instrument } from './inputs.ts';
import { stringXNut } from './spacing.ts';
import { sideDeflectionDeg, type TunerPlace, tunerPlaces } from './tuner-places.ts';

const practice = 'common practice, no published source';
const headLength = input('neck.head.length');
const widthTop = input('neck.head.width_top');
const widthNut = input('neck.head.width_nut');
const thickness = input('neck.head.thickness');
const angle = input('neck.head.angle');
const pitch = input('neck.tuner_pitch');
const hole = input('neck.tuner_hole');
const RAD = Math.PI / 180;

type Values = { readonly steel: number; readonly nylon: number; readonly uke: number };
const by = (id: string, unit: 'mm' | 'deg', label: string, values: Values, source: string = practice) =>
  byInstrument({ id, unit, label, source, values });

/** Where the string leaves for the post. */
export const postRadius = by(
  'neck.tuner.post_radius',
  'mm',
  'Radius of the tuner post where the string winds',
  { steel: 3, nylon: 5, uke: 3 },
  'from memory',
);
/** Height of the winding over the head face. */
export const windHeight = by(
  'neck.tuner.wind_height',
  'mm',
  'String on the post above the head face (slotted head: below it)',
  { steel: 6, nylon: -5, uke: 6 },
  'from memory',
);

/** From the nut to the first post and from the last post to the top of the head. */
export const tunerEnd: Figure<number> = figure({
  id: 'neck.tuner.from_ends',
  unit: 'mm',
  label: 'First tuner from the nut, last tuner from the top of the head',
  formula: '(head length - (tuners on a side - 1) x pitch) / 2: the row stands in the middle of the head',
  source: practice,
  from: { lengthMm: headLength, pitchMm: pitch, x: stringXNut },
  compute: ({ lengthMm, pitchMm, x }) => (lengthMm - (Math.ceil(x.length / 2) - 1) * pitchMm) / 2,
});

/** All tuners, in the order of the strings. */
export const tuners: Figure<readonly TunerPlace[]> = figure({
  id: 'neck.tuner.places',
  unit: 'shape',
  label: 'Tuner places',
  formula:
    'outer strings go to the tuners next to the nut; posts in a row along the edge, as far in as bends the strings sideways least',
  source: practice,
  from: {
    kind: instrument,
    handed,
    x: stringXNut,
    firstMm: tunerEnd,
    pitchMm: pitch,
    lengthMm: headLength,
    topMm: widthTop,
    nutMm: widthNut,
    postMm: postRadius,
  },
  compute: (v) =>
    tunerPlaces({
      stringXNutMm: v.x,
      firstMm: v.firstMm,
      pitchMm: v.pitchMm,
      headLengthMm: v.lengthMm,
      widthTopMm: v.topMm,
      widthNutMm: v.nutMm,
      postRadiusMm: v.postMm,
      isSlotted: v.kind === 'nylon',
    }),
});

/** Tuners across. */
export const tunerX: Figure<readonly number[]> = figure({
  id: 'neck.tuner.x',
  unit: 'mm',
  label: 'Tuner of the string, from the centre line',
  formula: 'tuner places, across; + x is right, seen from the front',
  source: practice,
  from: { tuners },
  compute: (v) => v.tuners.map((t) => t.xMm),
  members: perString,
});
/** Tuners along. */
export const tunerAlong: Figure<readonly number[]> = figure({
  id: 'neck.tuner.along',
  unit: 'mm',
  label: 'Tuner of the string, from the nut along the head face',
  formula: 'tuner places, along',
  source: practice,
  from: { tuners },
  compute: (v) => v.tuners.map((t) => t.alongMm),
  members: perString,
});
/** Wood beside the tuner. */
export const tunerEdge: Figure<number> = figure({
  id: 'neck.tuner.from_edge',
  unit: 'mm',
  label: 'Tuner post from the edge of the head',
  formula: 'half the head width at the post - place of the post',
  source: practice,
  from: { tuners },
  compute: (v) => Math.min(...v.tuners.map((t) => t.fromEdgeMm)),
});

/** Sideways bend of each string at the nut. */
export const sideDeflection: Figure<readonly number[]> = figure({
  id: 'neck.nut_side_angle',
  unit: 'deg',
  label: 'String bends sideways at the nut by',
  formula: 'arc tangent of (place on the post - place in the nut) / distance along the head',
  source: 'plane-geometry',
  from: { tuners, x: stringXNut },
  compute: (v) => v.tuners.map((t, i) => sideDeflectionDeg(t, v.x[i] as number)),
  members: perString,
});
/** The worst of them. */
export const sideDeflectionMost: Figure<number> = figure({
  id: 'neck.nut_side_angle.most',
  unit: 'deg',
  label: 'Largest sideways bend of a string at the nut',
  formula: 'largest over the strings',
  source: 'plane-geometry',
  from: { angles: sideDeflection },
  compute: ({ angles }) => Math.max(...angles.map(Math.abs)),
});

/** Break of each string over the nut. */
export const nutBreak: Figure<readonly number[]> = figure({
  id: 'neck.nut_break_angle',
  unit: 'deg',
  label: 'Break angle of the string over the nut',
  formula:
    'arc tangent of drop / run from the nut slot (board + fret crown + slot floor over the head face) to the winding on the post',
  source: 'plane-geometry',
  from: {
    tuners,
    angleDeg: angle,
    boardMm: input('board.thickness'),
    crownMm: input('fret.crown.height'),
    nutMm: input('setup.nut_slot_height'),
    windMm: windHeight,
  },
  compute: (v) => {
    const sin = Math.sin(v.angleDeg * RAD);
    const cos = Math.cos(v.angleDeg * RAD);
    return v.tuners.map((t) => {
      const drop = v.boardMm + v.crownMm + v.nutMm + t.alongMm * sin - v.windMm * cos;
      return Math.atan2(drop, t.alongMm * cos + v.windMm * sin) / RAD;
    });
  },
  members: perString,
});
/** The flattest of them. */
export const nutBreakLeast: Figure<number> = figure({
  id: 'neck.nut_break_angle.least',
  unit: 'deg',
  label: 'Flattest break angle over the nut',
  formula: 'smallest over the strings',
  source: 'plane-geometry',
  from: { angles: nutBreak },
  compute: ({ angles }) => Math.min(...angles),
});

/** Head before the veneer. */
export const headWood: Figure<number> = figure({
  id: 'neck.head.wood_thickness',
  unit: 'mm',
  label: 'Head wood under the veneer',
  formula: 'head thickness - veneer of 2.2',
  source: practice,
  from: { thicknessMm: thickness },
  compute: ({ thicknessMm }) => thicknessMm - 2.2,
});

/** Wood between neighbouring tuner holes. */
export const tunerWood: Figure<number> = figure({
  id: 'neck.tuner.wood_between',
  unit: 'mm',
  label: 'Wood between neighbouring tuner holes',
  formula: 'pitch - hole diameter',
  source: 'arithmetic',
  from: { pitchMm: pitch, holeMm: hole },
  compute: ({ pitchMm, holeMm }) => pitchMm - holeMm,
});

const thick = {
  low: by('neck.head.thickness.least', 'mm', 'Head thickness, least', { steel: 12, nylon: 16, uke: 10 }),
  softLow: by('neck.head.thickness.usual_low', 'mm', 'Head thickness, usual from', {
    steel: 14,
    nylon: 18,
    uke: 12,
  }),
  softHigh: by('neck.head.thickness.usual_high', 'mm', 'Head thickness, usual to', {
    steel: 16,
    nylon: 20,
    uke: 14,
  }),
  high: by('neck.head.thickness.most', 'mm', 'Head thickness, most', { steel: 18, nylon: 23, uke: 16 }),
};
const apart = {
  low: by('neck.tuner_pitch.least', 'mm', 'Tuner pitch, least', { steel: 25, nylon: 34.5, uke: 20 }),
  softLow: by('neck.tuner_pitch.usual_low', 'mm', 'Tuner pitch, usual from', {
    steel: 38,
    nylon: 34.8,
    uke: 30,
  }),
  softHigh: by('neck.tuner_pitch.usual_high', 'mm', 'Tuner pitch, usual to', {
    steel: 45,
    nylon: 35.2,
    uke: 36,
  }),
  high: by('neck.tuner_pitch.most', 'mm', 'Tuner pitch, most', { steel: 60, nylon: 35.5, uke: 50 }),
};

/** Figures of the head. */
export const headFigures: readonly Figure[] = [
  postRadius,
  windHeight,
  tunerEnd,
  tuners,
  tunerX,
  tunerAlong,
  tunerEdge,
  sideDeflection,
  sideDeflectionMost,
  nutBreak,
  nutBreakLeast,
  headWood,
  tunerWood,
  ...Object.values(thick),
  ...Object.values(apart),
];

/** Rules of the head. */
export const headRules: readonly Rule[] = [
  {
    id: 'head-angle-usual',
    label: 'Head angle in the usual range',
    subject: angle,
    hard: { low: 5, high: 20 },
    soft: { low: 11, high: 17 },
    why: 'A flat head lets the strings rattle in the nut; a steep one breaks at the nut when the instrument falls.',
    remedies: [{ input: angle, step: 0.5 }],
    source: practice,
    place: 'head',
  },
  {
    id: 'head-thickness-suits-tuners',
    label: 'Head thickness suits the tuners',
    subject: thickness,
    hard: { low: thick.low, high: thick.high },
    soft: { low: thick.softLow, high: thick.softHigh },
    why: 'The bushing of a tuner needs a head 2 to 3 mm thinner than its length; rollers need a slotted head they fit into.',
    remedies: [{ input: thickness }],
    source: practice,
    place: 'head',
  },
  {
    id: 'tuner-pitch-usual',
    label: 'Tuner pitch suits the tuners',
    subject: pitch,
    hard: { low: apart.low, high: apart.high },
    soft: { low: apart.softLow, high: apart.softHigh },
    why: 'Tuners three on a plate have one pitch, single ones need room for the buttons; measure the tuners in hand.',
    remedies: [{ input: pitch }],
    source: practice,
    place: 'head',
  },
  {
    id: 'tuners-fit-head',
    label: 'Tuners fit the length of the head',
    subject: tunerEnd,
    hard: { low: 20 },
    soft: { low: 28 },
    why: 'The first tuner needs room behind the nut, the last one wood toward the top of the head.',
    remedies: [
      { input: headLength, toward: 'more', step: 1 },
      { input: pitch, toward: 'less' },
    ],
    source: practice,
    place: 'head',
  },
  {
    id: 'nut-side-angle',
    label: 'Strings nearly straight over the nut',
    subject: sideDeflectionMost,
    hard: { high: 6 },
    why: 'A string that bends sideways at the nut sticks in its slot, creaks in tuning and wears the slot wide.',
    remedies: [
      { input: widthTop, step: 0.5 },
      { input: widthNut, step: 0.5 },
      { input: headLength, toward: 'more', step: 1 },
    ],
    source: practice,
    place: 'head',
  },
  {
    id: 'nut-break-angle',
    label: 'Strings press into the nut',
    subject: nutBreakLeast,
    hard: { low: 5, high: 25 },
    soft: { low: 8, high: 22 },
    why: 'A flat break lets the string lift out of its slot and buzz; a steep one saws into the nut.',
    remedies: [{ input: angle, step: 0.5 }],
    source: practice,
    place: 'nut',
  },
];
