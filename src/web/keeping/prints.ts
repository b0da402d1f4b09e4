/** Papers a print can be made on. */
export const PAPERS = [
  { value: 'letter', words: 'Letter' },
  { value: 'a4', words: 'A4' },
  { value: 'a3', words: 'A3' },
  { value: 'sheet', words: 'one large sheet' },
] as const;

export type Paper = (typeof PAPERS)[number]['value'];

/** What is to be printed. */
export interface PrintWish {
  readonly text: string;
  /** Id of a drawing, `all`, or `cards`. */
  readonly what: string;
  readonly paper: Paper;
  readonly revision: string;
  /** What the printer makes of 100 mm, both ways; left out: as the shop's file says, else 100. */
  readonly printedMm?: number;
}

/** Asks the server for a PDF. @throws Error with the server's sentence, or one that says it is not reached */
export async function askPrint({ printedMm, ...wish }: PrintWish): Promise<Blob> {
  const correction = printedMm === undefined ? {} : { printed_100: { x_mm: printedMm, y_mm: printedMm } };
  let response: Response;
  try {
    response = await fetch('/api/prints', {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ ...wish, ...correction }),
    });
  } catch {
    throw new Error(
      'The server is not reached; nothing was printed. Try again when the mark says Kept and sent.',
    );
  }
  if (response.ok) return response.blob();
  const said = (await response.json().catch(() => ({}))) as { message?: unknown };
  throw new Error(
    typeof said.message === 'string' ? said.message : `The server refused it (${response.status}).`,
  );
}
