import type { InputSpec } from './input-spec.ts';
import { inputsOfBody } from './inputs-of-body.ts';
import { inputsOfFittings } from './inputs-of-fittings.ts';

/** Every number a pattern may give, in the order of the page and the file. Limits are a guard against slips, not advice. */
export const inputTable = [...inputsOfBody, ...inputsOfFittings] as const satisfies readonly InputSpec[];

/** Id of a number a pattern may give. */
export type NumberInputId = (typeof inputTable)[number]['id'];
