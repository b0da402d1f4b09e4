/** A request that is refused: HTTP status, permanent code, one sentence. */
export class Refusal extends Error {
  override readonly name = 'Refusal';

  constructor(
    readonly status: number,
    readonly code: string,
    message: string,
    /** More for the program, such as the other revision. */
    readonly more: Readonly<Record<string, unknown>> = {},
  ) {
    super(message);
  }
}
