import { convexGapMm, type Polygon } from '../geometry/polygon.ts';
import { absent, type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { type BraceSegment, backSegments, braceSegments } from './braces.ts';
import { input } from './inputs.ts';
import { mend } from './rule-parts.ts';

const practice = 'common practice, no published source';

/** A block seen from the front: between two lines across, as wide as typed. */
function blockPolygon(widthMm: number, fromYMm: number, toYMm: number): Polygon {
  const half = widthMm / 2;
  return [
    { xMm: -half, yMm: fromYMm },
    { xMm: half, yMm: fromYMm },
    { xMm: half, yMm: toYMm },
    { xMm: -half, yMm: toYMm },
  ];
}

/** Foot of the neck block. */
export const neckBlock: Figure<Polygon> = figure({
  id: 'block.neck.shape',
  unit: 'shape',
  label: 'Neck block, seen from the front',
  formula: 'from the neck end, as wide and thick as typed',
  source: practice,
  from: { widthMm: input('block.neck.width'), thicknessMm: input('block.neck.thickness') },
  compute: ({ widthMm, thicknessMm }) => blockPolygon(widthMm, 0, thicknessMm),
});

/** Foot of the tail block. */
export const tailBlock: Figure<Polygon> = figure({
  id: 'block.tail.shape',
  unit: 'shape',
  label: 'Tail block, seen from the front',
  formula: 'from the tail, as wide and thick as typed',
  source: practice,
  from: {
    widthMm: input('block.tail.width'),
    thicknessMm: input('block.tail.thickness'),
    lengthMm: input('body.length'),
  },
  compute: ({ widthMm, thicknessMm, lengthMm }) => blockPolygon(widthMm, lengthMm - thicknessMm, lengthMm),
});

const leastGap = (block: Polygon, bars: readonly BraceSegment[]): number =>
  Math.min(...bars.map((b) => convexGapMm(block, b.polygon)));

const blockGap = (id: string, label: string, block: Figure<Polygon>): Figure<number> =>
  figure({
    id,
    unit: 'mm',
    label,
    formula:
      'distance from the block to the foot of the nearest bar of top or back; minus where they overlap',
    source: practice,
    from: { block, top: braceSegments, back: backSegments },
    compute: ({ block: shape, top, back }) =>
      top.length + back.length === 0 ? absent('the pattern has no bars') : leastGap(shape, [...top, ...back]),
  });

/** Neck block to the nearest bar. */
export const neckBlockGap = blockGap('block.neck.to_bars', 'Neck block to the nearest bar', neckBlock);
/** Tail block to the nearest bar. */
export const tailBlockGap = blockGap('block.tail.to_bars', 'Tail block to the nearest bar', tailBlock);

/** Figures of the blocks. */
export const blockFigures: readonly Figure[] = [neckBlock, tailBlock, neckBlockGap, tailBlockGap];

/** Rules of the blocks. */
export const blockRules: readonly Rule[] = [
  {
    id: 'block-neck-clear-of-bars',
    label: 'Neck block clear of the bars',
    subject: neckBlockGap,
    hard: { low: 0 },
    why: 'A bar glued where the block comes has to be cut away when the box is closed.',
    remedies: [mend('block.neck.thickness', 'less', 0.5)],
    source: practice,
    place: 'blocks',
  },
  {
    id: 'block-tail-clear-of-bars',
    label: 'Tail block clear of the bars',
    subject: tailBlockGap,
    hard: { low: 0 },
    why: 'A bar glued where the block comes has to be cut away when the box is closed.',
    remedies: [
      mend('block.tail.thickness', 'less', 0.5),
      mend('block.tail.width', 'less', 1),
      mend('body.length', 'more', 1),
    ],
    source: practice,
    place: 'blocks',
  },
];
