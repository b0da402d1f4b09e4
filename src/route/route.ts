import own from '../../data/route/operations.json' with { type: 'json' };
import schema from '../../data/schemas/route.schema.json' with { type: 'json' };
import { InputError } from '../quantity/input-error.ts';
import { routeFaults } from './route-check.ts';
import type { Route } from './route-types.ts';
import { type Schema, schemaFaults } from './schema-check.ts';

/**
 * Reads a route from what a JSON text gave and checks it: form, order, pieces, stations, jigs, keys.
 *
 * @param value  the parsed text
 * @returns      the route
 * @throws InputError naming the first fault and how many more there are
 * @source       arithmetic
 */
export function readRoute(value: unknown): Route {
  const form = schemaFaults(schema as unknown as Schema, value)[0];
  if (form)
    throw new InputError(
      'route-form',
      `The route is not in the form bracewright-route/1: ${form.place || 'the file'} is ${form.got}, wanted is ${form.wanted}; correct that place and load it again.`,
      form.place,
    );
  const route = value as Route;
  const faults = routeFaults(route);
  const first = faults[0];
  if (first !== undefined) {
    const more = faults.length > 1 ? ` (${faults.length - 1} more of this kind)` : '';
    throw new InputError('route-order', `The route cannot be used: ${first}${more}.`);
  }
  return route;
}

/**
 * The route the product comes with. The tests read it with every check; a page that opens does not check it again.
 *
 * @source common practice, no published source
 */
export function ownRoute(): Route {
  return own as unknown as Route;
}
