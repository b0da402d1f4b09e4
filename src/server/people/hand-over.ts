import type { RecordEvent } from '../../course/event.ts';
import type { Context } from '../context.ts';

/** What ends the time a health note is kept for. */
const ENDS: ReadonlySet<string> = new Set(['build-handed-over', 'course-removed']);

/**
 * Takes away the health notes of those whose instrument was handed over or whose course was removed.
 *
 * @returns how many notes went
 */
export async function forgetHealthAtHandOver(
  context: Context,
  events: readonly RecordEvent[],
): Promise<number> {
  const over = new Set(events.filter((e) => ENDS.has(e.kind)).map((e) => e.stream as string));
  if (over.size === 0) return 0;
  const people = (await context.people.all()).filter(
    (p) => (p.build !== '' && over.has(`build:${p.build}`)) || over.has(`course:${p.course}`),
  );
  return context.people.removeHealthNotes(people.map((p) => p.id));
}

/** The same over the whole record: for what came in by another way, such as an import. */
export async function forgetHealthOfHandedOver(context: Context): Promise<number> {
  return forgetHealthAtHandOver(context, await context.events.ofKinds([...ENDS]));
}

/** Whether the instrument of a person was handed over. */
export async function isHandedOver(context: Context, build: string): Promise<boolean> {
  if (build === '') return false;
  return (await context.events.ofStreams([`build:${build}`])).some((e) => e.kind === 'build-handed-over');
}
