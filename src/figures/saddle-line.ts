import { type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { CENTS_PER_NEPER } from '../mechanics/stiff-string.ts';
import { fitLine } from '../numeric/least-squares.ts';
import { perString } from './family.ts';
import { fret12ErrorMost } from './frets.ts';
import { byInstrument, input } from './inputs.ts';
import { stringXSaddle } from './spacing.ts';
import { setbackMatch } from './string-set.ts';

const scale = input('scale.length');
const actionTreble = input('setup.action.treble');
const actionBass = input('setup.action.bass');
const practice = 'common practice, no published source';

/** The straight saddle line through the setbacks of the strings. */
export const saddleLine: Figure<{
  readonly intercept: number;
  readonly slope: number;
  readonly residuals: readonly number[];
}> = figure({
  id: 'scale.saddle_line',
  unit: 'shape',
  label: 'Straight saddle line',
  formula: 'least squares through the setbacks that match fret 12, over the place of the string across',
  source: 'least-squares',
  from: { x: stringXSaddle, setbacks: setbackMatch },
  compute: ({ x, setbacks }) => fitLine(setbacks.map((y, i) => ({ x: x[i] as number, y }))),
});

/** Setback on the centre line. */
export const setbackCentre: Figure<number> = figure({
  id: 'scale.setback.centre',
  unit: 'mm',
  label: 'Setback of the saddle on the centre line',
  formula: 'straight saddle line at the centre line',
  source: 'least-squares',
  from: { line: saddleLine },
  compute: ({ line }) => line.intercept,
});

/** Millimetres toward the tail for each millimetre toward +x. */
export const saddleSlope: Figure<number> = figure({
  id: 'scale.saddle_slope',
  unit: 'mm per mm',
  label: 'Slope of the saddle line, + falls back toward +x',
  formula: 'slope of the straight saddle line; changes its sign on a left-handed instrument',
  source: 'least-squares',
  from: { line: saddleLine },
  compute: ({ line }) => line.slope,
});

/** Angle of the slot. */
export const saddleAngle: Figure<number> = figure({
  id: 'scale.saddle_angle',
  unit: 'deg',
  label: 'Angle of the saddle slot',
  formula: 'arc tangent of the slope',
  source: 'plane-geometry',
  from: { slope: saddleSlope },
  compute: ({ slope }) => (Math.atan(slope) * 180) / Math.PI,
});

function setbackAtOuter(side: 'treble' | 'bass'): Figure<number> {
  return figure({
    id: `scale.setback.${side}`,
    unit: 'mm',
    label: `Setback of the saddle line at the outer ${side} string`,
    formula: 'setback at the centre + slope x place of the string across',
    source: 'least-squares',
    from: { line: saddleLine, x: stringXSaddle },
    compute: ({ line, x }) =>
      line.intercept + line.slope * (x[side === 'treble' ? 0 : x.length - 1] as number),
  });
}
/** Setback at the outer treble string. */
export const setbackTreble = setbackAtOuter('treble');
/** Setback at the outer bass string. */
export const setbackBass = setbackAtOuter('bass');

/** What each string wants beyond the straight line. */
export const saddleResidual: Figure<readonly number[]> = figure({
  id: 'scale.saddle_residual',
  unit: 'mm',
  label: 'Rest of the string behind the saddle line',
  formula: 'setback that matches fret 12, less the straight line',
  source: 'least-squares',
  from: { line: saddleLine },
  compute: ({ line }) => line.residuals,
  members: perString,
});

/** The largest of them. */
export const saddleResidualMost: Figure<number> = figure({
  id: 'scale.saddle_residual.most',
  unit: 'mm',
  label: 'Largest distance of a rest from the saddle line',
  formula: 'largest, either way',
  source: 'least-squares',
  from: { residuals: saddleResidual },
  compute: ({ residuals }) => Math.max(0, ...residuals.map(Math.abs)),
});

/** How far the rest can be filed off the middle of the saddle. */
export const saddleReach: Figure<number> = figure({
  id: 'scale.saddle_reach',
  unit: 'mm',
  label: 'Reach of the rest on the saddle',
  formula: 'half the saddle thickness - 0.4',
  source: practice,
  from: { slotMm: input('bridge.saddle_slot.width') },
  compute: ({ slotMm }) => slotMm / 2 - 0.4,
});

/** What filing cannot cover, in cents at fret 12. */
export const saddleLeftOver: Figure<number> = figure({
  id: 'scale.saddle_left_over',
  unit: 'cents',
  label: 'Left over at fret 12 that the saddle cannot reach',
  formula: '(largest distance from the line - reach, not below 0) x 1731.23 / scale length',
  source: practice,
  from: { mostMm: saddleResidualMost, reachMm: saddleReach, scaleMm: scale },
  compute: ({ mostMm, reachMm, scaleMm }) => (Math.max(0, mostMm - reachMm) * CENTS_PER_NEPER) / scaleMm,
});

/** Cents at fret 12 for a millimetre of saddle. */
export const centsPerSaddleMm: Figure<number> = figure({
  id: 'setup.cents_per_saddle_mm',
  unit: 'cents',
  label: 'Fret 12 goes flat for each mm the rest moves back',
  formula: '1731.23 / scale length (open string tuned again)',
  source: 'equal-temperament',
  from: { scaleMm: scale },
  compute: ({ scaleMm }) => CENTS_PER_NEPER / scaleMm,
});

/** Millimetres of saddle for a cent at fret 12. */
export const saddleMmPerCent: Figure<number> = figure({
  id: 'setup.saddle_mm_per_cent',
  unit: 'mm',
  label: 'Move the rest back for each cent that fret 12 is sharp',
  formula: 'scale length / 1731.23 (not half the scale length: the open string is tuned again)',
  source: 'equal-temperament',
  from: { scaleMm: scale },
  compute: ({ scaleMm }) => scaleMm / CENTS_PER_NEPER,
});

const setbackUsual = {
  low: byInstrument({
    id: 'scale.setback.usual_low',
    unit: 'mm',
    label: 'Setback at the centre, usual from',
    source: practice,
    values: { steel: 1.5, nylon: 1, uke: 1.4 },
  }),
  high: byInstrument({
    id: 'scale.setback.usual_high',
    unit: 'mm',
    label: 'Setback at the centre, usual to',
    source: practice,
    values: { steel: 4.5, nylon: 3.6, uke: 4.2 },
  }),
};

/** Figures of the straight saddle. */
export const saddleLineFigures: readonly Figure[] = [
  saddleLine,
  setbackCentre,
  saddleSlope,
  saddleAngle,
  setbackTreble,
  setbackBass,
  saddleResidual,
  saddleResidualMost,
  saddleReach,
  saddleLeftOver,
  centsPerSaddleMm,
  saddleMmPerCent,
  ...Object.values(setbackUsual),
];

/** Rules of the straight saddle. */
export const saddleLineRules: readonly Rule[] = [
  {
    id: 'saddle-reaches-strings',
    label: 'The straight saddle reaches every string',
    subject: saddleLeftOver,
    hard: { high: fret12ErrorMost },
    why: 'One straight slot serves all strings; what filing the rest cannot cover stays as an error at fret 12.',
    remedies: [
      { input: input('bridge.saddle_slot.width'), toward: 'more' },
      { input: scale, toward: 'more', step: 1 },
    ],
    source: practice,
    place: 'saddle',
  },
  {
    id: 'setback-usual',
    label: 'Setback of the saddle in the usual range',
    subject: setbackCentre,
    hard: { low: 0.3, high: 7 },
    soft: { low: setbackUsual.low, high: setbackUsual.high },
    why: 'A setback far from what shops find points to a wrong string number or an action that no one would play.',
    remedies: [
      { input: actionBass },
      { input: actionTreble },
      { input: input('setup.press_depth'), step: 0.01 },
    ],
    source: practice,
    place: 'saddle',
  },
];
