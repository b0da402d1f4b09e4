import { InputError } from '../quantity/input-error.ts';
import {
  flag,
  id,
  list,
  longText,
  maybe,
  number,
  object,
  oneOf,
  type Shape,
  type TypeOf,
  text,
  timeMs,
} from './body-shape.ts';
import type { RecordEvent } from './event.ts';

const any = number(-1e9, 1e9);
const hours = number(0, 10_000);
const hold = object({ what: id, leastH: hours, usualH: hours });

/** A verdict as it was shown: never computed again. */
const shownVerdict = object({
  state: oneOf('met', 'doubtful', 'broken'),
  words: text,
  value: maybe(any),
  low: maybe(any),
  high: maybe(any),
  softLow: maybe(any),
  softHigh: maybe(any),
  /** What it should have been. */
  aim: maybe(any),
  revision: maybe(id),
});

const sessionPlan = object({ session: id, startMs: timeMs, endMs: timeMs, note: maybe(text) });
const revision = object({
  what: oneOf('pattern', 'route', 'shop'),
  /** Hash of the content. */
  revision: id,
  parent: maybe(id),
  name: maybe(text),
  text: longText,
});

/** Every kind of event, the stream it belongs to and its body. Kinds are permanent: never renamed, never given a new meaning. */
export const eventKinds = {
  // The course
  'course-set-up': {
    streams: ['course'],
    body: object({
      name: text,
      pattern: maybe(id),
      route: maybe(id),
      choices: maybe(list(id)),
      finish: maybe(id),
      units: maybe(oneOf('mm', 'in')),
      sessions: maybe(list(sessionPlan)),
      demo: maybe(flag),
    }),
  },
  'course-removed': { streams: ['course'], body: object({ reason: maybe(text) }) },
  'session-planned': { streams: ['course'], body: sessionPlan },
  'session-cancelled': { streams: ['course'], body: object({ session: id, reason: maybe(text) }) },
  'session-opened': { streams: ['course'], body: object({ session: id, atMs: maybe(timeMs) }) },
  'session-closed': {
    streams: ['course'],
    body: object({ session: id, atMs: maybe(timeMs), notes: maybe(text) }),
  },
  'learner-added': {
    streams: ['course'],
    body: object({ person: id, build: id, number: maybe(number(1, 9999)) }),
  },
  'learner-removed': { streams: ['course'], body: object({ person: id, reason: maybe(text) }) },
  'helper-added': { streams: ['course'], body: object({ person: id }) },
  present: { streams: ['course'], body: object({ session: id, person: id }) },
  absent: { streams: ['course'], body: object({ session: id, person: id, reason: maybe(text) }) },
  'route-edited': { streams: ['course'], body: object({ edit: text }) },
  'planned-steps-set': { streams: ['course'], body: object({ session: id, build: id, ops: list(id) }) },
  /** What the class follows from now on: one line a step, as `plan-text.ts` writes it. The last one counts. */
  'plan-published': {
    streams: ['course'],
    body: object({ format: id, steps: longText, dueMs: maybe(timeMs), sessions: maybe(number(0, 1000)) }),
  },
  /** The teacher's choice of the session for one step; plans made later keep it. Withdrawn, it counts no more. */
  'step-pinned': {
    streams: ['course'],
    body: object({
      op: id,
      part: id,
      builds: list(id),
      session: id,
      startMs: timeMs,
      endMs: timeMs,
      station: maybe(id),
    }),
  },
  // One build
  'build-set-up': {
    streams: ['build'],
    body: object({
      course: id,
      person: id,
      instrument: oneOf('steel', 'nylon', 'uke'),
      pattern: id,
      handed: oneOf('right', 'left'),
      choices: maybe(list(id)),
      finish: maybe(id),
    }),
  },
  'pattern-applied': {
    streams: ['build'],
    body: object({ pattern: id, instead: maybe(id), reason: maybe(text) }),
  },
  'choice-made': { streams: ['build'], body: object({ choice: id, value: text, number: maybe(any) }) },
  'own-figure-set': {
    streams: ['build'],
    body: object({ figure: id, value: any, unit: text, reason: text }),
  },
  'step-started': {
    streams: ['build'],
    body: object({ op: id, part: maybe(id), station: maybe(id), atMs: maybe(timeMs) }),
  },
  'step-done': {
    streams: ['build'],
    body: object({
      op: id,
      part: maybe(id),
      station: maybe(id),
      atMs: maybe(timeMs),
      minutes: maybe(number(0, 10_000)),
      batch: maybe(id),
    }),
  },
  'step-reopened': { streams: ['build'], body: object({ op: id, part: maybe(id), reason: maybe(text) }) },
  'step-skipped': { streams: ['build'], body: object({ op: id, reason: text }) },
  'coarse-step-done': { streams: ['build'], body: object({ step: id, ops: list(id), atMs: maybe(timeMs) }) },
  'done-before-record': { streams: ['build'], body: object({ step: maybe(id), ops: list(id) }) },
  'put-in-clamps': {
    streams: ['build'],
    body: object({ op: id, part: maybe(id), holds: list(hold), atMs: maybe(timeMs) }),
  },
  released: {
    streams: ['build'],
    body: object({ op: id, part: maybe(id), what: maybe(id), atMs: maybe(timeMs) }),
  },
  reading: {
    streams: ['build'],
    body: object({
      op: id,
      reading: id,
      value: maybe(any),
      unit: maybe(text),
      said: maybe(text),
      spot: maybe(text),
      tool: maybe(id),
      jig: maybe(id),
      verdict: maybe(shownVerdict),
      /** When it was read, where it is written down later. */
      atMs: maybe(timeMs),
    }),
  },
  'hold-signed': {
    streams: ['build'],
    body: object({
      op: id,
      sign: text,
      number: maybe(number(1, 9)),
      remark: maybe(text),
      checked: maybe(list(text)),
    }),
  },
  'part-replaced': {
    streams: ['build'],
    body: object({
      op: id,
      undone: list(id),
      reason: text,
      stock: maybe(list(id)),
      minutes: maybe(number(0, 100_000)),
    }),
  },
  'repair-decided': {
    streams: ['build'],
    body: object({ op: id, fault: text, decision: oneOf('carry on', 'repair', 'replace'), how: maybe(text) }),
  },
  'repair-done': { streams: ['build'], body: object({ op: id, how: maybe(text) }) },
  'help-asked': { streams: ['build'], body: object({ op: maybe(id), words: maybe(text) }) },
  'help-given': { streams: ['build'], body: object({ words: maybe(text) }) },
  'build-handed-over': { streams: ['build'], body: object({ atMs: maybe(timeMs) }) },
  // The shop
  'key-given': {
    streams: ['shop'],
    body: object({ person: id, key: id, course: maybe(id), atMs: maybe(timeMs) }),
  },
  'key-taken': { streams: ['shop'], body: object({ person: id, key: id, reason: maybe(text) }) },
  'key-lapsed': { streams: ['shop'], body: object({ person: id, key: id, reason: text }) },
  'key-rule-set': {
    streams: ['shop'],
    body: object({
      lapsesAfterMonths: number(1, 120),
      lapsesAfterGapWeeks: number(1, 520),
      /** What the gap is: away from the workshop, or without that machine; away when left out. */
      gap: maybe(oneOf('away', 'unused')),
    }),
  },
  'age-rule-set': {
    streams: ['shop'],
    body: object({
      station: id,
      band: oneOf('under16', 'from16to17', 'adult'),
      word: oneOf('alone', 'adult beside', 'teacher does it', 'never'),
      reason: maybe(text),
    }),
  },
  'station-set': {
    streams: ['shop'],
    body: object({
      station: id,
      setting: maybe(id),
      value: any,
      unit: text,
      said: maybe(text),
      figure: maybe(id),
      /** Of a batch: whose pieces go through at this number. */
      builds: maybe(list(id)),
    }),
  },
  'station-proved': {
    streams: ['shop'],
    body: object({ station: id, unit: text, points: list(object({ typed: any, measured: any })) }),
  },
  'station-out-of-order': { streams: ['shop'], body: object({ station: id, reason: text }) },
  'station-in-order': { streams: ['shop'], body: object({ station: id, note: maybe(text) }) },
  'station-not-cleaned': { streams: ['shop'], body: object({ station: id, note: maybe(text) }) },
  'station-cleaned': { streams: ['shop'], body: object({ station: id }) },
  'machine-checked': {
    streams: ['shop'],
    body: object({
      station: id,
      state: oneOf('met', 'doubtful', 'broken'),
      checked: maybe(list(text)),
      note: maybe(text),
    }),
  },
  'jig-proved': {
    streams: ['shop'],
    body: object({ jig: id, reading: maybe(id), value: maybe(any), unit: maybe(text) }),
  },
  'jig-out-of-order': { streams: ['shop'], body: object({ jig: id, reason: text }) },
  'room-climate': {
    streams: ['shop'],
    body: object({
      humidityFrac: number(0, 1),
      tempC: maybe(number(-30, 60)),
      by: maybe(oneOf('logger', 'opening', 'gluing', 'hand')),
      atMs: maybe(timeMs),
    }),
  },
  /** What one piece of rough wood costs; a later one stands above an earlier one. */
  'price-entered': {
    streams: ['shop'],
    body: object({ part: text, material: text, price: number(0, 1_000_000), currency: text }),
  },
  'person-anonymised': { streams: ['shop'], body: object({ person: id }) },
  // Anywhere
  'revision-made': { streams: ['course', 'build', 'shop'], body: revision },
  note: {
    streams: ['course', 'build', 'shop'],
    body: object({ text, op: maybe(id), station: maybe(id), person: maybe(id), forNext: maybe(flag) }),
  },
  photo: {
    streams: ['course', 'build', 'shop'],
    body: object({ hash: id, type: text, op: maybe(id), words: maybe(text), person: maybe(id) }),
  },
  incident: {
    streams: ['course', 'build', 'shop'],
    body: object({
      severity: oneOf('near miss', 'first aid', 'injury', 'damage'),
      text,
      person: maybe(id),
      station: maybe(id),
      key: maybe(id),
      firstAid: maybe(text),
      followUp: maybe(text),
      atMs: maybe(timeMs),
    }),
  },
  'incident-closed': { streams: ['course', 'build', 'shop'], body: object({ incident: id, text }) },
  'event-withdrawn': {
    streams: ['course', 'build', 'shop'],
    body: object({ event: id, reason: maybe(text) }),
  },
} as const satisfies Record<
  string,
  { readonly streams: readonly ('build' | 'course' | 'shop')[]; readonly body: Shape<unknown> }
