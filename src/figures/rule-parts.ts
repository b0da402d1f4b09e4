import type { Remedy } from '../graph/rule.ts';
import type { NumberInputId } from '../pattern/input-table.ts';
import { input } from './inputs.ts';

/**
 * One way to mend a rule, by the id of the input.
 *
 * @param toward  the way it has to move; undefined when either may help
 * @param step    smallest step worth setting, unit of the input; 0.1 when not given
 * @source        arithmetic
 */
export function mend(id: NumberInputId, toward?: 'more' | 'less', step?: number): Remedy {
  return {
    input: input(id),
    ...(toward ? { toward } : {}),
    ...(step === undefined ? {} : { step }),
  };
}
