import type { Reading, Route } from './route-types.ts';

/** The reading of a route by id; undefined when it has none. @source arithmetic */
export function readingOf(route: Route, id: string): Reading | undefined {
  for (const o of route.operations) for (const r of o.readings) if (r.id === id) return r;
  return undefined;
}
