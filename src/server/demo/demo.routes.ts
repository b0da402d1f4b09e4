import { type ServerRoute, TEACHER_ONLY } from '../routes.ts';
import { removeDemo } from './demo.service.ts';

/** The demo goes away with one action. */
export const demoRoutes: readonly ServerRoute[] = [
  {
    method: 'POST',
    url: '/api/demo/remove',
    roles: TEACHER_ONLY,
    handle: ({ context, caller }) => removeDemo(context, caller.person),
  },
];
