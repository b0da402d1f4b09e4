import type { Kysely } from 'kysely';
import { settle } from '../dialect/open-sqlite.ts';
import type { Tables } from '../tables.ts';

/** Consent to something, with its date when given. */
export interface Consent {
  readonly answer: 'yes' | 'no' | 'not asked';
  /** ISO date, when the answer is yes. */
  readonly on?: string;
}

/** A person of a course, as the program uses it. */
export interface Person {
  readonly id: string;
  readonly name: string;
  readonly role: 'learner' | 'helper' | 'teacher';
  readonly course: string;
  readonly build: string;
  readonly ageBand: 'under16' | 'from16to17' | 'adult';
  readonly machines: Consent;
  readonly photos: Consent;
  readonly isForgotten: boolean;
}

/** People, kept apart from the record. */
export interface PeopleRepository {
  put(people: readonly Person[]): Promise<void>;
  get(id: string): Promise<Person | undefined>;
  all(): Promise<readonly Person[]>;
  setContact(person: string, text: string): Promise<void>;
  contacts(): Promise<ReadonlyMap<string, string>>;
  /** Keeps a health note; an empty text takes it away without a trace in the file. */
  setHealthNote(person: string, text: string): Promise<void>;
  /** Takes away the health notes of people without a trace in the file; says how many there were. */
  removeHealthNotes(people: readonly string[]): Promise<number>;
  healthNotes(): Promise<ReadonlyMap<string, string>>;
  /** Takes away name, consent, contact, health note, tokens and photos. The record keeps the id. */
  forget(id: string): Promise<void>;
}

const consentOf = (answer: string, on: string | null): Consent => ({
  answer: answer as Consent['answer'],
  ...(on === null ? {} : { on }),
});

/** The people repository of a store. */
export function peopleRepository(db: Kysely<Tables>): PeopleRepository {
  const setText = async (table: 'contact' | 'health_note', person: string, text: string): Promise<void> => {
    if (text.trim() === '') await db.deleteFrom(table).where('person', '=', person).execute();
    else
      await db
        .insertInto(table)
        .values({ person, text })
        .onConflict((c) => c.column('person').doUpdateSet({ text }))
        .execute();
  };
  const texts = async (table: 'contact' | 'health_note'): Promise<ReadonlyMap<string, string>> =>
    new Map((await db.selectFrom(table).selectAll().execute()).map((r) => [r.person, r.text]));
  const all = async (): Promise<readonly Person[]> =>
    (await db.selectFrom('person').selectAll().orderBy('id').execute()).map((r) => ({
      id: r.id,
      name: r.name,
      role: r.role as Person['role'],
      course: r.course,
      build: r.build,
      ageBand: r.age_band as Person['ageBand'],
      machines: consentOf(r.machine_consent, r.machine_consent_on),
      photos: consentOf(r.photo_consent, r.photo_consent_on),
      isForgotten: r.forgotten === 1,
    }));
  return {
    all,
    get: async (id) => (await all()).find((p) => p.id === id),
    put: async (people) => {
      await db.transaction().execute(async (trx) => {
        for (const p of people) {
          const row = {
            name: p.name,
            role: p.role,
            course: p.course,
            build: p.build,
            age_band: p.ageBand,
            machine_consent: p.machines.answer,
            machine_consent_on: p.machines.on ?? null,
            photo_consent: p.photos.answer,
            photo_consent_on: p.photos.on ?? null,
            forgotten: p.isForgotten ? 1 : 0,
          };
          await trx
            .insertInto('person')
            .values({ id: p.id, ...row })
            .onConflict((c) => c.column('id').doUpdateSet(row))
            .execute();
        }
      });
    },
    setContact: (person, text) => setText('contact', person, text),
    contacts: () => texts('contact'),
    setHealthNote: async (person, text) => {
      await setText('health_note', person, text);
      await settle(db);
    },
    removeHealthNotes: async (people) => {
      if (people.length === 0) return 0;
      const gone = await db
        .deleteFrom('health_note')
        .where('person', 'in', [...people])
        .executeTakeFirst();
      const count = Number(gone.numDeletedRows);
      if (count > 0) await settle(db);
      return count;
    },
    healthNotes: () => texts('health_note'),
    forget: async (id) => {
      await db.transaction().execute(async (trx) => {
        await trx.deleteFrom('contact').where('person', '=', id).execute();
        await trx.deleteFrom('health_note').where('person', '=', id).execute();
        await trx.deleteFrom('token').where('person', '=', id).execute();
        await trx.deleteFrom('stored_file').where('person', '=', id).execute();
        await trx
          .updateTable('person')
          .set({
            name: '',
            machine_consent: 'not asked',
            machine_consent_on: null,
            photo_consent: 'not asked',
            photo_consent_on: null,
            forgotten: 1,
          })
          .where('id', '=', id)
          .execute();
      });
      await settle(db);
    },
  };
}
