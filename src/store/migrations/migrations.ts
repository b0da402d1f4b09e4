import type { Kysely, Migration } from 'kysely';

/** First tables. */
const first: Migration = {
  async up(db: Kysely<unknown>) {
    await db.schema
      .createTable('event')
      .addColumn('arrival', 'integer', (c) => c.primaryKey().autoIncrement())
      .addColumn('id', 'text', (c) => c.notNull().unique())
      .addColumn('stream', 'text', (c) => c.notNull())
      .addColumn('kind', 'text', (c) => c.notNull())
      .addColumn('device', 'text', (c) => c.notNull())
      .addColumn('counter', 'integer', (c) => c.notNull())
      .addColumn('time_ms', 'integer', (c) => c.notNull())
      .addColumn('by_person', 'text', (c) => c.notNull())
      .addColumn('body', 'text', (c) => c.notNull())
      .execute();
    await db.schema.createIndex('event_by_stream').on('event').columns(['stream', 'arrival']).execute();
    await db.schema
      .createTable('person')
      .addColumn('id', 'text', (c) => c.primaryKey())
      .addColumn('name', 'text', (c) => c.notNull())
      .addColumn('role', 'text', (c) => c.notNull())
      .addColumn('course', 'text', (c) => c.notNull())
      .addColumn('build', 'text', (c) => c.notNull())
      .addColumn('age_band', 'text', (c) => c.notNull())
      .addColumn('machine_consent', 'text', (c) => c.notNull())
      .addColumn('machine_consent_on', 'text')
      .addColumn('photo_consent', 'text', (c) => c.notNull())
      .addColumn('photo_consent_on', 'text')
      .addColumn('forgotten', 'integer', (c) => c.notNull().defaultTo(0))
      .execute();
    for (const table of ['contact', 'health_note'])
      await db.schema
        .createTable(table)
        .addColumn('person', 'text', (c) => c.primaryKey().references('person.id').onDelete('cascade'))
        .addColumn('text', 'text', (c) => c.notNull())
        .execute();
    await db.schema
      .createTable('token')
      .addColumn('hash', 'text', (c) => c.primaryKey())
      .addColumn('role', 'text', (c) => c.notNull())
      .addColumn('person', 'text', (c) => c.notNull())
      .addColumn('course', 'text', (c) => c.notNull())
      .addColumn('build', 'text', (c) => c.notNull())
      .addColumn('made_ms', 'integer', (c) => c.notNull())
      .addColumn('seen_ms', 'integer', (c) => c.notNull())
      .execute();
    await db.schema
      .createTable('join_code')
      .addColumn('course', 'text', (c) => c.primaryKey())
      .addColumn('code', 'text', (c) => c.notNull().unique())
      .execute();
    await db.schema
      .createTable('passphrase')
      .addColumn('id', 'integer', (c) => c.primaryKey())
      .addColumn('hash', 'text', (c) => c.notNull())
      .execute();
    await db.schema
      .createTable('stored_file')
      .addColumn('id', 'text', (c) => c.primaryKey())
      .addColumn('stream', 'text', (c) => c.notNull())
      .addColumn('person', 'text', (c) => c.notNull())
      .addColumn('media_type', 'text', (c) => c.notNull())
      .addColumn('bytes', 'blob', (c) => c.notNull())
      .addColumn('made_ms', 'integer', (c) => c.notNull())
      .execute();
  },
};

/** The secret addresses a calendar program reads the sessions of a course from. */
const calendarFeeds: Migration = {
  async up(db: Kysely<unknown>) {
    await db.schema
      .createTable('calendar_feed')
      .addColumn('course', 'text', (c) => c.primaryKey())
      .addColumn('token', 'text', (c) => c.notNull().unique())
      .addColumn('time_zone', 'text', (c) => c.notNull())
      .addColumn('made_ms', 'integer', (c) => c.notNull())
      .execute();
  },
};

/** All migrations by name, in order. They only add; a name once used is never changed. */
export const migrations: Readonly<Record<string, Migration>> = {
  '0001-first-tables': first,
  '0002-calendar-feeds': calendarFeeds,
};
