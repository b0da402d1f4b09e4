import type { PlannedRoute } from '../route/planned-route.ts';
import type { Route } from '../route/route-types.ts';

/** Operations of a route in the order of work that must be done for some of them to be done. */
function withBefore(plan: PlannedRoute, ops: readonly string[]): readonly string[] {
  const wanted = new Set<string>();
  const visit = (op: string): void => {
    const planned = plan.byId.get(op);
    if (!planned || wanted.has(op)) return;
    wanted.add(op);
    for (const link of planned.before) visit(link.from);
  };
  for (const op of ops) visit(op);
  return plan.operations.map((p) => p.op.id).filter((op) => wanted.has(op));
}

/**
 * The operations that some finished coarse steps stand for: their own and everything before them.
 *
 * @param route  with its coarse steps
 * @param plan   of the instrument
 * @param steps  ids of coarse steps
 * @returns      ids of operations in the order of work; steps the route does not have count nothing
 * @source       common practice, no published source
 */
export function operationsOfSteps(
  route: Route,
  plan: PlannedRoute,
  steps: readonly string[],
): readonly string[] {
  const own = route.stageOf.steps.filter((s) => steps.includes(s.id)).flatMap((s) => s.operations);
  return withBefore(plan, own);
}

/**
 * The coarse steps a coarse step rests on, itself left out: those with an operation that has to be done before it.
 *
 * @source common practice, no published source
 */
export function stepsUnder(route: Route, plan: PlannedRoute, step: string): ReadonlySet<string> {
  const needed = new Set(operationsOfSteps(route, plan, [step]));
  return new Set(
    route.stageOf.steps
      .filter((s) => s.id !== step && s.operations.some((op) => needed.has(op)))
      .map((s) => s.id),
  );
}

/**
 * What touching a cell of the wall does: an open step makes it and all to its left done; a done one is taken off with
 * everything that rests on it.
 *
 * @param done  ids of the steps done so far
 * @param step  the one touched
 * @returns     ids of the steps done now, in the order of the route
 * @source      common practice, no published source
 */
export function afterTouch(
  route: Route,
  plan: PlannedRoute,
  done: readonly string[],
  step: string,
): readonly string[] {
  const ids = route.stageOf.steps.map((s) => s.id);
  if (!done.includes(step)) {
    const upTo = ids.slice(0, ids.indexOf(step) + 1);
    return ids.filter((id) => upTo.includes(id) || done.includes(id));
  }
  return ids.filter((id) => done.includes(id) && id !== step && !stepsUnder(route, plan, id).has(step));
}
