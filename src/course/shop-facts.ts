import type { RecordEvent } from './event.ts';
import type { BodyOf } from './event-kinds.ts';
import { foldEvents, type Reducer } from './fold.ts';
import {
  type Draft,
  nothingSaid,
  type Said,
  type StreamFacts,
  saidBy,
  takeAnywhere,
  understood,
} from './stream-facts.ts';

/** What is known of one person's key for one machine. */
export interface KeyFact extends Said {
  readonly person: string;
  readonly key: string;
  readonly givenMs: number;
  /** Why it does not count any more. */
  readonly ended?: string;
}

export interface StationFact {
  readonly outOfOrder?: Said & { readonly reason: string };
  readonly notCleaned?: Said & { readonly note?: string };
  readonly cleanedMs?: number;
  readonly settings: ReadonlyMap<string, Said & BodyOf<'station-set'>>;
  readonly proved?: Said & BodyOf<'station-proved'>;
  readonly checks: readonly (Said & BodyOf<'machine-checked'>)[];
}

export interface ClimateFact extends Said {
  readonly humidityFrac: number;
  readonly tempC?: number;
  readonly how?: 'logger' | 'opening' | 'gluing' | 'hand';
}

/** Everything the record says about the shop, which several courses share. */
export interface ShopFacts extends StreamFacts {
  readonly shop?: string;
  /** By `person/key`. */
  readonly keys: ReadonlyMap<string, KeyFact>;
  readonly keyRule?: BodyOf<'key-rule-set'>;
  /** By `station/band`. */
  readonly ageRules: ReadonlyMap<string, Said & BodyOf<'age-rule-set'>>;
  readonly stations: ReadonlyMap<string, StationFact>;
  readonly jigs: ReadonlyMap<string, { readonly provedMs?: number; readonly outOfOrder?: string }>;
  /** What a piece of rough wood costs, by `priceKey`. */
  readonly prices: ReadonlyMap<string, Said & BodyOf<'price-entered'>>;
  /** Oldest first. */
  readonly climate: readonly ClimateFact[];
  readonly anonymised: readonly string[];
}

type ShopDraft = Draft<ShopFacts>;

/** Folds the events of the shop. */
export const shopReducer: Reducer<ShopFacts> = {
  empty: () => ({
    ...nothingSaid(),
    keys: new Map(),
    ageRules: new Map(),
    stations: new Map(),
    jigs: new Map(),
    prices: new Map(),
    climate: [],
    anonymised: [],
  }),
  copy: (f) => ({
    ...f,
    keys: new Map(f.keys),
    ageRules: new Map(f.ageRules),
    stations: new Map(f.stations),
    jigs: new Map(f.jigs),
    prices: new Map(f.prices),
    revisions: new Map(f.revisions),
  }),
  apply: (facts, event) => applyToShop(facts as ShopDraft, event),
};

function applyToShop(d: ShopDraft, event: RecordEvent): void {
  d.shop ??= event.stream.slice('shop:'.length);
  const e = understood(d, event);
  if (!e) return;
  const said = saidBy(e);
  switch (e.kind) {
    case 'key-given':
      d.keys.set(`${e.body.person}/${e.body.key}`, {
        ...said,
        person: e.body.person,
        key: e.body.key,
        givenMs: e.body.atMs ?? e.time,
      });
      return;
    case 'key-taken':
      endKey(d, e.body.person, e.body.key, e.body.reason ?? 'taken back');
      return;
    case 'key-lapsed':
      endKey(d, e.body.person, e.body.key, e.body.reason);
      return;
    case 'key-rule-set':
      d.keyRule = e.body;
      return;
    case 'age-rule-set':
      d.ageRules.set(`${e.body.station}/${e.body.band}`, { ...said, ...e.body });
      return;
    case 'station-set': {
      const s = station(d, e.body.station);
      d.stations.set(e.body.station, {
        ...s,
        settings: new Map(s.settings).set(e.body.setting ?? 'main', { ...said, ...e.body }),
      });
      return;
    }
    case 'station-proved':
      d.stations.set(e.body.station, { ...station(d, e.body.station), proved: { ...said, ...e.body } });
      return;
    case 'station-out-of-order':
      d.stations.set(e.body.station, {
        ...station(d, e.body.station),
        outOfOrder: { ...said, reason: e.body.reason },
      });
      return;
    case 'station-in-order': {
      const { outOfOrder: _, ...s } = station(d, e.body.station);
      d.stations.set(e.body.station, s);
      return;
    }
    case 'station-not-cleaned':
      d.stations.set(e.body.station, { ...station(d, e.body.station), notCleaned: { ...said, ...e.body } });
      return;
    case 'station-cleaned': {
      const { notCleaned: _, ...s } = station(d, e.body.station);
      d.stations.set(e.body.station, { ...s, cleanedMs: e.time });
      return;
    }
    case 'machine-checked': {
      const s = station(d, e.body.station);
      d.stations.set(e.body.station, { ...s, checks: [...s.checks, { ...said, ...e.body }] });
      return;
    }
    case 'jig-proved':
      d.jigs.set(e.body.jig, { provedMs: e.time });
      return;
    case 'jig-out-of-order':
      d.jigs.set(e.body.jig, { ...d.jigs.get(e.body.jig), outOfOrder: e.body.reason });
      return;
    case 'room-climate': {
      const { humidityFrac, tempC, by, atMs } = e.body;
      d.climate = [
        ...d.climate,
        {
          ...said,
          humidityFrac,
          ...(tempC === undefined ? {} : { tempC }),
          ...(by ? { how: by } : {}),
          atMs: atMs ?? e.time,
        },
      ];
      return;
    }
    case 'price-entered':
      d.prices.set(priceKey(e.body.part, e.body.material), { ...said, ...e.body });
      return;
    case 'incident':
      takeAnywhere(d, e, said);
      keyAfterIncident(d, e.body);
      return;
    case 'person-anonymised':
      d.anonymised = d.anonymised.includes(e.body.person) ? d.anonymised : [...d.anonymised, e.body.person];
      return;
    default:
      takeAnywhere(d, e, said);
  }
}

/** Under what a price is kept: the part and what it is made of. @source arithmetic */
export const priceKey = (part: string, material: string): string => `${part} / ${material}`;

function station(d: ShopDraft, id: string): StationFact {
  return d.stations.get(id) ?? { settings: new Map(), checks: [] };
}

function endKey(d: ShopDraft, person: string, key: string, reason: string): void {
  const k = d.keys.get(`${person}/${key}`);
  if (k) d.keys.set(`${person}/${key}`, { ...k, ended: reason });
}

/** A key lapses after an incident that names it. */
function keyAfterIncident(d: ShopDraft, body: BodyOf<'incident'>): void {
  if (body.person !== undefined && body.key !== undefined)
    endKey(d, body.person, body.key, 'after an incident');
}

/**
 * The facts of the shop.
 *
 * @param events  of the stream of the shop, in any order, any number of times
 * @source        arithmetic
 */
export function foldShop(events: Iterable<RecordEvent>): ShopFacts {
  return foldEvents(shopReducer, events).facts;
}
