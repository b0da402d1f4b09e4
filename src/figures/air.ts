import { type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { type AirBox, type CoupledTones, coupledTones, rigidAirHz } from '../mechanics/air-tones.ts';
import { CENTS_PER_NEPER } from '../mechanics/stiff-string.ts';
import { airVolume } from './air-volume.ts';
import { airBand, topBand } from './bands.ts';
import { byInstrument, input } from './inputs.ts';

const practice = 'common practice, no published source';
const holeRadius = input('hole.radius');
/** Air of the shop; the box is judged at this temperature. */
const TEMP_C = 20;

/** Box and hole. */
export const airBox: Figure<AirBox> = figure({
  id: 'air.box',
  unit: 'shape',
  label: 'Box and hole',
  formula: 'air volume, hole radius, top thickness at the hole, 20 C',
  source: 'helmholtz-resonator',
  from: { volumeLitre: airVolume, radiusMm: holeRadius, topMm: input('top.thickness.final') },
  compute: ({ volumeLitre, radiusMm, topMm }) => ({
    volumeLitre,
    holeRadiusMm: radiusMm,
    topMm,
    tempC: TEMP_C,
  }),
});

/** Air tone of the box with walls that do not move. */
export const rigidAir: Figure<number> = figure({
  id: 'tone.air.rigid',
  unit: 'Hz',
  label: 'Air tone, walls rigid',
  formula:
    'speed of sound / (2 pi) x root of hole area / (volume x plug length); plug = top thickness + 1.7 x hole radius',
  source: 'helmholtz-resonator',
  from: { box: airBox },
  compute: ({ box }) => rigidAirHz(box),
});

const coupled: Figure<CoupledTones> = figure({
  id: 'air.coupled',
  unit: 'shape',
  label: 'Air and top together',
  formula: 'two masses, top and air plug, on the spring of the air in the box',
  source: 'christensen-vistisen-1980',
  from: {
    box: airBox,
    areaCm2: input('air.piston_area'),
    massG: input('air.piston_mass'),
    bareHz: input('air.bare_top'),
  },
  compute: ({ box, areaCm2, massG, bareHz }) => coupledTones(box, { areaCm2, massG, bareHz }),
});

/** Lower tone of the two. */
export const coupledLow: Figure<number> = figure({
  id: 'tone.coupled.low',
  unit: 'Hz',
  label: 'Main air tone of the model',
  formula: 'lower tone of air and top together',
  source: 'christensen-vistisen-1980',
  from: { tones: coupled },
  compute: ({ tones }) => tones.lowHz,
});
/** Upper tone of the two. */
export const coupledHigh: Figure<number> = figure({
  id: 'tone.coupled.high',
  unit: 'Hz',
  label: 'Main top tone of the model',
  formula: 'upper tone of air and top together',
  source: 'christensen-vistisen-1980',
  from: { tones: coupled },
  compute: ({ tones }) => tones.highHz,
});
/** Top with the hole stopped. */
export const stoppedTop: Figure<number> = figure({
  id: 'tone.top.hole_stopped',
  unit: 'Hz',
  label: 'Top tone with the hole stopped, model',
  formula: 'bare top with the spring of the closed air',
  source: 'christensen-vistisen-1980',
  from: { tones: coupled },
  compute: ({ tones }) => tones.stoppedHz,
});

/** What a finished box is expected to read. */
export const expectedAir: Figure<number> = figure({
  id: 'tone.air.expected',
  unit: 'Hz',
  label: 'Main air tone expected',
  formula: 'main air tone of the model less 12 %: back and sides give too',
  source: practice,
  from: { lowHz: coupledLow },
  compute: ({ lowHz }) => 0.88 * lowHz,
});

/** Distance to a note of the scale. */
export const airOffNote: Figure<number> = figure({
  id: 'tone.air.off_note',
  unit: 'cents',
  label: 'Main air tone expected, off the nearest note',
  formula:
    'cents to the nearest note of equal temperament at A4 = 440 Hz; an index only, 25 or more is wished for',
  source: 'equal-temperament',
  from: { airHz: expectedAir },
  compute: ({ airHz }) => {
    const cents = CENTS_PER_NEPER * Math.log(airHz / 440);
    return cents - 100 * Math.round(cents / 100);
  },
});

const by = (id: string, label: string, values: { steel: number; nylon: number; uke: number }) =>
  byInstrument({ id, unit: 'Hz', label, source: practice, values });
const limits = {
  airLeast: by('tone.air.least', 'Main air tone, least', { steel: 85, nylon: 80, uke: 160 }),
  airMost: by('tone.air.most', 'Main air tone, most', { steel: 140, nylon: 124, uke: 245 }),
  topLeast: by('tone.top.least', 'Main top tone, least', { steel: 160, nylon: 150, uke: 240 }),
  topMost: by('tone.top.most', 'Main top tone, most', { steel: 260, nylon: 250, uke: 400 }),
};

/** Figures of the air and top tones. */
export const airFigures: readonly Figure[] = [
  airBox,
  rigidAir,
  coupled,
  coupledLow,
  coupledHigh,
  stoppedTop,
  expectedAir,
  airOffNote,
  ...Object.values(limits),
];

/** Rules of the air and top tones. */
export const airRules: readonly Rule[] = [
  {
    id: 'air-tone-usual',
    label: 'Main air tone in the usual band',
    subject: expectedAir,
    hard: { low: limits.airLeast, high: limits.airMost },
    soft: { low: airBand[0], high: airBand[1] },
    why: 'Volume and hole together place the lowest tone of the box; far off the usual band the instrument sounds thin or booms.',
    remedies: [
      { input: holeRadius, step: 0.5 },
      { input: input('rim.height.tail'), step: 1 },
      { input: input('air.piston_area'), step: 5 },
    ],
    source: practice,
    place: 'hole',
  },
  {
    id: 'top-tone-usual',
    label: 'Main top tone in the usual band',
    subject: coupledHigh,
    hard: { low: limits.topLeast, high: limits.topMost },
    soft: { low: topBand[0], high: topBand[1] },
    why: 'The main tone of the top shows whether it is too stiff or too weak for its strings; held against readings of finished boxes.',
    remedies: [
      { input: input('air.bare_top'), step: 1 },
      { input: input('air.piston_mass'), step: 1 },
    ],
    source: practice,
    place: 'top',
  },
];
