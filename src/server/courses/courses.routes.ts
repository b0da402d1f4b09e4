import { printedHost } from '../doors/door.ts';
import { paperAsked } from '../prints/paper-asked.ts';
import { Refusal } from '../refusal.ts';
import { type ServerRoute, TEACHER_ONLY } from '../routes.ts';
import { courseState } from './course-state.ts';
import { sessionPaper } from './session-paper.ts';

/** Prints of one course. */
export const courseRoutes: readonly ServerRoute[] = [
  {
    method: 'GET',
    url: '/api/courses/:id/sheet.pdf',
    roles: TEACHER_ONLY,
    handle: async ({ context, request, params, query, reply }) => {
      const found = await courseState(context, params['id'] ?? '');
      if (!found)
        throw new Refusal(
          404,
          'no-such-course',
          'There is no course under that id here; open the session page and print from there.',
        );
      const pdf = await sessionPaper({
        ...found,
        nowMs: context.nowMs(),
        host: printedHost(context, request),
        pdf: context.pdf,
        paper: paperAsked(query['paper'], found.state.course.setUp?.units === 'mm' ? 'a4' : 'letter'),
      });
      reply.header('content-type', 'application/pdf');
      return Buffer.from(pdf);
    },
  },
];
