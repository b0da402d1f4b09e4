import type { Member } from '../graph/figure.ts';

/** Members of a family with one number a fret, fret 1 first. @source arithmetic */
export function perFret(values: readonly number[]): readonly Member[] {
  return values.map((value, i) => ({ key: `${i + 1}`, label: `Fret ${i + 1}`, value }));
}

/** Members of a family with one number a string, the treble string first. @source arithmetic */
export function perString(values: readonly number[]): readonly Member[] {
  return values.map((value, i) => ({ key: `${i + 1}`, label: `String ${i + 1}`, value }));
}

/** Members of a family with one number a gap between strings, the treble gap first. @source arithmetic */
export function perGap(values: readonly number[]): readonly Member[] {
  return values.map((value, i) => ({ key: `${i + 1}`, label: `String ${i + 1} to ${i + 2}`, value }));
}
