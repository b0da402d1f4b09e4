/** A rectangular section of a bar: what it resists with. */
export interface BarSection {
  readonly areaMm2: number;
  /** About its own middle, bending away from the plate. */
  readonly secondMomentMm4: number;
  readonly torsionMm4: number;
}

/**
 * The section of a bar of a width and a height.
 *
 * @param widthMm   along the plate; > 0
 * @param heightMm  away from the plate; >= 0
 * @returns         area, second moment and Saint-Venant's torsion constant
 * @assumes         a full rectangle, free warping
 * @source          saint-venant-torsion
 */
export function barSection(widthMm: number, heightMm: number): BarSection {
  return {
    areaMm2: widthMm * heightMm,
    secondMomentMm4: (widthMm * heightMm ** 3) / 12,
    torsionMm4: torsionOfRectangleMm4(widthMm, heightMm),
  };
}

/** a b^3 (1/3 - 64/pi^5 b/a sum tanh(n pi a / 2b) / n^5), odd n, a >= b. */
export function torsionOfRectangleMm4(oneMm: number, otherMm: number): number {
  const a = Math.max(oneMm, otherMm);
  const b = Math.min(oneMm, otherMm);
  if (b <= 0) return 0;
  let sum = 0;
  for (let n = 1; n < 40; n += 2) sum += Math.tanh((n * Math.PI * a) / (2 * b)) / n ** 5;
  return a * b ** 3 * (1 / 3 - (64 / Math.PI ** 5) * (b / a) * sum);
}

/**
 * The height of a bar at a place along it.
 *
 * @param heightMm   height where no row is given
 * @param heightsMm  [position 0..1, height mm] in rising order; straight between, level beyond the first and last
 * @param part       place along the bar, 0..1
 * @returns          height, mm
 * @source           arithmetic
 */
export function heightAlong(
  heightMm: number,
  heightsMm: readonly (readonly [number, number])[] | undefined,
  part: number,
): number {
  if (!heightsMm || heightsMm.length === 0) return heightMm;
  const next = heightsMm.findIndex(([position]) => position >= part);
  if (next < 0) return heightsMm[heightsMm.length - 1]![1];
  if (next === 0) return heightsMm[0]![1];
  const [p, q] = [heightsMm[next - 1]!, heightsMm[next]!];
  return p[1] + ((q[1] - p[1]) * (part - p[0])) / (q[0] - p[0]);
}
