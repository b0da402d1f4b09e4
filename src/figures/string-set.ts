import { type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import {
  bothEndsLeastSquares,
  CENTS_PER_NEPER,
  fretErrorsCents,
  idealTensionN,
  type NeckLine,
  type StrungString,
  setbackAtOctaveMm,
  setbackLeastSquares,
  strungTensionN,
} from '../mechanics/stiff-string.ts';
import { fitLine } from '../numeric/least-squares.ts';
import { finding } from '../quantity/finding.ts';
import { perFret, perString } from './family.ts';
import { fret12ErrorMost, fretPlace } from './frets.ts';
import { byInstrument, input, strings } from './inputs.ts';
import { stringXSaddle } from './spacing.ts';

const scale = input('scale.length');
const actionTreble = input('setup.action.treble');
const actionBass = input('setup.action.bass');
const practice = 'common practice, no published source';
const model = 'varieschi-gower-2010';

/** What the model says of one string. */
export interface StringSolution {
  readonly idealTensionN: number;
  /** With the saddle at the match of fret 12. */
  readonly tensionN: number;
  /** Setbacks: fret 12 exact; frets 1 to 14 by least squares; the same with the nut moved as well. */
  readonly matchMm: number;
  readonly leastMm: number;
  readonly leastRmsCents: number;
  readonly twoEndMm: number;
  readonly twoEndNutMm: number;
  readonly twoEndRmsCents: number;
  /** Errors left with the saddle at the match of fret 12, fret 1 first. */
  readonly errorsCents: readonly number[];
}

/** Everything the string model gives, one entry a string, treble first. */
export const stringSolutions: Figure<readonly StringSolution[]> = figure({
  id: 'string.solution',
  unit: 'shape',
  label: 'Strings solved',
  formula:
    'stiff string with stretch: the string lies from nut slot over the fret before, the finger and the fret to the saddle; tension from the open pitch',
  source: model,
  from: {
    strings,
    scaleMm: scale,
    fretCount: input('scale.fret_count'),
    nutHeightMm: input('setup.nut_slot_height'),
    trebleMm: actionTreble,
    bassMm: actionBass,
    pressDepthMm: input('setup.press_depth'),
    endFixityRatio: input('setup.end_fixity'),
  },
  compute: (v) => {
    const neck: NeckLine = {
      scaleMm: v.scaleMm,
      pressDepthMm: v.pressDepthMm,
      endFixityRatio: v.endFixityRatio,
      sharedLengthMm: 0,
    };
    const frets = Array.from({ length: Math.min(14, v.fretCount) }, (_, i) => i + 1);
    const solved = v.strings.map((s, i) => {
      const share = v.strings.length > 1 ? i / (v.strings.length - 1) : 0;
      const strung: StrungString = {
        ...s,
        nutHeightMm: v.nutHeightMm,
        action12Mm: v.trebleMm + (v.bassMm - v.trebleMm) * share,
      };
      return solveString(strung, neck, frets);
    });
    const bad = solved.indexOf(undefined);
    return bad < 0
      ? (solved as readonly StringSolution[])
      : finding({
          code: 'string-without-setback',
          level: 'blocked',
          got: v.strings[bad]?.note ?? '',
          text: `No place of the saddle brings string ${v.strings[bad]?.note} in tune at fret 12; check its diameter, mass, stiffness and the actions.`,
          source: model,
        });
  },
});

function solveString(s: StrungString, neck: NeckLine, frets: readonly number[]): StringSolution | undefined {
  const matchMm = setbackAtOctaveMm(s, neck);
  if (matchMm === undefined) return undefined;
  const ends = { saddleMm: matchMm, nutMm: 0 };
  const least = setbackLeastSquares(s, neck, frets, matchMm);
  const both = bothEndsLeastSquares(s, neck, frets, matchMm);
  if (!least || !both) return undefined;
  return {
    idealTensionN: idealTensionN(s.massGPerM, neck.scaleMm, s.frequencyHz),
    tensionN: strungTensionN(s, neck, ends),
    matchMm,
    leastMm: least.saddleMm,
    leastRmsCents: least.rmsCents,
    twoEndMm: both.saddleMm,
    twoEndNutMm: both.nutMm,
    twoEndRmsCents: both.rmsCents,
    errorsCents: fretErrorsCents(s, neck, ends, frets),
  };
}

/** A family that reads one number out of each solved string. */
function ofEachString(spec: {
  readonly id: string;
  readonly unit: Figure['unit'];
  readonly label: string;
  readonly formula: string;
  readonly read: (s: StringSolution) => number;
}): Figure<readonly number[]> {
  return figure({
    id: spec.id,
    unit: spec.unit,
    label: spec.label,
    formula: spec.formula,
    source: model,
    from: { solved: stringSolutions },
    compute: ({ solved }) => solved.map(spec.read),
    members: perString,
  });
}

/** Tension of each string. */
export const stringTension = ofEachString({
  id: 'string.tension',
  unit: 'N',
  label: 'String tension',
  formula: 'tension at which the stiff string sounds its pitch between nut and saddle',
  read: (s) => s.tensionN,
});
/** Tension without stiffness. */
export const stringTensionIdeal = ofEachString({
  id: 'string.tension_ideal',
  unit: 'N',
  label: 'Tension of an ideal string',
  formula: '4 x scale length^2 x frequency^2 x mass per length',
  read: (s) => s.idealTensionN,
});
/** Setback at which fret 12 is exact. */
export const setbackMatch = ofEachString({
  id: 'string.setback.match_12',
  unit: 'mm',
  label: 'Setback, fret 12 exact',
  formula: 'saddle behind the scale length at which fret 12 sounds the octave',
  read: (s) => s.matchMm,
});
/** Setback by least squares. */
export const setbackLeast = ofEachString({
  id: 'string.setback.least_squares',
  unit: 'mm',
  label: 'Setback, frets 1 to 14 together',
  formula: 'saddle behind the scale length at which the squares of the errors of frets 1 to 14 are least',
  read: (s) => s.leastMm,
});
/** Setback with the nut moved too. */
export const setbackTwoEnd = ofEachString({
  id: 'string.setback.two_end',
  unit: 'mm',
  label: 'Setback when the nut is moved as well',
  formula: 'saddle and nut placed together, squares of the errors of frets 1 to 14 least',
  read: (s) => s.twoEndMm,
});
/** Nut shift that goes with it. */
export const nutShift = ofEachString({
  id: 'string.nut_shift',
  unit: 'mm',
  label: 'Nut toward the saddle, when it is moved',
  formula: 'saddle and nut placed together, squares of the errors of frets 1 to 14 least',
  read: (s) => s.twoEndNutMm,
});
/** Error left, saddle alone. */
export const rmsOneEnd = ofEachString({
  id: 'string.rms.saddle_only',
  unit: 'cents',
  label: 'Error left, saddle alone',
  formula: 'root mean square over frets 1 to 14 at the least-squares setback',
  read: (s) => s.leastRmsCents,
});
/** Error left, both ends. */
export const rmsTwoEnd = ofEachString({
  id: 'string.rms.two_end',
  unit: 'cents',
  label: 'Error left, nut moved as well',
  formula: 'root mean square over frets 1 to 14, saddle and nut placed together',
  read: (s) => s.twoEndRmsCents,
});

/** Largest error along the neck for each fret. */
export const fretErrorMost: Figure<readonly number[]> = figure({
  id: 'intonation.error',
  unit: 'cents',
  label: 'Error at the fret, worst string',
  formula: 'error of the string that is furthest off, saddle at the match of fret 12',
  source: model,
  from: { solved: stringSolutions },
  compute: ({ solved }) =>
    (solved[0]?.errorsCents ?? []).map((_, n) =>
      solved
        .map((s) => s.errorsCents[n] as number)
        .reduce((worst, e) => (Math.abs(e) > Math.abs(worst) ? e : worst), 0),
    ),
  members: perFret,
});

/** Where to cut the nut end of the board when both ends are compensated. */
export const scaleNutShift: Figure<number> = figure({
  id: 'scale.nut_shift',
  unit: 'mm',
  label: 'Nut end of the board, when the nut is moved: cut this far inside',
  formula: 'mean nut shift of the strings; all slots keep their places from the theoretical nut',
  source: model,
  from: { shifts: nutShift },
  compute: ({ shifts }) => shifts.reduce((a, b) => a + b, 0) / shifts.length,
});

/** Slots seen from the nut end that is really cut. */
export const fretFromCutEnd: Figure<readonly number[]> = figure({
  id: 'fret.place_from_cut_end',
  unit: 'mm',
  label: 'Fret from the nut end of the board, when the nut is moved',
  formula: 'place from the theoretical nut - nut shift: the slots stay, the board is cut shorter',
  source: 'arithmetic',
  from: { places: fretPlace, shiftMm: scaleNutShift },
  compute: ({ places, shiftMm }) => places.map((x) => x - shiftMm),
  members: perFret,
});

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

/** Figures of the string set and its compensation. */
export const stringSetFigures: readonly Figure[] = [
  stringSolutions,
  stringTension,
  stringTensionIdeal,
  setbackMatch,
  setbackLeast,
  setbackTwoEnd,
  nutShift,
  rmsOneEnd,
  rmsTwoEnd,
  fretErrorMost,
  scaleNutShift,
  fretFromCutEnd,
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
] as unknown as readonly Figure[];

/** Rules of the string set. */
export const stringSetRules: readonly Rule[] = [
  {
    id: 'saddle-reaches-strings',
    label: 'The straight saddle reaches every string',
    subject: saddleLeftOver,
    hard: { high: fret12ErrorMost },
    why: 'One straight slot serves all strings; what filing the rest cannot cover stays as an error at fret 12.',
    remedies: [
      { input: input('bridge.saddle_slot.width') as Figure, toward: 'more' },
      { input: scale as Figure, toward: 'more', step: 1 },
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
      { input: actionBass as Figure },
      { input: actionTreble as Figure },
      { input: input('setup.press_depth') as Figure, step: 0.01 },
    ],
    source: practice,
    place: 'saddle',
  },
];
