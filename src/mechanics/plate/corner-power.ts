import type { Place } from '../../geometry/mesh-loop.ts';
import type { PlateMaterial } from './plate-problem.ts';

/**
 * The power of the distance with which a plate moves near a corner of a held rim; 2 where the corner does no harm.
 *
 * @param before     direction from the corner back along the rim, mm
 * @param after      direction from the corner on along the rim (the plate lies to the left of it)
 * @param material   of the plate
 * @param isClamped  else hinged
 * @returns          1..2
 * @assumes          the angle is taken where the grain is drawn in by the fourth root of the ratio of the moduli, as if the
 *                   wood's twisting stiffness were the geometric mean of its two bending stiffnesses; so it is near, not exact
 * @source           williams-corners
 */
export function cornerPower(
  before: Place,
  after: Place,
  material: PlateMaterial,
  isClamped: boolean,
): number {
  const drawn = (material.eAcrossMPa / material.eAlongMPa) ** 0.25;
  const angle = (p: Place) => Math.atan2(p[1], p[0] * drawn);
  const turn = angle(before) - angle(after);
  const inner = turn - 2 * Math.PI * Math.floor(turn / (2 * Math.PI));
  if (isClamped) return inner <= Math.PI * 1.01 ? 2 : 1 + clampedPower(inner);
  if (inner < Math.PI) return Math.min(2, Math.PI / inner);
  return 2 - Math.PI / inner;
}

/** The smallest z with sin(z angle) = -z sin(angle), for angles over 180 degrees. */
function clampedPower(angle: number): number {
  let [low, high] = [0.4, 0.999];
  const rest = (z: number) => Math.sin(z * angle) + z * Math.sin(angle);
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2;
    if (rest(middle) > 0) low = middle;
    else high = middle;
  }
  return low;
}
