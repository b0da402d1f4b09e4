import type { AgeBand, Route, Station } from '../route/route-types.ts';
import type { AgeBandKey, Shop } from '../shop/shop.ts';

const bands: readonly (readonly [AgeBand, AgeBandKey])[] = [
  ['under16', 'under_16'],
  ['from16to17', 'from_16_to_17'],
  ['adult', 'adult'],
];

/**
 * The route as this shop can do it: its number of places, keys, protection, added cautions and own age rules. A station
 * the shop does not have keeps its name with no place, so that the way without it is offered.
 *
 * @param route  a checked route
 * @param shop   what is at hand
 * @source       arithmetic
 */
export function routeInShop(route: Route, shop: Shop): Route {
  const stations = route.stations.map((s): Station => {
    const here = shop.stations.get(s.id);
    if (!here) return s;
    return {
      ...s,
      capacity: here.isHere ? (here.capacity ?? s.capacity) : 0,
      key: here.key ?? s.key,
      protect: [...new Set([...s.protect, ...(here.protect ?? [])])],
      cautions: [...s.cautions, ...here.cautions],
      without: here.without === undefined ? s.without : { ...s.without, text: here.without },
    };
  });
  const byStation = { ...route.ageRules.byStation };
  for (const [station, rule] of shop.ageRules)
    byStation[station] = Object.fromEntries(
      bands.map(([own, key]) => [own, rule[key]]),
    ) as (typeof byStation)[string];
  return { ...route, stations, ageRules: { ...route.ageRules, byStation } };
}
