/** Rings a cutter runs to clear a channel, as radii from the pin centre to the cutter centre. */
export interface RingPasses {
  readonly innerCentreMm: number;
  readonly outerCentreMm: number;
  /** Rings between the inner and the outer one. */
  readonly betweenCount: number;
  /** All radii, inner first, evenly spaced. */
  readonly centresMm: readonly number[];
}

/**
 * Radii of the rings that clear a channel; two rings overlap by at least four tenths of the cutter.
 *
 * @param innerRadiusMm  inner edge of the channel from the pin centre; > 0
 * @param outerRadiusMm  outer edge; larger than the inner one
 * @param cutterMm       cutter diameter; > 0
 * @returns              the rings; undefined when the cutter is wider than the channel
 * @throws RangeError    when the outer radius is not above the inner one or a number is not above 0
 * @source               common practice, no published source
 */
export function ringPasses(
  innerRadiusMm: number,
  outerRadiusMm: number,
  cutterMm: number,
): RingPasses | undefined {
  if (!(innerRadiusMm > 0 && outerRadiusMm > innerRadiusMm && cutterMm > 0))
    throw new RangeError(
      `ringPasses: channel ${innerRadiusMm} to ${outerRadiusMm} mm with a cutter of ${cutterMm} mm is none`,
    );
  const widthMm = outerRadiusMm - innerRadiusMm;
  if (cutterMm > widthMm + 1e-9) return undefined;
  const innerCentreMm = innerRadiusMm + cutterMm / 2;
  const outerCentreMm = outerRadiusMm - cutterMm / 2;
  if (outerCentreMm - innerCentreMm < 1e-9)
    return { innerCentreMm, outerCentreMm: innerCentreMm, betweenCount: 0, centresMm: [innerCentreMm] };
  const betweenCount = Math.max(0, Math.ceil((widthMm - cutterMm) / (0.6 * cutterMm) - 1e-9) - 1);
  const step = (outerCentreMm - innerCentreMm) / (betweenCount + 1);
  const centresMm = Array.from({ length: betweenCount + 2 }, (_, i) => innerCentreMm + i * step);
  return { innerCentreMm, outerCentreMm, betweenCount, centresMm };
}
