import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import { tellKept } from './kept.ts';
import type { NewRevision, PatternText, Revision } from './server.ts';

/** A revision made while the server was away. */
export interface UnsentRevision extends NewRevision {
  readonly key?: number;
  readonly patternId: string;
  readonly savedAt: string;
}

interface DeviceStore extends DBSchema {
  drafts: { key: string; value: { readonly patternId: string; readonly draft: unknown } };
  unsent: { key: number; value: UnsentRevision; indexes: { byPattern: string } };
  revisions: { key: string; value: { readonly patternId: string; readonly list: readonly Revision[] } };
  patterns: { key: string; value: PatternText };
}

let opened: Promise<IDBPDatabase<DeviceStore>> | undefined;

function open(): Promise<IDBPDatabase<DeviceStore>> {
  opened ??= openDB<DeviceStore>('bracewright', 1, {
    upgrade(db) {
      db.createObjectStore('drafts', { keyPath: 'patternId' });
      const unsent = db.createObjectStore('unsent', { keyPath: 'key', autoIncrement: true });
      unsent.createIndex('byPattern', 'patternId');
      db.createObjectStore('revisions', { keyPath: 'patternId' });
      db.createObjectStore('patterns', { keyPath: 'id' });
    },
  });
  return opened;
}

/** Runs one piece of work on the store; when the store fails the frame says so and undefined comes back. */
async function withStore<T>(work: (db: IDBPDatabase<DeviceStore>) => Promise<T>): Promise<T | undefined> {
  try {
    const result = await work(await open());
    tellKept({ isKept: true });
    return result;
  } catch {
    tellKept({ isKept: false });
    return undefined;
  }
}

/** The draft of a pattern kept on this device. */
export async function keptDraft(patternId: string): Promise<unknown> {
  const row = await withStore((db) => db.get('drafts', patternId));
  return row?.draft;
}

/** Keeps a draft; `undefined` takes it away. */
export async function keepDraft(patternId: string, draft: unknown): Promise<void> {
  await withStore(async (db) => {
    if (draft === undefined) await db.delete('drafts', patternId);
    else {
      const work = db.transaction('drafts', 'readwrite', { durability: 'strict' });
      await work.store.put({ patternId, draft });
      await work.done;
    }
  });
}

/** Revisions that wait for the server, in the order they were made. */
export async function unsentRevisions(patternId?: string): Promise<readonly UnsentRevision[]> {
  const all = await withStore((db) => db.getAll('unsent'));
  const wanted = (all ?? []).filter((row) => patternId === undefined || row.patternId === patternId);
  if (patternId === undefined) tellKept({ unsentCount: wanted.length });
  return wanted;
}

/** Keeps a revision until the server has it. */
export async function keepUnsent(revision: UnsentRevision): Promise<void> {
  await withStore((db) => db.add('unsent', revision));
  await unsentRevisions();
}

/** The server has it. */
export async function dropUnsent(key: number): Promise<void> {
  await withStore((db) => db.delete('unsent', key));
  await unsentRevisions();
}

/** Last list of revisions the server gave, for a time without it. */
export async function rememberedRevisions(patternId: string): Promise<readonly Revision[]> {
  return (await withStore((db) => db.get('revisions', patternId)))?.list ?? [];
}

/** Keeps the list of revisions of a pattern. */
export async function rememberRevisions(patternId: string, list: readonly Revision[]): Promise<void> {
  await withStore((db) => db.put('revisions', { patternId, list }));
}

/** Patterns the server gave before. */
export async function rememberedPatterns(): Promise<readonly PatternText[]> {
  return (await withStore((db) => db.getAll('patterns'))) ?? [];
}

/** Keeps the patterns of the server. */
export async function rememberPatterns(list: readonly PatternText[]): Promise<void> {
  await withStore(async (db) => {
    const work = db.transaction('patterns', 'readwrite');
    await Promise.all(list.map((pattern) => work.store.put(pattern)));
    await work.done;
  });
}
