import { type Figure, figure } from '../graph/figure.ts';
import { CENTS_PER_NEPER } from '../mechanics/stiff-string.ts';
import { input } from './inputs.ts';

const practice = 'common practice, no published source';
const scale = input('scale.length');

/** Links between the nut and a saddle place that was found through the body, each way, mm. */
const LINKS = [
  { key: 'template_hole', label: 'Hole of the body template', value: 0.3 },
  { key: 'trace', label: 'Tracing of the outline', value: 0.5 },
  { key: 'neck_end', label: 'Trimming of the neck end', value: 0.5 },
  { key: 'join', label: 'Neck at the join', value: 0.3 },
  { key: 'board', label: 'Board on the neck', value: 0.3 },
] as const;
/** One measure from nut and fret 12 of the neck in hand, mm. */
const MEASURED_MM = 0.2;

/** The chain through the body. */
export const saddleChain: Figure<readonly { key: string; label: string; value: number }[]> = figure({
  id: 'saddle.chain.link',
  unit: 'mm',
  label: 'Saddle place found through the body, either way',
  formula: 'usual error of each link',
  source: practice,
  from: {},
  compute: () => LINKS,
  members: (links) => links,
});

/** How long the chain is. */
export const saddleChainCount: Figure<number> = figure({
  id: 'saddle.chain.count',
  unit: 'count',
  label: 'Links of the chain through the body (more than three: measure on the neck instead)',
  formula: 'number of links',
  source: practice,
  from: { links: saddleChain },
  compute: ({ links }) => links.length,
});

/** Errors that have nothing to do with each other. */
export const saddleChainLikely: Figure<number> = figure({
  id: 'saddle.chain.likely',
  unit: 'mm',
  label: 'Saddle place found through the body: likely error',
  formula: 'root of the sum of the squares of the links',
  source: 'arithmetic',
  from: { links: saddleChain },
  compute: ({ links }) => Math.sqrt(links.reduce((s, l) => s + l.value ** 2, 0)),
});
/** All the same way. */
export const saddleChainWorst: Figure<number> = figure({
  id: 'saddle.chain.worst',
  unit: 'mm',
  label: 'Saddle place found through the body: worst error',
  formula: 'sum of the links',
  source: 'arithmetic',
  from: { links: saddleChain },
  compute: ({ links }) => links.reduce((s, l) => s + l.value, 0),
});

function inCents(id: string, label: string, error: Figure<number>): Figure<number> {
  return figure({
    id,
    unit: 'cents',
    label,
    formula: 'error x 1731.23 / scale length',
    source: 'equal-temperament',
    from: { errorMm: error, scaleMm: scale },
    compute: ({ errorMm, scaleMm }) => (errorMm * CENTS_PER_NEPER) / scaleMm,
  });
}
/** The likely error at fret 12. */
export const saddleChainLikelyCents = inCents(
  'saddle.chain.likely_cents',
  'Saddle place found through the body: likely error at fret 12',
  saddleChainLikely,
);
/** The worst error at fret 12. */
export const saddleChainWorstCents = inCents(
  'saddle.chain.worst_cents',
  'Saddle place found through the body: worst error at fret 12',
  saddleChainWorst,
);

/** The place measured on the neck in hand. */
export const saddleMeasured: Figure<number> = figure({
  id: 'saddle.measured.error',
  unit: 'mm',
  label: 'Saddle place measured from nut and fret 12 of this neck: error',
  formula: 'one measure with a rule to 0.2',
  source: practice,
  from: {},
  compute: () => MEASURED_MM,
});
/** Its error at fret 12. */
export const saddleMeasuredCents = inCents(
  'saddle.measured.error_cents',
  'Saddle place measured from nut and fret 12 of this neck: error at fret 12',
  saddleMeasured,
);

/** Figures of the tolerance chain of the saddle place. */
export const toleranceFigures: readonly Figure[] = [
  saddleChain,
  saddleChainCount,
  saddleChainLikely,
  saddleChainWorst,
  saddleChainLikelyCents,
  saddleChainWorstCents,
  saddleMeasured,
  saddleMeasuredCents,
];
