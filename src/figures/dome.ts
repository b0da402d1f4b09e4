import { outlineEndYMm } from '../geometry/half-outline.ts';
import { crownMm, sagittaMm } from '../geometry/sphere.ts';
import { type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { type Finding, finding } from '../quantity/finding.ts';
import { byInstrument, input } from './inputs.ts';
import { lowerWidth, outline, upperWidth, waistWidth } from './outline.ts';
import { mend } from './rule-parts.ts';
import { saddleY } from './saddle-place.ts';

const practice = 'common practice, no published source';

/** A sphere whose top lies in the plane of the body: radius and place of the apex. */
export interface TopDome {
  /** undefined: flat. */
  readonly radiusMm: number | undefined;
  readonly apexYMm: number;
}

/** Dome of the top; without a radius the top is flat, without an apex it lies in the middle. */
export const topDome: Figure<TopDome> = figure({
  id: 'dome.top',
  unit: 'shape',
  label: 'Top dome',
  formula: 'sphere of the typed radius with its apex as typed, else in the middle of the body',
  source: practice,
  from: { lengthMm: input('body.length') },
  maybe: { radiusMm: input('dome.top.radius'), apexMm: input('dome.top.apex_y') },
  compute: ({ lengthMm, radiusMm, apexMm }) => ({ radiusMm, apexYMm: apexMm ?? lengthMm / 2 }),
});

/** Crown of the unstrung top over the rim plane on the centre line, mm; undefined outside the sphere. @source plane-geometry */
export const crownOf = ({ radiusMm, apexYMm }: TopDome, yMm: number): number | undefined =>
  radiusMm === undefined ? 0 : crownMm(radiusMm, apexYMm, yMm);

const beyondSphere = (what: string): Finding =>
  finding({
    code: 'dome-too-small',
    level: 'blocked',
    text: `${what} lies outside its dome sphere; make the dome radius larger.`,
    source: 'plane-geometry',
  });

/** Crown of the unstrung top at the saddle, over the rim plane. */
export const crownAtSaddle: Figure<number> = figure({
  id: 'dome.top.crown_at_saddle',
  unit: 'mm',
  label: 'Top crown at the saddle, unstrung',
  formula: 'height of the sphere over the rim plane on the centre line at the saddle',
  source: 'plane-geometry',
  from: { dome: topDome, saddleMm: saddleY },
  compute: ({ dome, saddleMm }) => crownOf(dome, saddleMm) ?? beyondSphere('The saddle'),
});

const sagitta = (id: string, label: string, radius: Figure<number>, chord: Figure<number>, over: string) =>
  figure({
    id,
    unit: 'mm',
    label,
    formula: `radius less root of (radius squared less half the ${over} squared)`,
    source: 'plane-geometry',
    from: { radiusMm: radius, chordMm: chord },
    compute: ({ radiusMm, chordMm }) => sagittaMm(radiusMm, chordMm) ?? beyondSphere(`The ${over}`),
  });

/** Arching of the top across the lower bout. */
export const topSagittaLower = sagitta(
  'dome.top.sagitta.lower_bout',
  'Top arching across the lower bout',
  input('dome.top.radius'),
  lowerWidth,
  'lower bout',
);
/** Arching of the top across the upper bout. */
export const topSagittaUpper = sagitta(
  'dome.top.sagitta.upper_bout',
  'Top arching across the upper bout',
  input('dome.top.radius'),
  upperWidth,
  'upper bout',
);
/** Arching of the back across the lower bout. */
export const backSagittaLower = sagitta(
  'dome.back.sagitta.lower_bout',
  'Back arching across the lower bout',
  input('dome.back.radius'),
  lowerWidth,
  'lower bout',
);
/** Arching of the back across the waist. */
export const backSagittaWaist = sagitta(
  'dome.back.sagitta.waist',
  'Back arching across the waist',
  input('dome.back.radius'),
  waistWidth,
  'waist',
);
/** Arching of the back across the upper bout. */
export const backSagittaUpper = sagitta(
  'dome.back.sagitta.upper_bout',
  'Back arching across the upper bout',
  input('dome.back.radius'),
  upperWidth,
  'upper bout',
);
/** Arching of the back along the body. */
export const backSagittaAlong = sagitta(
  'dome.back.sagitta.along',
  'Back arching along the body',
  input('dome.back.radius'),
  input('body.length'),
  'body length',
);
/** Arching of the top along the body. */
export const topSagittaAlong = sagitta(
  'dome.top.sagitta.along',
  'Top arching along the body',
  input('dome.top.radius'),
  input('body.length'),
  'body length',
);

/** Least dish that holds the body. */
export const dishDiameter: Figure<number> = figure({
  id: 'dome.dish_diameter',
  unit: 'mm',
  label: 'Dish, least diameter',
  formula: 'body length + twice the saw allowance + 40 to hold a cramp',
  source: practice,
  from: { shape: outline, sawMm: input('allowance.saw') },
  compute: ({ shape, sawMm }) => outlineEndYMm(shape) + 2 * sawMm + 40,
});

const limit = (
  which: 'top' | 'back',
  side: 'low' | 'high' | 'least' | 'most',
  values: { readonly steel: number; readonly nylon: number; readonly uke: number },
): Figure<number> =>
  byInstrument({
    id: `dome.${which}.radius.${side}`,
    unit: 'mm',
    label: `Dome radius of the ${which}, ${{ low: 'usual low end', high: 'usual high end', least: 'least', most: 'most' }[side]}`,
    source: practice,
    values,
  });

const topLow = limit('top', 'low', { steel: 7600, nylon: 8000, uke: 6000 });
const topHigh = limit('top', 'high', { steel: 12_000, nylon: 15_000, uke: 10_000 });
const topLeast = limit('top', 'least', { steel: 5000, nylon: 5000, uke: 4000 });
const topMost = limit('top', 'most', { steel: 25_000, nylon: 29_000, uke: 20_000 });
const backLow = limit('back', 'low', { steel: 3700, nylon: 3700, uke: 3000 });
const backHigh = limit('back', 'high', { steel: 6100, nylon: 6100, uke: 4600 });
const backLeast = limit('back', 'least', { steel: 2500, nylon: 2500, uke: 2200 });
const backMost = limit('back', 'most', { steel: 12_000, nylon: 12_000, uke: 10_000 });

/** Figures of the domes. */
export const domeFigures: readonly Figure[] = [
  topDome,
  crownAtSaddle,
  topSagittaLower,
  topSagittaUpper,
  topSagittaAlong,
  backSagittaLower,
  backSagittaWaist,
  backSagittaUpper,
  backSagittaAlong,
  dishDiameter,
  topLow,
  topHigh,
  topLeast,
  topMost,
  backLow,
  backHigh,
  backLeast,
  backMost,
];

/** Rules of the domes. */
export const domeRules: readonly Rule[] = [
  {
    id: 'dome-top-radius',
    label: 'Top dome radius',
    subject: input('dome.top.radius'),
    hard: { low: topLeast, high: topMost },
    soft: { low: topLow, high: topHigh },
    why: 'A flat top hollows in a dry room; a strong dome fights the bridge and the neck angle.',
    remedies: [mend('dome.top.radius', undefined, 50)],
    source: practice,
    place: 'section',
  },
  {
    id: 'dome-back-radius',
    label: 'Back dome radius',
    subject: input('dome.back.radius'),
    hard: { low: backLeast, high: backMost },
    soft: { low: backLow, high: backHigh },
    why: 'The arched back holds its shape when it dries; too round and the bars will not bend to it.',
    remedies: [mend('dome.back.radius', undefined, 50)],
    source: practice,
    place: 'section',
  },
];
