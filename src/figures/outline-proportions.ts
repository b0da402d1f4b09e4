import { absent, type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { input } from './inputs.ts';
import { landmarksOf, type OutlineLandmarks } from './outline.ts';
import { ownShape } from './own-outline.ts';
import { mend } from './rule-parts.ts';

const practice = 'common practice, no published source';

/** Bouts and waist of the own outline, so that proportions can be judged without a curve that may not exist. */
const ownLandmarks: Figure<OutlineLandmarks> = figure({
  id: 'outline.own.landmarks',
  unit: 'shape',
  label: 'Bouts and waist of the own outline',
  formula: 'places where the own outline runs along the centre line',
  source: 'plane-geometry',
  from: { shape: ownShape },
  compute: ({ shape }) => landmarksOf(shape),
});

const share = (
  id: string,
  label: string,
  formula: string,
  typed: readonly [over: Figure<number>, under: Figure<number>],
  own: (l: OutlineLandmarks, lengthMm: number) => number,
): Figure<number> =>
  figure({
    id,
    unit: 'fraction',
    label,
    formula: `${formula}; read from the own outline where there is one`,
    source: 'arithmetic',
    from: { lengthMm: input('body.length') },
    maybe: { over: typed[0], under: typed[1], marks: ownLandmarks },
    compute: ({ lengthMm, over, under, marks }) => {
      if (marks) return own(marks, lengthMm);
      return over === undefined || under === undefined
        ? absent('the outline numbers are not given')
        : over / under;
    },
  });

const typedUpper = input('body.upper_bout.width');
const typedWaist = input('body.waist.width');
const typedLower = input('body.lower_bout.width');
const bodyLength = input('body.length');

/** Upper bout against lower bout. */
export const upperShare = share(
  'outline.upper_to_lower',
  'Upper bout against lower bout',
  'upper bout / lower bout',
  [typedUpper, typedLower],
  (l) => l.upper.halfWidthMm / l.lower.halfWidthMm,
);
/** Waist against lower bout. */
export const waistShare = share(
  'outline.waist_to_lower',
  'Waist against lower bout',
  'waist / lower bout',
  [typedWaist, typedLower],
  (l) => l.waist.halfWidthMm / l.lower.halfWidthMm,
);
/** Waist place against body length. */
export const waistPlaceShare = share(
  'outline.waist_place',
  'Waist place against body length',
  'waist from the neck end / body length',
  [input('body.waist.y'), bodyLength],
  (l, lengthMm) => l.waist.yMm / lengthMm,
);
/** Lower bout place against body length. */
export const lowerPlaceShare = share(
  'outline.lower_bout_place',
  'Lower bout place against body length',
  'lower bout from the neck end / body length',
  [input('body.lower_bout.y'), bodyLength],
  (l, lengthMm) => l.lower.yMm / lengthMm,
);

/** Figures of the proportions. */
export const proportionFigures: readonly Figure[] = [
  ownLandmarks,
  upperShare,
  waistShare,
  waistPlaceShare,
  lowerPlaceShare,
];

const proportion = (
  id: string,
  label: string,
  subject: Figure<number>,
  soft: readonly [number, number],
  hard: readonly [number, number],
  remedies: Rule['remedies'],
): Rule => ({
  id,
  label,
  subject,
  hard: { low: hard[0], high: hard[1] },
  soft: { low: soft[0], high: soft[1] },
  why: 'Outside the usual proportions braces, hole and bending forms of other builds do not carry over, and the eye notices.',
  remedies,
  source: practice,
  place: 'outline',
});

/** Rules of the proportions. */
export const proportionRules: readonly Rule[] = [
  proportion(
    'outline-upper-to-lower',
    'Upper bout against lower bout',
    upperShare,
    [0.73, 0.8],
    [0.6, 0.95],
    [mend('body.upper_bout.width', undefined, 1), mend('body.lower_bout.width', undefined, 1)],
  ),
  proportion(
    'outline-waist-to-lower',
    'Waist against lower bout',
    waistShare,
    [0.62, 0.67],
    [0.5, 0.85],
    [mend('body.waist.width', undefined, 1), mend('body.lower_bout.width', undefined, 1)],
  ),
  proportion(
    'outline-waist-place',
    'Waist place',
    waistPlaceShare,
    [0.36, 0.41],
    [0.28, 0.5],
    [mend('body.waist.y', undefined, 1), mend('body.length', undefined, 1)],
  ),
  proportion(
    'outline-lower-bout-place',
    'Lower bout place',
    lowerPlaceShare,
    [0.71, 0.75],
    [0.62, 0.84],
    [mend('body.lower_bout.y', undefined, 1), mend('body.length', undefined, 1)],
  ),
];
