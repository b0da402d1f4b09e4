import { randomBytes } from 'node:crypto';
import { calendarRepository } from '../store/calendar/calendar.repository.ts';
import type { OpenStore } from '../store/dialect/open-sqlite.ts';
import { eventsRepository } from '../store/events/events.repository.ts';
import { peopleRepository } from '../store/people/people.repository.ts';
import { sessionsRepository } from '../store/sessions/sessions.repository.ts';
import type { Context } from './context.ts';
import type { SecureDoor } from './doors/secure-door.ts';
import { type PdfMaker, pdfMakerHere } from './prints/pdf-maker.ts';
import { makeLive } from './record/live.ts';
import { serverRecorder } from './record/recorder.ts';

/** What may differ between a real run and a test. */
export interface ContextOptions {
  readonly dataFolder: string;
  readonly nowMs?: () => number;
  readonly randomBytes?: (count: number) => Uint8Array;
  /** Where PDFs are made; left out: on the thread that asks. */
  readonly pdf?: PdfMaker;
  /** Left out: the server has one door, plain http. */
  readonly secureDoor?: SecureDoor;
}

/** Puts together what the routes use. */
export async function makeContext(store: OpenStore, options: ContextOptions): Promise<Context> {
  const nowMs = options.nowMs ?? Date.now;
  const random = options.randomBytes ?? ((count: number) => new Uint8Array(randomBytes(count)));
  const events = eventsRepository(store.db);
  const last = await store.db
    .selectFrom('event')
    .select((e) => e.fn.max('time_ms').as('last'))
    .executeTakeFirst();
  const runId = Buffer.from(random(8)).toString('hex');
  return {
    store,
    events,
    people: peopleRepository(store.db),
    sessions: sessionsRepository(store.db),
    calendar: calendarRepository(store.db),
    live: makeLive(),
    recorder: serverRecorder(runId, Number(last?.last ?? 0), nowMs, random),
    pdf: options.pdf ?? pdfMakerHere,
    nowMs,
    randomBytes: random,
    ...(options.secureDoor ? { secureDoor: options.secureDoor } : {}),
    dataFolder: options.dataFolder,
  };
}
