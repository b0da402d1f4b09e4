import fs from 'node:fs';
import path from 'node:path';
import type { Selectable } from 'kysely';
import { type RecordEvent, readEvent } from '../../course/event.ts';
import { bodyFault } from '../../course/event-kinds.ts';
import { InputError } from '../../quantity/input-error.ts';
import { copyInto, integrity, type OpenStore, openSqlite, settle } from '../dialect/open-sqlite.ts';
import { eventOf, eventsRepository } from '../events/events.repository.ts';
import type { EventTable } from '../events/events.table.ts';
import { migrate, STORE_FILE } from '../open-store.ts';

const refuseExisting = (file: string): void => {
  if (fs.existsSync(file))
    throw new InputError('file-exists', `${file} is there already; give a name that is not in use.`);
};

/** What a backup holds. */
export interface BackedUp {
  readonly events: number;
  readonly bytes: number;
  readonly healthNotesLeftOut: number;
}

/**
 * Copies a whole store into one file, also while the server writes to it. Health notes stay behind unless they are asked
 * for: a copy outlives the hand-over at which they have to go.
 *
 * @throws InputError when there is no store or the file exists
 */
export async function backUp(
  folder: string,
  file: string,
  options: { readonly withHealthNotes?: boolean } = {},
): Promise<BackedUp> {
  const from = path.join(folder, STORE_FILE);
  if (!fs.existsSync(from))
    throw new InputError('no-store', `There is no store in ${folder}; give its folder with --data.`);
  refuseExisting(file);
  const beside = `${file}.${process.pid}.new`;
  const store = await openSqlite(from);
  try {
    await copyInto(store.db, beside);
  } finally {
    await store.close();
  }
  const copy = await openSqlite(beside);
  const events = await copy.db
    .selectFrom('event')
    .select((e) => e.fn.countAll<number>().as('count'))
    .executeTakeFirstOrThrow();
  let healthNotesLeftOut = 0;
  if (options.withHealthNotes !== true) {
    const gone = await copy.db.deleteFrom('health_note').executeTakeFirst();
    healthNotesLeftOut = Number(gone.numDeletedRows);
    await settle(copy.db);
  }
  await copy.close();
  for (const tail of ['-wal', '-shm']) fs.rmSync(beside + tail, { force: true });
  fs.renameSync(beside, file);
  return { events: Number(events.count), bytes: fs.statSync(file).size, healthNotesLeftOut };
}

/**
 * Puts a backup in place as the store of an empty folder.
 *
 * @throws InputError when the folder has a store already or the backup is damaged
 */
export async function restore(file: string, folder: string): Promise<{ readonly events: number }> {
  if (!fs.existsSync(file))
    throw new InputError('file-enoent', `There is no backup ${file}; check the name.`);
  const into = path.join(folder, STORE_FILE);
  if (fs.existsSync(into))
    throw new InputError(
      'store-exists',
      `${folder} has a store already; give an empty folder, or move that store away first.`,
    );
  fs.mkdirSync(folder, { recursive: true, mode: 0o700 });
  const beside = `${into}.new`;
  fs.copyFileSync(file, beside);
  try {
    const store = await openSqlite(beside);
    const said = await integrity(store.db).catch((e: unknown) => [String(e)]);
    if (said.join() !== 'ok') {
      await store.close();
      throw new InputError('backup-damaged', `${file} is damaged (${said[0]}); use an older backup.`);
    }
    await migrate(store);
    const events = (await eventsRepository(store.db).all()).length;
    await store.close();
    fs.renameSync(beside, into);
    return { events };
  } catch (error) {
    if (error instanceof InputError) throw error;
    throw new InputError(
      'not-a-backup',
      `${file} is no backup of this program (${error instanceof Error ? error.message : String(error)}); give the right file.`,
    );
  } finally {
    for (const tail of ['', '-wal', '-shm']) fs.rmSync(beside + tail, { force: true });
  }
}

/** One thing wrong in a store. */
export interface StoreFault {
  readonly what: string;
  readonly text: string;
}

/** Looks through a whole store: the database's own check, the form of every event, counters given twice. */
export async function checkStore(
  store: OpenStore,
): Promise<{ readonly events: number; readonly faults: readonly StoreFault[] }> {
  const said = await integrity(store.db);
  const faults: StoreFault[] = said[0] === 'ok' ? [] : said.map((text) => ({ what: 'database', text }));
  const rows = await store.db.selectFrom('event').selectAll().orderBy('arrival').execute();
  const counters = new Map<string, string>();
  for (const r of rows) {
    const fault = rowFault(r);
    if (fault) faults.push({ what: r.id, text: fault });
    const place = `${r.device} ${r.counter}`;
    const other = counters.get(place);
    if (other !== undefined)
      faults.push({ what: r.id, text: `device ${r.device} counted ${r.counter} twice (also ${other})` });
    counters.set(place, r.id);
  }
  return { events: rows.length, faults };
}

function rowFault(row: Selectable<EventTable>): string | undefined {
  try {
    return bodyFault(readEvent(eventOf(row)));
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}

/** Format line of an exported record. */
export const RECORD_FORMAT = 'bracewright-record/1';

/** The whole record as one JSON text: events in order of arrival, people by id only. */
export async function exportRecord(store: OpenStore): Promise<string> {
  const events = (await eventsRepository(store.db).all()).map(({ arrival: _arrival, ...e }) => e);
  return `${JSON.stringify({ format: RECORD_FORMAT, events }, null, 1)}\n`;
}

/**
 * Adds the events of an exported record to a store; what is there already is left alone.
 *
 * @param isDry  only counts what would be added
 * @throws InputError naming the first event that is wrong; nothing is kept then
 */
export async function importRecord(
  store: OpenStore,
  text: string,
  isDry = false,
): Promise<{ readonly read: number; readonly added: number }> {
  let data: { format?: unknown; events?: unknown };
  try {
    data = JSON.parse(text) as typeof data;
  } catch {
    throw new InputError('broken-json', 'This file is no JSON; give a file made by "bracewright export".');
  }
  if (data?.format !== RECORD_FORMAT || !Array.isArray(data.events))
    throw new InputError(
      'other-format',
      `This file has format "${String(data?.format)}", and a record is "${RECORD_FORMAT}"; give the right file.`,
    );
  const events: RecordEvent[] = data.events.map((raw, i) => {
    try {
      const event = readEvent(raw);
      const fault = bodyFault(event);
      if (fault) throw new InputError('event-body', fault);
      return event;
    } catch (error) {
      throw new InputError(
        'event-form',
        `Event ${i + 1} of this file cannot be taken: ${(error as Error).message} Nothing was kept.`,
      );
    }
  });
  const repository = eventsRepository(store.db);
  if (isDry) {
    const known = new Set((await repository.all()).map((e) => e.id));
    const fresh = new Set(events.map((e) => e.id).filter((id) => !known.has(id)));
    return { read: events.length, added: fresh.size };
  }
  const added = await repository.append(events);
  return { read: events.length, added: added.length };
}
