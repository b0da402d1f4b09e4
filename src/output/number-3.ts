/**
 * A number as text with at most 3 decimals, no idle zeros, no minus zero: the same drawing always gives the same bytes.
 *
 * @throws RangeError when it is not finite
 */
export function number3(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`a drawing holds the number ${value}; it must be finite`);
  const rounded = Math.round(value * 1000) / 1000;
  return String(rounded === 0 ? 0 : rounded);
}
