import type { FreezePoint, Route } from '../route/route-types.ts';
import type { BuildFacts } from './build-facts.ts';

/** Whether an input id is meant by a name that may end in a star. */
function isMeant(pattern: string, input: string): boolean {
  return pattern.endsWith('*') ? input.startsWith(pattern.slice(0, -1)) : pattern === input;
}

/** The freeze points of an input of the pattern. @source common practice, no published source */
export function freezePointsOf(route: Route, input: string): readonly FreezePoint[] {
  return route.freezePoints.filter((f) => f.inputs.some((p) => isMeant(p, input)));
}

/** A choice that can no longer be changed in a build. */
export interface Frozen {
  readonly point: FreezePoint;
  /** The operation that was begun. */
  readonly by: string;
  readonly text: string;
}

/**
 * Whether a build may still change an input of its pattern: frozen once the first of the operations named has begun.
 *
 * @param route  of the course
 * @param facts  of the build
 * @param input  id of the input
 * @returns      undefined while it is free
 * @source       common practice, no published source
 */
export function frozenBy(route: Route, facts: BuildFacts, input: string): Frozen | undefined {
  for (const point of freezePointsOf(route, input)) {
    const by = point.lastChangeBefore.find((op) => isBegun(facts, op));
    if (by === undefined) continue;
    const name = route.operations.find((o) => o.id === by)?.name ?? by;
    return {
      point,
      by,
      text: `The ${point.choice} can no longer be changed in this build: "${name}" has begun.`,
    };
  }
  return undefined;
}

/** Whether anything of an operation was started, done or put in clamps. */
export function isBegun(facts: BuildFacts, op: string): boolean {
  const o = facts.operations.get(op);
  if (o?.skipped !== undefined) return false;
  if (o && (o.doneMs !== undefined || o.parts.size > 0)) return true;
  return [...facts.clamps.values()].some((c) => c.op === op);
}
