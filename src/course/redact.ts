import type { RecordEvent } from './event.ts';

/** What is forgotten of a person: notes, photos, words; the steps and readings of his build stay, they name nobody. */
const wordKinds: Readonly<Record<string, readonly string[]>> = {
  note: ['text'],
  photo: ['hash', 'words'],
  incident: ['text', 'firstAid', 'followUp'],
  'incident-closed': ['text'],
  'help-asked': ['words'],
  'help-given': ['words'],
  absent: ['reason'],
  'learner-removed': ['reason'],
  'key-taken': ['reason'],
  'hold-signed': ['remark'],
};

/** Stands where words or a photo have been. */
export const removedWord = 'removed';

/**
 * An event without what must be forgotten of the people who were made anonymous. The store and every device put what
 * this gives in place of what they hold.
 *
 * @param event       as it is kept
 * @param anonymised  ids of people
 * @param builds      ids of their builds: notes and photos there go too, whoever wrote them
 * @returns           the same event when there is nothing to forget, otherwise one with the words replaced
 * @source            arithmetic
 */
export function redactEvent(
  event: RecordEvent,
  anonymised: ReadonlySet<string>,
  builds: ReadonlySet<string>,
): RecordEvent {
  const members = wordKinds[event.kind];
  if (!members) return event;
  const body = event.body as Readonly<Record<string, unknown>>;
  const concerns =
    anonymised.has(String(body['person'])) ||
    anonymised.has(event.by) ||
    (event.stream.startsWith('build:') && builds.has(event.stream.slice('build:'.length)));
  const held = members.filter((m) => body[m] !== undefined && body[m] !== removedWord);
  if (!concerns || held.length === 0) return event;
  return { ...event, body: { ...body, ...Object.fromEntries(held.map((m) => [m, removedWord])) } };
}
