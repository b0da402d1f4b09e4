/** A length of time that is known only between limits, days. */
export interface RestDays {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/** Days to 90 % of a change: plates of 3 mm 1 to 3 days, blanks of 25 mm 3 to 6 weeks. */
const known = {
  thinMm: 3,
  thickMm: 25,
  low: [1, 21],
  high: [3, 42],
} as const;

/** Between the two known thicknesses time grows with a power of the thickness. */
function powerDays(thicknessMm: number, [thin, thick]: readonly [number, number]): number {
  const power = Math.log(thick / thin) / Math.log(known.thickMm / known.thinMm);
  return thin * (thicknessMm / known.thinMm) ** power;
}

/**
 * Days that wood needs to make 90 % of a change of moisture, both faces open to the air.
 *
 * @param thicknessMm  0.5..60
 * @returns            low, likely (their geometric mean) and high
 * @assumes            time follows a power of the thickness through two known places (3 mm: 1 to 3 days, 25 mm: 3 to 6
 *                     weeks), still air in a room; dense or oily woods and stacked boards take longer
 * @throws RangeError when the thickness is outside
 * @source             common practice, no published source
 */
export function restingDays(thicknessMm: number): RestDays {
  if (!(thicknessMm >= 0.5 && thicknessMm <= 60))
    throw new RangeError(`thicknessMm is ${thicknessMm}; resting times are known from 0.5 to 60 mm`);
  const low = powerDays(thicknessMm, known.low);
  const high = powerDays(thicknessMm, known.high);
  return { low, likely: Math.sqrt(low * high), high };
}

/**
 * Moisture of a board some days after the air changed.
 *
 * @param fromFrac    moisture before
 * @param toFrac      moisture that fits the new air
 * @param days        since then; >= 0
 * @param ninetyDays  days to 90 % of the change, from `restingDays`
 * @returns           mean moisture, fraction
 * @assumes           the difference falls by the same part each day
 * @source            common practice, no published source
 */
export function moistureAfterDays(
  fromFrac: number,
  toFrac: number,
  days: number,
  ninetyDays: number,
): number {
  return toFrac + (fromFrac - toFrac) * 10 ** (-days / ninetyDays);
}
