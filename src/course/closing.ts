import { isFreeKey } from '../route/route-check.ts';
import { runMinutes } from './batches.ts';
import { buildsOf, type ClassState, labelOf, planOf, sessionsOf, stationOfWork } from './class-state.ts';
import type { SessionFact } from './course-facts.ts';
import { type Release, releases } from './occupancy.ts';
import { nextSteps } from './planned-steps.ts';
import { partDoneMs, progressOf } from './progress.ts';
import { openIncidents, saidNotCleaned, sessionNow } from './tonight.ts';
import { lookAround } from './what-next.ts';

/** Something the teacher or a helper makes before the next session. */
export interface Preparation {
  readonly op: string;
  readonly part: string;
  readonly what: string;
  readonly by: readonly string[];
  readonly builds: readonly string[];
  readonly runMin: number;
}

/** A message for somebody who was not here, to copy or print. */
export interface AbsentMessage {
  readonly person: string;
  readonly build: string;
  readonly text: string;
}

/** What the teacher sees at the end. */
export interface Closing {
  readonly session?: SessionFact;
  /** In clamps overnight, those free soonest first. */
  readonly overnight: readonly Release[];
  /** Could be released tonight already. */
  readonly releaseNow: readonly Release[];
  /** Stations used tonight and not said to be cleaned. */
  readonly notCleaned: readonly string[];
  readonly prepare: readonly Preparation[];
  readonly messages: readonly AbsentMessage[];
  readonly notesForNext: readonly string[];
  readonly incidentsOpen: number;
}

/**
 * Everything the closing of a session shows.
 *
 * @param state  the class
 * @param nowMs  the moment
 * @source       common practice, no published source
 */
export function closing(state: ClassState, nowMs: number): Closing {
  const session = sessionNow(state, nowMs);
  const all = releases(state, nowMs);
  const notes = [
    state.course.notes,
    state.shop.notes,
    ...[...state.builds.values()].map((b) => b.notes),
  ].flat();
  return {
    ...(session ? { session } : {}),
    overnight: all,
    releaseNow: all.filter((r) => r.state !== 'broken'),
    notCleaned: notCleaned(state, session?.openedMs),
    prepare: preparations(state, nowMs),
    messages: session ? absentMessages(state, session, nowMs) : [],
    notesForNext: notes
      .filter((n) => n.forNext === true && n.atMs >= (session?.openedMs ?? 0))
      .map((n) => n.text),
    incidentsOpen: openIncidents(state).length,
  };
}

/** Machines and gluing places somebody worked at since the session opened, plus those said to be left dirty. */
function notCleaned(state: ClassState, openedMs: number | undefined): readonly string[] {
  const said = new Set(saidNotCleaned(state));
  if (openedMs !== undefined) {
    const used = new Set<string>();
    for (const b of buildsOf(state))
      for (const [op, o] of b.facts.operations)
        for (const [partId, part] of o.parts) {
          if ((part.doneMs ?? part.startedMs ?? 0) < openedMs) continue;
          const at = stationOfWork(planOf(state, b.facts), op, partId, part);
          if (at !== undefined) used.add(at);
        }
    const cleaned = cleanedSince(state, openedMs);
    for (const s of state.route.stations)
      if (used.has(s.id) && !isFreeKey(s.key) && !cleaned.has(s.id)) said.add(s.id);
  }
  return [...said];
}

function cleanedSince(state: ClassState, sinceMs: number): ReadonlySet<string> {
  return new Set(
    [...state.shop.stations]
      .filter(([, s]) => s.cleanedMs !== undefined && s.cleanedMs >= sinceMs)
      .map(([id]) => id),
  );
}

/**
 * What is to be made in preparation hours: parts of the teacher or a helper that are next in a build, and class-wide
 * blanks whose turn has come.
 *
 * @source common practice, no published source
 */
export function preparations(state: ClassState, nowMs: number): readonly Preparation[] {
  const found = new Map<string, Preparation>();
  for (const b of buildsOf(state)) {
    const plan = planOf(state, b.facts);
    for (const s of progressOf(state, b.facts, nowMs).values()) {
      const part = s.next;
      if (!part || (s.state !== 'ready' && s.state !== 'running') || (!part.inPrep && part.who === 'learner'))
        continue;
      const key = `${s.op}/${part.id}`;
      const before = found.get(key);
      const op = plan.byId.get(s.op)?.op;
      const builds = [...(before?.builds ?? []), b.id];
      const by = op?.parts[Number.parseInt(part.id, 10) - 1]?.prep?.by ?? [
        part.who === 'learner' ? 'teacher' : part.who,
      ];
      found.set(key, {
        op: s.op,
        part: part.id,
        what: `${op?.name ?? s.op}: ${part.what}`,
        by,
        builds,
        runMin: runMinutes(part.batch, builds.length),
      });
    }
  }
  return [...found.values()].sort((a, b) => b.builds.length - a.builds.length || (a.op < b.op ? -1 : 1));
}

/** One message for each learner who was not here: what the others did, what waits for him, what he does next. */
function absentMessages(state: ClassState, session: SessionFact, nowMs: number): readonly AbsentMessage[] {
  const openedMs = session.openedMs ?? session.startMs;
  const missed = missedSteps(state, session, openedMs);
  const nextSession = sessionsOf(state).find((s) => s.startMs > openedMs && s.session !== session.session);
  const look = lookAround(state, nextSession?.startMs ?? nowMs);
  return buildsOf(state)
    .filter((b) => session.here.get(b.person) === false)
    .map((b) => {
      const next = nextSteps(look, b.id, b.person, b.facts);
      const names = missed
        .filter((m) => progressOf(state, b.facts, nowMs).get(m.op)?.next !== undefined)
        .map((m) => m.name);
      const first = next.offers[0] ? ` Your next step: ${next.offers[0].sentence}` : '';
      const did = names.length > 0 ? ` The others worked on: ${names.slice(0, 4).join('; ')}.` : '';
      const waits = next.withheld.find((w) => w.untilMs !== undefined);
      const rests = waits && first === '' ? ' Your instrument is resting.' : '';
      return {
        person: b.person,
        build: b.id,
        text: `${labelOf(state, b.person)}, we missed you.${did}${first}${rests} If you can come a little early next time, say so and a place will be kept.`,
      };
    });
}

function missedSteps(
  state: ClassState,
  session: SessionFact,
  openedMs: number,
): readonly { readonly op: string; readonly name: string }[] {
  const counts = new Map<string, number>();
  for (const b of buildsOf(state)) {
    if (session.here.get(b.person) === false) continue;
    for (const p of planOf(state, b.facts).operations) {
      const inSession = p.parts.some((x) => (partDoneMs(b.facts, p.op.id, x.id) ?? 0) >= openedMs);
      if (inSession && !b.facts.operations.get(p.op.id)?.before)
        counts.set(p.op.id, (counts.get(p.op.id) ?? 0) + 1);
    }
  }
  return [...counts]
    .sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))
    .map(([op]) => ({ op, name: state.route.operations.find((o) => o.id === op)?.name ?? op }));
}
