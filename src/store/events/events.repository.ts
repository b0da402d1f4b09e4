import type { Kysely, Selectable } from 'kysely';
import type { RecordEvent, StreamId } from '../../course/event.ts';
import type { Tables } from '../tables.ts';
import type { EventTable } from './events.table.ts';

/** An event with its arrival number at this server. */
export interface ArrivedEvent extends RecordEvent {
  readonly arrival: number;
}

/** The record on disk. */
export interface EventsRepository {
  /** Keeps events. Resolves when they are on disk; events already there are left alone. Returns the new ones with their arrival numbers. */
  append(events: readonly RecordEvent[]): Promise<readonly ArrivedEvent[]>;
  /** Events that arrived after a number, in order of arrival. */
  after(arrival: number, limit: number): Promise<readonly ArrivedEvent[]>;
  /** All events of some streams, in order of arrival. */
  ofStreams(streams: readonly string[]): Promise<readonly ArrivedEvent[]>;
  /** All events of some kinds, in order of arrival. */
  ofKinds(kinds: readonly string[]): Promise<readonly ArrivedEvent[]>;
  all(): Promise<readonly ArrivedEvent[]>;
  lastArrival(): Promise<number>;
  /** Puts what a function makes of each event in its place, where that differs; for forgetting a person. */
  rewrite(change: (event: RecordEvent) => RecordEvent): Promise<number>;
}

interface Waiting {
  readonly events: readonly RecordEvent[];
  readonly done: (arrived: readonly ArrivedEvent[]) => void;
  readonly failed: (error: unknown) => void;
}

const rowOf = (e: RecordEvent) => ({
  id: e.id,
  stream: e.stream,
  kind: e.kind,
  device: e.device,
  counter: e.counter,
  time_ms: e.time,
  by_person: e.by,
  body: JSON.stringify(e.body),
});

/** A row as an event; only its body is read, nothing is checked. */
export const eventOf = (r: Selectable<EventTable>): ArrivedEvent => ({
  arrival: r.arrival,
  id: r.id,
  stream: r.stream as StreamId,
  kind: r.kind,
  device: r.device,
  counter: r.counter,
  time: r.time_ms,
  by: r.by_person,
  body: JSON.parse(r.body) as unknown,
});

/** SQLite takes some thousand values in one statement. */
const CHUNK = 200;

/**
 * The events repository of a store. Appends that come in while one is being written share the next commit.
 */
export function eventsRepository(db: Kysely<Tables>): EventsRepository {
  let waiting: Waiting[] = [];
  let isWriting = false;

  async function writeAll(batch: readonly Waiting[]): Promise<readonly ArrivedEvent[]> {
    const events = [...new Map(batch.flatMap((w) => w.events).map((e) => [e.id, e])).values()];
    return db.transaction().execute(async (trx) => {
      const arrived: ArrivedEvent[] = [];
      for (let i = 0; i < events.length; i += CHUNK) {
        const rows = await trx
          .insertInto('event')
          .values(events.slice(i, i + CHUNK).map(rowOf))
          .onConflict((c) => c.column('id').doNothing())
          .returningAll()
          .execute();
        arrived.push(...rows.map(eventOf));
      }
      return arrived.sort((x, y) => x.arrival - y.arrival);
    });
  }

  async function drain(): Promise<void> {
    if (isWriting) return;
    isWriting = true;
    while (waiting.length > 0) {
      const batch = waiting;
      waiting = [];
      try {
        const arrived = await writeAll(batch);
        const byId = new Map(arrived.map((a) => [a.id, a]));
        for (const w of batch) w.done(w.events.flatMap((e) => byId.get(e.id) ?? []));
      } catch (error) {
        for (const w of batch) w.failed(error);
      }
    }
    isWriting = false;
  }

  return {
    append: (events) =>
      events.length === 0
        ? Promise.resolve([])
        : new Promise((done, failed) => {
            waiting.push({ events, done, failed });
            setImmediate(() => void drain());
          }),
    after: async (arrival, limit) =>
      (
        await db
          .selectFrom('event')
          .selectAll()
          .where('arrival', '>', arrival)
          .orderBy('arrival')
          .limit(limit)
          .execute()
      ).map(eventOf),
    ofStreams: async (streams) =>
      streams.length === 0
        ? []
        : (
            await db
              .selectFrom('event')
              .selectAll()
              .where('stream', 'in', [...streams])
              .orderBy('arrival')
              .execute()
          ).map(eventOf),
    ofKinds: async (kinds) =>
      (
        await db
          .selectFrom('event')
          .selectAll()
          .where('kind', 'in', [...kinds])
          .orderBy('arrival')
          .execute()
      ).map(eventOf),
    all: async () => (await db.selectFrom('event').selectAll().orderBy('arrival').execute()).map(eventOf),
    lastArrival: () => lastOf(db),
    rewrite: (change) =>
      db.transaction().execute(async (trx) => {
        const rows = await trx.selectFrom('event').selectAll().orderBy('arrival').execute();
        let count = 0;
        for (const row of rows) {
          const before = eventOf(row);
          const after = change(before);
          if (after === before) continue;
          count++;
          await trx
            .updateTable('event')
            .set({ body: JSON.stringify(after.body) })
            .where('arrival', '=', row.arrival)
            .execute();
        }
        return count;
      }),
  };
}

async function lastOf(db: Kysely<Tables>): Promise<number> {
  const row = await db
    .selectFrom('event')
    .select((e) => e.fn.max('arrival').as('last'))
    .executeTakeFirst();
  return Number(row?.last ?? 0);
}
