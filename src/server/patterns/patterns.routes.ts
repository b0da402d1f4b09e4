import { readBody } from '../../contract/read-body.ts';
import { newPattern, newRevision } from '../../contract/requests.ts';
import { EVERYBODY, type ServerRoute, TEACHER_ONLY } from '../routes.ts';
import { addPattern, allPatterns, revisionsOf, saveRevision } from './patterns.service.ts';

/** Patterns and their revisions. */
export const patternRoutes: readonly ServerRoute[] = [
  { method: 'GET', url: '/api/patterns', roles: EVERYBODY, handle: ({ context }) => allPatterns(context) },
  {
    method: 'POST',
    url: '/api/patterns',
    roles: TEACHER_ONLY,
    bodyLimit: 1_000_000,
    handle: async ({ context, caller, body, reply }) => {
      const { text, note } = readBody(newPattern, body);
      reply.code(201);
      return addPattern(context, text, note, caller.person);
    },
  },
  {
    method: 'GET',
    url: '/api/patterns/:id/revisions',
    roles: EVERYBODY,
    handle: ({ context, params }) => revisionsOf(context, params['id'] ?? ''),
  },
  {
    method: 'POST',
    url: '/api/patterns/:id/revisions',
    roles: TEACHER_ONLY,
    bodyLimit: 1_000_000,
    handle: async ({ context, caller, params, body, reply }) => {
      const saved = await saveRevision(
        context,
        params['id'] ?? '',
        readBody(newRevision, body),
        caller.person,
      );
      reply.code(201);
      return saved;
    },
  },
];
