import fs from 'node:fs';
import path from 'node:path';
import { Kysely, SqliteDialect, sql } from 'kysely';
import Database from 'libsql';
import type { Tables } from '../tables.ts';

/** An open store. */
export interface OpenStore {
  readonly db: Kysely<Tables>;
  readonly file: string;
  close(): Promise<void>;
}

/** Texts kept prepared; lists of ids of every length would otherwise pile up. */
const MOST_STATEMENTS = 200;

/** The same database, which prepares a statement once and not again for each use. */
function withKeptStatements(database: InstanceType<typeof Database>) {
  const kept = new Map<string, ReturnType<typeof database.prepare>>();
  return {
    prepare: (text: string) => {
      const known = kept.get(text);
      if (known) return known;
      if (kept.size >= MOST_STATEMENTS) kept.clear();
      const made = database.prepare(text);
      kept.set(text, made);
      return made;
    },
    close: () => database.close(),
  };
}

/**
 * Opens (or makes) the store in one file. A commit is on disk before it returns: write-ahead log with
 * `synchronous = FULL`.
 *
 * @param file  path of the database file, or `:memory:`
 */
export async function openSqlite(file: string): Promise<OpenStore> {
  if (file !== ':memory:') fs.mkdirSync(path.dirname(file), { recursive: true, mode: 0o700 });
  const database = new Database(file);
  for (const pragma of [
    'journal_mode = WAL',
    'synchronous = FULL',
    'foreign_keys = ON',
    // what is deleted is overwritten, so that a health note that is gone leaves no text in the file
    'secure_delete = ON',
    'busy_timeout = 5000',
  ])
    database.exec(`PRAGMA ${pragma}`);
  const db = new Kysely<Tables>({
    dialect: new SqliteDialect({ database: withKeptStatements(database) as never }),
  });
  return {
    db,
    file,
    close: async () => {
      // the library leaves the log beside the file when it closes; the file alone has to be whole
      await sql`PRAGMA wal_checkpoint(PASSIVE)`.execute(db).catch(() => undefined);
      await db.destroy();
    },
  };
}

/** Writes a whole copy of the store into one file while it is in use. The file must not exist yet. */
export async function copyInto(db: Kysely<Tables>, file: string): Promise<void> {
  await sql`VACUUM INTO ${file}`.execute(db);
}

/** Writes the log into the file and empties it: what was deleted before stands in neither any more. */
export async function settle(db: Kysely<Tables>): Promise<void> {
  await sql`PRAGMA wal_checkpoint(TRUNCATE)`.execute(db);
}

/** What the database says of its own state; `ok` when nothing is wrong. */
export async function integrity(db: Kysely<Tables>): Promise<readonly string[]> {
  const { rows } = await sql<{ integrity_check: string }>`PRAGMA integrity_check`.execute(db);
  return rows.map((r) => r.integrity_check);
}

/** The schema as text, for the snapshot a test holds. */
export async function schemaText(db: Kysely<Tables>): Promise<string> {
  const { rows } = await sql<{
    sql: string;
  }>`SELECT sql FROM sqlite_master WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite_%' ORDER BY type, name`.execute(
    db,
  );
  return rows.map((r) => `${r.sql};`).join('\n');
}
