import { HOUR_MS } from '../quantity/time.ts';
import { type ClassState, type CourseInShop, planOf, stationOfWork } from './class-state.ts';

/** Something that takes a place at a station or uses a jig. */
export interface Use {
  readonly build: string;
  readonly op: string;
  readonly why: 'working' | 'resting';
  /** Resting: when it may be released. */
  readonly freeMs?: number;
}

/** Who holds what in the whole shop. */
export interface Occupancy {
  readonly stations: ReadonlyMap<string, readonly Use[]>;
  readonly jigs: ReadonlyMap<string, readonly Use[]>;
}

/** A start without an end does not hold a station into the next day. */
const longestWorkMs = 8 * HOUR_MS;

/**
 * Stations and jigs in use at a moment, by all courses of the shop.
 *
 * @param state  the class and the other courses
 * @param nowMs  the moment
 * @source       common practice, no published source
 */
export function occupancy(state: ClassState, nowMs: number): Occupancy {
  const stations = new Map<string, Use[]>();
  const jigs = new Map<string, Use[]>();
  const add = (map: Map<string, Use[]>, id: string, use: Use): void => {
    const list = map.get(id);
    if (list) list.push(use);
    else map.set(id, [use]);
  };
  const jigsOf = new Map(state.route.operations.map((o) => [o.id, o.jigs]));
  for (const c of [state as CourseInShop, ...state.others])
    for (const [build, facts] of c.builds) {
      for (const [op, o] of facts.operations)
        for (const [partId, part] of o.parts) {
          if (part.startedMs === undefined || part.doneMs !== undefined || o.doneMs !== undefined) continue;
          if (nowMs - part.startedMs > longestWorkMs) continue;
          const at = stationOfWork(planOf(state, facts), op, partId, part) ?? 'bench';
          const use: Use = { build, op, why: 'working' };
          add(stations, at, use);
          for (const j of jigsOf.get(op) ?? []) add(jigs, j, use);
        }
      for (const clamp of facts.clamps.values()) {
        const held = clamp.holds.filter((h) => h.releasedMs === undefined);
        for (const h of held)
          add(stations, h.what, {
            build,
            op: clamp.op,
            why: 'resting',
            freeMs: clamp.sinceMs + h.leastH * HOUR_MS,
          });
        if (held.length > 0)
          for (const j of jigsOf.get(clamp.op) ?? [])
            add(jigs, j, {
              build,
              op: clamp.op,
              why: 'resting',
              freeMs: clamp.sinceMs + Math.max(...held.map((h) => h.leastH)) * HOUR_MS,
            });
      }
    }
  return { stations, jigs };
}

/** When the first of some places comes free by itself, as far as that is known. */
export function soonestFree(uses: readonly Use[]): { readonly freeMs?: number } {
  const times = uses.flatMap((u) => u.freeMs ?? []);
  return times.length > 0 ? { freeMs: Math.min(...times) } : {};
}

/** One thing that can be taken out of clamps now, or later. */
export interface Release {
  readonly build: string;
  readonly op: string;
  readonly part: string;
  readonly what: string;
  readonly sinceMs: number;
  readonly leastMs: number;
  readonly usualMs: number;
  /** met: rested the usual time; doubtful: only the least; broken: not yet. */
  readonly state: 'met' | 'doubtful' | 'broken';
}

/**
 * Everything in clamps, the longest rested first.
 *
 * @param state  the class
 * @param nowMs  the moment
 * @source       common practice, no published source
 */
export function releases(state: ClassState, nowMs: number): readonly Release[] {
  const found: Release[] = [];
  for (const [build, facts] of state.builds)
    for (const c of facts.clamps.values())
      for (const h of c.holds) {
        if (h.releasedMs !== undefined) continue;
        const leastMs = c.sinceMs + h.leastH * HOUR_MS;
        const usualMs = c.sinceMs + h.usualH * HOUR_MS;
        const rested = nowMs >= usualMs ? 'met' : nowMs >= leastMs ? 'doubtful' : 'broken';
        found.push({
          build,
          op: c.op,
          part: c.part,
          what: h.what,
          sinceMs: c.sinceMs,
          leastMs,
          usualMs,
          state: rested,
        });
      }
  return found.sort((a, b) => a.leastMs - b.leastMs || (a.build < b.build ? -1 : 1));
}
