import type { FastifyRequest } from 'fastify';
import type { Context } from '../context.ts';
import { isThisMachine } from './caller.ts';
import type { SecureDoor } from './secure-door.ts';

/** Through which door a request came. */
export type Door = 'this machine' | 'https' | 'http';

/** The door of a request. @param isTls  whether it came in over https */
export const doorOf = (request: FastifyRequest, isTls: boolean): Door =>
  isThisMachine(request) ? 'this machine' : isTls ? 'https' : 'http';

const hostOf = (request: FastifyRequest): string =>
  (request.headers.host ?? '').replace(/:\d+$/, '').toLowerCase();

/** Address of the https door for who came under some name; the name is kept when the door's certificate has it. */
export function secureAddress(door: SecureDoor, request: FastifyRequest): string {
  const hosts = door.hosts();
  const came = hostOf(request);
  return `https://${hosts.includes(came) ? came : (hosts[0] ?? 'localhost')}:${door.httpsPort()}/`;
}

/** Where a request must go for what is accepted over https or from this machine only; undefined when it may stay. */
export function elsewhereFor(context: Context, request: FastifyRequest, door: Door): string | undefined {
  return door === 'http' && context.secureDoor ? secureAddress(context.secureDoor, request) : undefined;
}

/** Host that codes on paper lead to: phones read them, so the plain door, under a name of the network. */
export function printedHost(context: Context, request: FastifyRequest): string {
  const door = context.secureDoor;
  const hosts = door?.hosts() ?? [];
  const came = hostOf(request);
  const host = hosts.includes(came) ? came : hosts[0];
  return door && host !== undefined
    ? `${host}:${door.httpPort()}`
    : (request.headers.host ?? 'bracewright.local');
}
