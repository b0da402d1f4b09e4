import type { BodyOf } from '../../course/event-kinds.ts';
import { planFormat } from '../../course/plan-text.ts';
import { enter, withdraw } from '../record/record.ts';

const stream = (courseId: string) => `course:${courseId}` as const;

/** The class follows this plan from now on. */
export const publishPlan = (courseId: string, steps: string, sessions: number, dueMs?: number) =>
  enter([
    {
      stream: stream(courseId),
      kind: 'plan-published',
      body: { format: planFormat, steps, sessions, ...(dueMs === undefined ? {} : { dueMs }) },
    },
  ]);

/** The teacher's own choice of a session for a step. */
export const pinStep = (courseId: string, body: BodyOf<'step-pinned'>) =>
  enter([{ stream: stream(courseId), kind: 'step-pinned', body }]);

/** Takes such a choice back. */
export const unpinStep = (courseId: string, event: string) => withdraw(stream(courseId), event);
