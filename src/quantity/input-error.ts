/**
 * What a person gave cannot be used. The message is one clear sentence: what, the value got, the limit and the
 * remedy. Doors (command line, server, page) print it as it is; nothing else may be shown for it.
 */
export class InputError extends Error {
  override readonly name = 'InputError';

  /**
   * @param code     permanent code, never given a new meaning, e.g. `unknown-key`
   * @param message  the one sentence
   * @param member   the member it is about, e.g. `body.waist_width`; undefined when it is about the whole
   */
  constructor(
    readonly code: string,
    message: string,
    readonly member?: string,
  ) {
    super(message);
  }
}
