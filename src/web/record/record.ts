import { guardOf, guardWords } from '../../contract/guarded.ts';
import { type EventDraft, makeEvent, type RecordEvent, type Recorder, seenBy } from '../../course/event.ts';
import type { BodyOf, EventKind } from '../../course/event-kinds.ts';
import { redactEvent } from '../../course/redact.ts';
import { tellKept } from '../keeping/kept.ts';
import {
  dropSent,
  forgetArrived,
  type KnownPerson,
  keepArrived,
  keepMeta,
  keepOwn,
  type Me,
  readLog,
  replaceEvents,
} from './device-log.ts';
import { askEvents, askMe, askPeople, sendEvents } from './record-server.ts';

/** What pages look at. A new object whenever anything changed. */
export interface RecordView {
  /** `loading` until the device's own log has been read. */
  readonly state: 'loading' | 'ready';
  readonly me: Me;
  readonly people: readonly KnownPerson[];
  /** All events of this device's log, by stream. */
  readonly streams: ReadonlyMap<string, readonly RecordEvent[]>;
  readonly unsentCount: number;
  readonly isReached: boolean;
  /** Sentences for events the server refused, newest last. */
  readonly refusals: readonly string[];
  /** Grows with every change of the events; for caches. */
  readonly version: number;
}

const NOBODY: Me = {
  role: 'nobody',
  person: '',
  course: '',
  build: '',
  passphrase_is_set: false,
  this_machine: false,
};
const SEND_AT_MOST = 500;
const RETRY_MS = 5000;

let view: RecordView = {
  state: 'loading',
  me: NOBODY,
  people: [],
  streams: new Map(),
  unsentCount: 0,
  isReached: true,
  refusals: [],
  version: 0,
};
const listeners = new Set<() => void>();
const known = new Map<string, RecordEvent>();
let unsent: string[] = [];
let recorder: Recorder | undefined;
let after = 0;
let keepQueue: Promise<unknown> = Promise.resolve();
/** Keeping of what arrived, in order. Once one failed none is kept after it: the next opening fetches from there. */
let arrivedQueue: Promise<unknown> = Promise.resolve();
let isSyncing = false;
let syncAgain = false;
let source: EventSource | undefined;
let started = false;

function change(part: Partial<RecordView>): void {
  view = { ...view, ...part };
  if (part.unsentCount !== undefined) tellKept({ unsentEventCount: part.unsentCount });
  if (part.isReached !== undefined) tellKept({ isReached: part.isReached });
  for (const tell of listeners) tell();
}

/** Subscribes to changes; for useSyncExternalStore. */
export function subscribeRecord(tell: () => void): () => void {
  listeners.add(tell);
  return () => listeners.delete(tell);
}

/** The present view. */
export const recordView = (): RecordView => view;

const freshBytes = (): Uint8Array => crypto.getRandomValues(new Uint8Array(16));

function newRecorder(): Recorder {
  const name = [...crypto.getRandomValues(new Uint8Array(8))]
    .map((b) => b.toString(16).padStart(2, '0'))
    .join('');
  return { device: `d-${name}`, counter: 0, lastTimeMs: 0 };
}

function addToStreams(events: readonly RecordEvent[]): void {
  const fresh = events.filter((e) => !known.has(e.id));
  if (fresh.length === 0) return;
  const added = new Map<string, RecordEvent[]>();
  for (const e of fresh) {
    known.set(e.id, e);
    const own = added.get(e.stream);
    if (own) own.push(e);
    else added.set(e.stream, [e]);
    if (recorder) recorder = seenBy(recorder, e);
  }
  const streams = new Map(view.streams);
  for (const [stream, own] of added) streams.set(stream, [...(streams.get(stream) ?? []), ...own]);
  change({ streams, version: view.version + 1 });
}

function takeOut(ids: ReadonlySet<string>): void {
  if (ids.size === 0) return;
  const streams = new Map<string, readonly RecordEvent[]>();
  for (const [stream, events] of view.streams)
    streams.set(
      stream,
      events.filter((e) => !ids.has(e.id)),
    );
  for (const id of ids) known.delete(id);
  change({ streams, version: view.version + 1 });
}

