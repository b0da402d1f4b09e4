import { shopOfCourse } from '../../course/shop-of-record.ts';
import type { Context } from '../context.ts';
import { printedHost } from '../doors/door.ts';
import { paperAsked, usualPaper } from '../prints/paper-asked.ts';
import { Refusal } from '../refusal.ts';
import { ADMITTED, type ServerRoute, TEACHER_ONLY } from '../routes.ts';
import { courseCardsPdf } from './course-cards.ts';
import { courseState } from './course-state.ts';
import { sessionPaper } from './session-paper.ts';

async function courseOr404(context: Context, id: string) {
  const found = await courseState(context, id);
  if (!found)
    throw new Refusal(
      404,
      'no-such-course',
      'There is no course under that id here; open the session page and print from there.',
    );
  return found;
}

/** Prints of one course. */
export const courseRoutes: readonly ServerRoute[] = [
  {
    method: 'GET',
    url: '/api/courses/:id/sheet.pdf',
    roles: TEACHER_ONLY,
    handle: async ({ context, request, params, query, reply }) => {
      const found = await courseOr404(context, params['id'] ?? '');
      const pdf = await sessionPaper({
        ...found,
        nowMs: context.nowMs(),
        host: printedHost(context, request),
        pdf: context.pdf,
        paper: paperAsked(query['paper'], usualPaper(shopOfCourse(found.state))),
      });
      reply.header('content-type', 'application/pdf');
      return Buffer.from(pdf);
    },
  },
  {
    method: 'GET',
    url: '/api/courses/:id/cards.pdf',
    roles: ADMITTED,
    handle: async ({ context, caller, request, params, query, reply }) => {
      const id = params['id'] ?? '';
      // a card names no person; who joined one course still gets the cards of that course only
      const found = await courseOr404(context, caller.role === 'teacher' || caller.course === id ? id : '');
      const { card, paper } = query;
      const pdf = await courseCardsPdf({
        ...found,
        nowMs: context.nowMs(),
        pdf: context.pdf,
        host: printedHost(context, request),
        ...(card === undefined ? {} : { card }),
        ...(paper === undefined ? {} : { paper }),
      });
      reply.header('content-type', 'application/pdf');
      return Buffer.from(pdf);
    },
  },
];
