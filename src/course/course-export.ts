import { stringify } from 'yaml';
import { HOUR_MS, MINUTE_MS } from '../quantity/time.ts';
import type { BuildFacts, OperationFact } from './build-facts.ts';
import { buildsOf, type ClassState, labelOf, sessionsOf } from './class-state.ts';
import type { SessionFact } from './course-facts.ts';
import { keyState } from './keys.ts';

/** A moment as people write it in the workshop's own time zone: `2026-11-25` and `18:30`. */
export type CivilOf = (ms: number) => { readonly date: string; readonly time: string };

/** What the record does not say and a course file wants. */
export interface ExportOptions {
  readonly timeZone: string;
  readonly civil: CivilOf;
  readonly nowMs: number;
  /** The teacher's hours outside sessions, days after each session; two hours before it and the next morning when left out. */
  readonly preparation?: readonly {
    readonly daysAfter: number;
    readonly begin: string;
    readonly end: string;
  }[];
  /** Day by which everybody should be done. */
  readonly dueMs?: number;
  /** Learners go by the ids of their builds, helpers by theirs: a plan that is kept in the record names nobody. */
  readonly isNameless?: boolean;
  /** Until when what is out of order now is taken to stay so; without it nothing is closed. */
  readonly outUntilMs?: number;
}

/** Steps done longer ago than this rest no more. */
const RESTS_OVER_MS = 21 * 24 * HOUR_MS;

interface DoneEntry {
  readonly learner: string;
  readonly operation?: string;
  readonly operations?: readonly string[];
  readonly part?: number;
  readonly begin?: string;
  readonly end?: string;
}

/** One entry for each part that is done or being worked at, with its time while something may still rest. */
function entriesOf(
  learner: string,
  op: string,
  fact: OperationFact,
  options: ExportOptions,
): readonly DoneEntry[] {
  const at = (ms: number): string => {
    const c = options.civil(ms);
    return `${c.date}T${c.time}`;
  };
  const timed = (doneMs: number, minutes: number) => ({
    begin: at(doneMs - minutes * MINUTE_MS),
    end: at(doneMs),
  });
  const isRecent = (doneMs: number): boolean => options.nowMs - doneMs < RESTS_OVER_MS;
  if (fact.skipped !== undefined) return [];
  if (fact.doneMs !== undefined && (fact.before === true || !isRecent(fact.doneMs))) return [];
  const parts = [...fact.parts].filter(([, p]) => p.doneMs !== undefined);
  const running = [...fact.parts].filter(
    ([id, p]) =>
      Number.isFinite(Number.parseInt(id, 10)) &&
      p.startedMs !== undefined &&
      p.doneMs === undefined &&
      fact.doneMs === undefined &&
      options.nowMs - p.startedMs < 8 * HOUR_MS,
  );
  const going = running.map(([id, p]) => ({
    learner,
    operation: op,
    part: Number.parseInt(id, 10),
    begin: at(p.startedMs as number),
  }));
  if (parts.length === 0 && going.length > 0) return going;
  if (parts.length === 0)
    return fact.doneMs === undefined ? [] : [{ learner, operation: op, ...timed(fact.doneMs, 20) }];
  const done = parts.map(([id, p]) => {
    const doneMs = p.doneMs as number;
    const minutes =
      p.startedMs !== undefined && doneMs - p.startedMs < 8 * HOUR_MS
        ? Math.max(1, Math.round((doneMs - p.startedMs) / MINUTE_MS))
        : 20;
    const part = Number.parseInt(id, 10);
    return { learner, operation: op, ...(Number.isFinite(part) ? { part } : {}), ...timed(doneMs, minutes) };
  });
  return [...done, ...going];
}

/** Operations that are left out, or over and rest no more, in one entry a learner. */
function overOf(learner: string, facts: BuildFacts, options: ExportOptions): readonly DoneEntry[] {
  const over = [...facts.operations]
    .filter(
      ([, f]) =>
        f.skipped !== undefined ||
        (f.doneMs !== undefined && (f.before === true || options.nowMs - f.doneMs >= RESTS_OVER_MS)),
    )
    .map(([op]) => op);
  return over.length === 0 ? [] : [{ learner, operations: over }];
}

