import { type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { CENTS_PER_NEPER, fretPlaceMm } from '../mechanics/stiff-string.ts';
import { perFret } from './family.ts';
import { byInstrument, input } from './inputs.ts';

const scale = input('scale.length');
const fretCount = input('scale.fret_count');
const practice = 'common practice, no published source';

/** Every fret from the theoretical nut face. */
export const fretPlace: Figure<readonly number[]> = figure({
  id: 'fret.place',
  unit: 'mm',
  label: 'Fret from the nut face',
  formula: 'scale length x (1 - 2^(-n/12)); always from the nut, never from fret to fret',
  source: 'equal-temperament',
  from: { scaleMm: scale, count: fretCount },
  compute: ({ scaleMm, count }) => Array.from({ length: count }, (_, i) => fretPlaceMm(scaleMm, i + 1)),
  members: perFret,
});

/** From each fret to the one before. */
export const fretGap: Figure<readonly number[]> = figure({
  id: 'fret.gap',
  unit: 'mm',
  label: 'Fret to the fret before',
  formula: '(scale length - place of the fret before) x (1 - 2^(-1/12)), to check with, not to cut by',
  source: 'equal-temperament',
  from: { places: fretPlace },
  compute: ({ places }) => places.map((x, i) => x - (places[i - 1] ?? 0)),
  members: perFret,
});

/** From each fret to the theoretical saddle. */
export const fretToSaddle: Figure<readonly number[]> = figure({
  id: 'fret.to_saddle',
  unit: 'mm',
  label: 'Fret to the end of the scale',
  formula: 'scale length - place of the fret',
  source: 'equal-temperament',
  from: { places: fretPlace, scaleMm: scale },
  compute: ({ places, scaleMm }) => places.map((x) => scaleMm - x),
  members: perFret,
});

/** Nut face to fret 12. */
export const scaleFret12: Figure<number> = figure({
  id: 'scale.fret_12',
  unit: 'mm',
  label: 'Nut face to fret 12',
  formula: 'half the scale length',
  source: 'equal-temperament',
  from: { scaleMm: scale },
  compute: ({ scaleMm }) => scaleMm / 2,
});

/** What one mm of misplacement does to the pitch at each fret. */
export const fretSlotSensitivity: Figure<readonly number[]> = figure({
  id: 'fret.slot_sensitivity',
  unit: 'cents',
  label: 'Pitch error for 1 mm of slot error',
  formula: '1731.23 / (scale length - place of the fret)',
  source: 'equal-temperament',
  from: { lengths: fretToSaddle },
  compute: ({ lengths }) => lengths.map((l) => CENTS_PER_NEPER / l),
  members: perFret,
});

/** How far a slot may be off. */
export const fretSlotTolerance: Figure<readonly number[]> = figure({
  id: 'fret.slot_tolerance',
  unit: 'mm',
  label: 'A slot may be off by, either way',
  formula: '0.15 below fret 12, 0.10 from fret 12 on',
  source: practice,
  from: { count: fretCount },
  compute: ({ count }) => Array.from({ length: count }, (_, i) => (i + 1 < 12 ? 0.15 : 0.1)),
  members: perFret,
});

/** Pitch error of a slot that is off by its tolerance. */
export const fretSlotError: Figure<readonly number[]> = figure({
  id: 'fret.slot_error',
  unit: 'cents',
  label: 'Pitch error of a slot at its tolerance',
  formula: 'sensitivity x tolerance',
  source: 'equal-temperament',
  from: { perMm: fretSlotSensitivity, toleranceMm: fretSlotTolerance },
  compute: ({ perMm, toleranceMm }) => perMm.map((c, i) => c * (toleranceMm[i] as number)),
  members: perFret,
});

/** The worst of them. */
export const fretSlotErrorMost: Figure<number> = figure({
  id: 'fret.slot_error.most',
  unit: 'cents',
  label: 'Largest pitch error of a slot at its tolerance',
  formula: 'largest over all frets',
  source: 'equal-temperament',
  from: { errors: fretSlotError },
  compute: ({ errors }) => Math.max(...errors),
});

/** How far fret 12 may be off the octave. */
export const fret12ErrorMost: Figure<number> = byInstrument({
  id: 'setup.fret_12_error.most',
  unit: 'cents',
  label: 'Fret 12 against the open string, most, either way',
  source: practice,
  values: { steel: 2, nylon: 4, uke: 5 },
});

const half12Error: Figure<number> = figure({
  id: 'fret.slot_error.aim',
  unit: 'cents',
  label: 'A slot should cost no more than',
  formula: 'half of what fret 12 may be off',
  source: practice,
  from: { most: fret12ErrorMost },
  compute: ({ most }) => most / 2,
});

/** Where the marks of the face and the side go. */
export const fretMarks: Figure<readonly number[]> = figure({
  id: 'fret.mark',
  unit: 'mm',
  label: 'Dot from the nut face',
  formula:
    'midway between fret n and the one before, for n = 3, 5, 7, 9, 12, 15, 17 as far as there are frets',
  source: practice,
  from: { places: fretPlace },
  compute: ({ places }) =>
    markedFrets(places.length).map((n) => ((places[n - 1] as number) + (places[n - 2] as number)) / 2),
  members: (values) =>
    values.map((value, i) => {
      const n = markedFrets(30)[i] as number;
      return { key: `${n}`, label: `Dot before fret ${n}`, value };
    }),
});

/** Frets that carry a mark, up to a count. @source common practice, no published source */
export function markedFrets(count: number): readonly number[] {
  return [3, 5, 7, 9, 12, 15, 17].filter((n) => n <= count);
}

const scaleLimits = {
  softLow: byInstrument({
    id: 'scale.length.usual_low',
    unit: 'mm',
    label: 'Scale length, usual from',
    source: practice,
    values: { steel: 610, nylon: 630, uke: 420 },
  }),
  softHigh: byInstrument({
    id: 'scale.length.usual_high',
    unit: 'mm',
    label: 'Scale length, usual to',
    source: practice,
    values: { steel: 655, nylon: 660, uke: 440 },
  }),
  low: byInstrument({
    id: 'scale.length.least',
    unit: 'mm',
    label: 'Scale length, least that the strings and loads of this pattern suit',
    source: practice,
    values: { steel: 560, nylon: 580, uke: 320 },
  }),
  high: byInstrument({
    id: 'scale.length.most',
    unit: 'mm',
    label: 'Scale length, most that the strings and loads of this pattern suit',
    source: practice,
    values: { steel: 700, nylon: 690, uke: 520 },
  }),
};

/** Figures of the frets. */
export const fretFigures: readonly Figure[] = [
  fretPlace,
  fretGap,
  fretToSaddle,
  scaleFret12,
  fretSlotSensitivity,
  fretSlotTolerance,
  fretSlotError,
  fretSlotErrorMost,
  fret12ErrorMost,
  fretMarks,
  ...Object.values(scaleLimits),
];

/** Rules of the frets. */
export const fretRules: readonly Rule[] = [
  {
    id: 'scale-length-usual',
    label: 'Scale length in the usual range',
    subject: scale,
    hard: { low: scaleLimits.low, high: scaleLimits.high },
    soft: { low: scaleLimits.softLow, high: scaleLimits.softHigh },
    why: 'String sets, tensions and the bracing of this kind of instrument are made for this range; far outside it the strings are slack or the top is overloaded.',
    remedies: [{ input: scale, step: 1 }],
    source: practice,
    place: 'frets',
  },
  {
    id: 'fret-slot-error',
    label: 'Slots can be cut exactly enough',
    subject: fretSlotErrorMost,
    hard: { high: fret12ErrorMost },
    soft: { high: half12Error },
    why: 'On a short string length the usual slot error is heard: the last frets would be out of tune even when cut with care.',
    remedies: [
      { input: scale, toward: 'more', step: 1 },
      { input: fretCount, toward: 'less', step: 1 },
    ],
    source: practice,
    place: 'frets',
  },
];
