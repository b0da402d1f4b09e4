import type { z } from 'zod';
import { InputError } from '../quantity/input-error.ts';

/**
 * A request body in its declared form.
 *
 * @throws InputError with one sentence that names the first member that is wrong
 */
export function readBody<S extends z.ZodType>(schema: S, body: unknown): z.output<S> {
  const result = schema.safeParse(body);
  if (result.success) return result.data;
  const issue = result.error.issues[0];
  const member = issue?.path.map(String).join('.') ?? '';
  const where = member === '' ? 'The request' : `"${member}" in the request`;
  throw new InputError(
    'request-form',
    `${where} is not as agreed (${issue?.message ?? 'unknown'}); correct it and send it again.`,
    member || undefined,
  );
}
