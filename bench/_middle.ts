/** The middle one of some times; of an even count the later of the two. */
export function middleOf(times: readonly number[]): number {
  return [...times].sort((a, b) => a - b)[times.length >> 1] ?? Number.NaN;
}
