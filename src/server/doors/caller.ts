import { createHash } from 'node:crypto';
import type { FastifyRequest } from 'fastify';
import type { Context } from '../context.ts';

/** Who asks. */
export interface Caller {
  readonly role: 'nobody' | 'learner' | 'helper' | 'teacher';
  readonly person: string;
  readonly course: string;
  readonly build: string;
  /** Hash of the token it came with; empty for this machine. */
  readonly tokenHash: string;
}

/** Name of the cookie that holds a device's token: over https one that no page of plain http can read, send or replace. */
export const tokenCookie = (isTls: boolean): string => (isTls ? '__Host-bracewright' : 'bracewright');
/** Person id of the teacher. */
export const TEACHER = 'teacher';

const NOBODY: Caller = { role: 'nobody', person: '', course: '', build: '', tokenHash: '' };

/** Hash under which a token is kept. A token of the plain door, which others in the network may have read, is none at the https door. */
export const hashToken = (token: string, isTls = false): string =>
  createHash('sha256')
    .update(isTls ? `https ${token}` : token)
    .digest('hex');

/** The token of a request, from its cookie. */
export function tokenOf(request: FastifyRequest, isTls: boolean): string | undefined {
  for (const pair of (request.headers.cookie ?? '').split(';')) {
    const cut = pair.indexOf('=');
    if (cut > 0 && pair.slice(0, cut).trim() === tokenCookie(isTls)) return pair.slice(cut + 1).trim();
  }
  return undefined;
}

const LOOPBACK = new Set(['127.0.0.1', '::1', '::ffff:127.0.0.1']);

/** Whether a request comes from this machine under one of its own names (a page of another site is refused by its name). */
export function isThisMachine(request: FastifyRequest): boolean {
  const host = (request.headers.host ?? '').replace(/:\d+$/, '');
  return (
    LOOPBACK.has(request.socket.remoteAddress ?? '') && ['localhost', '127.0.0.1', '[::1]'].includes(host)
  );
}

/**
 * Who asks: by token, or, as long as no passphrase is set, the teacher at this machine.
 *
 * @param isTls  whether the request came in over https
 */
export async function callerOf(context: Context, request: FastifyRequest, isTls: boolean): Promise<Caller> {
  const token = tokenOf(request, isTls);
  if (token) {
    const hash = hashToken(token, isTls);
    const admission = await context.sessions.admissionOf(hash);
    if (admission) return { ...admission, tokenHash: hash };
  }
  if (isThisMachine(request) && (await context.sessions.passphraseHash()) === undefined)
    return { role: 'teacher', person: TEACHER, course: '', build: '', tokenHash: '' };
  return NOBODY;
}
