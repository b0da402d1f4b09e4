import { HOUR_MS, MINUTE_MS } from '../quantity/time.ts';
import { capital } from '../quantity/words.ts';
import type { PlannedOperation, PlannedPart } from '../route/planned-route.ts';
import { isFreeKey } from '../route/route-check.ts';
import type { HoldPoint, Station } from '../route/route-types.ts';
import type { BuildFacts } from './build-facts.ts';
import { type ClassState, planOf } from './class-state.ts';
import { permission } from './keys.ts';
import { type Occupancy, occupancy, soonestFree } from './occupancy.ts';
import { progressOf, type StepProgress } from './progress.ts';
import { type RoomVerdict, roomVerdict } from './room.ts';

/** One step a learner may do now. */
export interface Offer {
  readonly build: string;
  readonly person: string;
  readonly op: string;
  readonly part: string;
  readonly station: string;
  readonly how: 'alone' | 'adult beside' | 'teacher does it' | 'by hand';
  readonly likelyMin: number;
  /** Minutes and rests from here to the end of the build. */
  readonly chainMin: number;
  readonly running: boolean;
  /** A signature before the work begins. */
  readonly signFirst?: HoldPoint;
  /** The daily check of the machine is still to be made. */
  readonly checkFirst: boolean;
  /** The room is doubtful: the teacher signs the gluing. */
  readonly roomSign: boolean;
  readonly batch: PlannedPart['batch']['scope'];
  readonly sentence: string;
  /** Why the planner offers it now, in one sentence; undefined under the plain rule. */
  readonly reason?: string;
  /** The planner: an adult has to stand beside from the start to the end. */
  readonly needsAdult?: boolean;
  /** When the published plan has it; undefined when it does not, or under the plain rule. */
  readonly plannedMs?: number;
}

/** One step that is next in a build but cannot be offered, and why. */
export interface Withheld {
  readonly build: string;
  readonly op: string;
  readonly part: string;
  readonly reason: string;
  /** When the reason goes away by itself. */
  readonly untilMs?: number;
}

export interface NextSteps {
  readonly build: string;
  readonly person: string;
  /** The longest remaining chain first. */
  readonly offers: readonly Offer[];
  readonly withheld: readonly Withheld[];
}

/** What the rule looks at besides the build; made once for a class. */
export interface Look {
  readonly state: ClassState;
  readonly nowMs: number;
  /** Minutes left for work, cleaning taken off; undefined when no session is on. */
  readonly leftMin?: number;
  readonly use: Occupancy;
  readonly room: RoomVerdict;
  readonly stations: ReadonlyMap<string, Station>;
}

/** Minutes at the end of a session in which nothing new goes into glue. */
export const cleaningMin = 15;

/**
 * Gathers what the plain rule looks at.
 *
 * @param state  the class
 * @param nowMs  the moment
 * @param endMs  end of the session; without one the minutes left are not looked at
 * @source       common practice, no published source
 */
export function lookAround(state: ClassState, nowMs: number, endMs?: number): Look {
  return {
    state,
    nowMs,
    ...(endMs === undefined ? {} : { leftMin: Math.max(0, (endMs - nowMs) / MINUTE_MS - cleaningMin) }),
    use: occupancy(state, nowMs),
    room: roomVerdict(state.route, state.shop.climate, nowMs),
    stations: new Map(state.route.stations.map((s) => [s.id, s])),
  };
}

/**
 * What a learner may do next, by the plain rule: everything before it done and rested, key held, station free, minutes
 * left; the longest remaining chain first. Nothing forbidden is offered.
 *
 * @param look    of the class
 * @param build   id of the build
 * @param person  whose it is
 * @param facts   of the build
 * @source        common practice, no published source
 */
