/**
 * What slope of grain leaves of a property along the grain, in Hankinson's form.
 *
 * @param slopeRatio   rise over run of the fibres against the face, 1/20 = 0.05; >= 0
 * @param acrossRatio  property across over property along; 0.05 for the stiffness of softwood (0.04 to 0.12)
 * @param power        2 for stiffness; 1.5..2 for strength
 * @returns            part of the straight-grained value, 0..1
 * @source             wood-handbook, chapter 5, equation (5-4)
 */
export function hankinsonFrac(slopeRatio: number, acrossRatio = 0.05, power = 2): number {
  const angleRad = Math.atan(slopeRatio);
  const [s, c] = [Math.sin(angleRad) ** power, Math.cos(angleRad) ** power];
  return acrossRatio / (s + acrossRatio * c);
}