/** One thing to enter: kind, stream and body. */
export interface Entry<K extends EventKind = EventKind> {
  readonly stream: EventDraft['stream'];
  readonly kind: K;
  readonly body: BodyOf<K>;
}

/** The refusals were read. */
export const dismissRefusals = (): void => change({ refusals: [] });

/**
 * Enters events: they are seen at once, kept on this device, and sent when the server can be reached. What this door
 * does not take is refused at once with a sentence, all of it: the parts of one act stand or fall together.
 *
 * @returns ids of the events, none when they were refused; resolves when they are kept on the device
 */
export async function enter(entries: readonly Entry[]): Promise<readonly string[]> {
  const elsewhere = view.me.guarded_at;
  if (elsewhere && entries.some((e) => guardOf(e.kind) !== undefined)) {
    change({ refusals: [...view.refusals, guardWords(elsewhere)].slice(-20) });
    return [];
  }
  let mine: Recorder = recorder ?? newRecorder();
  const events: RecordEvent[] = [];
  for (const entry of entries) {
    const made: { readonly event: RecordEvent; readonly recorder: Recorder } = makeEvent(
      mine,
      { ...entry, by: view.me.person || 'nobody' },
      Date.now(),
      freshBytes(),
    );
    mine = made.recorder;
    events.push(made.event);
  }
  recorder = mine;
  const keptRecorder = mine;
  addToStreams(events);
  unsent = [...unsent, ...events.map((e) => e.id)];
  change({ unsentCount: unsent.length });
  keepQueue = keepQueue
    .then(() => keepOwn(events, keptRecorder))
    .then(
      () => tellKept({ isKept: true }),
      () => tellKept({ isKept: false }),
    );
  await keepQueue;
  void syncNow();
  return events.map((e) => e.id);
}

/** Takes back an event of one's own by adding that it is withdrawn. */
export const withdraw = (stream: Entry['stream'], event: string): Promise<readonly string[]> =>
  enter([{ stream, kind: 'event-withdrawn', body: { event } }]);

async function sendWaiting(): Promise<boolean> {
  while (unsent.length > 0) {
    const batch = unsent.slice(0, SEND_AT_MOST).flatMap((id) => known.get(id) ?? []);
    const answer = await sendEvents(batch);
    if (answer.kind !== 'answer')
      return answer.kind === 'refused' && answer.status !== 401 && answer.status < 500;
    const kept = new Set(answer.value.kept);
    const refused = new Set(answer.value.refused.map((r) => r.id));
    await dropSent(kept, refused);
    unsent = unsent.filter((id) => !kept.has(id) && !refused.has(id));
    takeOut(refused);
    change({
      unsentCount: unsent.length,
      refusals: [...view.refusals, ...answer.value.refused.map((r) => r.message)].slice(-20),
    });
    if (kept.size + refused.size === 0) return true;
  }
  return true;
}

const IDLE_WITHIN_MS = 1500;

/** Until the browser has nothing better to do: a first load is drawn before it is kept. */
const untilIdle = (): Promise<void> =>
  new Promise((resolve) => {
    if (typeof requestIdleCallback === 'function')
      requestIdleCallback(() => resolve(), { timeout: IDLE_WITHIN_MS });
    else setTimeout(resolve, 200);
  });

/** @param names  of people; waited for before events, so that no page shows a class without them */
async function fetchNews(names: Promise<void> | undefined): Promise<boolean> {
  for (;;) {
    const answer = await askEvents(after);
    if (answer.kind !== 'answer') return false;
    const { events, last, more } = answer.value;
    await names;
    addToStreams(events);
    after = last;
    arrivedQueue = arrivedQueue.then(() => keepArrived(events, last, untilIdle));
    arrivedQueue.catch(() => tellKept({ isKept: false }));
    const forgot = events.some((e) => e.kind === 'person-anonymised');
    if (forgot) {
      await arrivedQueue.catch(() => undefined);
      await refreshPeople();
      await forgetPeople();
    }
    if (!more) return true;
  }
}

async function refreshPeople(): Promise<void> {
  const answer = await askPeople();
  if (answer.kind !== 'answer') return;
  change({ people: answer.value });
  await keepMeta('people', answer.value);
}

