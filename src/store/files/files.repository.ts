import type { Kysely } from 'kysely';
import type { Tables } from '../tables.ts';

/** A kept photo or clip. */
export interface StoredFile {
  readonly id: string;
  readonly stream: string;
  readonly person: string;
  readonly mediaType: string;
  readonly bytes: Uint8Array;
}

/** Photos and clips, apart from the record: events name them by the hash of their content. */
export interface FilesRepository {
  put(file: StoredFile, nowMs: number): Promise<void>;
  get(id: string): Promise<StoredFile | undefined>;
  totalBytes(): Promise<number>;
}

/** The files repository of a store. */
export function filesRepository(db: Kysely<Tables>): FilesRepository {
  return {
    put: async (f, nowMs) => {
      await db
        .insertInto('stored_file')
        .values({
          id: f.id,
          stream: f.stream,
          person: f.person,
          media_type: f.mediaType,
          bytes: f.bytes,
          made_ms: nowMs,
        })
        .onConflict((c) => c.column('id').doNothing())
        .execute();
    },
    get: async (id) => {
      const row = await db.selectFrom('stored_file').selectAll().where('id', '=', id).executeTakeFirst();
      return row
        ? {
            id: row.id,
            stream: row.stream,
            person: row.person,
            mediaType: row.media_type,
            bytes: new Uint8Array(row.bytes),
          }
        : undefined;
    },
    totalBytes: async () => {
      const row = await db
        .selectFrom('stored_file')
        .select((e) => e.fn.sum<number>(e.fn<number>('length', ['bytes'])).as('total'))
        .executeTakeFirst();
      return Number(row?.total ?? 0);
    },
  };
}
