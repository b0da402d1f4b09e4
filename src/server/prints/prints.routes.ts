import { z } from 'zod';
import { readBody } from '../../contract/read-body.ts';
import { PAPER_NAMES } from '../../output/paper.ts';
import { shopOfStore } from '../courses/course-state.ts';
import { printedHost } from '../doors/door.ts';
import { ADMITTED, type ServerRoute } from '../routes.ts';

const printed = z.number().min(50).max(150);

/** A print of a pattern's text, saved or draft. */
const wantedPrint = z.strictObject({
  text: z.string().min(1).max(500_000),
  /** Id of a drawing, `all` for all drawings, `cards` for all setting cards. */
  what: z.string().min(1).max(80),
  paper: z.enum(PAPER_NAMES),
  /** Revision as people say it. */
  revision: z.string().min(1).max(40),
  /** What the printer made of the 100 mm line, across and down, mm. */
  printed_100: z.strictObject({ x_mm: printed, y_mm: printed }).optional(),
});

/** Full-scale paper of the pattern page. */
export const printRoutes: readonly ServerRoute[] = [
  {
    method: 'POST',
    url: '/api/prints',
    roles: ADMITTED,
    bodyLimit: 1_000_000,
    handle: async ({ context, request, body, reply }) => {
      const wanted = readBody(wantedPrint, body);
      const { printed_100: corrected, ...rest } = wanted;
      const shop = await shopOfStore(context);
      const pdf = await context.pdf.make({
        kind: 'pattern',
        wish: {
          ...rest,
          ...(corrected ? { printed100Mm: { x: corrected.x_mm, y: corrected.y_mm } } : {}),
          day: new Date(context.nowMs()).toISOString().slice(0, 10),
          host: printedHost(context, request),
          ...(shop ? { shop } : {}),
        },
      });
      reply.header('content-type', 'application/pdf');
      return Buffer.from(pdf);
    },
  },
];
