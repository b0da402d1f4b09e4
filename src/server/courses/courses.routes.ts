import { InputError } from '../../quantity/input-error.ts';
import { Refusal } from '../refusal.ts';
import { type ServerRoute, TEACHER_ONLY } from '../routes.ts';
import { courseState } from './course-state.ts';
import { sessionPaper } from './session-paper.ts';

const PAPERS = ['a4', 'letter'] as const;

/** The paper asked for, or what the units of the course suggest. */
function paperOf(asked: string | undefined, units: 'mm' | 'in' | undefined): (typeof PAPERS)[number] {
  if (asked === undefined) return units === 'mm' ? 'a4' : 'letter';
  const known = PAPERS.find((p) => p === asked);
  if (known) return known;
  throw new InputError(
    'paper',
    `The paper "${asked.slice(0, 20)}" is not known here; ask for ${PAPERS.join(' or ')}.`,
    'paper',
  );
}

/** Prints of one course. */
export const courseRoutes: readonly ServerRoute[] = [
  {
    method: 'GET',
    url: '/api/courses/:id/sheet.pdf',
    roles: TEACHER_ONLY,
    handle: async ({ context, params, query, reply }) => {
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
        paper: paperOf(query['paper'], found.state.course.setUp?.units),
      });
      reply.header('content-type', 'application/pdf');
      return Buffer.from(pdf);
    },
  },
];