/** Takes notes, photos and words of forgotten people out of this device's log too. */
async function forgetPeople(): Promise<void> {
  const gone = new Set(
    [...known.values()]
      .filter((e) => e.kind === 'person-anonymised')
      .map((e) => String((e.body as { person?: unknown }).person)),
  );
  const builds = new Set(view.people.filter((p) => gone.has(p.id) && p.build !== '').map((p) => p.build));
  const changed = [...known.values()].flatMap((e) => {
    const after = redactEvent(e, gone, builds);
    return after === e ? [] : [after];
  });
  if (changed.length === 0) return;
  for (const e of changed) known.set(e.id, e);
  const streams = new Map<string, readonly RecordEvent[]>();
  for (const [stream, events] of view.streams)
    streams.set(
      stream,
      events.map((e) => known.get(e.id) ?? e),
    );
  change({ streams, version: view.version + 1 });
  await replaceEvents(changed);
}

/** Asks the server who this device is; another person than before empties what was seen as the first. */
async function refreshMe(): Promise<Me | undefined> {
  const answer = await askMe();
  if (answer.kind !== 'answer') {
    change({ isReached: false });
    return undefined;
  }
  const { now_ms: _now, ...me } = answer.value;
  const isOther = view.me.person !== me.person || view.me.course !== me.course;
  if (isOther && (view.me.person !== '' || known.size > 0)) {
    await arrivedQueue.catch(() => undefined);
    await forgetArrived();
    arrivedQueue = Promise.resolve();
    takeOut(new Set([...known.keys()].filter((id) => !unsent.includes(id))));
    after = 0;
  }
  change({ me, isReached: true });
  await keepMeta('me', me);
  return me;
}

/** Sends what waits and fetches what is new. Calls made meanwhile are done once more afterwards. */
export async function syncNow(): Promise<void> {
  if (isSyncing) {
    syncAgain = true;
    return;
  }
  isSyncing = true;
  try {
    do {
      syncAgain = false;
      const me = await refreshMe();
      if (!me || me.role === 'nobody') return;
      const names = view.people.length === 0 ? refreshPeople() : undefined;
      const isSent = await sendWaiting();
      const isFetched = await fetchNews(names);
      change({ isReached: isSent && isFetched, ...(isFetched ? { state: 'ready' } : {}) });
      listen();
    } while (syncAgain);
  } finally {
    isSyncing = false;
  }
}

/** Listens for news; the browser itself connects again after a gap, and every hello leads to catching up. */
function listen(): void {
  if (source && source.readyState !== EventSource.CLOSED) return;
  source = new EventSource('/api/live');
  const news = () => void syncNow();
  source.addEventListener('hello', news);
  source.addEventListener('arrived', news);
  source.addEventListener('error', () => {
    // the page is drawn anew for a change only; the mark may have heard otherwise meanwhile
    if (view.isReached) change({ isReached: false });
    else tellKept({ isReached: false });
  });
}

/** Closes the line, for another person signing in. */
export function stopListening(): void {
  source?.close();
  source = undefined;
}

/** Whether the record was begun: it then knows who this device is, or will. */
export const isRecordStarted = (): boolean => started;

/** Reads the log of this device, then goes to the server. Safe to call again. */
export async function startRecord(): Promise<void> {
  if (started) return;
  started = true;
  try {
    const log = await readLog();
    // Each opening of the page counts for itself: two pages of one device must not share a counter.
    recorder = { ...newRecorder(), lastTimeMs: log.recorder?.lastTimeMs ?? 0 };
    unsent = [...log.unsent];
    after = log.after;
    change({ people: log.people, ...(log.me ? { me: log.me } : {}), unsentCount: unsent.length });
    addToStreams(log.events);
  } catch {
    tellKept({ isKept: false });
  }
  // A device that has kept nothing of the class yet asks first: it must not say that there is no course.
  if (after > 0) change({ state: 'ready' });
  window.addEventListener('online', () => void syncNow());
  window.addEventListener('offline', () => {
    change({ isReached: false });
  });
  window.setInterval(() => {
    if (unsent.length > 0 || !view.isReached) void syncNow();
  }, RETRY_MS);
  await syncNow();
  change({ state: 'ready' });
}

/** People changed on this device's own doing. */
export const reloadPeople = refreshPeople;
