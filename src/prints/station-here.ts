import { capital } from '../quantity/words.ts';
import type { Route } from '../route/route-types.ts';
import { stationRule } from '../settings/station-rule.ts';
import type { Shop } from '../shop/shop.ts';

/** A station as it is in one shop. */
export interface StationOnCard {
  readonly name: string;
  readonly protect: readonly string[];
  readonly cautions: readonly string[];
  readonly keyText: string;
  /** Who may work here by age, in one sentence; empty where everyone may alone. */
  readonly ageText: string;
  readonly isHere: boolean;
  readonly without: string;
}

/** What protection is called on a card. */
const PROTECT_WORDS: Readonly<Record<string, string>> = {
  eyes: 'eyes',
  ears: 'ears',
  dust: 'dust mask or extraction',
  gloves: 'heat gloves',
  heat: 'hot surface',
  skin: 'skin',
};

const BANDS = [
  ['under16', 'under 16'],
  ['from16to17', '16 to 17'],
  ['adult', 'adult'],
] as const;

/** `Under 16: adult beside, 16 to 17: alone, adult: alone; your school's rule decides.` */
function ageText(route: Route, shop: Shop, stationId: string): string {
  const rules = BANDS.map(([band, words]) => [words, stationRule(route, shop, stationId, band)] as const);
  if (rules.every(([, word]) => word === 'alone')) return '';
  const said = rules.map(([words, word]) => `${words}: ${word}`).join(', ');
  return `${capital(said)}; your school\u2019s rule decides.`;
}

/**
 * A station of the route with what the shop says about it. Cautions of the shop are added, never put in place of those
 * of the route.
 *
 * @param operations  operations the card serves; their own cautions are added too
 * @source            common practice, no published source
 */
export function stationHere(
  route: Route,
  shop: Shop,
  stationId: string,
  operations: readonly string[],
): StationOnCard {
  const station = route.stations.find((s) => s.id === stationId);
  const here = shop.stations.get(stationId);
  const keyId = here?.key ?? station?.key ?? 'none';
  const key = route.keys.find((k) => k.id === keyId);
  const own = route.operations
    .filter((o) => operations.includes(o.id))
    .flatMap((o) => o.cautions)
    .filter((c) => !/^As [A-Z]\d/.test(c));
  const protect = [...new Set([...(station?.protect ?? []), ...(here?.protect ?? [])])];
  return {
    name: station?.name ?? stationId,
    protect: protect.map((p) => PROTECT_WORDS[p] ?? p),
    cautions: [...new Set([...(station?.cautions ?? []), ...(here?.cautions ?? []), ...own])],
    keyText: key?.text ?? keyId,
    ageText: ageText(route, shop, stationId),
    isHere: here?.isHere ?? true,
    without: here?.without ?? station?.without.text ?? '',
  };
}
