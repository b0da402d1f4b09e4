import { DAY_MS } from '../quantity/time.ts';
import { isFreeKey } from '../route/route-check.ts';
import type { Reading } from '../route/route-types.ts';
import type { BatchList } from './batches.ts';
import { type ClassState, planOf, sessionsOf } from './class-state.ts';
import { CLOSING_OP, closingList } from './closing-list.ts';
import type { SessionFact } from './course-facts.ts';
import { type Assigned, opening } from './tonight.ts';
import type { Offer } from './what-next.ts';

/** One step on the paper of a session. */
export interface SheetStep {
  readonly op: string;
  readonly part: string;
  readonly name: string;
  readonly likelyMin: number;
  /** Ends in glue: the time it went into clamps is asked. */
  readonly rests: boolean;
  /** The few numbers that feed a computation or a hold point. */
  readonly readings: readonly Reading[];
  /** What the teacher signs. */
  readonly sign?: string;
}

/** One learner on the paper. */
export interface SheetRow {
  readonly build: string;
  readonly person: string;
  readonly steps: readonly SheetStep[];
  /** Sentences for somebody who stands in and has no machines: what can be done with hand tools only. */
  readonly byHand: readonly string[];
}

/** Everything the paper of one session shows. */
export interface SessionSheet {
  readonly session: SessionFact;
  readonly rows: readonly SheetRow[];
  readonly batches: readonly BatchList[];
  /** What is gone through before a box is glued; empty when no box is looked into on this sheet. */
  readonly closing: readonly string[];
}

/** Steps that stand beside each other in a row. */
export const STEPS_ON_SHEET = 3;
const READINGS_ON_SHEET = 2;

/**
 * The paper of a session, as it looks from its beginning: for each learner the first step and what may follow.
 *
 * @param state    the class
 * @param session  which one; not closed
 * @returns        rows in the order of the numbers
 * @source         common practice, no published source
 */
export function sessionSheet(state: ClassState, session: SessionFact): SessionSheet {
  const view = opening(state, session.startMs);
  const assigned = new Map(view.assigned.map((a) => [a.build, a]));
  const rows = view.people.map(({ build, person }) => rowOf(state, build, person, assigned.get(build)));
  const closed = rows.find((r) => r.steps.some((s) => s.op === CLOSING_OP));
  const facts = closed && state.builds.get(closed.build);
  return {
    session,
    rows,
    closing: facts ? closingList(state.route, facts).map((i) => i.item) : [],
    batches: [...view.batches, ...view.catchUp],
  };
}

function rowOf(state: ClassState, build: string, person: string, assigned: Assigned | undefined): SheetRow {
  const offers = assigned?.next.offers ?? [];
  const first = assigned?.first;
  const sorted = first ? [first, ...offers.filter((o) => o !== first)] : offers;
  return {
    build,
    person,
    steps: sorted.slice(0, STEPS_ON_SHEET).map((o) => stepOf(state, o)),
    byHand: offers.filter((o) => isHandWork(state, o)).map((o) => o.sentence),
  };
}

/** Needs no key, no signature and no gluing that the teacher has to sign. */
function isHandWork(state: ClassState, o: Offer): boolean {
  const key = state.route.stations.find((s) => s.id === o.station)?.key;
  const isFree = key !== undefined && isFreeKey(key);
  return (isFree || o.how === 'by hand') && o.how !== 'teacher does it' && !o.signFirst && !o.roomSign;
}

function stepOf(state: ClassState, offer: Offer): SheetStep {
  const facts = state.builds.get(offer.build);
  const planned = facts ? planOf(state, facts).byId.get(offer.op) : undefined;
  const part = planned?.parts.find((p) => p.id === offer.part);
  const isLast = planned?.parts.at(-1)?.id === offer.part;
  const asked = (planned?.op.readings ?? []).filter(
    (r) =>
      isLast &&
      r.kind === 'number' &&
      r.need !== 'may' &&
      r.computed !== true &&
      r.room !== true &&
      (!r.instruments || r.instruments.includes(facts?.setUp?.instrument ?? 'steel')),
  );
  const sign = state.route.holdPoints.find((h) => h.op === offer.op);
  return {
    op: offer.op,
    part: offer.part,
    name: planned?.op.name ?? offer.op,
    likelyMin: offer.likelyMin,
    rests: part?.then === 'glue',
    readings: asked.slice(0, READINGS_ON_SHEET),
    ...(sign && (sign.when === 'before' || isLast) ? { sign: sign.sign } : {}),
  };
}

/**
 * The session whose paper is typed back: the last one that began and was not closed, else the next one.
 *
 * @source arithmetic
 */
export function sessionOfPaper(state: ClassState, nowMs: number): SessionFact | undefined {
  const open = sessionsOf(state).filter((s) => s.closedMs === undefined);
  const weekMs = 7 * DAY_MS;
  return (
    open.findLast((s) => s.startMs <= nowMs && nowMs - s.startMs < weekMs) ??
    open.find((s) => s.startMs > nowMs)
  );
}
