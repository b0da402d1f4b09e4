import { type Figure, figure, type Member } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { byInstrument, input } from './inputs.ts';
import { type Landmark, type OutlineLandmarks, outlineLandmarks, tightestRadius } from './outline.ts';
import { mend } from './rule-parts.ts';

const practice = 'common practice, no published source';

/**
 * Strain of the outer fibre of a bent strip: thickness over twice the radius.
 *
 * @returns fraction
 * @source  beam-theory
 */
export function bendStrainFrac(thicknessMm: number, radiusMm: number): number {
  return thicknessMm / (2 * radiusMm);
}

/**
 * Tightest radius a strip can follow at a strain.
 *
 * @returns mm
 * @source  beam-theory
 */
export function leastBendRadiusMm(thicknessMm: number, strainFrac: number): number {
  return thicknessMm / (2 * strainFrac);
}

/** Working strains of hot damp wood. [common practice] */
export const bendStrains = { easy: 0.015, careful: 0.02, edge: 0.025 } as const;

const strain = (id: string, label: string, thickness: Figure<number>): Figure<number> =>
  figure({
    id,
    unit: 'fraction',
    label,
    formula: 'side thickness / (2 x tightest radius of the outline)',
    source: 'beam-theory',
    from: { sideMm: thickness, radiusMm: tightestRadius },
    compute: ({ sideMm, radiusMm }) => bendStrainFrac(sideMm, radiusMm),
  });

/** Strain of the finished side in the tightest bend. */
export const strainFinal = strain(
  'bending.strain',
  'Strain of the side in the tightest bend',
  input('side.thickness.final'),
);
/** Strain of the thickest side in the tightest bend. */
export const strainMost = strain(
  'bending.strain.most',
  'Strain of the thickest side in the tightest bend',
  input('side.thickness.most'),
);

/** Tightest radii of the finished side: easy, careful and edge of what wood takes. */
export const leastRadius: Figure<readonly Member[]> = figure({
  id: 'bending.least_radius',
  unit: 'mm',
  label: 'Tightest radius of the side',
  formula: 'side thickness / (2 x strain): 1.5 % easy, 2.0 % careful, 2.5 % edge',
  source: practice,
  from: { sideMm: input('side.thickness.final') },
  compute: ({ sideMm }) =>
    Object.entries(bendStrains).map(([key, strainFrac]) => ({
      key,
      label: `Tightest radius, ${key} (${(100 * strainFrac).toFixed(1)} %)`,
      value: leastBendRadiusMm(sideMm, strainFrac),
    })),
  members: (m) => m,
});

/** Thickest side that follows the tightest bend with care. */
export const thickestSide: Figure<number> = figure({
  id: 'bending.thickness.most',
  unit: 'mm',
  label: 'Thickest side for the tightest bend, with care',
  formula: '2 x 2 % x tightest radius of the outline',
  source: practice,
  from: { radiusMm: tightestRadius },
  compute: ({ radiusMm }) => 2 * bendStrains.careful * radiusMm,
});

/** Spring-back of a bent side, to be replaced by the species' own. */
export const springBack: Figure<number> = byInstrument({
  id: 'bending.spring_back',
  unit: 'fraction',
  label: 'Spring-back, of the final radius',
  source: practice,
  values: { steel: 0.1, nylon: 0.1, uke: 0.1 },
});

/**
 * Radius a former needs so that a side springs back to the wanted one: R / (1 + s), s = wanted radius / former radius - 1.
 *
 * @source common practice, no published source
 */
export function formerRadiusMm(wantedRadiusMm: number, springBackFrac: number): number {
  return wantedRadiusMm / (1 + springBackFrac);
}

/** Radii of the bending former. */
export const formerRadii: Figure<readonly Member[]> = figure({
  id: 'bending.former_radius',
  unit: 'mm',
  label: 'Former radius with spring-back',
  formula: 'radius of the outline / (1 + spring-back)',
  source: practice,
  from: { marks: outlineLandmarks, springFrac: springBack },
  compute: ({ marks, springFrac }) =>
    perLandmark(marks, 'Former radius at the', (at) => formerRadiusMm(at.radiusMm, springFrac)),
  members: (m) => m,
});

/** Marks along the strip where bouts and waist come. */
export const bendMarks: Figure<readonly Member[]> = figure({
  id: 'bending.mark',
  unit: 'mm',
  label: 'Mark along the outline from the neck end',
  formula: 'arc length of the outline from the neck end',
  source: 'plane-geometry',
  from: { marks: outlineLandmarks },
  compute: ({ marks }) => perLandmark(marks, 'Mark,', (at) => at.arcMm),
  members: (m) => m,
});

/** The same marks from the raw end of the strip. */
export const bendMarksOnStrip: Figure<readonly Member[]> = figure({
  id: 'bending.mark_on_strip',
  unit: 'mm',
  label: 'Mark on the strip from its neck end',
  formula: 'arc length of the outline + spare at the end',
  source: 'plane-geometry',
  from: { marks: outlineLandmarks, spareMm: input('allowance.strip_end') },
  compute: ({ marks, spareMm }) => perLandmark(marks, 'Mark on the strip,', (at) => at.arcMm + spareMm),
  members: (m) => m,
});

function perLandmark(
  { upper, waist, lower }: OutlineLandmarks,
  what: string,
  valueAt: (at: Landmark) => number,
): readonly Member[] {
  return [
    { key: 'upper_bout', label: `${what} upper bout`, value: valueAt(upper) },
    { key: 'waist', label: `${what} waist`, value: valueAt(waist) },
    { key: 'lower_bout', label: `${what} lower bout`, value: valueAt(lower) },
  ];
}

/** How much shorter the inside of the bent side is. */
export const insideShorter: Figure<number> = figure({
  id: 'bending.inside_shorter',
  unit: 'mm',
  label: 'Inside face shorter than the outside',
  formula: 'pi x side thickness: half an outline turns through half a turn',
  source: 'plane-geometry',
  from: { sideMm: input('side.thickness.final') },
  compute: ({ sideMm }) => Math.PI * sideMm,
});

/** Figures of bending. */
export const bendingFigures: readonly Figure[] = [
  strainFinal,
  strainMost,
  leastRadius,
  thickestSide,
  springBack,
  formerRadii,
  bendMarks,
  bendMarksOnStrip,
  insideShorter,
];

/** Rules of bending. */
export const bendingRules: readonly Rule[] = [
  {
    id: 'bending-strain',
    label: 'Side follows the tightest bend',
    subject: strainFinal,
    hard: { high: bendStrains.edge },
    soft: { high: bendStrains.careful },
    why: 'Beyond 2.5 % the outer fibres of hot damp wood tear, most often at the waist, and the matched partner is lost too.',
    remedies: [
      mend('side.thickness.final', 'less', 0.05),
      mend('body.waist.radius', 'more', 1),
      mend('body.upper_bout.radius', undefined, 1),
      mend('body.lower_bout.radius', undefined, 1),
    ],
    source: practice,
    place: 'outline',
  },
  {
    id: 'bending-strain-most',
    label: 'Thickest side follows the tightest bend',
    subject: strainMost,
    hard: { high: bendStrains.edge },
    soft: { high: bendStrains.careful },
    why: 'A side left at its high limit must still bend; else the high limit is no limit.',
    remedies: [mend('side.thickness.most', 'less', 0.05), mend('body.waist.radius', 'more', 1)],
    source: practice,
    place: 'outline',
  },
];
