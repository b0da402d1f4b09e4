import type { RecordEvent } from '../../course/event.ts';
import type { KnownPerson, Me } from './device-log.ts';

/** What the server said to a request: its answer, a refusal in one sentence, or nothing at all. */
export type Answer<T> =
  | { readonly kind: 'answer'; readonly value: T }
  | { readonly kind: 'refused'; readonly status: number; readonly code: string; readonly message: string }
  | { readonly kind: 'unreached' };

const TIMEOUT_MS = 8000;

/** What `early.ts` asked for before the page was loaded; each answer is taken once. */
function askedEarly(method: string, path: string): Promise<Response> | undefined {
  const { asked } = window as { readonly asked?: Map<string, Promise<Response>> };
  const answer = method === 'GET' ? asked?.get(path) : undefined;
  asked?.delete(path);
  return answer;
}

/** Asks the server. Never throws. */
export async function askServer<T>(
  method: 'GET' | 'POST' | 'PUT' | 'DELETE',
  path: string,
  body?: unknown,
): Promise<Answer<T>> {
  try {
    const response = await (askedEarly(method, path) ??
      fetch(path, {
        method,
        headers: {
          accept: 'application/json',
          ...(body === undefined ? {} : { 'content-type': 'application/json' }),
        },
        ...(body === undefined ? {} : { body: JSON.stringify(body) }),
        signal: AbortSignal.timeout(TIMEOUT_MS),
      }));
    if (response.headers.get('content-type')?.includes('json') !== true) return { kind: 'unreached' };
    const value = (await response.json()) as unknown;
    if (response.ok) return { kind: 'answer', value: value as T };
    const { code, message } = value as { code?: string; message?: string };
    return {
      kind: 'refused',
      status: response.status,
      code: code ?? 'unknown',
      message: message ?? 'The server refused it.',
    };
  } catch {
    return { kind: 'unreached' };
  }
}

/** Who am I. */
export const askMe = () => askServer<Me & { readonly now_ms: number }>('GET', '/api/me');
/** People I may see. */
export const askPeople = () => askServer<readonly KnownPerson[]>('GET', '/api/people');
/** Events that arrived after a number. */
export const askEvents = (after: number) =>
  askServer<{ readonly events: readonly RecordEvent[]; readonly last: number; readonly more: boolean }>(
    'GET',
    `/api/events?after=${after}`,
  );
/** Sends events; sending twice is harmless. */
export const sendEvents = (events: readonly RecordEvent[]) =>
  askServer<{
    readonly kept: readonly string[];
    readonly refused: readonly { readonly id: string; readonly code: string; readonly message: string }[];
  }>('POST', '/api/events', { events });
