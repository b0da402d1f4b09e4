import { MINUTE_MS } from '../quantity/time.ts';
import type { RecordEvent } from './event.ts';
import type { BodyOf, KnownEvent } from './event-kinds.ts';
import { foldEvents, type Reducer } from './fold.ts';
import {
  type Draft,
  nothingSaid,
  type Said,
  type StreamFacts,
  saidBy,
  takeAnywhere,
  understood,
} from './stream-facts.ts';

type Body<K extends KnownEvent['kind']> = BodyOf<K>;

/** What is known of one part of an operation. */
export interface PartFact {
  readonly startedMs?: number;
  readonly doneMs?: number;
  /** Minutes told or measured between start and done; undefined when a start is missing. */
  readonly minutes?: number;
  readonly station?: string;
  /** Who said that it began, and that it was done. */
  readonly startedBy?: string;
  readonly doneBy?: string;
}

/** What is known of one operation of a build. */
export interface OperationFact {
  /** Parts by id; `all` stands for the whole operation. */
  readonly parts: ReadonlyMap<string, PartFact>;
  readonly doneMs?: number;
  /** Done before the record began: no readings, no signatures, no minutes. */
  readonly before?: boolean;
  /** Ticked with its coarse step: minutes are not known. */
  readonly coarse?: boolean;
  readonly skipped?: string;
}

/** Something that holds a piece while it rests. */
export interface ClampFact extends Said {
  readonly op: string;
  readonly part: string;
  readonly sinceMs: number;
  readonly holds: readonly {
    readonly what: string;
    readonly leastH: number;
    readonly usualH: number;
    readonly releasedMs?: number;
  }[];
}

export interface ReadingFact extends Said {
  readonly op: string;
  readonly reading: string;
  readonly value?: number;
  readonly unit?: string;
  readonly said?: string;
  readonly spot?: string;
  readonly tool?: string;
  readonly jig?: string;
  readonly verdict?: NonNullable<Body<'reading'>['verdict']>;
}

export interface SignFact extends Said {
  readonly op: string;
  readonly sign: string;
  readonly number?: number;
  /** Items of a list that were gone through with the signature. */
  readonly checked?: readonly string[];
}

export interface RepairFact extends Said {
  readonly op: string;
  readonly fault: string;
  readonly decision: 'carry on' | 'repair' | 'replace';
  readonly how?: string;
  readonly doneMs?: number;
}

export interface ReplacedFact extends Said {
  readonly op: string;
  readonly undone: readonly string[];
  readonly reason: string;
  readonly stock: readonly string[];
  /** Readings of the piece that was given up. */
  readonly readings: readonly ReadingFact[];
}

/** Everything the record says about one learner's instrument. */
export interface BuildFacts extends StreamFacts {
  readonly build?: string;
  readonly setUp?: Body<'build-set-up'> & Said;
  /** Revision of the pattern the build follows. */
  readonly pattern?: string;
  readonly patternHistory: readonly (Said & { readonly pattern: string; readonly reason?: string })[];
  readonly choices: ReadonlyMap<string, Said & { readonly value: string; readonly number?: number }>;
  readonly ownFigures: ReadonlyMap<
    string,
    Said & { readonly value: number; readonly unit: string; readonly reason: string }
  >;
  readonly operations: ReadonlyMap<string, OperationFact>;
  readonly clamps: ReadonlyMap<string, ClampFact>;
  /** By reading id, oldest first. */
  readonly readings: ReadonlyMap<string, readonly ReadingFact[]>;
  readonly signed: ReadonlyMap<string, readonly SignFact[]>;
  readonly repairs: readonly RepairFact[];
  readonly replaced: readonly ReplacedFact[];
  readonly help?: Said & { readonly op?: string; readonly words?: string };
  readonly handedOverMs?: number;
}

type BuildDraft = Draft<BuildFacts>;

/** Folds the events of a build. */
export const buildReducer: Reducer<BuildFacts> = {
  empty: () => ({
    ...nothingSaid(),
    patternHistory: [],
    choices: new Map(),
    ownFigures: new Map(),
    operations: new Map(),
    clamps: new Map(),
    readings: new Map(),
    signed: new Map(),
    repairs: [],
    replaced: [],
  }),
  copy: (f) => ({
    ...f,
    choices: new Map(f.choices),
    ownFigures: new Map(f.ownFigures),
    operations: new Map(f.operations),
    clamps: new Map(f.clamps),
    readings: new Map(f.readings),
    signed: new Map(f.signed),
    revisions: new Map(f.revisions),
  }),
  apply: (facts, event) => applyToBuild(facts as BuildDraft, event),
};

