import { type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { neckStiffness, sagUnderMomentMm } from '../mechanics/neck-section.ts';
import { boardTaper } from './board.ts';
import { stringHeight } from './bridge.ts';
import { fretPlace } from './frets.ts';
import { byInstrument, input } from './inputs.ts';
import { neckJoin } from './join.ts';
import { actionMean } from './neck-angle.ts';
import { breakAngle } from './setup.ts';
import { stringTension } from './string-set.ts';

const practice = 'common practice, no published source';
const scale = input('scale.length');
const boardThickness = input('board.thickness');
const neck1 = input('neck.fret_1.final');
const neck9 = input('neck.fret_9.final');
const DEG = 180 / Math.PI;

/** All strings together. */
export const totalTension: Figure<number> = figure({
  id: 'load.tension',
  unit: 'N',
  label: 'Tension of all strings',
  formula: 'sum of the string tensions',
  source: 'arithmetic',
  from: { tensions: stringTension },
  compute: ({ tensions }) => tensions.reduce((a, b) => a + b, 0),
});

/** What turns the bridge. */
export const bridgeMoment: Figure<number> = figure({
  id: 'load.moment',
  unit: 'N m',
  label: 'Moment of the strings on the top',
  formula: 'tension x string over the top at the saddle',
  source: 'beam-theory',
  from: { tensionN: totalTension, heightMm: stringHeight },
  compute: ({ tensionN, heightMm }) => (tensionN * heightMm) / 1000,
});

/** What presses the saddle down. */
export const downForce: Figure<number> = figure({
  id: 'load.down_force',
  unit: 'N',
  label: 'Down force of the strings on the saddle',
  formula: 'tension x sine of the break angle, about',
  source: 'plane-geometry',
  from: { tensionN: totalTension, breakDeg: breakAngle },
  compute: ({ tensionN, breakDeg }) => tensionN * Math.sin(breakDeg / DEG),
});

const band = (
  id: string,
  unit: Figure['unit'],
  label: string,
  source: string,
  values: { readonly steel: number; readonly nylon: number; readonly uke: number },
) => byInstrument({ id, unit, label, source, values });

/** Bands of what the strings do to a finished box. */
export const tilt = {
  low: band('load.bridge_tilt.low', 'deg', 'Bridge slope, unstrung to strung, least', 'from memory', {
    steel: 1,
    nylon: 0.5,
    uke: 0.3,
  }),
  aimLow: band(
    'load.bridge_tilt.aim_low',
    'deg',
    'Bridge slope, unstrung to strung, aim from',
    'from memory',
    {
      steel: 1.5,
      nylon: 1,
      uke: 0.5,
    },
  ),
  aimHigh: band(
    'load.bridge_tilt.aim_high',
    'deg',
    'Bridge slope, unstrung to strung, aim to',
    'from memory',
    {
      steel: 2.5,
      nylon: 2,
      uke: 1.5,
    },
  ),
  high: band('load.bridge_tilt.high', 'deg', 'Bridge slope, unstrung to strung, most', 'from memory', {
    steel: 3,
    nylon: 2.5,
    uke: 2,
  }),
};
const topRise = {
  low: band('load.top_rise.low', 'mm', 'Rise behind the bridge under strings, least', 'from memory', {
    steel: 1,
    nylon: 0.5,
    uke: 0.3,
  }),
  high: band('load.top_rise.high', 'mm', 'Rise behind the bridge under strings, most', 'from memory', {
    steel: 2.5,
    nylon: 2,
    uke: 1.2,
  }),
};

/** How stiff the top has to be against turning. */
export const rotationStiffness: Figure<number> = figure({
  id: 'load.rotation_stiffness.aim',
  unit: 'N m',
  label: 'Stiffness of the top against turning the bridge, aim, for each radian',
  formula: 'moment of the strings / middle of the aim of the bridge slope in radians',
  source: 'beam-theory',
  from: { momentNm: bridgeMoment, lowDeg: tilt.aimLow, highDeg: tilt.aimHigh },
  compute: ({ momentNm, lowDeg, highDeg }) => momentNm / ((lowDeg + highDeg) / 2 / DEG),
});

/** Stiffness of the neck's wood. */
export const neckModulus = band('neck.wood_modulus', 'MPa', 'Neck wood, stiffness along', 'from memory', {
  steel: 10000,
  nylon: 10000,
  uke: 10000,
});
/** Stiffness of the board's wood. */
export const boardModulus = band('board.wood_modulus', 'MPa', 'Board wood, stiffness along', 'from memory', {
  steel: 16000,
  nylon: 16000,
  uke: 16000,
});

/** The neck as a bar, taken at its middle (fret 5). */
export const neckSection: Figure<{ readonly stiffnessNmm2: number; readonly neutralDepthMm: number }> =
  figure({
    id: 'load.neck.section',
    unit: 'shape',
    label: 'Neck as a bar',
    formula: 'half ellipse of neck wood under the board, width at fret 5, depth the mean of frets 1 and 9',
    source: 'beam-theory',
    from: {
      nutMm: input('board.width.nut'),
      taper: boardTaper,
      places: fretPlace,
      at1Mm: neck1,
      at9Mm: neck9,
      boardMm: boardThickness,
      woodMPa: neckModulus,
      boardMPa: boardModulus,
    },
    compute: (v) =>
      neckStiffness({
        widthMm: v.nutMm + v.taper * (v.places[4] as number),
        woodDepthMm: (v.at1Mm + v.at9Mm) / 2 - v.boardMm,
        boardThicknessMm: v.boardMm,
        woodModulusMPa: v.woodMPa,
        boardModulusMPa: v.boardMPa,
      }),
  });

/** Bending stiffness of the neck. */
export const neckBending: Figure<number> = figure({
  id: 'load.neck.stiffness',
  unit: 'N m2',
  label: 'Bending stiffness of the neck',
  formula: 'E I of neck wood and board together',
  source: 'beam-theory',
  from: { section: neckSection },
  compute: ({ section }) => section.stiffnessNmm2 / 1e6,
});

/** Distance of the strings from the middle of bending. */
export const neckArm: Figure<number> = figure({
  id: 'load.neck.arm',
  unit: 'mm',
  label: 'Strings above the neutral line of the neck',
  formula:
    'neutral line below the board face + fret crown + mean string height over the frets between nut and join',
  source: 'beam-theory',
  from: {
    section: neckSection,
    crownMm: input('fret.crown.height'),
    nutMm: input('setup.nut_slot_height'),
    actionMm: actionMean,
    joinMm: neckJoin,
    scaleMm: scale,
  },
  compute: ({ section, crownMm, nutMm, actionMm, joinMm, scaleMm }) =>
    section.neutralDepthMm + crownMm + nutMm + ((actionMm - nutMm) * joinMm) / scaleMm,
});

/** Moment that bends the neck. */
export const neckMoment: Figure<number> = figure({
  id: 'load.neck.moment',
  unit: 'N m',
  label: 'Moment of the strings on the neck',
  formula: 'tension x strings above the neutral line',
  source: 'beam-theory',
  from: { tensionN: totalTension, armMm: neckArm },
  compute: ({ tensionN, armMm }) => (tensionN * armMm) / 1000,
});

/** Bow without help. */
export const reliefWithoutRod: Figure<number> = figure({
  id: 'load.relief_without_rod',
  unit: 'mm',
  label: 'Bow of the neck under strings, without a rod',
  formula: 'moment x (nut to join)^2 / (8 x bending stiffness)',
  source: 'beam-theory',
  from: { momentNm: neckMoment, joinMm: neckJoin, stiffnessNm2: neckBending },
  compute: ({ momentNm, joinMm, stiffnessNm2 }) =>
    sagUnderMomentMm(momentNm * 1000, joinMm, stiffnessNm2 * 1e6),
});

/** Bow after creep. */
export const reliefAfterYear: Figure<number> = figure({
  id: 'load.relief_after_a_year',
  unit: 'mm',
  label: 'Bow after the first year, without a rod, most',
  formula: 'bow under strings x 2 (creep adds 30 to 100 %)',
  source: practice,
  from: { nowMm: reliefWithoutRod },
  compute: ({ nowMm }) => nowMm * 2,
});

/** What a rod can pull straight. */
export const rodPull = band('load.rod_pull', 'mm', 'Bow that a rod can pull straight', 'from memory', {
  steel: 0.5,
  nylon: 0,
  uke: 0,
});
const reliefMost: Figure<number> = figure({
  id: 'load.relief_after_a_year.most',
  unit: 'mm',
  label: 'Bow after the first year, most',
  formula: 'most relief + what a rod can pull straight (0 where there is no rod that can be turned)',
  source: practice,
  from: { reliefMm: input('setup.relief.high'), rodMm: rodPull },
  compute: ({ reliefMm, rodMm }) => reliefMm + rodMm,
});

const limits = {
  low: band('load.tension.least', 'N', 'Tension of all strings, least', practice, {
    steel: 450,
    nylon: 280,
    uke: 110,
  }),
  softLow: band('load.tension.usual_low', 'N', 'Tension of all strings, usual from', practice, {
    steel: 620,
    nylon: 370,
    uke: 170,
  }),
  softHigh: band('load.tension.usual_high', 'N', 'Tension of all strings, usual to', practice, {
    steel: 740,
    nylon: 430,
    uke: 260,
  }),
  high: band('load.tension.most', 'N', 'Tension of all strings, most', practice, {
    steel: 850,
    nylon: 500,
    uke: 320,
  }),
};

/** Figures of the string loads. */
export const loadFigures: readonly Figure[] = [
  totalTension,
  bridgeMoment,
  downForce,
  ...Object.values(tilt),
  ...Object.values(topRise),
  rotationStiffness,
  neckModulus,
  boardModulus,
  neckSection,
  neckBending,
  neckArm,
  neckMoment,
  reliefWithoutRod,
  reliefAfterYear,
  rodPull,
  ...Object.values(limits),
];

/** Rules of the string loads. */
export const loadRules: readonly Rule[] = [
  {
    id: 'tension-usual',
    label: 'Tension of the strings in the usual range',
    subject: totalTension,
    hard: { low: limits.low, high: limits.high },
    soft: { low: limits.softLow, high: limits.softHigh },
    why: 'The bracing and thicknesses of the pattern are for this load: more pulls the bridge up, much less leaves the top dead.',
    remedies: [{ input: scale, step: 1 }],
    source: practice,
    place: 'bridge',
  },
  {
    id: 'neck-stiff-enough',
    label: 'Neck stiff enough for its strings',
    subject: reliefAfterYear,
    hard: { high: reliefMost },
    why: 'A neck that bows further than this cannot be brought back: a rod pulls out about 0.5 mm, a neck without one keeps its bow.',
    remedies: [
      { input: neck1, toward: 'more' },
      { input: neck9, toward: 'more' },
      { input: boardThickness, toward: 'more' },
    ],
    source: practice,
    place: 'neck',
  },
];
