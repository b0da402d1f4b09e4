import { fairPoints } from '../geometry/fair-points.ts';
import {
  type HalfOutline,
  halfOutline,
  inflectionCount,
  type TightestBend,
  tightestBend,
} from '../geometry/half-outline.ts';
import { piecesThroughPoints } from '../geometry/outline-through-points.ts';
import type { Point } from '../geometry/point.ts';
import { type Figure, figure } from '../graph/figure.ts';
import { type Finding, finding } from '../quantity/finding.ts';
import { input, ownOutline } from './inputs.ts';

const ownConstruction = 'plane-geometry';
const practice = 'common practice, no published source';

/** Smallest bend a side can follow at all; a measured point that asks for less is a slip. */
const TIGHTEST_OWN_RADIUS_MM = 15;

/** Farthest a measured point may be moved to smooth the curve: beyond this it is a slip, not a reading error. */
const SMOOTHED_MOST_MM = 0.5;
/** Waves smoothed away, as shares of the body length, the shortest first. */
const SMOOTHING_SHARES = [1 / 12, 1 / 10, 1 / 8, 1 / 6];

interface OwnCurve {
  readonly shape: HalfOutline;
  readonly movedMm: number;
}

function ownCurveOf(points: readonly Point[], lengthMm: number): OwnCurve | Finding {
  const inner = points
    .filter((p) => p.yMm > 0 && p.yMm < lengthMm && p.xMm > 0)
    .sort((a, b) => a.yMm - b.yMm);
  if (inner.length < 6)
    return finding({
      code: 'own-outline-too-few-points',
      level: 'blocked',
      got: inner.length,
      limit: 6,
      unit: 'count',
      text: `The own outline has ${inner.length} measured half widths between neck end and tail; measure at least 6.`,
      source: practice,
    });
  const through = halfOutline(piecesThroughPoints(inner, lengthMm));
  if (inflectionCount(through) !== 2) {
    const smoothed = smoothedCurve(inner, lengthMm);
    if (smoothed) return smoothed;
  }
  const bend = tightestBend(through);
  if (bend.radiusMm >= TIGHTEST_OWN_RADIUS_MM && through.isRising) return { shape: through, movedMm: 0 };
  return ownKinks(inner, bend);
}

/** The least smoothing that leaves one waist and two bouts, or undefined when points would move too far. */
function smoothedCurve(points: readonly Point[], lengthMm: number): OwnCurve | undefined {
  for (const share of SMOOTHING_SHARES) {
    const faired = fairPoints(points, lengthMm, share * lengthMm);
    if (!faired || faired.movedMm > SMOOTHED_MOST_MM) return undefined;
    const shape = halfOutline(piecesThroughPoints(faired.points, lengthMm));
    if (shape.isRising && inflectionCount(shape) === 2) return { shape, movedMm: faired.movedMm };
  }
  return undefined;
}

function ownKinks(points: readonly Point[], bend: TightestBend): Finding {
  const yMm = bend.point.yMm;
  const nearest = points.reduce((a, b) => (Math.abs(b.yMm - yMm) < Math.abs(a.yMm - yMm) ? b : a));
  return finding({
    code: 'own-outline-kinks',
    level: 'blocked',
    got: bend.radiusMm,
    limit: TIGHTEST_OWN_RADIUS_MM,
    unit: 'mm',
    text: `The own outline bends to a radius of ${bend.radiusMm.toFixed(1)} mm near y ${yMm.toFixed(1)} mm, under ${TIGHTEST_OWN_RADIUS_MM} mm; measure the half width ${nearest.xMm.toFixed(1)} mm at y ${nearest.yMm.toFixed(1)} mm again.`,
    source: practice,
  });
}

/** The own curve with what the measured points were moved for it. */
const ownCurve: Figure<OwnCurve> = figure({
  id: 'outline.own.curve',
  unit: 'shape',
  label: 'Own outline and what it was smoothed by',
  formula:
    'smooth curve through the measured points; where reading errors make it wavy the points are first moved, by 0.5 mm at most, so that the curvature changes evenly',
  source: ownConstruction,
  from: { own: ownOutline, lengthMm: input('body.length') },
  compute: ({ own, lengthMm }) => ownCurveOf(own, lengthMm),
});

/** The teacher's own curve, when he keeps it. */
export const ownShape: Figure<HalfOutline> = figure({
  id: 'outline.own',
  unit: 'shape',
  label: 'Own outline',
  formula: 'smooth curve with continuous curvature through the measured points and both ends',
  source: ownConstruction,
  from: { curve: ownCurve },
  compute: ({ curve }) => curve.shape,
});

/** How far a measured point was moved at most. */
export const ownMoved: Figure<number> = figure({
  id: 'outline.own.moved',
  unit: 'mm',
  label: 'Own outline off the measured points, most',
  formula:
    'largest distance by which a measured point was moved to smooth the curve; 0 when it runs through all',
  source: ownConstruction,
  from: { curve: ownCurve },
  compute: ({ curve }) => curve.movedMm,
});

/** Figures of the own outline. */
export const ownOutlineFigures: readonly Figure[] = [ownCurve, ownShape, ownMoved];
