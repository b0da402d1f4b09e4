import type { RecordEvent } from '../../course/event.ts';
import type { Caller } from '../doors/caller.ts';

/** What a learner may write into the stream of his own build. Everything else is the helper's or the teacher's. */
const LEARNER_KINDS: ReadonlySet<string> = new Set([
  'step-started',
  'step-done',
  'coarse-step-done',
  'put-in-clamps',
  'released',
  'reading',
  'help-asked',
  'note',
  'photo',
  'repair-done',
  'event-withdrawn',
]);

/** What a helper may write beside that, in any stream of his course and the shop. */
const HELPER_KINDS: ReadonlySet<string> = new Set([
  ...LEARNER_KINDS,
  'present',
  'absent',
  'help-given',
  'incident',
  'room-climate',
  'machine-checked',
  'station-not-cleaned',
  'station-cleaned',
  'station-out-of-order',
  'jig-out-of-order',
]);

/**
 * Why a caller may not write an event; undefined when he may. A learner writes only his own build's events, in his own name.
 *
 * @param buildsOfCourse  ids of the builds of the caller's course
 */
export function writeFault(
  caller: Caller,
  event: RecordEvent,
  buildsOfCourse: ReadonlySet<string>,
): string | undefined {
  if (caller.role === 'teacher') return undefined;
  if (caller.role === 'nobody')
    return 'nobody is signed in on this device; join the course with its code first';
  if (event.by !== caller.person) return 'it is made in another person’s name';
  if (caller.role === 'learner') {
    if (event.stream !== `build:${caller.build}`) return 'it belongs to another build than your own';
    return LEARNER_KINDS.has(event.kind)
      ? undefined
      : `"${event.kind}" is the teacher’s to enter; ask for the teacher`;
  }
  if (!HELPER_KINDS.has(event.kind)) return `"${event.kind}" is the teacher’s to enter`;
  return maySee(caller, event.stream, buildsOfCourse) ? undefined : 'it belongs to another course';
}

/** Whether a caller may see a stream. Learners and helpers see their course, its builds and the shop: what the class board shows. */
export function maySee(caller: Caller, stream: string, buildsOfCourse: ReadonlySet<string>): boolean {
  if (caller.role === 'teacher') return true;
  if (caller.role === 'nobody') return false;
  const [what, id] = stream.split(':') as [string, string];
  return what === 'shop' || (what === 'course' ? id === caller.course : buildsOfCourse.has(id));
}

/** Kinds that only the teacher's pages get: no dates, incidents or late marks on the shared board. */
const TEACHER_EYES: ReadonlySet<string> = new Set([
  'incident',
  'incident-closed',
  'key-taken',
  'key-lapsed',
  'price-entered',
]);

/** Whether an event goes to this caller's device. */
export function maySeeEvent(
  caller: Caller,
  event: RecordEvent,
  buildsOfCourse: ReadonlySet<string>,
): boolean {
  if (!maySee(caller, event.stream, buildsOfCourse)) return false;
  if (caller.role !== 'learner') return true;
  if (TEACHER_EYES.has(event.kind)) return false;
  const isPersonal = event.kind === 'note' || event.kind === 'photo';
  return !isPersonal || event.by === caller.person || event.stream === `build:${caller.build}`;
}
