import { formatDecimal, formatInches, formatMm } from '../quantity/print-length.ts';
import type { Adjust, GaugedJig } from '../shop/shop.ts';
import type { LeavesWood } from './machine-rounding.ts';

/** Where a jig stands for a wanted measure. Unit of the jig: mm or degrees. */
export interface JigPlace {
  readonly at: number;
  readonly isFixed: boolean;
  readonly jigId?: string;
  readonly jigName?: string;
  readonly decimals: 1 | 2;
}

/** A jig's measure in words: `50.8 mm (2.000 in)`, `1.10 deg`. @source inch-1959 */
export function placeText(value: number, unit: 'mm' | 'deg'): string {
  return unit === 'mm'
    ? `${formatMm(value)} mm (${formatInches(value)} in)`
    : `${formatDecimal(value, 2)} deg`;
}

/** Steps of an adjustable jig are counted from its least place. */
function steppedPlace(
  adjust: Adjust & { kind: 'adjustable' },
  wanted: number,
  leaves: LeavesWood | 'nearest',
): number {
  const exact = (Math.min(adjust.to, Math.max(adjust.from, wanted)) - adjust.from) / adjust.step;
  const slack = 1e-9;
  const count =
    leaves === 'nearest'
      ? Math.round(exact)
      : leaves === 'more'
        ? Math.ceil(exact - slack)
        : Math.floor(exact + slack);
  const last = Math.floor((adjust.to - adjust.from) / adjust.step + slack);
  return adjust.from + Math.min(count, last) * adjust.step;
}

/** The fixed place on the side of the wood nearest to the wanted one, else the nearest of all. */
function fixedPlace(at: readonly number[], wanted: number, leaves: LeavesWood | 'nearest'): number {
  const near = (a: number, b: number): number => Math.abs(a - wanted) - Math.abs(b - wanted);
  const nearest = [...at].sort(near)[0] as number;
  const slack = 1e-9;
  const safe = at
    .filter((p) => leaves === 'nearest' || (leaves === 'more' ? p >= wanted - slack : p <= wanted + slack))
    .sort(near)[0];
  const isSafeGood = safe !== undefined && Math.abs(safe - wanted) <= Math.abs(nearest - wanted) + 0.1;
  return isSafeGood ? safe : nearest;
}

/**
 * Where the jigs of one kind can stand for a wanted measure: an adjustable one on the side that leaves wood, else the
 * fixed place nearest to it.
 *
 * @param jigs    jigs of one kind; none: any measure can be had
 * @param wanted  mm or degrees
 * @param leaves  which side leaves wood; `nearest` where neither does
 * @returns       place, and whether it is fixed
 * @source        common practice, no published source
 */
export function placeOf(
  jigs: readonly GaugedJig[],
  wanted: number,
  leaves: LeavesWood | 'nearest',
): JigPlace {
  const places = jigs.map((jig) => {
    const { adjust } = jig;
    const at =
      adjust.kind === 'fixed' ? fixedPlace(adjust.at, wanted, leaves) : steppedPlace(adjust, wanted, leaves);
    const decimals: 1 | 2 = adjust.kind === 'adjustable' && adjust.step < 0.099 ? 2 : 1;
    return { at, isFixed: adjust.kind === 'fixed', jigId: jig.id, jigName: jig.name, decimals };
  });
  const best = places.sort((a, b) => Math.abs(a.at - wanted) - Math.abs(b.at - wanted))[0];
  return best ?? { at: wanted, isFixed: false, decimals: 1 };
}
