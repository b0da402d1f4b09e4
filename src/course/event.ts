import { InputError } from '../quantity/input-error.ts';

/** Where an event belongs: one build, one course or the shop. */
export type StreamId = `build:${string}` | `course:${string}` | `shop:${string}`;

/** One thing that happened, as it is kept and sent. Never changed once made. */
export interface RecordEvent<B = unknown> {
  readonly id: string;
  readonly stream: StreamId;
  readonly kind: string;
  readonly device: string;
  /** Counts the events of the device from 1. */
  readonly counter: number;
  /** Hybrid clock, ms since 1970-01-01. */
  readonly time: number;
  /** Id of the person who did it; names live apart. */
  readonly by: string;
  readonly body: B;
}

/**
 * The order of events: hybrid clock, then device, then its counter. The id decides only between copies made by a
 * device that lost its counter.
 *
 * @returns below 0 when `a` comes first, 0 only for the same event
 * @source  arithmetic
 */
export function compareEvents(a: RecordEvent, b: RecordEvent): number {
  if (a.time !== b.time) return a.time - b.time;
  if (a.device !== b.device) return a.device < b.device ? -1 : 1;
  if (a.counter !== b.counter) return a.counter - b.counter;
  return a.id === b.id ? 0 : a.id < b.id ? -1 : 1;
}

/** What a device keeps to make events: its name, the last counter and the last time it has seen. */
export interface Recorder {
  readonly device: string;
  readonly counter: number;
  readonly lastTimeMs: number;
}

/** What is known when something happens. */
export interface EventDraft<B = unknown> {
  readonly stream: StreamId;
  readonly kind: string;
  readonly by: string;
  readonly body: B;
}

/**
 * Makes an event and moves the recorder on.
 *
 * @param recorder  of this device
 * @param draft     stream, kind, who and what
 * @param nowMs     clock of the device, ms since 1970-01-01
 * @param random    16 fresh random bytes
 * @returns         the event and the recorder to keep for the next one
 * @assumes         one recorder a device: two that share a device id would share counters
 * @throws RangeError when fewer than 16 bytes or no time is given
 * @source          arithmetic
 */
export function makeEvent<B>(
  recorder: Recorder,
  draft: EventDraft<B>,
  nowMs: number,
  random: Uint8Array,
): { readonly event: RecordEvent<B>; readonly recorder: Recorder } {
  if (random.length < 16) throw new RangeError(`makeEvent: ${random.length} random bytes, 16 are needed`);
  if (!Number.isFinite(nowMs)) throw new RangeError(`makeEvent: the time ${nowMs} must be finite`);
  const time = Math.max(Math.floor(nowMs), recorder.lastTimeMs + 1);
  const counter = recorder.counter + 1;
  const event = { id: idFromBytes(random), device: recorder.device, counter, time, ...draft };
  return { event, recorder: { device: recorder.device, counter, lastTimeMs: time } };
}

/**
 * Lets a recorder know of an event it has received, so that what it makes next comes after it.
 *
 * @source arithmetic
 */
export function seenBy(recorder: Recorder, event: Pick<RecordEvent, 'time'>): Recorder {
  return event.time > recorder.lastTimeMs ? { ...recorder, lastTimeMs: event.time } : recorder;
}

const letters = '0123456789abcdefghjkmnpqrstvwxyz';

/**
 * An id of 26 letters and digits that can be read aloud (no i, l, o, u).
 *
 * @param bytes  16 random bytes
 * @source       arithmetic
 */
export function idFromBytes(bytes: Uint8Array): string {
  let id = '';
  let held = 0;
  let bits = 0;
  for (const byte of bytes.subarray(0, 16)) {
    held = (held << 8) | byte;
    bits += 8;
    while (bits >= 5) {
      id += letters[(held >> (bits - 5)) & 31];
      bits -= 5;
      held &= (1 << bits) - 1;
    }
  }
  return id + letters[(held << (5 - bits)) & 31];
}

/** Longest id, device name or kind, characters. */
const longest = 80;
const plainName = /^[A-Za-z0-9._-]+$/;
const streamName = /^(build|course|shop):[A-Za-z0-9._-]+$/;

/**
 * Checks the envelope of an event that came from outside. The body is checked by `checkBody`.
 *
 * @param value  what was received
 * @returns      the event
 * @throws InputError naming the member that is wrong
 * @source       arithmetic
 */
export function readEvent(value: unknown): RecordEvent {
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw refused('event', value, 'an object with id, stream, kind, device, counter, time, by and body');
  const e = value as Record<string, unknown>;
  for (const member of ['id', 'device', 'kind', 'by'])
    if (!isName(e[member]))
      throw refused(member, e[member], `1 to ${longest} letters, digits, dots or dashes`);
  if (typeof e['stream'] !== 'string' || !streamName.test(e['stream']) || e['stream'].length > longest)
    throw refused('stream', e['stream'], 'build:, course: or shop: and an id');
  for (const member of ['counter', 'time'])
    if (!Number.isSafeInteger(e[member]) || (e[member] as number) < 0)
      throw refused(member, e[member], 'a whole number from 0');
  if (typeof e['body'] !== 'object' || e['body'] === null || Array.isArray(e['body']))
    throw refused('body', e['body'], 'an object');
  return {
    id: e['id'] as string,
    stream: e['stream'] as StreamId,
    kind: e['kind'] as string,
    device: e['device'] as string,
    counter: e['counter'] as number,
    time: e['time'] as number,
    by: e['by'] as string,
    body: e['body'],
  };
}

function isName(value: unknown): boolean {
  return typeof value === 'string' && value.length <= longest && plainName.test(value);
}

function refused(member: string, got: unknown, wanted: string): InputError {
  const text = got === undefined ? 'nothing' : JSON.stringify(got).slice(0, 60);
  return new InputError(
    'event-form',
    `The ${member} of an event is ${text}; wanted is ${wanted}; send it again as it was made.`,
    member,
  );
}