function applyToBuild(d: BuildDraft, event: RecordEvent): void {
  const e = understood(d, event);
  if (!e) return;
  const said = saidBy(e);
  switch (e.kind) {
    case 'build-set-up':
      d.build = e.stream.slice('build:'.length);
      d.setUp = { ...e.body, ...said };
      d.pattern = e.body.pattern;
      d.patternHistory = [...d.patternHistory, { ...said, pattern: e.body.pattern }];
      return;
    case 'pattern-applied':
      d.pattern = e.body.pattern;
      d.patternHistory = [...d.patternHistory, { ...said, ...pick(e.body, 'pattern', 'reason') }];
      return;
    case 'choice-made':
      d.choices.set(e.body.choice, { ...said, ...pick(e.body, 'value', 'number') });
      if (e.body.choice === 'handed' && d.setUp) d.setUp = { ...d.setUp, handed: handOf(e.body.value) };
      return;
    case 'own-figure-set':
      d.ownFigures.set(e.body.figure, { ...said, ...pick(e.body, 'value', 'unit', 'reason') });
      return;
    case 'step-started':
      startStep(d, e.body, e.time, e.by);
      return;
    case 'step-done':
      doneStep(d, e.body, e.time, e.by);
      return;
    case 'step-reopened':
      reopenStep(d, e.body);
      return;
    case 'step-skipped':
      d.operations.set(e.body.op, {
        parts: new Map(),
        ...d.operations.get(e.body.op),
        skipped: e.body.reason,
      });
      return;
    case 'coarse-step-done':
      for (const op of e.body.ops) wholeDone(d, op, { doneMs: e.body.atMs ?? e.time, coarse: true });
      return;
    case 'done-before-record':
      for (const op of e.body.ops) wholeDone(d, op, { doneMs: e.time, before: true });
      return;
    case 'put-in-clamps':
      putInClamps(d, e.body, e.time, said);
      return;
    case 'released':
      release(d, e.body, e.time);
      return;
    case 'reading':
      push(d.readings, e.body.reading, readingFact(e.body, said));
      return;
    case 'hold-signed':
      push(d.signed, e.body.op, { ...said, ...pick(e.body, 'op', 'sign', 'number', 'checked') });
      return;
    case 'part-replaced':
      replacePart(d, e.body, said);
      return;
    case 'repair-decided':
      d.repairs = [...d.repairs, { ...said, ...e.body }];
      return;
    case 'repair-done':
      d.repairs = d.repairs.map((r) =>
        r.op === e.body.op && r.doneMs === undefined ? { ...r, doneMs: e.time } : r,
      );
      return;
    case 'help-asked':
      d.help = { ...said, ...e.body };
      return;
    case 'help-given':
      delete d.help;
      return;
    case 'build-handed-over':
      d.handedOverMs = e.body.atMs ?? e.time;
      return;
    default:
      takeAnywhere(d, e, said);
  }
}

/** Some members of an object; those not given stay out. */
export function pick<T extends object, K extends keyof T>(from: T, ...names: readonly K[]): Pick<T, K> {
  const out: Partial<T> = {};
  for (const n of names) if (from[n] !== undefined) out[n] = from[n];
  return out as Pick<T, K>;
}

/** Adds to the list kept under a name. */
export function push<V>(map: Map<string, readonly V[]>, name: string, value: V): void {
  map.set(name, [...(map.get(name) ?? []), value]);
}

/** Member by member: readings are the most of a record, and copying objects whole is slow. */
function readingFact(body: Body<'reading'>, said: Said): ReadingFact {
  const fact: { -readonly [K in keyof ReadingFact]: ReadingFact[K] } = {
    event: said.event,
    by: said.by,
    atMs: body.atMs ?? said.atMs,
    op: body.op,
    reading: body.reading,
  };
  if (body.value !== undefined) fact.value = body.value;
  if (body.unit !== undefined) fact.unit = body.unit;
  if (body.said !== undefined) fact.said = body.said;
  if (body.spot !== undefined) fact.spot = body.spot;
  if (body.tool !== undefined) fact.tool = body.tool;
  if (body.jig !== undefined) fact.jig = body.jig;
  if (body.verdict !== undefined) fact.verdict = body.verdict;
  return fact;
}

const handOf = (value: string): 'right' | 'left' => (value === 'left' ? 'left' : 'right');

function operation(d: BuildDraft, op: string): OperationFact {
  return d.operations.get(op) ?? { parts: new Map() };
}

function unskipped(o: OperationFact): OperationFact {
  if (o.skipped === undefined) return o;
  const { skipped: _, ...rest } = o;
  return rest;
}

