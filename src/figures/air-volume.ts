import { cubicAt, cubicVelocity } from '../geometry/cubic.ts';
import type { HalfOutline } from '../geometry/half-outline.ts';
import { type Figure, figure } from '../graph/figure.ts';
import { gaussLegendre } from '../numeric/gauss-legendre.ts';
import { finding } from '../quantity/finding.ts';
import { type TopDome, topDome } from './dome.ts';
import { input } from './inputs.ts';
import { outline } from './outline.ts';
import { type BackSphere, backSphere } from './rim.ts';

const rule = gaussLegendre(10);

/** Share of the box that linings and bars take. */
const LININGS_AND_BARS_FRAC = 0.025;
/** Share of its block that the neck block fills, cut away for the joint. */
const NECK_BLOCK_SHARE = 0.9;
/** Wood of the side all round, with what glue and finish add. */
const SIDE_ALL_ROUND_MM = 2.2;

/** Integral of sqrt(a^2 - x^2) from -w to w. */
function capStripMm2(aSquared: number, halfWidthMm: number): number {
  const a = Math.sqrt(aSquared);
  return (
    halfWidthMm * Math.sqrt(aSquared - halfWidthMm * halfWidthMm) + aSquared * Math.asin(halfWidthMm / a)
  );
}

/**
 * Volume between top sphere and back sphere inside an outline that is narrower by `insetMm` on each side.
 *
 * @param insetMm  taken off the half width, measured across; 0 for the outline itself
 * @returns        mm3; NaN when a sphere does not reach the outline
 * @assumes        the inset is taken across, not square to the curve; for 2.2 mm that costs 0.8 % of the volume, less than
 *                 the share guessed for linings and bars
 * @source         plane-geometry
 */
export function volumeInsideMm3(
  shape: HalfOutline,
  dome: TopDome,
  back: BackSphere,
  insetMm: number,
): number {
  let sum = 0;
  const { radiusMm: topRadius, apexYMm } = dome;
  const atNeck = topRadius === undefined ? 0 : Math.sqrt(topRadius * topRadius - apexYMm * apexYMm);
  for (const piece of shape.pieces)
    for (let i = 0; i < rule.nodes.length; i++) {
      const t = (rule.nodes[i]! + 1) / 2;
      const { xMm: halfWidthMm, yMm } = cubicAt(piece, t);
      const xMm = Math.max(0, halfWidthMm - insetMm);
      const area =
        capStripMm2(back.radiusMm ** 2 - (yMm - back.apexYMm) ** 2, xMm) + 2 * xMm * back.centreZMm;
      const above =
        topRadius === undefined
          ? 0
          : capStripMm2(topRadius ** 2 - (yMm - apexYMm) ** 2, xMm) - 2 * xMm * atNeck;
      sum += (rule.weights[i]! / 2) * (area + above) * cubicVelocity(piece, t).yMm;
    }
  return sum;
}

/** Air in the closed box. */
export const airVolume: Figure<number> = figure({
  id: 'box.air_volume',
  unit: 'litre',
  label: 'Air in the box',
  formula:
    'space between the plates, half width less 2.2 mm of side, less the two blocks (neck block 90 %), less 2.5 % for linings and bars',
  source: 'plane-geometry',
  from: {
    shape: outline,
    dome: topDome,
    back: backSphere,
    neckWidthMm: input('block.neck.width'),
    neckThickMm: input('block.neck.thickness'),
    tailWidthMm: input('block.tail.width'),
    tailThickMm: input('block.tail.thickness'),
    neckRimMm: input('rim.height.neck'),
    tailRimMm: input('rim.height.tail'),
  },
  compute: (v) => {
    const inside = volumeInsideMm3(v.shape, v.dome, v.back, SIDE_ALL_ROUND_MM);
    const blocks =
      NECK_BLOCK_SHARE * v.neckWidthMm * v.neckThickMm * v.neckRimMm +
      v.tailWidthMm * v.tailThickMm * v.tailRimMm;
    const litre = ((inside - blocks) * (1 - LININGS_AND_BARS_FRAC)) / 1e6;
    return litre > 0
      ? litre
      : finding({
          code: 'no-air-in-box',
          level: 'blocked',
          got: litre,
          limit: 0,
          unit: 'litre',
          text: 'The blocks leave no air in the box; check the sizes of the blocks and the rim heights.',
        });
  },
});

/** Figures of the air in the box. */
export const airVolumeFigures: readonly Figure[] = [airVolume];