>;

/** A kind this version knows. */
export type EventKind = keyof typeof eventKinds;
/** Body of a kind. */
export type BodyOf<K extends EventKind> = TypeOf<(typeof eventKinds)[K]['body']>;
/** An event of a known kind, for `switch (event.kind)`. */
export type KnownEvent = {
  [K in EventKind]: Omit<RecordEvent<BodyOf<K>>, 'kind'> & { readonly kind: K };
}[EventKind];

/** Whether this version knows the kind of an event. Others are kept and passed on. */
export function isKnownKind(kind: string): kind is EventKind {
  return Object.hasOwn(eventKinds, kind);
}

/** Why an event cannot be taken: its stream or its body; undefined when it can, or when its kind is unknown. */
export function bodyFault(event: RecordEvent): string | undefined {
  if (!isKnownKind(event.kind)) return undefined;
  const kind = eventKinds[event.kind];
  const streamKind = event.stream.slice(0, event.stream.indexOf(':'));
  if (!(kind.streams as readonly string[]).includes(streamKind))
    return `${event.kind} belongs to ${kind.streams.join(' or ')}, not to ${streamKind}`;
  return kind.body.check(event.body);
}

/**
 * Checks stream and body of an event that came from outside. An unknown kind is let through.
 *
 * @throws InputError naming kind, member and what is wanted
 * @source arithmetic
 */
export function checkBody(event: RecordEvent): void {
  const fault = bodyFault(event);
  if (fault !== undefined)
    throw new InputError(
      'event-body',
      `The event "${event.kind}" cannot be taken: ${fault}; correct it and send it again.`,
      event.kind,
    );
}
