import { readBody } from '../../contract/read-body.ts';
import { people as peopleBody, personNote } from '../../contract/requests.ts';
import { redactEvent } from '../../course/redact.ts';
import type { Consent, Person } from '../../store/people/people.repository.ts';
import { Refusal } from '../refusal.ts';
import { ADMITTED, type Ask, type ServerRoute, TEACHER_ONLY } from '../routes.ts';
import { isHandedOver } from './hand-over.ts';

const consentOf = (c: { readonly answer: Consent['answer']; readonly on?: string | undefined }): Consent =>
  c.on === undefined ? { answer: c.answer } : { answer: c.answer, on: c.on };

async function personOf({ context, params }: Ask): Promise<Person> {
  const person = await context.people.get(params['id'] ?? '');
  if (!person)
    throw new Refusal(
      404,
      'no-such-person',
      'There is nobody with that id here; the list of people shows who there is.',
    );
  return person;
}

/** What another learner's device may know of a person: name and build, nothing about age or consent. */
const boardView = ({ id, name, role, course, build, isForgotten }: Person) => ({
  id,
  name,
  role,
  course,
  build,
  isForgotten,
});

/** People, contacts, forgetting. */
export const peopleRoutes: readonly ServerRoute[] = [
  {
    method: 'GET',
    url: '/api/people',
    roles: ADMITTED,
    handle: async ({ context, caller }) => {
      const all = await context.people.all();
      if (caller.role === 'teacher') return all;
      return all
        .filter((p) => p.course === caller.course)
        .map((p) =>
          p.id === caller.person
            ? p
            : {
                ...boardView(p),
                ...(caller.role === 'helper' ? { ageBand: p.ageBand, machines: p.machines } : {}),
              },
        );
    },
  },
  {
    method: 'POST',
    url: '/api/people',
    roles: TEACHER_ONLY,
    handle: async ({ context, body }) => {
      const { people } = readBody(peopleBody, body);
      await context.people.put(
        people.map((p) => ({
          ...p,
          machines: consentOf(p.machines),
          photos: consentOf(p.photos),
          isForgotten: false,
        })),
      );
      return { kept: people.map((p) => p.id) };
    },
  },
  {
    method: 'POST',
    url: '/api/people/:id/forget',
    roles: TEACHER_ONLY,
    handle: async (ask) => {
      const { context, caller } = ask;
      const person = await personOf(ask);
      await context.people.forget(person.id);
      const forgotten = (await context.people.all()).filter((p) => p.isForgotten);
      const ids = new Set(forgotten.map((p) => p.id));
      const builds = new Set(forgotten.map((p) => p.build).filter((b) => b !== ''));
      await context.events.rewrite((e) => redactEvent(e, ids, builds));
      const arrived = await context.events.append([
        context.recorder.make({
          stream: 'shop:main',
          kind: 'person-anonymised',
          by: caller.person,
          body: { person: person.id },
        }),
      ]);
      context.live.tell(arrived);
      return { forgotten: person.id };
    },
  },
  {
    method: 'POST',
    url: '/api/people/:id/send-away',
    roles: TEACHER_ONLY,
    handle: async (ask) => {
      const person = await personOf(ask);
      await ask.context.sessions.removePerson(person.id);
      return { sent_away: person.id };
    },
  },
  {
    method: 'PUT',
    url: '/api/people/:id/contact',
    roles: TEACHER_ONLY,
    handle: async (ask) => {
      const person = await personOf(ask);
      await ask.context.people.setContact(person.id, readBody(personNote, ask.body).text);
      return { kept: person.id };
    },
  },
  {
    method: 'PUT',
    url: '/api/people/:id/health-note',
    roles: TEACHER_ONLY,
    handle: async (ask) => {
      const person = await personOf(ask);
      const { text } = readBody(personNote, ask.body);
      if (text.trim() !== '' && (person.isForgotten || (await isHandedOver(ask.context, person.build))))
        throw new Refusal(
          409,
          'handed-over',
          person.isForgotten
            ? 'This person was forgotten, so no health note is kept any more.'
            : 'The instrument of this person was handed over, so no health note is kept any more.',
        );
      await ask.context.people.setHealthNote(person.id, text);
      return { kept: person.id };
    },
  },
  {
    method: 'GET',
    url: '/api/contacts',
    roles: TEACHER_ONLY,
    // health notes and telephone numbers are not sent in plain
    isGuarded: true,
    handle: async ({ context }) => ({
      contacts: Object.fromEntries(await context.people.contacts()),
      health_notes: Object.fromEntries(await context.people.healthNotes()),
    }),
  },
];
