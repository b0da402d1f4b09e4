import { readingOf } from '../route/reading-of.ts';
import type { Route } from '../route/route-types.ts';
import type { BuildFacts } from './build-facts.ts';

/** One thickness of a top as it was read. */
export interface SpotRead {
  readonly spot: string;
  readonly thicknessMm: number;
  readonly state?: 'met' | 'doubtful' | 'broken';
}

/**
 * The last thickness read at every spot of a build's top.
 *
 * @source common practice, no published source
 */
export function topThicknesses(route: Route, facts: BuildFacts): readonly SpotRead[] {
  const read = [...facts.readings]
    .filter(([id]) => readingOf(route, id)?.replaces?.startsWith('top.thickness.') === true)
    .flatMap(([, list]) => list)
    .sort((a, b) => a.atMs - b.atMs);
  const bySpot = new Map<string, SpotRead>();
  for (const { spot, value, verdict } of read)
    if (spot !== undefined && value !== undefined)
      bySpot.set(spot, { spot, thicknessMm: value, ...(verdict ? { state: verdict.state } : {}) });
  return [...bySpot.values()];
}
