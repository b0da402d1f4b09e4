import { type ClassState, labelOf } from '../../course/class-state.ts';

/** Name of an operation in plain words. */
export const operationName = (state: ClassState, op: string): string =>
  state.route.operations.find((o) => o.id === op)?.name ?? op;

/** Name of a station or of a jig that holds something. */
export const placeName = (state: ClassState, id: string): string =>
  state.route.stations.find((s) => s.id === id)?.name ??
  state.route.jigs.find((j) => j.id === id)?.name ??
  id;

/** Number of a build on the wall. */
export function numberOfBuild(state: ClassState, build: string): number | undefined {
  return [...state.course.learners.values()].find((l) => l.build === build)?.number;
}

/** Person of a build. */
export const personOfBuild = (state: ClassState, build: string): string =>
  [...state.course.learners.values()].find((l) => l.build === build)?.person ?? '';

/** `4 Noor`. */
export function buildName(state: ClassState, build: string): string {
  const number = numberOfBuild(state, build);
  const name = labelOf(state, personOfBuild(state, build));
  return number === undefined ? name : `${number} ${name}`;
}

/** What the course is called where the mark of the demo stands beside it. */
export const courseNameBesideMark = (state: ClassState): string =>
  (state.course.setUp?.name ?? '').replace(/ \(Demo\)$/, '');