function startStep(d: BuildDraft, body: Body<'step-started'>, timeMs: number, by: string): void {
  const o = operation(d, body.op);
  const part = body.part ?? 'all';
  const fact = {
    ...o.parts.get(part),
    startedMs: body.atMs ?? timeMs,
    startedBy: by,
    ...pick(body, 'station'),
  };
  d.operations.set(body.op, { ...o, parts: new Map(o.parts).set(part, fact) });
}

function doneStep(d: BuildDraft, body: Body<'step-done'>, timeMs: number, by: string): void {
  const o = unskipped(operation(d, body.op));
  const part = body.part ?? 'all';
  const doneMs = body.atMs ?? timeMs;
  const old = o.parts.get(part);
  const minutes = body.minutes ?? minutesBetween(old?.startedMs, doneMs);
  const fact: { -readonly [K in keyof PartFact]: PartFact[K] } = { doneMs, doneBy: by };
  if (old?.startedMs !== undefined) fact.startedMs = old.startedMs;
  if (old?.startedBy !== undefined) fact.startedBy = old.startedBy;
  const station = body.station ?? old?.station;
  if (station !== undefined) fact.station = station;
  if (minutes !== undefined) fact.minutes = minutes;
  const parts = new Map(o.parts).set(part, fact);
  d.operations.set(body.op, body.part === undefined ? { ...o, parts, doneMs } : { ...o, parts });
}

/** Longest time between start and done that is believed to be work: nobody stands at one part for a day. */
const longestWorkMin = 8 * 60;

function minutesBetween(startedMs: number | undefined, doneMs: number): number | undefined {
  if (startedMs === undefined || doneMs <= startedMs) return undefined;
  const minutes = (doneMs - startedMs) / MINUTE_MS;
  return minutes > longestWorkMin ? undefined : minutes;
}

function reopenStep(d: BuildDraft, body: Body<'step-reopened'>): void {
  const { doneMs: _, before: __, coarse: ___, skipped: ____, ...o } = operation(d, body.op);
  const parts = new Map(o.parts);
  if (body.part === undefined) parts.clear();
  else {
    parts.delete(body.part);
    parts.delete('all');
  }
  d.operations.set(body.op, { ...o, parts });
  for (const [key, c] of d.clamps)
    if (c.op === body.op && (body.part === undefined || c.part === 'all' || c.part === body.part))
      d.clamps.delete(key);
}

function wholeDone(d: BuildDraft, op: string, how: { doneMs: number; before?: true; coarse?: true }): void {
  const o = unskipped(operation(d, op));
  if (o.doneMs !== undefined) return;
  d.operations.set(op, { ...o, ...how });
}

function clampKey(op: string, part: string): string {
  return `${op}/${part}`;
}

function putInClamps(d: BuildDraft, body: Body<'put-in-clamps'>, timeMs: number, said: Said): void {
  const part = body.part ?? 'all';
  d.clamps.set(clampKey(body.op, part), {
    ...said,
    op: body.op,
    part,
    sinceMs: body.atMs ?? timeMs,
    holds: body.holds,
  });
}

function release(d: BuildDraft, body: Body<'released'>, timeMs: number): void {
  const releasedMs = body.atMs ?? timeMs;
  const one = body.part === undefined ? undefined : d.clamps.get(clampKey(body.op, body.part));
  const meant =
    body.part === undefined ? [...d.clamps.values()].filter((c) => c.op === body.op) : one ? [one] : [];
  for (const c of meant) {
    const holds = c.holds.map((h) =>
      h.releasedMs === undefined && (body.what === undefined || h.what === body.what)
        ? { ...h, releasedMs }
        : h,
    );
    d.clamps.set(clampKey(c.op, c.part), { ...c, holds });
  }
}

/** A piece is made again: what was done to the old one counts no more, its readings stay with the note of the loss. */
function replacePart(d: BuildDraft, body: Body<'part-replaced'>, said: Said): void {
  const undone = new Set(body.undone);
  const readings = [...d.readings.values()].flat().filter((r) => undone.has(r.op));
  for (const op of undone) {
    d.operations.delete(op);
    d.signed.delete(op);
  }
  for (const [id, list] of d.readings) {
    const kept = list.filter((r) => !undone.has(r.op));
    if (kept.length === 0) d.readings.delete(id);
    else if (kept.length < list.length) d.readings.set(id, kept);
  }
  for (const [key, c] of d.clamps) if (undone.has(c.op)) d.clamps.delete(key);
  d.replaced = [
    ...d.replaced,
    { ...said, ...pick(body, 'op', 'undone', 'reason'), stock: body.stock ?? [], readings },
  ];
}

/**
 * The facts of one build.
 *
 * @param events  of the stream of the build, in any order, any number of times
 * @source        arithmetic
 */
export function foldBuild(events: Iterable<RecordEvent>): BuildFacts {
  return foldEvents(buildReducer, events).facts;
}
