import { type DBSchema, type IDBPDatabase, openDB, unwrap } from 'idb';
import type { RecordEvent, Recorder } from '../../course/event.ts';

/** Who this device was let in as, as the server last said. */
export interface Me {
  readonly role: 'nobody' | 'learner' | 'helper' | 'teacher';
  readonly person: string;
  readonly course: string;
  readonly build: string;
  readonly passphrase_is_set: boolean;
  readonly this_machine: boolean;
  /** Where signing, keys, limits and settings are taken; null or left out: here. */
  readonly guarded_at?: string | null;
}

/** A person as the server tells this device. */
export interface KnownPerson {
  readonly id: string;
  readonly name: string;
  readonly role: 'learner' | 'helper' | 'teacher';
  readonly course: string;
  readonly build: string;
  readonly ageBand?: 'under16' | 'from16to17' | 'adult';
  readonly machines?: { readonly answer: 'yes' | 'no' | 'not asked'; readonly on?: string };
  readonly photos?: { readonly answer: 'yes' | 'no' | 'not asked'; readonly on?: string };
  readonly isForgotten: boolean;
}

interface Meta {
  readonly recorder: Recorder;
  /** Arrival number up to which the server's record is here. */
  readonly after: number;
  readonly me: Me;
  readonly people: readonly KnownPerson[];
}

interface LogSchema extends DBSchema {
  events: { key: string; value: RecordEvent };
  /** Ids of events the server has not confirmed, in the order they were made. */
  outbox: { key: number; value: { readonly key?: number; readonly id: string } };
  meta: { key: keyof Meta; value: { readonly name: keyof Meta; readonly value: Meta[keyof Meta] } };
}

let opened: Promise<IDBPDatabase<LogSchema>> | undefined;

function open(): Promise<IDBPDatabase<LogSchema>> {
  opened ??= openDB<LogSchema>('bracewright-record', 1, {
    upgrade(db) {
      db.createObjectStore('events', { keyPath: 'id' });
      db.createObjectStore('outbox', { keyPath: 'key', autoIncrement: true });
      db.createObjectStore('meta', { keyPath: 'name' });
    },
  });
  return opened;
}

/** Everything kept on this device. */
export interface DeviceLog {
  readonly events: readonly RecordEvent[];
  readonly unsent: readonly string[];
  readonly recorder: Recorder | undefined;
  readonly after: number;
  readonly me: Me | undefined;
  readonly people: readonly KnownPerson[];
}

/** Reads what is kept. */
export async function readLog(): Promise<DeviceLog> {
  const db = await open();
  const trx = db.transaction(['events', 'outbox', 'meta']);
  const [events, outbox, meta] = await Promise.all([
    trx.objectStore('events').getAll(),
    trx.objectStore('outbox').getAll(),
    trx.objectStore('meta').getAll(),
  ]);
  const byName = new Map(meta.map((m) => [m.name, m.value]));
  return {
    events,
    unsent: outbox.map((o) => o.id),
    recorder: byName.get('recorder') as Recorder | undefined,
    after: (byName.get('after') as number | undefined) ?? 0,
    me: byName.get('me') as Me | undefined,
    people: (byName.get('people') as readonly KnownPerson[] | undefined) ?? [],
  };
}

/** Keeps own events and the recorder in one strict transaction: once this resolves they survive a flat battery. */
export async function keepOwn(events: readonly RecordEvent[], recorder: Recorder): Promise<void> {
  const db = await open();
  const trx = db.transaction(['events', 'outbox', 'meta'], 'readwrite', { durability: 'strict' });
  await Promise.all([
    ...events.map((e) => trx.objectStore('events').put(e)),
    ...events.map((e) => trx.objectStore('outbox').add({ id: e.id })),
    trx.objectStore('meta').put({ name: 'recorder', value: recorder }),
    trx.done,
  ]);
}

/** Events kept in one go: more would hold the page up. */
const KEPT_AT_ONCE = 200;

/**
 * Keeps events that came from the server, and behind the last of them the place up to which they were fetched.
 *
 * @param pause  waits until the page has nothing better to do
 */
export async function keepArrived(
  events: readonly RecordEvent[],
  after: number,
  pause: () => Promise<void>,
): Promise<void> {
  const db = await open();
  for (let from = 0; ; from += KEPT_AT_ONCE) {
    await pause();
    const isLast = from + KEPT_AT_ONCE >= events.length;
    const trx = db.transaction(['events', 'meta'], 'readwrite');
    // the bare store spares a promise for each event; a fault of one fails the whole
    const store = unwrap(trx.objectStore('events'));
    for (const e of events.slice(from, from + KEPT_AT_ONCE)) store.put(e);
    if (isLast) void trx.objectStore('meta').put({ name: 'after', value: after });
    await trx.done;
    if (isLast) return;
  }
}

/** The server has these or will never take them. Refused ones leave the log too. */
export async function dropSent(sent: ReadonlySet<string>, refused: ReadonlySet<string>): Promise<void> {
  const db = await open();
  const trx = db.transaction(['events', 'outbox'], 'readwrite', { durability: 'strict' });
  for (const o of await trx.objectStore('outbox').getAll())
    if (o.key !== undefined && (sent.has(o.id) || refused.has(o.id)))
      await trx.objectStore('outbox').delete(o.key);
  for (const id of refused) await trx.objectStore('events').delete(id);
  await trx.done;
}

/** Keeps one of the small things. */
export async function keepMeta<K extends keyof Meta>(name: K, value: Meta[K]): Promise<void> {
  await (await open()).put('meta', { name, value });
}

/** Empties the log of everything but unsent events; used when another person signs in on this device. */
export async function forgetArrived(): Promise<void> {
  const db = await open();
  const trx = db.transaction(['events', 'outbox', 'meta'], 'readwrite');
  const waiting = new Set((await trx.objectStore('outbox').getAll()).map((o) => o.id));
  for (const id of await trx.objectStore('events').getAllKeys())
    if (!waiting.has(id)) await trx.objectStore('events').delete(id);
  await trx.objectStore('meta').delete('after');
  await trx.objectStore('meta').delete('people');
  await trx.done;
}

/** Puts changed events in the place of what is kept; for forgetting a person. */
export async function replaceEvents(events: readonly RecordEvent[]): Promise<void> {
  const trx = (await open()).transaction('events', 'readwrite');
  await Promise.all([...events.map((e) => trx.store.put(e)), trx.done]);
}