export function plainSteps(look: Look, build: string, person: string, facts: BuildFacts): NextSteps {
  const plan = planOf(look.state, facts);
  const progress = progressOf(look.state, facts, look.nowMs);
  const offers: Offer[] = [];
  const withheld: Withheld[] = [];
  for (const p of plan.operations) {
    const s = progress.get(p.op.id) as StepProgress;
    if (s.state === 'resting' && s.next)
      withheld.push({
        build,
        op: p.op.id,
        part: s.next.id,
        reason: 'resting',
        ...(s.untilMs === undefined ? {} : { untilMs: s.untilMs }),
      });
    if ((s.state !== 'ready' && s.state !== 'running') || !s.next) continue;
    const found = offerOf(look, { build, person, p, s, part: s.next });
    if ('sentence' in found) offers.push(found);
    else withheld.push(found);
  }
  offers.sort(
    (a, b) => Number(b.running) - Number(a.running) || b.chainMin - a.chainMin || (a.op < b.op ? -1 : 1),
  );
  return { build, person, offers, withheld };
}

interface Candidate {
  readonly build: string;
  readonly person: string;
  readonly p: PlannedOperation;
  readonly s: StepProgress;
  readonly part: PlannedPart;
}

function offerOf(look: Look, c: Candidate): Offer | Withheld {
  const no = (reason: string, untilMs?: number): Withheld => ({
    build: c.build,
    op: c.p.op.id,
    part: c.part.id,
    reason,
    ...(untilMs === undefined ? {} : { untilMs }),
  });
  if (c.part.inPrep || c.part.who !== 'learner')
    return no('made in preparation hours by the teacher or a helper');
  const isGluing = look.state.route.roomHolds.operations.includes(c.p.op.id) && c.part.then === 'glue';
  if (isGluing && look.room.state === 'broken') return no(look.room.text);
  const jig = c.s.state === 'running' ? undefined : jigInUse(look, c);
  if (jig) return no(`all of "${jig.name}" are in use`, jig.freeMs);
  const way = wayFor(look, c);
  if ('reason' in way) return no(way.reason, way.untilMs);
  if (look.leftMin !== undefined && c.s.state !== 'running' && way.likelyMin > look.leftMin)
    return no(`takes about ${way.likelyMin} minutes, ${Math.floor(look.leftMin)} are left`);
  const signFirst = c.s.sign?.when === 'before' ? c.s.sign : undefined;
  const offer = {
    build: c.build,
    person: c.person,
    op: c.p.op.id,
    part: c.part.id,
    station: way.station.id,
    how: way.how,
    likelyMin: way.likelyMin,
    chainMin: chainFrom(c),
    running: c.s.state === 'running',
    ...(signFirst ? { signFirst } : {}),
    checkFirst: way.how !== 'by hand' && needsCheck(look, way.station),
    roomSign: isGluing && look.room.teacherSigns,
    batch: c.part.batch.scope,
  };
  return { ...offer, sentence: sentence(c, way, offer) };
}

/** What is left of the operation and the longest chain behind it. */
function chainFrom(c: Candidate): number {
  return c.p.chainMin - (c.p.likelyMin * c.s.doneCount) / c.s.partCount;
}

interface Way {
  readonly station: Station;
  readonly how: Offer['how'];
  readonly likelyMin: number;
}

/** The first station of the part that is allowed and free, then the way without it. */
function wayFor(look: Look, c: Candidate): Way | { readonly reason: string; readonly untilMs?: number } {
  let first: { readonly reason: string; readonly untilMs?: number } | undefined;
  for (const id of c.part.at) {
    const station = look.stations.get(id) as Station;
    const found = wayAt(look, c, station);
    if ('how' in found) return found;
    first ??= found;
  }
  const usual = look.stations.get(c.part.at[0] as string) as Station;
  const bench = look.stations.get('bench') as Station;
  if (usual.without.how === 'hand' && !isFreeKey(usual.key) && !isFull(look, c, bench))
    return {
      station: bench,
      how: 'by hand',
      likelyMin: Math.round(c.part.minutes.likely * (usual.without.timesLonger ?? 1)),
    };
  return first as { readonly reason: string; readonly untilMs?: number };
}

