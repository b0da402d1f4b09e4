import { type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { fretPlaceMm } from '../mechanics/stiff-string.ts';
import { perFret } from './family.ts';
import { fretPlace } from './frets.ts';
import { byInstrument, input } from './inputs.ts';
import { neckJoin } from './join.ts';

const practice = 'common practice, no published source';
const scale = input('scale.length');
const nutHeight = input('setup.nut_slot_height');
const actionTreble = input('setup.action.treble');
const actionBass = input('setup.action.bass');
const relief = input('setup.relief');
const protrusion = input('bridge.protrusion');
const anchorBehind = input('bridge.anchor_behind');

function heights(side: 'treble' | 'bass', action: Figure<number>): Figure<readonly number[]> {
  return figure({
    id: `setup.height.${side}`,
    unit: 'mm',
    label: `Open ${side} string over the fret, straight neck`,
    formula: 'slot floor at the nut + (action - slot floor) x place of the fret / half the scale length',
    source: 'plane-geometry',
    from: { nutMm: nutHeight, actionMm: action, places: fretPlace, scaleMm: scale },
    compute: ({ nutMm, actionMm, places, scaleMm }) =>
      places.map((x) => nutMm + ((actionMm - nutMm) * x) / (scaleMm / 2)),
    members: perFret,
  });
}
/** Heights of the treble string. */
export const heightsTreble = heights('treble', actionTreble);
/** Heights of the bass string. */
export const heightsBass = heights('bass', actionBass);

function overFret1(side: 'treble' | 'bass', over: Figure<readonly number[]>): Figure<number> {
  return figure({
    id: `setup.over_fret_1.${side}`,
    unit: 'mm',
    label: `String over fret 1, ${side}`,
    formula: 'slot floor at the nut + (action - slot floor) x place of fret 1 / half the scale length',
    source: 'plane-geometry',
    from: { over },
    compute: (v) => v.over[0] as number,
  });
}
/** Treble string over fret 1. */
export const overFret1Treble = overFret1('treble', heightsTreble);
/** Bass string over fret 1. */
export const overFret1Bass = overFret1('bass', heightsBass);

/** The quick check of a nut slot. */
export const gapHeldOn3: Figure<number> = figure({
  id: 'setup.gap_at_1_held_on_3',
  unit: 'mm',
  label: 'Gap at fret 1, string held exactly on fret 3',
  formula: 'slot floor at the nut x (1 - place of fret 1 / place of fret 3)',
  source: 'plane-geometry',
  from: { nutMm: nutHeight, places: fretPlace },
  compute: ({ nutMm, places }) => nutMm * (1 - (places[0] as number) / (places[2] as number)),
});

/** The same as most people do it. */
export const gapPressedBehind3: Figure<number> = figure({
  id: 'setup.gap_at_1_pressed_behind_3',
  unit: 'mm',
  label: 'Gap at fret 1, string pressed between frets 2 and 3',
  formula: 'slot floor at the nut x (1 - place of fret 1 / place of fret 2): the string rests on fret 2',
  source: 'plane-geometry',
  from: { nutMm: nutHeight, places: fretPlace },
  compute: ({ nutMm, places }) => nutMm * (1 - (places[0] as number) / (places[1] as number)),
});

function reliefAt(fret: number): Figure<number> {
  return figure({
    id: `setup.relief.at_fret_${fret}`,
    unit: 'mm',
    label: `Relief adds over fret ${fret}`,
    formula: '4 x relief x share x (1 - share), share = place of the fret / nut to join; 0 behind the join',
    source: 'plane-geometry',
    from: { reliefMm: relief, scaleMm: scale, joinMm: neckJoin },
    compute: ({ reliefMm, scaleMm, joinMm }) => {
      const share = Math.min(1, fretPlaceMm(scaleMm, fret) / joinMm);
      return 4 * reliefMm * share * (1 - share);
    },
  });
}
/** What relief adds at fret 1. */
export const reliefAt1 = reliefAt(1);
/** What relief adds at fret 12. */
export const reliefAt12 = reliefAt(12);

/** Break of the string over the saddle. */
export const breakAngle: Figure<number> = figure({
  id: 'setup.break_angle',
  unit: 'deg',
  label: 'Break angle of the strings over the saddle',
  formula: 'arc tangent of saddle above the bridge / anchor behind the saddle',
  source: 'plane-geometry',
  from: { outMm: protrusion, behindMm: anchorBehind },
  compute: ({ outMm, behindMm }) => (Math.atan(outMm / behindMm) * 180) / Math.PI,
});

const limit = (
  id: string,
  unit: 'mm' | 'deg',
  label: string,
  values: { readonly steel: number; readonly nylon: number; readonly uke: number },
) => byInstrument({ id, unit, label, source: practice, values });

/** Least break angle. */
export const breakLow = limit('setup.break_angle.low', 'deg', 'Break angle, least', {
  steel: 15,
  nylon: 8,
  uke: 8,
});
/** Most break angle. */
export const breakHigh = limit('setup.break_angle.high', 'deg', 'Break angle, most', {
  steel: 35,
  nylon: 20,
  uke: 20,
});

type Values = { readonly steel: number; readonly nylon: number; readonly uke: number };
/** Four limits of one height: hard, soft, soft, hard. */
function four(id: string, label: string, low: Values, softLow: Values, softHigh: Values, high: Values) {
  return {
    low: limit(`${id}.least`, 'mm', `${label}, least`, low),
    softLow: limit(`${id}.usual_low`, 'mm', `${label}, usual from`, softLow),
    softHigh: limit(`${id}.usual_high`, 'mm', `${label}, usual to`, softHigh),
    high: limit(`${id}.most`, 'mm', `${label}, most`, high),
  };
}

const fret1 = four(
  'setup.over_fret_1',
  'String over fret 1',
  { steel: 0.2, nylon: 0.35, uke: 0.25 },
  { steel: 0.3, nylon: 0.5, uke: 0.38 },
  { steel: 0.4, nylon: 0.65, uke: 0.48 },
  { steel: 0.6, nylon: 0.9, uke: 0.7 },
);
const held = four(
  'setup.gap_at_1',
  'Gap at fret 1, held on 3',
  { steel: 0.02, nylon: 0.04, uke: 0.03 },
  { steel: 0.05, nylon: 0.1, uke: 0.08 },
  { steel: 0.1, nylon: 0.16, uke: 0.13 },
  { steel: 0.2, nylon: 0.3, uke: 0.25 },
);
const treble = four(
  'setup.action.treble',
  'Action at fret 12, treble',
  { steel: 1.2, nylon: 2.2, uke: 1.6 },
  { steel: 1.6, nylon: 2.8, uke: 2.2 },
  { steel: 2, nylon: 3.3, uke: 2.8 },
  { steel: 2.8, nylon: 4.4, uke: 3.8 },
);
const bass = four(
  'setup.action.bass',
  'Action at fret 12, bass',
  { steel: 1.5, nylon: 2.8, uke: 1.6 },
  { steel: 2.1, nylon: 3.6, uke: 2.2 },
  { steel: 2.6, nylon: 4.2, uke: 2.8 },
  { steel: 3.5, nylon: 5.2, uke: 3.8 },
);
const out = {
  softLow: limit('bridge.protrusion.usual_low', 'mm', 'Saddle above the bridge, usual from', {
    steel: 2.5,
    nylon: 1.5,
    uke: 1.5,
  }),
  softHigh: limit('bridge.protrusion.usual_high', 'mm', 'Saddle above the bridge, usual to', {
    steel: 4,
    nylon: 3,
    uke: 3,
  }),
};

/** Figures of the set-up. */
export const setupFigures: readonly Figure[] = [
  heightsTreble,
  heightsBass,
  overFret1Treble,
  overFret1Bass,
  gapHeldOn3,
  gapPressedBehind3,
  reliefAt1,
  reliefAt12,
  breakAngle,
  breakLow,
  breakHigh,
  ...[fret1, held, treble, bass, out].flatMap((f) => Object.values(f)),
];

const overFret1Rule = (side: 'treble' | 'bass', subject: Figure<number>, action: Figure<number>): Rule => ({
  id: `over-fret-1-${side}`,
  label: `String over fret 1, ${side}`,
  subject,
  hard: { low: fret1.low, high: fret1.high },
  soft: { low: fret1.softLow, high: fret1.softHigh },
  why: 'Too low and the open string buzzes on the first fret; too high and the low frets are hard to press and sound sharp.',
  remedies: [{ input: nutHeight, step: 0.01 }, { input: action }],
  source: practice,
  place: 'nut',
});
const actionRule = (
  side: 'treble' | 'bass',
  subject: Figure<number>,
  limits: { readonly low: Figure<number>; readonly high: Figure<number> } & {
    readonly softLow: Figure<number>;
    readonly softHigh: Figure<number>;
  },
): Rule => ({
  id: `action-${side}`,
  label: `Action at fret 12, ${side}`,
  subject,
  hard: { low: limits.low, high: limits.high },
  soft: { low: limits.softLow, high: limits.softHigh },
  why: 'Too low and the string buzzes when it is played hard; too high and it is hard to press and sounds sharp.',
  remedies: [{ input: subject }],
  source: practice,
  place: 'board',
});

/** Rules of the set-up. */
export const setupRules: readonly Rule[] = [
  overFret1Rule('treble', overFret1Treble, actionTreble),
  overFret1Rule('bass', overFret1Bass, actionBass),
  {
    id: 'gap-held-on-3',
    label: 'Gap at fret 1 with the string held on fret 3',
    subject: gapHeldOn3,
    hard: { low: held.low, high: held.high },
    soft: { low: held.softLow, high: held.softHigh },
    why: 'This gap is the nut slot seen alone: none and the open string buzzes, a large one and the first frets sound sharp.',
    remedies: [{ input: nutHeight, step: 0.01 }],
    source: practice,
    place: 'nut',
  },
  actionRule('treble', actionTreble, treble),
  actionRule('bass', actionBass, bass),
  {
    id: 'relief-in-band',
    label: 'Relief between its limits',
    subject: relief,
    hard: { low: input('setup.relief.low'), high: input('setup.relief.high') },
    why: 'A straight or back-bowed neck buzzes in the low frets; a deep bow raises the action in the middle of the neck.',
    remedies: [{ input: relief, step: 0.01 }],
    source: practice,
    place: 'neck',
  },
  {
    id: 'break-angle',
    label: 'Break angle of the strings over the saddle',
    subject: breakAngle,
    hard: { low: breakLow, high: breakHigh },
    why: 'Too flat and the string rattles on the saddle; too steep and the saddle leans and splits the bridge.',
    remedies: [{ input: protrusion }, { input: anchorBehind }],
    source: practice,
    place: 'bridge',
  },
  {
    id: 'saddle-protrusion',
    label: 'Saddle above the bridge',
    subject: protrusion,
    hard: { low: 1.5, high: 5 },
    soft: { low: out.softLow, high: out.softHigh },
    why: 'A saddle nearly flush cannot be lowered later; one that stands far out leans under the strings.',
    remedies: [{ input: protrusion }],
    source: practice,
    place: 'saddle',
  },
];
