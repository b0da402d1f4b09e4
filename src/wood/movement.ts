import { type Finding, finding } from '../quantity/finding.ts';
import type { Species } from './species.ts';

/** Across the board: radial for quartered faces, tangential for flat ones; or along the grain. */
export type GrainDirection = 'radial' | 'tangential' | 'along';

/** How much a dimension changes, and by which formula. */
export interface Movement {
  readonly changeMm: number;
  readonly formula: 'coefficient' | 'shrinkage' | 'longitudinal';
  /** True where a value behind it is remembered, not looked up. */
  readonly isFromMemory: boolean;
  readonly source: string;
}

/** Fibre saturation: above it wood does not move. */
export const fibreSaturationFrac = 0.3;
/** Moisture between which the coefficients hold. */
const coefficientRange = [0.06, 0.14] as const;
/** Green to ovendry along the grain, middle of 0.1 to 0.2 % of normal wood. */
const longitudinalShrinkageFrac = 0.0015;

/**
 * Change of a dimension when the wood goes from one moisture to another.
 *
 * @param dimensionMm  at the first moisture; > 0
 * @param fromFrac     first moisture, 0..0.3
 * @param toFrac       second moisture, 0..0.3
 * @param species      from `findSpecies`
 * @param direction    radial for quartered, tangential for flat-sawn, along for the length
 * @returns            change in mm, + grows; a finding when the species has no value for this direction
 * @assumes            free wood; between 6 and 14 % the coefficient of the species, outside it the formula over the
 *                     whole shrinkage; along the grain 0.1 to 0.2 % from green to dry, taken as 0.15 %
 * @outside            moisture above 30 % counts as 30 %: wood that wet no longer moves
 * @throws RangeError when the dimension is not above 0 or a moisture is below 0
 * @source             wood-handbook, equations (13-2) and (13-3)
 */
export function dimensionalChange(
  dimensionMm: number,
  fromFrac: number,
  toFrac: number,
  species: Species,
  direction: GrainDirection,
): Movement | Finding {
  if (!(dimensionMm > 0)) throw new RangeError(`dimensionMm is ${dimensionMm}; it must be above 0`);
  if (!(fromFrac >= 0) || !(toFrac >= 0))
    throw new RangeError(`moisture ${fromFrac} to ${toFrac} is below 0`);
  const [from, to] = [Math.min(fromFrac, fibreSaturationFrac), Math.min(toFrac, fibreSaturationFrac)];
  if (direction === 'along')
    return {
      changeMm: dimensionMm * byShrinkage(longitudinalShrinkageFrac, from, to),
      formula: 'longitudinal',
      isFromMemory: true,
      source: 'from memory',
    };
  const coefficient = species.values[`change_${direction}_per_pct`];
  const shrinkage = species.values[`shrinkage_${direction}_frac`];
  const isInside = [from, to].every(
    (m) => m >= coefficientRange[0] - 1e-9 && m <= coefficientRange[1] + 1e-9,
  );
  const isByCoefficient = coefficient !== undefined && (isInside || !shrinkage);
  const used = isByCoefficient ? coefficient : shrinkage;
  if (!used) return noValue(species, direction);
  const changeFrac = isByCoefficient
    ? used.value * 100 * (to - from) // [wood-handbook] (13-2)
    : byShrinkage(used.value, from, to);
  return {
    changeMm: dimensionMm * changeFrac,
    formula: isByCoefficient ? 'coefficient' : 'shrinkage',
    isFromMemory: used.provenance === 'from memory',
    source: used.source,
  };
}

/** [wood-handbook] (13-3): (M_F - M_I) / (30 x 100 / S - 30 + M_I), moisture and S in percent. */
function byShrinkage(shrinkageFrac: number, from: number, to: number): number {
  return (to - from) / (fibreSaturationFrac / shrinkageFrac - fibreSaturationFrac + from);
}

function noValue(species: Species, direction: GrainDirection): Finding {
  return finding({
    code: 'species-no-movement',
    level: 'blocked',
    text: `${species.name} has no ${direction} shrinkage in the tables here; choose a listed species that is near to it.`,
    source: 'wood-handbook',
  });
}