function wayAt(
  look: Look,
  c: Candidate,
  station: Station,
): Way | { readonly reason: string; readonly untilMs?: number } {
  if (station.capacity === 0) return { reason: `this shop has no ${station.name}` };
  const fact = look.state.shop.stations.get(station.id);
  if (fact?.outOfOrder) return { reason: `the ${station.name} is out of order: ${fact.outOfOrder.reason}` };
  const may = permission(look.state, c.person, station, look.nowMs);
  const likelyMin = c.part.minutes.likely;
  if (!may.may) {
    // Without key or consent the teacher feeds the machine; a "never" of the school stays a never.
    const word = station.without.how === 'teacher' && !may.reason.includes('never');
    if (word && !isFull(look, c, station)) return { station, how: 'teacher does it', likelyMin };
    return { reason: `${station.name}: ${may.reason}` };
  }
  const full = isFull(look, c, station);
  if (full)
    return {
      reason: `the ${station.name} is taken`,
      ...(full.freeMs === undefined ? {} : { untilMs: full.freeMs }),
    };
  return { station, how: may.how, likelyMin };
}

/** Whether all places are taken by others; a batch is one activity with members and takes one place. */
function isFull(look: Look, c: Candidate, station: Station): { readonly freeMs?: number } | undefined {
  const uses = (look.use.stations.get(station.id) ?? []).filter(
    (u) => u.build !== c.build || u.op !== c.p.op.id,
  );
  const batched = c.part.batch.scope !== 'none';
  const taken = batched ? uses.filter((u) => !(u.why === 'working' && u.op === c.p.op.id)) : uses;
  if (taken.length < station.capacity) return undefined;
  return soonestFree(taken);
}

function jigInUse(look: Look, c: Candidate): { readonly name: string; readonly freeMs?: number } | undefined {
  for (const id of c.p.op.jigs) {
    const jig = look.state.route.jigs.find((j) => j.id === id);
    if (!jig) continue;
    if (look.state.shop.jigs.get(id)?.outOfOrder !== undefined) return { name: `${jig.name}, out of order` };
    const batched = c.part.batch.scope !== 'none';
    const taken = (look.use.jigs.get(id) ?? []).filter(
      (u) => u.build !== c.build && !(batched && u.op === c.p.op.id),
    );
    if (taken.length < jig.count) continue;
    return { name: jig.name, ...soonestFree(taken) };
  }
  return undefined;
}

/** The check of a machine counts this long: for its day. */
const checkCountsMs = 18 * HOUR_MS;

/** Machines are checked before their first use of the day. */
export function needsCheck(look: Look, station: Station): boolean {
  if (isFreeKey(station.key)) return false;
  const checks = look.state.shop.stations.get(station.id)?.checks ?? [];
  return !checks.some(
    (k) => k.state !== 'broken' && look.nowMs - k.atMs < checkCountsMs && k.atMs <= look.nowMs,
  );
}

function sentence(c: Candidate, way: Way, offer: Omit<Offer, 'sentence'>): string {
  const does = capital(c.part.what);
  const where =
    way.how === 'by hand'
      ? 'by hand at the bench'
      : way.how === 'teacher does it'
        ? `at the ${way.station.name}: the teacher does it, have the piece ready`
        : `at the ${way.station.name}${way.how === 'adult beside' ? ' with an adult beside' : ''}`;
  const first = [
    offer.signFirst ? `first ask for the signature (${offer.signFirst.sign})` : undefined,
    offer.checkFirst ? 'the machine has not been checked today' : undefined,
    offer.roomSign ? 'the teacher signs for the room' : undefined,
  ].filter((x) => x !== undefined);
  const rests = c.part.then === 'glue' ? restWords(c) : '';
  return `${does}, ${where}, about ${way.likelyMin} minutes${rests}${first.length > 0 ? `; ${first.join('; ')}` : ''}.`;
}

function restWords(c: Candidate): string {
  const hours = c.part.rest ?? c.p.op.rest?.beforeOthers;
  if (!hours) return '';
  return `, then it rests ${hours.leastH === hours.usualH ? hourWords(hours.usualH) : `${hourWords(hours.leastH)} to ${hourWords(hours.usualH)}`}`;
}

/** Hours as people say them: 30 min, 4 h, 3 days. */
export function hourWords(hours: number): string {
  if (hours < 1) return `${Math.round(hours * 60)} min`;
  return hours >= 48 ? `${Math.round(hours / 24)} days` : `${Number(hours.toFixed(1))} h`;
}
