import { type HalfOutline, tightestBend } from '../geometry/half-outline.ts';
import { offsetOutline } from '../geometry/offset-outline.ts';
import { type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { finding } from '../quantity/finding.ts';
import { input } from './inputs.ts';
import { outline } from './outline.ts';
import { mend } from './rule-parts.ts';

const practice = 'common practice, no published source';

const moved = (
  id: string,
  label: string,
  formula: string,
  by: Figure<number>,
  sign: 1 | -1,
): Figure<HalfOutline> =>
  figure({
    id,
    unit: 'shape',
    label,
    formula,
    source: 'plane-geometry',
    from: { shape: outline, byMm: by },
    compute: ({ shape, byMm }) =>
      offsetOutline(shape, sign * byMm, 0.02) ??
      finding({
        code: 'outline-offset-folds',
        level: 'blocked',
        got: byMm,
        unit: 'mm',
        text: `${label} cannot be drawn ${byMm} mm beside the outline: a bend of the outline is tighter than that; make the distance smaller.`,
        source: 'plane-geometry',
      }),
  });

/** Line to saw along. */
export const sawLine = moved(
  'outline.saw_line',
  'Saw line',
  'outline moved outward by the saw allowance',
  input('allowance.saw'),
  1,
);
/** Inside face of the sides. */
export const insideLine = moved(
  'outline.inside',
  'Inside face of the sides',
  'outline moved inward by the side thickness',
  input('side.thickness.final'),
  -1,
);
/** Line where the plate ends after the box is glued and trimmed to its overhang. */
export const overhangLine = moved(
  'outline.overhang',
  'Edge of the plate on the box, before it is trimmed',
  'outline moved outward by the overhang',
  input('allowance.overhang'),
  1,
);

/** Blades and the tightest radius each turns. [common practice] */
const blades = [
  { widthMm: 3, radiusMm: 8 },
  { widthMm: 6, radiusMm: 16 },
  { widthMm: 10, radiusMm: 35 },
  { widthMm: 13, radiusMm: 65 },
] as const;

/**
 * Widest bandsaw blade that turns a radius.
 *
 * @returns blade width, mm; undefined when even a 3 mm blade does not turn it
 * @source  common practice, no published source
 */
export function widestBladeMm(radiusMm: number): number | undefined {
  return blades.filter((b) => b.radiusMm <= radiusMm).at(-1)?.widthMm;
}

/** Widest blade for the outline. */
export const bladeWidth: Figure<number> = figure({
  id: 'saw.blade_width.most',
  unit: 'mm',
  label: 'Widest bandsaw blade for the outline',
  formula: 'widest of 3, 6, 10, 13 mm whose turning radius (8, 16, 35, 65) is not above the tightest bend',
  source: practice,
  from: { shape: outline },
  compute: ({ shape }) => {
    const { radiusMm } = tightestBend(shape);
    return (
      widestBladeMm(radiusMm) ??
      finding({
        code: 'bend-too-tight-for-blade',
        level: 'blocked',
        got: radiusMm,
        limit: 8,
        unit: 'mm',
        text: `The outline bends to ${radiusMm.toFixed(1)} mm and a 3 mm blade turns 8 mm; saw it by hand or make the bend wider.`,
        source: practice,
      })
    );
  },
});

/** What the saw leaves beyond the overhang the box is glued with. */
export const sawOverOverhang: Figure<number> = figure({
  id: 'allowance.saw_over_overhang',
  unit: 'mm',
  label: 'Saw allowance beyond the overhang',
  formula: 'saw allowance less overhang after gluing the box',
  source: practice,
  from: { sawMm: input('allowance.saw'), overhangMm: input('allowance.overhang') },
  compute: ({ sawMm, overhangMm }) => sawMm - overhangMm,
});

/** Figures of the allowances. */
export const allowanceFigures: readonly Figure[] = [
  sawLine,
  insideLine,
  overhangLine,
  bladeWidth,
  sawOverOverhang,
];

/** Rules of the allowances. */
export const allowanceRules: readonly Rule[] = [
  {
    id: 'allowance-saw-over-overhang',
    label: 'Saw allowance covers the overhang',
    subject: sawOverOverhang,
    hard: { low: 0 },
    soft: { low: 1 },
    why: 'A plate sawn closer than the overhang has no edge left to hang over the rim.',
    remedies: [mend('allowance.saw', 'more', 0.5), mend('allowance.overhang', 'less', 0.5)],
    source: practice,
    place: 'saw',
  },
  {
    id: 'allowance-saw-most',
    label: 'Saw allowance within its most',
    subject: input('allowance.saw'),
    hard: { high: input('allowance.saw_most') },
    why: 'Much more wood than that is only router work at the waist, where the cutter climbs.',
    remedies: [mend('allowance.saw', 'less', 0.5), mend('allowance.saw_most', 'more', 0.5)],
    source: practice,
    place: 'saw',
  },
];
