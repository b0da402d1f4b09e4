import { type Finding, finding } from '../quantity/finding.ts';
import { fibreSaturationFrac } from './movement.ts';
import { mpFracOfOthers, type Species } from './species.ts';

/** Properties that the moisture formula covers. */
export type MoistProperty = 'modulus' | 'rupture' | 'shear_strength';

/**
 * A strength or modulus at another moisture than 12 %.
 *
 * @param at12          property at 12 %, any unit; > 0
 * @param green         the same property of green wood, same unit; > 0
 * @param moistureFrac  moisture wanted; 0..0.3
 * @param mpFrac        moisture where the green value is reached; 0.21..0.28
 * @returns             property, same unit; at and above `mpFrac` the green one
 * @assumes             about 21 C; not for shock or for tension across the grain
 * @source              wood-handbook, equation (5-3)
 */
export function propertyAtMoisture(
  at12: number,
  green: number,
  moistureFrac: number,
  mpFrac: number,
): number {
  if (moistureFrac >= mpFrac) return green;
  return at12 * (at12 / green) ** ((0.12 - moistureFrac) / (mpFrac - 0.12));
}

/**
 * A listed species' property at a moisture.
 *
 * @returns value in MPa, or a finding when the table has only one of the two states
 * @source  wood-handbook, equation (5-3)
 */
export function speciesPropertyMPa(
  species: Species,
  property: MoistProperty,
  moistureFrac: number,
): number | Finding {
  const at12 = species.values[`${property}_12_mpa`];
  const green = species.values[`${property}_green_mpa`];
  const mpFrac = species.values.mp_frac?.value ?? mpFracOfOthers;
  if (at12 && green) return propertyAtMoisture(at12.value, green.value, moistureFrac, mpFrac);
  if (at12 && Math.abs(moistureFrac - 0.12) < 1e-9) return at12.value;
  return finding({
    code: 'species-one-state',
    level: 'blocked',
    text: `${species.name} has no ${property.replace('_', ' ')} for both green and 12 % moisture in the tables here; use the value at 12 % as it is.`,
    source: 'wood-handbook',
  });
}

/**
 * Specific gravity at a moisture from the one on green volume.
 *
 * @param greenRatio    ovendry mass over green volume, against water; 0.1..1.2
 * @param moistureFrac  0..0.3
 * @returns             ovendry mass over the volume at that moisture, against water
 * @source              wood-handbook, equation (4-11)
 */
export function specificGravityAt(greenRatio: number, moistureFrac: number): number {
  const rest = Math.max(0, 1 - moistureFrac / fibreSaturationFrac);
  return greenRatio / (1 - 0.265 * greenRatio * rest);
}

/**
 * Density of wood with its water.
 *
 * @param gravityRatio  specific gravity at that moisture
 * @param moistureFrac  0..0.3
 * @returns             kg/m3
 * @source              wood-handbook, equation (4-12)
 */
export function densityKgPerM3(gravityRatio: number, moistureFrac: number): number {
  return 1000 * gravityRatio * (1 + moistureFrac);
}
