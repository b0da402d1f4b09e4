import type { Figure } from '../graph/figure.ts';
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
    input: input(id) as Figure,
    ...(toward ? { toward } : {}),
    ...(step === undefined ? {} : { step }),
  };
}

/** A list of figures of different kinds as the catalogue takes it. @source arithmetic */
export function listFigures(...figures: readonly object[]): readonly Figure[] {
  return figures as readonly Figure[];
}
