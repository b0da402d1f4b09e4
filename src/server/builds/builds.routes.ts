import { ADMITTED, type ServerRoute } from '../routes.ts';
import { buildForCaller, passportPdf, recordFile } from './builds.service.ts';

/** Papers and the full file of one build: for the teacher and for whoever builds it. */
export const buildRoutes: readonly ServerRoute[] = [
  {
    method: 'GET',
    url: '/api/builds/:id/passport.pdf',
    roles: ADMITTED,
    handle: async ({ context, caller, params, query, reply }) => {
      const found = await buildForCaller(context, caller, params['id'] ?? '');
      const pdf = await passportPdf(context, found, query['paper']);
      reply.header('content-type', 'application/pdf');
      return Buffer.from(pdf);
    },
  },
  {
    method: 'GET',
    url: '/api/builds/:id/record.json',
    roles: ADMITTED,
    handle: async ({ context, caller, params, reply }) => {
      const found = await buildForCaller(context, caller, params['id'] ?? '');
      reply
        .header('content-type', 'application/json; charset=utf-8')
        .header('content-disposition', `attachment; filename="build-${found.build}.json"`);
      return recordFile(context, caller, found);
    },
  },
];
