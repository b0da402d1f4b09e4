/** Stiffness of a wood in its own axes, as parts of E along. */
export interface GrainRatios {
  readonly radialRatio: number;
  readonly tangentialRatio: number;
  readonly shearRtRatio: number;
  readonly shearLrRatio: number;
  readonly poissonRt: number;
  readonly poissonLr: number;
}

/** Sitka spruce [wood-handbook] Tables 5-1 and 5-2. */
export const sitkaRatios: GrainRatios = {
  radialRatio: 0.078,
  tangentialRatio: 0.043,
  shearRtRatio: 0.003,
  shearLrRatio: 0.064,
  poissonRt: 0.435,
  poissonLr: 0.372,
};

/** E under an angle between two axes: 1/E = cos^4/E1 + sin^4/E2 + (1/G - 2 v/E1) sin^2 cos^2. */
function modulusUnderAngle(e1: number, e2: number, shear: number, poisson: number, angleRad: number): number {
  const c2 = Math.cos(angleRad) ** 2;
  const s2 = 1 - c2;
  return 1 / ((c2 * c2) / e1 + (s2 * s2) / e2 + (1 / shear - (2 * poisson) / e1) * s2 * c2);
}

/**
 * What the ring angle leaves of the stiffness across a board.
 *
 * @param ringAngleDeg  of the rings to the face's normal: 0 quartered, 90 flat; 0..90
 * @param ratios        of the species
 * @returns             part of the quartered board's E across, 0..1
 * @source              wood-handbook
 */
export function ringAngleFrac(ringAngleDeg: number, ratios: GrainRatios = sitkaRatios): number {
  const { radialRatio: r, tangentialRatio: t, shearRtRatio: g, poissonRt: v } = ratios;
  return modulusUnderAngle(r, t, g, v, (ringAngleDeg * Math.PI) / 180) / r;
}

/**
 * What runout leaves of the stiffness along a board.
 *
 * @param runoutDeg  of the fibres to the face; 0..90
 * @param ratios     of the species
 * @returns          part of the straight-grained board's E along, 0..1
 * @source           wood-handbook
 */
export function runoutFrac(runoutDeg: number, ratios: GrainRatios = sitkaRatios): number {
  const { radialRatio: r, shearLrRatio: g, poissonLr: v } = ratios;
  return modulusUnderAngle(1, r, g, v, (runoutDeg * Math.PI) / 180);
}
