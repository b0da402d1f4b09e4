import { type Figure, figure } from '../graph/figure.ts';
import {
  bothEndsLeastSquares,
  fretErrorsCents,
  idealTensionN,
  type NeckLine,
  type StrungString,
  setbackAtOctaveMm,
  setbackLeastSquares,
  strungTensionN,
} from '../mechanics/stiff-string.ts';
import { finding } from '../quantity/finding.ts';
import { perFret, perString } from './family.ts';
import { fretPlace } from './frets.ts';
import { input, strings } from './inputs.ts';

const scale = input('scale.length');
const actionTreble = input('setup.action.treble');
const actionBass = input('setup.action.bass');
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
];
