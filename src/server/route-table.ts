import { authorityRoutes } from './authority/authority.routes.ts';
import { buildRoutes } from './builds/builds.routes.ts';
import { courseRoutes } from './courses/courses.routes.ts';
import { demoRoutes } from './demo/demo.routes.ts';
import { doorRoutes } from './doors/doors.routes.ts';
import { fileRoutes } from './files/files.routes.ts';
import { officeRoutes } from './office/office.routes.ts';
import { patternRoutes } from './patterns/patterns.routes.ts';
import { peopleRoutes } from './people/people.routes.ts';
import { printRoutes } from './prints/prints.routes.ts';
import { recordRoutes } from './record/record.routes.ts';
import type { ServerRoute } from './routes.ts';

/** Every route under /api. */
export const routeTable: readonly ServerRoute[] = [
  ...doorRoutes,
  ...authorityRoutes,
  ...patternRoutes,
  ...printRoutes,
  ...recordRoutes,
  ...peopleRoutes,
  ...courseRoutes,
  ...buildRoutes,
  ...officeRoutes,
  ...demoRoutes,
  ...fileRoutes,
];
