/** Part of the elastic tilt and lift that creep adds in the first year, least and most. */
export const creepBandFrac = { least: 0.3, most: 1, source: 'common practice, no published source' } as const;

/**
 * Tilt after the first year under strings.
 *
 * @param tiltDeg  elastic tilt, unstrung to strung
 * @returns        least and most, degrees
 * @assumes        creep of 30 to 100 % of the elastic movement in the first year, in a room that stays dry
 * @source         common practice, no published source
 */
export function tiltAfterYearDeg(tiltDeg: number): { readonly leastDeg: number; readonly mostDeg: number } {
  return { leastDeg: tiltDeg * (1 + creepBandFrac.least), mostDeg: tiltDeg * (1 + creepBandFrac.most) };
}

/** Bending strength of clear Sitka spruce at 12 % moisture, 10 200 lbf/in2 [wood-handbook] Table 5-3b. */
export const spruceBendingStrengthMPa = 70.3;
/** Part of a short test's strength that is left under a load of ten years. */
export const tenYearsFrac = 0.62;
/** For knots, runout and notches of a single stick. */
export const braceSafetyFactor = 2.5;

/**
 * How much of what a brace may carry for years its stress from the strings uses.
 *
 * @param stressMPa    largest stress; >= 0
 * @param strengthMPa  bending strength of the clear wood in a short test; > 0
 * @returns            allowed stress and the used part of it, 0..1 and beyond
 * @assumes            ten years' load leaves 62 % of the strength (from memory), safety factor 2.5
 * @source             wood-handbook
 */
export function braceMargin(
  stressMPa: number,
  strengthMPa: number = spruceBendingStrengthMPa,
): { readonly allowedMPa: number; readonly usedFrac: number } {
  const allowedMPa = (strengthMPa * tenYearsFrac) / braceSafetyFactor;
  return { allowedMPa, usedFrac: stressMPa / allowedMPa };
}
