import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Context } from './context.ts';
import type { Caller } from './doors/caller.ts';
import type { Door } from './doors/door.ts';

/** Everyone who may ask. */
export type Role = Caller['role'];

/** One route: what it answers, who may ask. Every route of the server stands in one table of these; a test walks it as each role and as nobody. */
export interface ServerRoute {
  readonly method: 'GET' | 'POST' | 'PUT' | 'DELETE';
  readonly url: string;
  readonly roles: readonly Role[];
  /** Whether it is refused over plain http once https is set up; left out, everything only the teacher may write is. */
  readonly isGuarded?: boolean;
  /** Largest body, bytes; the default is small. */
  readonly bodyLimit?: number;
  readonly handle: (ask: Ask) => Promise<unknown>;
}

/** A request that got through the door. */
export interface Ask {
  readonly context: Context;
  readonly caller: Caller;
  readonly door: Door;
  /** Whether it came in over https. */
  readonly isTls: boolean;
  readonly request: FastifyRequest;
  readonly reply: FastifyReply;
  readonly params: Readonly<Record<string, string | undefined>>;
  readonly query: Readonly<Record<string, string | undefined>>;
  readonly body: unknown;
}

export const EVERYBODY: readonly Role[] = ['nobody', 'learner', 'helper', 'teacher'];
export const ADMITTED: readonly Role[] = ['learner', 'helper', 'teacher'];
export const TEACHER_ONLY: readonly Role[] = ['teacher'];

/** Whether a route is open over https and from this machine only, once https is set up. */
export const isGuarded = (route: ServerRoute): boolean =>
  route.isGuarded ?? (route.method !== 'GET' && route.roles.every((r) => r === 'teacher'));
