import { askServer } from '../record/record-server.ts';

/** A pattern as the server or the page's own bundle gives it. */
export interface PatternText {
  readonly id: string;
  readonly name: string;
  readonly text: string;
}

/** One saved revision of a pattern. */
export interface Revision {
  /** Hash of the text; empty while the server has not answered yet. */
  readonly hash: string;
  readonly parent: string | null;
  readonly note: string;
  /** ISO time. */
  readonly savedAt: string;
  readonly text: string;
}

/** What a new revision is made of. */
export interface NewRevision {
  readonly text: string;
  readonly parent: string | null;
  readonly note: string;
}

/** What became of a revision that was sent. */
export type SendResult =
  | { readonly kind: 'saved'; readonly hash: string }
  /** Another revision was made from the same parent: both are kept, the person decides. */
  | {
      readonly kind: 'two-revisions';
      readonly message: string;
      readonly hash: string;
      readonly other: string;
    }
  /** `isOtherDoor`: it would be taken over https. */
  | { readonly kind: 'refused'; readonly message: string; readonly isOtherDoor?: boolean }
  | { readonly kind: 'unreached' };

/** Stands for the hash of a starting pattern while no server has been reached. */
export const STARTING_HASH = 'starting';

/** A revision is worth waiting for longer: given up too early it would be sent twice. */
const SEND_TIMEOUT_MS = 25_000;

/** Asks the server; undefined when it cannot be reached or does not answer as agreed. */
async function ask(path: string): Promise<unknown> {
  const answer = await askServer<unknown>('GET', path);
  return answer.kind === 'answer' ? answer.value : undefined;
}

/** All patterns of the server; undefined when it is not reached. */
export async function askPatterns(): Promise<readonly PatternText[] | undefined> {
  const body = await ask('/api/patterns');
  return Array.isArray(body) ? (body as PatternText[]) : undefined;
}

/** Saved revisions, the oldest first; undefined when the server is not reached. */
export async function askRevisions(patternId: string): Promise<readonly Revision[] | undefined> {
  const body = await ask(`/api/patterns/${encodeURIComponent(patternId)}/revisions`);
  if (!Array.isArray(body)) return undefined;
  return (body as Revision[]).toSorted((a, b) => a.savedAt.localeCompare(b.savedAt));
}

const isKnown = (parent: string | null): boolean => parent !== '' && parent !== STARTING_HASH;

/** Sends a revision. */
export async function sendRevision(patternId: string, revision: NewRevision): Promise<SendResult> {
  let response: Response;
  let body: { hash?: unknown; other?: unknown; message?: unknown; code?: unknown };
  try {
    response = await fetch(`/api/patterns/${encodeURIComponent(patternId)}/revisions`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', accept: 'application/json' },
      body: JSON.stringify({ ...revision, parent: isKnown(revision.parent) ? revision.parent : null }),
      signal: AbortSignal.timeout(SEND_TIMEOUT_MS),
    });
    body = (await response.json()) as typeof body;
  } catch {
    return { kind: 'unreached' };
  }
  if (response.ok && typeof body.hash === 'string') return { kind: 'saved', hash: body.hash };
  const message =
    typeof body.message === 'string' ? body.message : `The server refused it (${response.status}).`;
  if (response.status === 409 && typeof body.hash === 'string' && typeof body.other === 'string')
    return { kind: 'two-revisions', message, hash: body.hash, other: body.other };
  if (body.code === 'other-door') return { kind: 'refused', message, isOtherDoor: true };
  return response.status >= 500 ? { kind: 'unreached' } : { kind: 'refused', message };
}
