/**
 * Height of an arc over its chord.
 *
 * @param radiusMm  radius of the arc; > 0
 * @param chordMm   chord; 0 to twice the radius
 * @returns         sagitta, mm; undefined when the chord is longer than twice the radius
 * @source          plane-geometry
 * @example         sagittaMm(4600, 370) // 3.722
 */
export function sagittaMm(radiusMm: number, chordMm: number): number | undefined {
  const half = chordMm / 2;
  const under = radiusMm * radiusMm - half * half;
  if (!(under >= 0)) return undefined;
  // R - sqrt(R^2 - h^2) written without the difference of two nearly equal numbers
  return (half * half) / (radiusMm + Math.sqrt(under));
}

/**
 * Height of the top dome over the rim plane on the centre line. The sphere passes through the rim plane at the neck
 * end (y = 0); its highest line lies at the apex.
 *
 * @param radiusMm  radius of the sphere; larger than every distance from the apex
 * @param apexYMm   apex from the neck end
 * @param yMm       place on the centre line, from the neck end
 * @returns         crown, mm, + outward; undefined outside the sphere
 * @source          plane-geometry
 * @example         crownMm(8500, 240, 282.48) // 3.28
 */
export function crownMm(radiusMm: number, apexYMm: number, yMm: number): number | undefined {
  return domeHeightMm(radiusMm, apexYMm, 0, yMm);
}

/**
 * Height of the top dome over the rim plane anywhere.
 *
 * @param radiusMm  radius of the sphere
 * @param apexYMm   apex from the neck end, on the centre line
 * @param xMm       place across, from the centre line
 * @param yMm       place along, from the neck end
 * @returns         mm, + outward (toward the strings), 0 at the neck end on the centre line; undefined outside the sphere
 * @source          plane-geometry
 */
export function domeHeightMm(
  radiusMm: number,
  apexYMm: number,
  xMm: number,
  yMm: number,
): number | undefined {
  const here = radiusMm * radiusMm - xMm * xMm - (yMm - apexYMm) ** 2;
  const atNeck = radiusMm * radiusMm - apexYMm * apexYMm;
  if (!(here >= 0 && atNeck >= 0)) return undefined;
  // difference of roots as (a - b)/(root a + root b)
  return (here - atNeck) / (Math.sqrt(here) + Math.sqrt(atNeck));
}
