import { pointAtArc } from '../geometry/half-outline.ts';
import { type Figure, figure } from '../graph/figure.ts';
import { finding } from '../quantity/finding.ts';
import { topDome } from './dome.ts';
import { input } from './inputs.ts';
import { halfPerimeter, outline } from './outline.ts';
import { backEdgeZMm, backSphere, topEdgeZMm } from './rim.ts';

const practice = 'common practice, no published source';

/** One place along the flat side strip. */
export interface StripStation {
  /** Along the strip from the neck end. */
  readonly arcMm: number;
  /** Where this place stands on the outline. */
  readonly xMm: number;
  readonly yMm: number;
  /** Top edge over the rim plane, + toward the back. */
  readonly topZMm: number;
  /** Back edge over the rim plane. */
  readonly backZMm: number;
}

const STEP_MM = 20;

/** The flat outline of one side: because sides stand square to the rim plane the strip is a true development. */
export const sideStrip: Figure<readonly StripStation[]> = figure({
  id: 'side.strip',
  unit: 'shape',
  label: 'Side strip, flat outline',
  formula: 'top sphere and back sphere at the outline point of each arc length, every 20 mm and at the tail',
  source: 'plane-geometry',
  from: { shape: outline, dome: topDome, sphere: backSphere },
  compute: ({ shape, dome, sphere }) => {
    const stations: StripStation[] = [];
    const count = Math.ceil(shape.lengthMm / STEP_MM - 1e-9);
    for (let i = 0; i <= count; i++) {
      const arcMm = Math.min(i * STEP_MM, shape.lengthMm);
      const { xMm, yMm } = pointAtArc(shape, arcMm);
      const topZMm = topEdgeZMm(dome, xMm, yMm);
      const backZMm = backEdgeZMm(sphere, xMm, yMm);
      if (topZMm === undefined || backZMm === undefined)
        return finding({
          code: 'dome-too-small',
          level: 'blocked',
          text: 'The outline reaches beyond a dome sphere; make the dome radius larger.',
          source: 'plane-geometry',
        });
      stations.push({ arcMm, xMm, yMm, topZMm, backZMm });
    }
    return stations;
  },
});

const alongStrip = (
  id: string,
  label: string,
  formula: string,
  of: (s: StripStation) => number,
): Figure<readonly StripStation[]> =>
  figure({
    id,
    unit: 'mm',
    label,
    formula,
    source: 'plane-geometry',
    from: { strip: sideStrip },
    compute: ({ strip }) => strip,
    members: (strip) =>
      strip.map((s) => ({
        key: String(Math.round(s.arcMm)),
        label: `${label}, ${Math.round(s.arcMm)} mm along`,
        value: of(s),
      })),
  });

/** Height of the rim along the strip. */
export const stripHeights = alongStrip(
  'side.strip.height_along',
  'Rim height',
  'back edge less top edge',
  (s) => s.backZMm - s.topZMm,
);
/** Top edge along the strip. */
export const stripTopEdge = alongStrip(
  'side.strip.top_edge',
  'Top edge from the rim plane',
  'top sphere at the outline; minus: outward',
  (s) => s.topZMm,
);
/** Back edge along the strip. */
export const stripBackEdge = alongStrip(
  'side.strip.back_edge',
  'Back edge from the rim plane',
  'back sphere at the outline',
  (s) => s.backZMm,
);

/** Length of the strip before bending. */
export const stripLength: Figure<number> = figure({
  id: 'side.strip.length',
  unit: 'mm',
  label: 'Side strip length with spare',
  formula: 'half perimeter + spare at both ends',
  source: practice,
  from: { halfMm: halfPerimeter, spareMm: input('allowance.strip_end') },
  compute: ({ halfMm, spareMm }) => halfMm + 2 * spareMm,
});

const heightWithSpare = (end: 'neck' | 'tail', label: string): Figure<number> =>
  figure({
    id: `side.strip.height.${end}`,
    unit: 'mm',
    label: `Side strip height at the ${label} with spare`,
    formula: 'rim height + spare on both long edges',
    source: practice,
    from: { rimMm: input(`rim.height.${end}`), spareMm: input('allowance.strip_edge') },
    compute: ({ rimMm, spareMm }) => rimMm + 2 * spareMm,
  });

/** Strip height at the neck end. */
export const stripHeightNeck = heightWithSpare('neck', 'neck end');
/** Strip height at the tail. */
export const stripHeightTail = heightWithSpare('tail', 'tail');

/** Band the strip is cut from: lowest top edge to highest back edge with spare. */
export const stripHeightMost: Figure<number> = figure({
  id: 'side.strip.height.most',
  unit: 'mm',
  label: 'Side strip, width of wood it is cut from',
  formula: 'highest back edge less lowest top edge along the strip, + spare on both long edges',
  source: practice,
  from: { strip: sideStrip, spareMm: input('allowance.strip_edge') },
  compute: ({ strip, spareMm }) => {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (const s of strip) {
      low = Math.min(low, s.topZMm);
      high = Math.max(high, s.backZMm);
    }
    return high - low + 2 * spareMm;
  },
});

/** How far the top edge leaves a straight line. */
export const topEdgeBow: Figure<number> = figure({
  id: 'side.strip.top_edge_bow',
  unit: 'mm',
  label: 'Top edge of the strip off a straight line',
  formula: 'largest distance of the top edge from the rim plane',
  source: 'plane-geometry',
  from: { strip: sideStrip },
  compute: ({ strip }) => Math.max(...strip.map((s) => Math.abs(s.topZMm))),
});

/** Figures of the side strip. */
export const sideStripFigures: readonly Figure[] = [
  sideStrip,
  stripHeights,
  stripTopEdge,
  stripBackEdge,
  stripLength,
  stripHeightNeck,
  stripHeightTail,
  stripHeightMost,
  topEdgeBow,
];
