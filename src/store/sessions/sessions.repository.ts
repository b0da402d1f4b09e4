import type { Kysely } from 'kysely';
import type { Tables } from '../tables.ts';

/** Who a device was let in as. */
export interface Admission {
  readonly role: 'learner' | 'helper' | 'teacher';
  readonly person: string;
  readonly course: string;
  readonly build: string;
}

/** Devices let in, codes and the passphrase. */
export interface SessionsRepository {
  admit(tokenHash: string, admission: Admission, nowMs: number): Promise<void>;
  admissionOf(tokenHash: string): Promise<Admission | undefined>;
  removeToken(tokenHash: string): Promise<void>;
  /** Sends away every device of a person. */
  removePerson(person: string): Promise<void>;
  setJoinCode(course: string, code: string): Promise<void>;
  courseOfCode(code: string): Promise<string | undefined>;
  joinCodes(): Promise<ReadonlyMap<string, string>>;
  setPassphraseHash(hash: string): Promise<void>;
  passphraseHash(): Promise<string | undefined>;
}

/** The sessions repository of a store. */
export function sessionsRepository(db: Kysely<Tables>): SessionsRepository {
  return {
    admit: async (hash, a, nowMs) => {
      await db
        .insertInto('token')
        .values({ hash, ...a, made_ms: nowMs, seen_ms: nowMs })
        .execute();
    },
    admissionOf: async (hash) => {
      const row = await db.selectFrom('token').selectAll().where('hash', '=', hash).executeTakeFirst();
      return row
        ? { role: row.role as Admission['role'], person: row.person, course: row.course, build: row.build }
        : undefined;
    },
    removeToken: async (hash) => {
      await db.deleteFrom('token').where('hash', '=', hash).execute();
    },
    removePerson: async (person) => {
      await db.deleteFrom('token').where('person', '=', person).execute();
    },
    setJoinCode: async (course, code) => {
      await db
        .insertInto('join_code')
        .values({ course, code })
        .onConflict((c) => c.column('course').doUpdateSet({ code }))
        .execute();
    },
    courseOfCode: async (code) =>
      (await db.selectFrom('join_code').select('course').where('code', '=', code).executeTakeFirst())?.course,
    joinCodes: async () =>
      new Map((await db.selectFrom('join_code').selectAll().execute()).map((r) => [r.course, r.code])),
    setPassphraseHash: async (hash) => {
      await db
        .insertInto('passphrase')
        .values({ id: 1, hash })
        .onConflict((c) => c.column('id').doUpdateSet({ hash }))
        .execute();
    },
    passphraseHash: async () => (await db.selectFrom('passphrase').select('hash').executeTakeFirst())?.hash,
  };
}
