import path from 'node:path';
import { Migrator, sql } from 'kysely';
import { InputError } from '../quantity/input-error.ts';
import { type OpenStore, openSqlite } from './dialect/open-sqlite.ts';
import { migrations } from './migrations/migrations.ts';

/** Name of the database file in the data folder. */
export const STORE_FILE = 'bracewright.db';

/** A store that knows migrations this version does not was made by a newer one: it is left as it is. */
async function refuseNewer({ db, file }: OpenStore): Promise<void> {
  const hasTable = (await db.introspection.getTables({ withInternalKyselyTables: true })).some(
    (t) => t.name === 'kysely_migration',
  );
  if (!hasTable) return;
  const { rows } = await sql<{ name: string }>`SELECT name FROM kysely_migration ORDER BY name`.execute(db);
  const unknown = rows.map((r) => r.name).filter((name) => !Object.hasOwn(migrations, name));
  if (unknown.length === 0) return;
  throw new InputError(
    'store-newer',
    `The store ${file} was made by a newer version of this program (it has "${unknown.join('", "')}", and this one knows up to "${Object.keys(migrations).at(-1)}"); start that version, or give another folder with --data.`,
  );
}

/**
 * Brings the tables to the newest form.
 *
 * @throws InputError when a newer version made the store
 * @throws Error naming the migration that failed
 */
export async function migrate(store: OpenStore): Promise<void> {
  await refuseNewer(store);
  const { db } = store;
  const migrator = new Migrator({ db, provider: { getMigrations: async () => ({ ...migrations }) } });
  const { error, results } = await migrator.migrateToLatest();
  if (error === undefined) return;
  const failed = results?.find((r) => r.status === 'Error')?.migrationName ?? 'before the first step';
  throw new Error(
    `the store could not be brought up to date (${failed}): ${error instanceof Error ? error.message : String(error)}`,
  );
}

/**
 * Opens the store of a data folder, making or bringing it up to date.
 *
 * @throws InputError when the folder cannot be used
 */
export async function openStore(folder: string): Promise<OpenStore> {
  const file = folder === ':memory:' ? folder : path.join(folder, STORE_FILE);
  let store: OpenStore;
  try {
    store = await openSqlite(file);
  } catch (error) {
    throw new InputError(
      'store-unusable',
      `The data folder ${folder} cannot be used (${error instanceof Error ? error.message : String(error)}); choose another with --data, or mend its rights.`,
    );
  }
  try {
    await migrate(store);
  } catch (error) {
    await store.close();
    throw error;
  }
  return store;
}
