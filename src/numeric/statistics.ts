/**
 * Quantile of a sample by linear interpolation between the order statistics (the definition most
 * statistics packages use: position (n - 1) p).
 *
 * @param sortedValues  the sample in rising order; at least one value; any unit
 * @param shareFrac     share of the sample at or under the answer, 0..1
 * @returns             the quantile, same unit as the sample
 * @throws RangeError   on an empty sample or a share outside 0..1
 * @source              from memory
 */
export function quantile(sortedValues: ArrayLike<number>, shareFrac: number): number {
  if (sortedValues.length === 0) throw new RangeError('quantile: the sample is empty');
  if (!(shareFrac >= 0 && shareFrac <= 1))
    throw new RangeError(`quantile: share ${shareFrac} must lie in 0..1`);
  const place = (sortedValues.length - 1) * shareFrac;
  const low = Math.floor(place);
  const high = Math.min(low + 1, sortedValues.length - 1);
  return sortedValues[low]! + (sortedValues[high]! - sortedValues[low]!) * (place - low);
}

/**
 * Mean of a sample.
 *
 * @param values       at least one value; any unit
 * @returns            the mean, same unit
 * @throws RangeError  on an empty sample
 * @source             arithmetic
 */
export function mean(values: ArrayLike<number>): number {
  if (values.length === 0) throw new RangeError('mean: the sample is empty');
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i]!;
  return sum / values.length;
}

/**
 * Variance of a sample with n - 1 in the divisor.
 *
 * @param values       at least two values; any unit
 * @returns            the variance, unit squared
 * @throws RangeError  on fewer than two values
 * @source             arithmetic
 */
export function variance(values: ArrayLike<number>): number {
  if (values.length < 2) throw new RangeError(`variance: ${values.length} values, needs at least 2`);
  const middle = mean(values);
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += (values[i]! - middle) ** 2;
  return sum / (values.length - 1);
}
