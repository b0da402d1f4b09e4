import type { BuildFacts } from '../../course/build-facts.ts';
import type { ClassState } from '../../course/class-state.ts';
import type { CourseNow } from '../class/use-course.ts';

/** What every part of a build's page is given. */
export interface BuildPartProps {
  readonly course: CourseNow;
  readonly state: ClassState;
  readonly build: string;
  readonly facts: BuildFacts;
}
