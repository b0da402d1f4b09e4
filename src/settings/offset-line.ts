import { type Finding, finding } from '../quantity/finding.ts';
import { formatDecimal } from '../quantity/print-length.ts';
import type { OffsetLine } from '../shop/shop.ts';

/** One strip: the number typed and what came out. */
export interface Strip {
  readonly typedMm: number;
  readonly measuredMm: number;
}

/** A proved offset and how well the strips lie on it. */
export interface ProvedOffset {
  readonly line: OffsetLine;
  /** Largest distance of a strip from the line, mm. */
  readonly worstMm: number;
  readonly needsService: boolean;
}

/** Further off the line than this, the machine wants service. @source common practice, no published source */
export const SERVICE_RESIDUAL_MM = 0.05;

/**
 * The line measured = alpha + beta x typed through proof strips, by least squares.
 *
 * @param strips    at least one; two different typed numbers are needed for the slope, else it stays 1
 * @param provedOn  day of the proof, year-month-day
 * @returns         the line, its largest residual and whether the machine wants service; a finding when no line can be had
 * @source          arithmetic
 */
export function fitOffset(strips: readonly Strip[], provedOn?: string): ProvedOffset | Finding {
  const count = strips.length;
  if (count === 0)
    return finding({
      code: 'no-strips',
      level: 'blocked',
      text: 'No proof strip was measured; type a number, feed a strip and measure it.',
    });
  const meanTyped = strips.reduce((sum, s) => sum + s.typedMm, 0) / count;
  const meanMeasured = strips.reduce((sum, s) => sum + s.measuredMm, 0) / count;
  const spread = strips.reduce((sum, s) => sum + (s.typedMm - meanTyped) ** 2, 0);
  const joint = strips.reduce((sum, s) => sum + (s.typedMm - meanTyped) * (s.measuredMm - meanMeasured), 0);
  const beta = spread > 1e-9 ? joint / spread : 1;
  if (!(beta >= 0.8 && beta <= 1.25))
    return finding({
      code: 'offset-slope',
      level: 'blocked',
      got: beta,
      limit: '0.8 to 1.25',
      text: `The strips give a slope of ${formatDecimal(beta, 3)}, and 0.8 to 1.25 is plausible; check which strip belongs to which number and measure again.`,
    });
  const alphaMm = meanMeasured - beta * meanTyped;
  const worstMm = Math.max(...strips.map((s) => Math.abs(s.measuredMm - alphaMm - beta * s.typedMm)));
  const line = { alphaMm, beta, ...(provedOn === undefined ? {} : { provedOn }) };
  return { line, worstMm, needsService: worstMm > SERVICE_RESIDUAL_MM };
}

/**
 * The number to type so that a wanted measure comes out.
 *
 * @param wantedMm  measure wanted
 * @returns         mm, not yet rounded to what the machine can show
 * @source          arithmetic
 */
export function toType(wantedMm: number, { alphaMm, beta }: OffsetLine): number {
  return (wantedMm - alphaMm) / beta;
}

/** What comes out when a number is typed, mm. @source arithmetic */
export function comesOut(typedMm: number, { alphaMm, beta }: OffsetLine): number {
  return alphaMm + beta * typedMm;
}
