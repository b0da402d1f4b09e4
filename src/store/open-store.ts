import path from 'node:path';
import { Migrator } from 'kysely';
import { InputError } from '../quantity/input-error.ts';
import { type OpenStore, openSqlite } from './dialect/open-sqlite.ts';
import { migrations } from './migrations/migrations.ts';

/** Name of the database file in the data folder. */
export const STORE_FILE = 'bracewright.db';

/** Brings the tables to the newest form. @throws Error naming the migration that failed */
export async function migrate({ db }: OpenStore): Promise<void> {
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
  await migrate(store);
  return store;
}