function preparationOf(
  firstStartMs: number | undefined,
  options: ExportOptions,
): NonNullable<ExportOptions['preparation']> {
  if (options.preparation) return options.preparation;
  if (firstStartMs === undefined) return [];
  const before = {
    daysAfter: 0,
    begin: options.civil(firstStartMs - 2 * HOUR_MS).time,
    end: options.civil(firstStartMs - HOUR_MS / 4).time,
  };
  return [before, { daysAfter: 1, begin: '08:00', end: '09:00' }];
}

/** Names as the file wants them: each once. */
function namesOf(state: ClassState, isNameless: boolean): ReadonlyMap<string, string> {
  if (isNameless) return new Map(buildsOf(state).map((b) => [b.id, b.id]));
  const used = new Set<string>();
  const names = new Map<string, string>();
  for (const b of buildsOf(state)) {
    const label = labelOf(state, b.person) || b.person;
    const name = used.has(label) ? `${label} (${b.id})` : label;
    used.add(name);
    names.set(b.id, name);
  }
  return names;
}

/** Stations and jigs that are out of order now, until they are taken to be mended. */
function closuresOf(state: ClassState, options: ExportOptions): { readonly closures?: readonly object[] } {
  const { outUntilMs, nowMs } = options;
  if (outUntilMs === undefined || outUntilMs <= nowMs) return {};
  const at = (ms: number): string => `${options.civil(ms).date}T${options.civil(ms).time}`;
  const out = [
    ...[...state.shop.stations].filter(([, s]) => s.outOfOrder !== undefined),
    ...[...state.shop.jigs].filter(([, j]) => j.outOfOrder !== undefined),
  ].map(([id]) => ({ what: id, from: at(nowMs), to: at(outUntilMs) }));
  return out.length === 0 ? {} : { closures: out };
}

/** Sessions that are on or ahead and that somebody was said to miss. */
function awayOf(
  sessions: readonly SessionFact[],
  person: string,
  options: ExportOptions,
): { readonly away?: readonly string[] } {
  const away = sessions
    .filter((s) => s.endMs > options.nowMs && s.here.get(person) === false)
    .map((s) => options.civil(s.startMs).date);
  return away.length === 0 ? {} : { away };
}

/**
 * The course as a file at one moment: set-up, sessions, learners with keys, and what is done. The planner's problem made
 * from it is the one of the record.
 *
 * @param state    the class
 * @param options  time zone, civil clock and the moment
 * @returns        YAML text in the form `bracewright-course/1`
 * @source         arithmetic
 */
export function courseFileText(state: ClassState, options: ExportOptions): string {
  const names = namesOf(state, options.isNameless === true);
  const builds = buildsOf(state);
  const sessions = sessionsOf(state);
  const keys = state.route.keys.map((k) => k.id).filter((k) => k !== 'none');
  const now = options.civil(options.nowMs);
  const done = builds.flatMap((b) => {
    const name = names.get(b.id) as string;
    return [
      ...overOf(name, b.facts, options),
      ...[...b.facts.operations].flatMap(([op, f]) => entriesOf(name, op, f, options)),
    ];
  });
  return stringify(
    {
      format: 'bracewright-course/1',
      name: state.course.setUp?.name ?? 'Course',
      time_zone: options.timeZone,
      ...(state.course.setUp?.choices?.[0] ? { choice: state.course.setUp.choices[0] } : {}),
      rests: state.restBy,
      ...(options.dueMs === undefined ? {} : { due: options.civil(options.dueMs).date }),
      teachers: ['teacher'],
      ...(state.course.helpers.length > 0
        ? { helpers: state.course.helpers.map((h) => (options.isNameless ? h : labelOf(state, h) || h)) }
        : {}),
      sessions: sessions.map((s) => {
        const begin = options.civil(s.startMs);
        return { date: begin.date, begin: begin.time, end: options.civil(s.endMs).time };
      }),
      preparation: preparationOf(sessions[0]?.startMs, options).map((p) => ({
        days_after: p.daysAfter,
        begin: p.begin,
        end: p.end,
      })),
      ...closuresOf(state, options),
      learners: builds.map((b) => ({
        name: names.get(b.id),
        instrument: b.facts.setUp?.instrument ?? 'steel',
        age: state.people.get(b.person)?.ageBand ?? 'adult',
        keys: keys.filter(
          (k) => k === 'hand' || keyState(state, b.person, k, options.nowMs).state === 'held',
        ),
        ...awayOf(sessions, b.person, options),
      })),
      progress: { now: `${now.date}T${now.time}`, done },
    },
    { lineWidth: 0 },
  );
}
