import { type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { input } from './inputs.ts';
import { halfPerimeter, tightestRadius } from './outline.ts';
import { mend } from './rule-parts.ts';

const practice = 'common practice, no published source';

/** Order this much more lining than the outline is long. */
const LINING_WASTE_FRAC = 0.08;
/** Spare at each end of a binding, both together. */
const BINDING_SPARE_MM = 40;
/** Kerf and web of a kerfed strip when nothing else is said. */
const USUAL_KERF_MM = 1;
const USUAL_WEB_MM = 1;

/**
 * Radius at which the kerfs of a lining close when they face the inside of the bend; outward there is no such limit.
 *
 * @param pitchMm  from kerf to kerf
 * @param depthMm  of the kerf
 * @param kerfMm   width of the kerf; > 0
 * @returns        mm
 * @source         plane-geometry
 */
export function kerfClosingRadiusMm(pitchMm: number, depthMm: number, kerfMm: number): number {
  return (pitchMm * depthMm) / kerfMm;
}

/** Inside of the rim, half way round. */
export const insideHalfPerimeter: Figure<number> = figure({
  id: 'lining.inside_half_perimeter',
  unit: 'mm',
  label: 'Inside of one side, neck end to tail',
  formula: 'half perimeter less pi x side thickness',
  source: 'plane-geometry',
  from: { halfMm: halfPerimeter, sideMm: input('side.thickness.final') },
  compute: ({ halfMm, sideMm }) => halfMm - Math.PI * sideMm,
});

/** Length of one lining between the blocks. */
export const liningRun: Figure<number> = figure({
  id: 'lining.run',
  unit: 'mm',
  label: 'One lining between the blocks',
  formula: 'inside of one side, less half the neck block width, less half the tail block width',
  source: practice,
  from: {
    insideMm: insideHalfPerimeter,
    neckMm: input('block.neck.width'),
    tailMm: input('block.tail.width'),
  },
  compute: ({ insideMm, neckMm, tailMm }) => insideMm - neckMm / 2 - tailMm / 2,
});

/** Lining to order. */
export const liningTotal: Figure<number> = figure({
  id: 'lining.total',
  unit: 'mm',
  label: 'Lining to order, four runs with waste',
  formula: '4 x half perimeter + 8 %',
  source: practice,
  from: { halfMm: halfPerimeter },
  compute: ({ halfMm }) => 4 * halfMm * (1 + LINING_WASTE_FRAC),
});

/** Strips of 600 mm to order. */
export const liningStrips: Figure<number> = figure({
  id: 'lining.strip_count',
  unit: 'count',
  label: 'Lining strips of 600 mm to order',
  formula: 'lining to order / 600, rounded up',
  source: practice,
  from: { totalMm: liningTotal },
  compute: ({ totalMm }) => Math.ceil(totalMm / 600 - 1e-9),
});

/** Widest pitch of kerfs that still closes round the tightest bend. */
export const kerfPitchMost: Figure<number> = figure({
  id: 'lining.kerf_pitch.most',
  unit: 'mm',
  label: 'Widest kerf pitch, kerfs of 1 mm facing inward, web 1 mm',
  formula: 'tightest radius x kerf / (lining width less web)',
  source: 'plane-geometry',
  from: { radiusMm: tightestRadius, widthMm: input('lining.width') },
  compute: ({ radiusMm, widthMm }) => (radiusMm * USUAL_KERF_MM) / (widthMm - USUAL_WEB_MM),
});

/** Length of one binding. */
export const bindingPiece: Figure<number> = figure({
  id: 'binding.piece_length',
  unit: 'mm',
  label: 'One binding with spare',
  formula: 'half perimeter + 40',
  source: practice,
  from: { halfMm: halfPerimeter },
  compute: ({ halfMm }) => halfMm + BINDING_SPARE_MM,
});

/** Binding for four runs. */
export const bindingTotal: Figure<number> = figure({
  id: 'binding.total',
  unit: 'mm',
  label: 'Binding, four runs',
  formula: '4 x (half perimeter + 40); order one spare in five',
  source: practice,
  from: { pieceMm: bindingPiece },
  compute: ({ pieceMm }) => 4 * pieceMm,
});

/** Height of the ledge for the binding. */
export const ledgeHeight: Figure<number> = figure({
  id: 'binding.ledge_height',
  unit: 'mm',
  label: 'Binding ledge height',
  formula: 'binding height less 0.2, so that the binding stands proud',
  source: practice,
  from: { heightMm: input('binding.height') },
  compute: ({ heightMm }) => heightMm - 0.2,
});

/** Lining left below the ledge. */
export const liningBelowLedge: Figure<number> = figure({
  id: 'binding.lining_below_ledge',
  unit: 'mm',
  label: 'Lining below the binding ledge',
  formula: 'lining height + top at its scrap limit, less ledge height',
  source: practice,
  from: {
    liningMm: input('lining.height'),
    topMm: input('top.thickness.scrap'),
    ledgeMm: ledgeHeight,
  },
  compute: ({ liningMm, topMm, ledgeMm }) => liningMm + topMm - ledgeMm,
});

/** Wood left behind the ledge. */
export const woodBehindLedge: Figure<number> = figure({
  id: 'binding.wood_behind_ledge',
  unit: 'mm',
  label: 'Side and lining left behind the binding ledge',
  formula: 'side at its scrap limit + lining width, less binding thickness',
  source: practice,
  from: {
    sideMm: input('side.thickness.scrap'),
    liningMm: input('lining.width'),
    bindingMm: input('binding.thickness'),
  },
  compute: ({ sideMm, liningMm, bindingMm }) => sideMm + liningMm - bindingMm,
});

/** Figures of linings and bindings. */
export const liningFigures: readonly Figure[] = [
  insideHalfPerimeter,
  liningRun,
  liningTotal,
  liningStrips,
  kerfPitchMost,
  bindingPiece,
  bindingTotal,
  ledgeHeight,
  liningBelowLedge,
  woodBehindLedge,
];

/** Rules of linings and bindings. */
export const liningRules: readonly Rule[] = [
  {
    id: 'lining-below-ledge',
    label: 'Lining left below the binding ledge',
    subject: liningBelowLedge,
    hard: { low: 2 },
    soft: { low: 4 },
    why: 'The ledge must not cut through the lining, or the plate hangs on the binding alone.',
    remedies: [mend('lining.height', 'more', 0.5), mend('binding.height', 'less')],
    source: practice,
    place: 'section',
  },
  {
    id: 'lining-behind-ledge',
    label: 'Wood left behind the binding ledge',
    subject: woodBehindLedge,
    hard: { low: 2 },
    soft: { low: 3 },
    why: 'The plate is glued to what is left of side and lining behind the ledge.',
    remedies: [mend('lining.width', 'more', 0.5), mend('binding.thickness', 'less')],
    source: practice,
    place: 'section',
  },
];
