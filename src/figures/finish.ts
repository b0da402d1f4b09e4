import { type Figure, figure } from '../graph/figure.ts';
import { filmBand } from './bands.ts';
import { input } from './inputs.ts';
import { halfPerimeter, outlineArea } from './outline.ts';
import { rimAtLower, rimAtUpper, rimAtWaist } from './rim.ts';

const practice = 'common practice, no published source';
/** Wet coat, mm, and the share of it that stays. */
const WET_COAT_MM = 0.1;
const SOLIDS_FRAC = 0.25;
/** Dry film, g/cm3. */
const FILM_G_PER_CM3 = 1.2;

/** What one coat leaves. */
export const coatDry: Figure<number> = figure({
  id: 'finish.coat_dry',
  unit: 'mm',
  label: 'One coat, dry',
  formula: `wet coat ${WET_COAT_MM} mm x share of solids ${SOLIDS_FRAC}; follow the sheet of the film in hand`,
  source: practice,
  from: {},
  compute: () => WET_COAT_MM * SOLIDS_FRAC,
});

/** Middle of the film aimed at. */
export const filmAim: Figure<number> = figure({
  id: 'finish.film.aim',
  unit: 'mm',
  label: 'Dry film before levelling, aim',
  formula: 'middle of the usual band',
  source: practice,
  from: { lowMm: filmBand[0], highMm: filmBand[1] },
  compute: ({ lowMm, highMm }) => (lowMm + highMm) / 2,
});

/** How many coats that takes. */
export const coatCount: Figure<number> = figure({
  id: 'finish.coat_count',
  unit: 'count',
  label: 'Coats for the film',
  formula: 'film aimed at / one coat dry, rounded up',
  source: practice,
  from: { aimMm: filmAim, coatMm: coatDry },
  compute: ({ aimMm, coatMm }) => Math.ceil(aimMm / coatMm - 1e-9),
});

/** Area of the outside of the box. */
export const bodyArea: Figure<number> = figure({
  id: 'finish.body_area',
  unit: 'cm2',
  label: 'Outside of the box to be finished',
  formula:
    'two plates + twice the half perimeter x mean rim height (neck, upper bout, waist, lower bout, tail)',
  source: 'plane-geometry',
  from: {
    plateCm2: outlineArea,
    halfMm: halfPerimeter,
    neckMm: input('rim.height.neck'),
    upperMm: rimAtUpper,
    waistMm: rimAtWaist,
    lowerMm: rimAtLower,
    tailMm: input('rim.height.tail'),
  },
  compute: (v) =>
    2 * v.plateCm2 + (2 * v.halfMm * (v.neckMm + v.upperMm + v.waistMm + v.lowerMm + v.tailMm)) / 5 / 100,
});

function filmMass(id: string, label: string, area: Figure<number>): Figure<number> {
  return figure({
    id,
    unit: 'g',
    label,
    formula: 'area x film aimed at x 1.2 g for each cubic centimetre',
    source: practice,
    from: { areaCm2: area, filmMm: filmAim },
    compute: ({ areaCm2, filmMm }) => (areaCm2 * filmMm * FILM_G_PER_CM3) / 10,
  });
}
/** Film on the top. */
export const filmMassTop = filmMass('finish.mass.top', 'Film on the top', outlineArea);
/** Film on the box. */
export const filmMassBody = filmMass('finish.mass.body', 'Film on the box', bodyArea);

/** Figures of the finish film. */
export const finishFigures: readonly Figure[] = [
  coatDry,
  filmAim,
  coatCount,
  bodyArea,
  filmMassTop,
  filmMassBody,
];
