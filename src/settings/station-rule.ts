import type { AgeBand, AgeWord, Route } from '../route/route-types.ts';
import type { AgeBandKey, Shop } from '../shop/shop.ts';

const BAND_KEYS: Readonly<Record<AgeBand, AgeBandKey>> = {
  under16: 'under_16',
  from16to17: 'from_16_to_17',
  adult: 'adult',
};

/**
 * Who may work at a station: the school's own table in the shop goes before the one of the route.
 *
 * @param stationId  station of the route
 * @param band       age band of the learner; nothing else about age is known
 * @returns          one of the four words; `alone` where neither table names the station
 * @source           common practice, no published source; the school's rule decides
 */
export function stationRule(route: Route, shop: Shop, stationId: string, band: AgeBand): AgeWord {
  const own = shop.ageRules.get(stationId)?.[BAND_KEYS[band]];
  if (own !== undefined) return own;
  const rules = route.ageRules.byStation;
  return Object.hasOwn(rules, stationId)
    ? (rules[stationId]?.[band] ?? 'alone')
    : route.ageRules.otherStations;
}
