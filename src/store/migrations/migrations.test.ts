import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { type Kysely, Migrator, sql } from 'kysely';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { InputError } from '../../quantity/input-error.ts';
import { integrity, type OpenStore, openSqlite, schemaText } from '../dialect/open-sqlite.ts';
import { eventsRepository } from '../events/events.repository.ts';
import { openStore, STORE_FILE } from '../open-store.ts';
import { peopleRepository } from '../people/people.repository.ts';
import { checkStore, restore } from '../upkeep/upkeep.service.ts';
import { migrations } from './migrations.ts';

const names = Object.keys(migrations);
/** Schemas as they were when each version was the newest, committed then and never changed. */
const SCHEMAS = path.resolve('test/fixtures/schemas');

let folder: string;
let file: string;
beforeEach(() => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'bracewright-migrate-'));
  file = path.join(folder, STORE_FILE);
});
afterEach(() => fs.rmSync(folder, { recursive: true, force: true }));

/** A store whose tables were made by the first migrations up to one of them. */
async function storeOfList(upTo: string): Promise<OpenStore> {
  const store = await openSqlite(file);
  const known = Object.fromEntries(Object.entries(migrations).filter(([name]) => name <= upTo));
  const { error } = await new Migrator({
    db: store.db,
    provider: { getMigrations: async () => known },
  }).migrateToLatest();
  expect(error).toBeUndefined();
  return store;
}

/** A store whose tables were made from the committed text of a schema. */
async function storeOfText(upTo: string): Promise<OpenStore> {
  const store = await openSqlite(file);
  const text = fs.readFileSync(path.join(SCHEMAS, `${upTo}.sql`), 'utf8');
  const statements = text.split(/;\n/).filter((s) => s.trim() !== '');
  // tables first: the indexes stand before them in the text
  const ordered = statements.toSorted(
    (a, b) => Number(/^CREATE INDEX/.test(a)) - Number(/^CREATE INDEX/.test(b)),
  );
  for (const statement of ordered) await sql.raw(statement).execute(store.db);
  for (const name of names.filter((n) => n <= upTo))
    await sql`INSERT INTO kysely_migration VALUES (${name}, '2026-01-01T00:00:00.000Z')`.execute(store.db);
  await sql`INSERT INTO kysely_migration_lock VALUES ('migration_lock', 0)`.execute(store.db);
  return store;
}

const bodies = [
  ['course:c', 'course-set-up', { name: 'Evening class', units: 'mm' }],
  ['course:c', 'learner-added', { person: 'ada', build: 'b1', number: 1 }],
  [
    'build:b1',
    'build-set-up',
    { course: 'c', person: 'ada', instrument: 'uke', pattern: 'r', handed: 'left' },
  ],
  ['build:b1', 'step-done', { op: 'T1', minutes: 20 }],
  ['build:b1', 'reading', { op: 'T10', reading: 'T10.1', value: 2.46, unit: 'mm', spot: 'bridge' }],
  ['shop:main', 'key-given', { person: 'ada', key: 'bandsaw' }],
  ['build:b1', 'a-kind-of-later', { words: 'kept and passed on' }],
] as const;

/** Rows as the first version wrote them, in plain SQL, so that no code of today is asked. */
async function fill(db: Kysely<never>): Promise<void> {
  for (const [i, [stream, kind, body]] of bodies.entries())
    await sql`INSERT INTO event (id, stream, kind, device, counter, time_ms, by_person, body)
      VALUES (${`e${i}`}, ${stream}, ${kind}, 'tablet', ${i + 1}, ${1000 + i}, 'teacher', ${JSON.stringify(body)})`.execute(
      db,
    );
  await sql`INSERT INTO person (id, name, role, course, build, age_band, machine_consent, machine_consent_on, photo_consent)
    VALUES ('ada', 'Ada', 'learner', 'c', 'b1', 'adult', 'yes', '2026-01-02', 'no')`.execute(db);
  await sql`INSERT INTO contact VALUES ('ada', 'the neighbour')`.execute(db);
  await sql`INSERT INTO health_note VALUES ('ada', 'only the teacher')`.execute(db);
  await sql`INSERT INTO token VALUES ('hash', 'learner', 'ada', 'c', 'b1', 1, 2)`.execute(db);
  await sql`INSERT INTO join_code VALUES ('c', 'oak-7')`.execute(db);
  await sql`INSERT INTO stored_file VALUES ('f', 'build:b1', 'ada', 'image/png', x'0102', 3)`.execute(db);
}

/** Opens the store with the code of today and looks whether everything is there. */
async function expectWhole(): Promise<void> {
  const store = await openStore(folder);
  try {
    const events = await eventsRepository(store.db).all();
    expect(events.map(({ stream, kind, body }) => [stream, kind, body])).toEqual(bodies);
    expect(await checkStore(store)).toEqual({ events: bodies.length, faults: [] });
    expect(await integrity(store.db)).toEqual(['ok']);
    expect(`${await schemaText(store.db)}\n`).toBe(fs.readFileSync('test/pinned/schema.sql', 'utf8'));
    const people = peopleRepository(store.db);
    expect(await people.get('ada')).toMatchObject({
      name: 'Ada',
      machines: { answer: 'yes', on: '2026-01-02' },
      photos: { answer: 'no' },
      isForgotten: false,
    });
    expect([...(await people.contacts()), ...(await people.healthNotes())]).toEqual([
      ['ada', 'the neighbour'],
      ['ada', 'only the teacher'],
    ]);
    const files = await sql<{ hex: string }>`SELECT hex(bytes) AS hex FROM stored_file`.execute(store.db);
    expect(files.rows).toEqual([{ hex: '0102' }]);
  } finally {
    await store.close();
  }
}

describe.each(names)('a store as %s left it', (name) => {
  it('made by the list of migrations: opens, is brought up to date and keeps everything', async () => {
    const old = await storeOfList(name);
    await fill(old.db as never);
    await old.close();
    await expectWhole();
  });

  it('made from the schema as it was committed then: opens, is brought up to date and keeps everything', async () => {
    const old = await storeOfText(name);
    await fill(old.db as never);
    await old.close();
    await expectWhole();
  });

  it('has the schema that was committed then: a migration is never changed afterwards', async () => {
    const old = await storeOfList(name);
    const text = `${await schemaText(old.db)}\n`;
    await old.close();
    expect(text, `test/fixtures/schemas/${name}.sql`).toBe(
      fs.readFileSync(path.join(SCHEMAS, `${name}.sql`), 'utf8'),
    );
  });
});

describe('a store of a newer version', () => {
  const madeByNewer = async (): Promise<void> => {
    const store = await openStore(folder);
    await sql`CREATE TABLE shelf (board text)`.execute(store.db);
    await sql`INSERT INTO kysely_migration VALUES ('9999-shelf', '2099-01-01T00:00:00.000Z')`.execute(
      store.db,
    );
    await store.close();
  };

  it('is refused in one sentence that names it, and is left as it is', async () => {
    await madeByNewer();
    const before = fs.readFileSync(file);
    const refused = await openStore(folder).catch((e: unknown) => e);
    expect(refused).toBeInstanceOf(InputError);
    expect((refused as Error).message).toMatch(
      /newer version .*"9999-shelf".* up to "\d{4}-.*"\); start that version/,
    );
    expect(fs.readFileSync(file).equals(before)).toBe(true);
  });

  it('is refused as a backup to restore too, and nothing is put in place', async () => {
    await madeByNewer();
    const into = path.join(folder, 'into');
    await expect(restore(file, into)).rejects.toThrow(/newer version/);
    expect(fs.readdirSync(into)).toEqual([]);
  });
});
