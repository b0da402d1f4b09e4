import { HOUR_MS, MINUTE_MS } from '../quantity/time.ts';
import { isFreeKey } from '../route/route-check.ts';
import type { HoldPoint, Setting, Station } from '../route/route-types.ts';
import { type BatchList, batchLists } from './batches.ts';
import { type BuildFacts, push } from './build-facts.ts';
import { buildsOf, type ClassState, sessionsOf } from './class-state.ts';
import type { SessionFact } from './course-facts.ts';
import { type JigNotice, jigNotices } from './jig-bias.ts';
import { type KeyNotice, keyNotices } from './keys.ts';
import { type Release, releases, soonestFree } from './occupancy.ts';
import { type NextBy, nextBy, nextSteps, type OrderedSteps } from './planned-steps.ts';
import { progressOf } from './progress.ts';
import type { RoomVerdict } from './room.ts';
import { unitsOfClass } from './shop-of-record.ts';
import { type Look, lookAround, needsCheck, type Offer } from './what-next.ts';

/** What each learner does first, so that no station is given away twice. */
export interface Assigned {
  readonly build: string;
  readonly person: string;
  /** undefined: nothing can be offered. */
  readonly first?: Offer;
  readonly next: OrderedSteps;
}

export interface SignDue {
  readonly build: string;
  readonly person: string;
  readonly hold: HoldPoint;
  /** now: work or what follows waits for it; ahead: comes up with the next step. */
  readonly due: 'now' | 'ahead';
}

export interface SettingDue {
  readonly station: string;
  readonly op: string;
  readonly settings: readonly Setting[];
  readonly builds: readonly string[];
}

export interface Demonstration {
  readonly ops: readonly string[];
  readonly durationMin: number;
  readonly builds: readonly string[];
  /** Keys whose watched cut rides on it, with those who need it. */
  readonly keys: readonly { readonly key: string; readonly people: readonly string[] }[];
}

/** What the teacher sees at the beginning. */
export interface Opening {
  readonly session?: SessionFact;
  readonly people: readonly { readonly person: string; readonly build: string; readonly here?: boolean }[];
  readonly assigned: readonly Assigned[];
  readonly release: readonly Release[];
  readonly batches: readonly BatchList[];
  readonly catchUp: readonly BatchList[];
  readonly settings: readonly SettingDue[];
  /** Who says what is next: the plan or the plain rule. */
  readonly nextBy: NextBy;
  readonly room: RoomVerdict;
  readonly demonstrate: readonly Demonstration[];
  readonly toSign: readonly SignDue[];
  readonly keys: readonly KeyNotice[];
  /** Machines to be checked before their first use tonight. */
  readonly machineChecks: readonly string[];
  readonly notCleaned: readonly string[];
  readonly incidentsOpen: readonly string[];
  /** Jigs that lean to one side: stop and prove. */
  readonly jigs: readonly JigNotice[];
  /** Readings that were broken and about which nothing is decided. */
  readonly undecided: readonly OutsideReading[];
}

/** A reading whose shown verdict was not met. */
export interface OutsideReading {
  readonly build: string;
  readonly op: string;
  readonly reading: string;
  readonly state: 'doubtful' | 'broken';
  readonly words: string;
  readonly atMs: number;
}

/** A session that nobody closed is over after this. */
const longestOpenMs = 18 * HOUR_MS;

/**
 * The session that is on, or the next one.
 *
 * @param state  the class
 * @param nowMs  the moment
 * @returns      the open session, else the first one not closed whose end lies ahead
 * @source       arithmetic
 */
export function sessionNow(state: ClassState, nowMs: number): SessionFact | undefined {
  const all = sessionsOf(state);
  const open = all.filter(
    (s) => s.openedMs !== undefined && s.closedMs === undefined && nowMs - s.openedMs < longestOpenMs,
  );
  if (open.length > 0) return open.sort((a, b) => (b.openedMs as number) - (a.openedMs as number))[0];
  return all.find((s) => s.closedMs === undefined && s.endMs >= nowMs);
}

/** From when on something counts as of this session: its opening, else the last twelve hours. */
export function sessionFromMs(session: SessionFact | undefined, nowMs: number): number {
  return session?.openedMs ?? nowMs - 12 * HOUR_MS;
}

/**
 * Everything the opening of a session shows.
 *
 * @param state  the class
 * @param nowMs  the moment; before the start of the session its start counts for the minutes left
 * @source       common practice, no published source
 */
export function opening(state: ClassState, nowMs: number): Opening {
  const session = sessionNow(state, nowMs);
  const atMs = session ? Math.max(nowMs, session.startMs) : nowMs;
  const look = lookAround(state, atMs, session?.endMs);
  const builds = buildsOf(state);
  const assigned = assign(
    look,
    builds.filter((b) => session?.here.get(b.person) !== false),
  );
  const lists = batchLists(look, assigned);
  return {
    ...(session ? { session } : {}),
    people: builds.map((b) => {
      const is = session?.here.get(b.person);
      return { person: b.person, build: b.id, ...(is === undefined ? {} : { here: is }) };
    }),
    assigned,
    release: releases(state, nowMs),
    batches: lists.filter((l) => !l.isCatchUp),
    catchUp: lists.filter((l) => l.isCatchUp),
    settings: settingsDue(look, assigned),
    nextBy: nextBy(look),
    room: look.room,
    demonstrate: demonstrations(look, assigned),
    toSign: signsDue(look, assigned),
    keys: keyNotices(state, atMs),
    machineChecks: machineChecks(look, assigned),
    notCleaned: saidNotCleaned(state),
    incidentsOpen: openIncidents(state),
    jigs: shopJigNotices(state),
    undecided: undecidedReadings(state),
  };
}

/**
 * Gives every learner a first step: in the order of the plan, else those with the longest chain left choose first; a place given away is taken, and so is
 * an adult who has to stand beside from start to end.
 *
 * @param look    of the class
 * @param builds  of those who are here
 * @source        common practice, no published source
 */
export function assign(look: Look, builds: ReturnType<typeof buildsOf>): readonly Assigned[] {
  const next = builds.map((b) => nextSteps(look, b.id, b.person, b.facts));
  const places = makePlaces(look);
  const first = new Map<string, Offer>();
  const order = [...next].sort(
    (a, b) => soonest(a) - soonest(b) || longest(b) - longest(a) || (a.build < b.build ? -1 : 1),
  );
  const give = (build: string, offer: Offer): void => {
    first.set(build, offer);
    places.take(offer);
  };
  for (const n of order) {
    const offer = n.offers.find(places.isFree);
    if (offer) give(n.build, offer);
  }
  // who got nothing gets the place of somebody who has other work
  for (const n of order.filter((x) => !first.has(x.build)))
    for (const offer of n.offers) {
      const swap = order.find((h) => {
        const held = first.get(h.build);
        if (!held || held.running || held.station !== offer.station) return false;
        places.giveBack(held);
        const instead = h.offers.find((o) => o.station !== held.station && places.isFree(o));
        if (instead && places.isFree(offer)) {
          give(h.build, instead);
          return true;
        }
        places.take(held);
        return false;
      });
      if (!swap) continue;
      give(n.build, offer);
      break;
    }
  return next.map((n) => {
    const offer = first.get(n.build);
    return { build: n.build, person: n.person, next: n, ...(offer ? { first: offer } : {}) };
  });
}

/** Who has been given which place, and which adult, while first steps are given out. */
function makePlaces(look: Look): {
  readonly isFree: (o: Offer) => boolean;
  readonly take: (o: Offer) => void;
  readonly giveBack: (o: Offer) => void;
} {
  const adults = 1 + look.state.course.helpers.length;
  const given: Offer[] = [];
  const marksAt = (station: string): ReadonlySet<string> =>
    new Set(given.filter((o) => o.station === station && !o.running).map(markOf));
  const beside = (): ReadonlySet<string> => new Set(given.filter((o) => o.needsAdult === true).map(markOf));
  return {
    isFree: (o) => {
      if (o.running) return true;
      const marks = marksAt(o.station);
      // A batch is one activity: who joins it takes no further place.
      if (o.batch !== 'none' && marks.has(markOf(o))) return true;
      if (o.needsAdult === true && beside().size >= adults) return false;
      const { capacity } = look.stations.get(o.station) as Station;
      return (look.use.stations.get(o.station)?.length ?? 0) + marks.size < capacity;
    },
    take: (o) => given.push(o),
    giveBack: (o) => given.splice(given.indexOf(o), 1),
  };
}

/** A batch is one activity, whoever is in it. */
const markOf = (o: Offer): string => (o.batch === 'none' ? o.build : `${o.op}/${o.part}`);

/** When the plan has the first of the steps; the same for all under the plain rule. */
const soonest = (n: OrderedSteps): number => n.offers[0]?.plannedMs ?? Number.MAX_SAFE_INTEGER;

function longest(n: OrderedSteps): number {
  return Math.max(0, ...n.offers.map((o) => o.chainMin));
}

function settingsDue(look: Look, assigned: readonly Assigned[]): readonly SettingDue[] {
  const groups = new Map<string, readonly Offer[]>();
  const rank = new Map(nextBy(look).settings.map((s, i) => [`${s.station}/${s.op}`, i]));
  const rankOf = (s: SettingDue): number => rank.get(`${s.station}/${s.op}`) ?? rank.size;
  for (const a of assigned)
    if (a.first && !isFreeKey(look.stations.get(a.first.station)?.key ?? 'none'))
      push(groups, `${a.first.station}/${a.first.op}`, a.first);
  return [...groups.values()]
    .map((offers) => {
      const o = offers[0] as Offer;
      const settings = look.state.route.operations.find((x) => x.id === o.op)?.settings ?? [];
      return { station: o.station, op: o.op, settings, builds: offers.map((x) => x.build) };
    })
    .filter((s) => s.settings.length > 0)
    .sort((a, b) => rankOf(a) - rankOf(b) || b.builds.length - a.builds.length || (a.op < b.op ? -1 : 1));
}

function demonstrations(look: Look, assigned: readonly Assigned[]): readonly Demonstration[] {
  const route = look.state.route;
  return route.demonstrations
    .map((d) => {
      const builds = assigned
        .filter((a) => a.next.offers.slice(0, 3).some((o) => d.ops.includes(o.op)))
        .map((a) => a.build);
      const checks = route.operations.filter((o) => o.kind === 'key' && d.ops.includes(o.joinTo ?? ''));
      const keys = checks.map((k) => ({
        key: k.givesKey as string,
        people: assigned
          .filter((a) => !look.state.shop.keys.has(`${a.person}/${k.givesKey}`))
          .map((a) => a.person),
      }));
      return { ops: d.ops, durationMin: d.min, builds, keys: keys.filter((k) => k.people.length > 0) };
    })
    .filter((d) => d.builds.length > 0)
    .sort(
      (a, b) => b.builds.length - a.builds.length || ((a.ops[0] as string) < (b.ops[0] as string) ? -1 : 1),
    );
}

/** Signatures the work waits for, and those that come up with a learner's first step. */
export function signsDue(look: Look, assigned: readonly Assigned[]): readonly SignDue[] {
  const due: SignDue[] = [];
  for (const b of buildsOf(look.state)) {
    const first = assigned.find((a) => a.build === b.id)?.first;
    for (const s of progressOf(look.state, b.facts, look.nowMs).values()) {
      if (!s.sign) continue;
      const isNow =
        s.state === 'to sign' ||
        (s.sign.when === 'before' && (s.state === 'running' || (s.state === 'ready' && first?.op === s.op)));
      const isAhead = first?.op === s.op;
      if (isNow || isAhead)
        due.push({ build: b.id, person: b.person, hold: s.sign, due: isNow ? 'now' : 'ahead' });
    }
  }
  return due.sort((a, b) => (a.due === b.due ? 0 : a.due === 'now' ? -1 : 1));
}

function machineChecks(look: Look, assigned: readonly Assigned[]): readonly string[] {
  const used = new Set(assigned.flatMap((a) => a.next.offers.slice(0, 3).map((o) => o.station)));
  return [...used].filter((id) => {
    const s = look.stations.get(id);
    return s !== undefined && needsCheck(look, s);
  });
}

/** Stations that were said to be left dirty. */
export function saidNotCleaned(state: ClassState): readonly string[] {
  return [...state.shop.stations].filter(([, s]) => s.notCleaned).map(([id]) => id);
}

/** Incidents of shop, course and builds that nobody has closed. */
export function openIncidents(state: ClassState): readonly string[] {
  const all = [
    state.shop.incidents,
    state.course.incidents,
    ...[...state.builds.values()].map((b) => b.incidents),
  ].flat();
  return all.filter((i) => i.closed === undefined).map((i) => i.event);
}

/** A learner who has done nothing for a while, with what would fit. */
export interface Idle {
  readonly build: string;
  readonly person: string;
  readonly sinceMs: number;
  /** Steps of at most ten minutes. */
  readonly tenMinutes: readonly Offer[];
  readonly offers: readonly Offer[];
}

/** What the teacher sees while the session is on. */
export interface During {
  readonly leftMin?: number;
  readonly stations: readonly {
    readonly station: string;
    readonly capacity: number;
    readonly working: readonly string[];
    readonly resting: readonly { readonly build: string; readonly op: string; readonly freeMs?: number }[];
    /** Those whose next steps ask for it. */
    readonly queue: readonly string[];
    readonly freeMs?: number;
  }[];
  readonly help: readonly {
    readonly build: string;
    readonly person: string;
    readonly sinceMs: number;
    readonly words?: string;
  }[];
  readonly idle: readonly Idle[];
  /** Readings of this session whose shown verdict was not met, the worst first. */
  readonly outside: readonly OutsideReading[];
  readonly toSign: readonly SignDue[];
  readonly catchUp: readonly BatchList[];
  readonly assigned: readonly Assigned[];
  /** Who says what is next: the plan or the plain rule. */
  readonly nextBy: NextBy;
  readonly room: RoomVerdict;
  readonly jigs: readonly JigNotice[];
}

/**
 * Everything the running session shows.
 *
 * @param state    the class
 * @param nowMs    the moment
 * @param idleMin  minutes without anything heard after which somebody counts as idle
 * @source         common practice, no published source
 */
export function during(state: ClassState, nowMs: number, idleMin = 10): During {
  const session = sessionNow(state, nowMs);
  const look = lookAround(state, nowMs, session?.endMs);
  const builds = buildsOf(state).filter((b) => session?.here.get(b.person) !== false);
  const assigned = assign(look, builds);
  return {
    ...(look.leftMin === undefined ? {} : { leftMin: look.leftMin }),
    stations: stationQueues(look, assigned),
    help: builds.flatMap((b) =>
      b.facts.help
        ? [
            {
              build: b.id,
              person: b.person,
              sinceMs: b.facts.help.atMs,
              ...(b.facts.help.words === undefined ? {} : { words: b.facts.help.words }),
            },
          ]
        : [],
    ),
    idle: idleOf(look, session, builds, assigned, idleMin),
    outside: outsideOf(builds, sessionFromMs(session, nowMs)),
    toSign: signsDue(look, assigned),
    catchUp: batchLists(look, assigned).filter((l) => l.isCatchUp),
    assigned,
    nextBy: nextBy(look),
    room: look.room,
    jigs: shopJigNotices(state),
  };
}

function stationQueues(look: Look, assigned: readonly Assigned[]): During['stations'] {
  const wanted = new Map<string, readonly string[]>();
  for (const a of assigned) {
    const refused = a.next.withheld.filter((w) => w.reason.endsWith('is taken'));
    const asks = [
      ...(a.first && !a.first.running ? [a.first.station] : []),
      ...refused.map((w) => stationOfPart(look, w.op, w.part)),
    ];
    for (const s of new Set(asks)) push(wanted, s, a.build);
  }
  return look.state.route.stations
    .filter((s) => s.id !== 'bench' && (look.use.stations.has(s.id) || wanted.has(s.id)))
    .map((s) => {
      const uses = look.use.stations.get(s.id) ?? [];
      const resting = uses.filter((u) => u.why === 'resting');
      return {
        station: s.id,
        capacity: s.capacity,
        working: uses.filter((u) => u.why === 'working').map((u) => u.build),
        resting: resting.map((u) => ({
          build: u.build,
          op: u.op,
          ...(u.freeMs === undefined ? {} : { freeMs: u.freeMs }),
        })),
        queue: wanted.get(s.id) ?? [],
        ...(uses.length >= s.capacity ? soonestFree(resting) : {}),
      };
    });
}

function stationOfPart(look: Look, op: string, part: string): string {
  const o = look.state.route.operations.find((x) => x.id === op);
  return o?.parts[Number.parseInt(part, 10) - 1]?.at[0] ?? 'bench';
}

function idleOf(
  look: Look,
  session: SessionFact | undefined,
  builds: ReturnType<typeof buildsOf>,
  assigned: readonly Assigned[],
  idleMin: number,
): readonly Idle[] {
  if (session?.openedMs === undefined) return [];
  const openedMs = session.openedMs;
  return builds
    .filter((b) => session.here.get(b.person) === true)
    .map((b) => ({
      b,
      sinceMs: Math.max(openedMs, Math.min(b.facts.lastMs, look.nowMs)),
      next: assigned.find((a) => a.build === b.id)?.next,
    }))
    .filter(
      ({ sinceMs, next }) =>
        look.nowMs - sinceMs > idleMin * MINUTE_MS && !next?.offers.some((o) => o.running),
    )
    .map(({ b, sinceMs, next }) => ({
      build: b.id,
      person: b.person,
      sinceMs,
      tenMinutes: (next?.offers ?? []).filter((o) => o.likelyMin <= 10),
      offers: next?.offers ?? [],
    }))
    .sort((a, b) => a.sinceMs - b.sinceMs);
}

function outsideOf(builds: ReturnType<typeof buildsOf>, sinceMs: number): readonly OutsideReading[] {
  return builds
    .flatMap((b) => lastOutside(b.id, b.facts).filter((r) => r.atMs >= sinceMs))
    .sort((a, b) => (a.state === b.state ? b.atMs - a.atMs : a.state === 'broken' ? -1 : 1));
}

/** The last reading of each kind and spot, where its shown verdict was not met. */
function lastOutside(build: string, facts: BuildFacts): readonly OutsideReading[] {
  return [...facts.readings.values()].flatMap((list) => {
    const bySpot = new Map(list.map((r) => [r.spot ?? '', r]));
    return [...bySpot.values()].flatMap((r) =>
      !r.verdict || r.verdict.state === 'met'
        ? []
        : [
            {
              build,
              op: r.op,
              reading: r.reading,
              state: r.verdict.state,
              words: r.verdict.words,
              atMs: r.atMs,
            },
          ],
    );
  });
}

/** Broken readings after which no repair was decided; one for each operation of a build, the worst spot. */
export function undecidedReadings(state: ClassState): readonly OutsideReading[] {
  return buildsOf(state).flatMap((b) => {
    const open = openReadings(b.id, b.facts).filter((r) => r.state === 'broken');
    return open.filter((r, i) => open.findIndex((x) => x.op === r.op) === i);
  });
}

/**
 * Readings of a build outside their limits after which nothing was decided: what its page shows with their rescues.
 *
 * @param sinceMs  doubtful ones count from then on; broken ones always
 */
export function openReadings(build: string, facts: BuildFacts, sinceMs = 0): readonly OutsideReading[] {
  const decided = new Map(facts.repairs.map((r) => [r.op, r.atMs]));
  return lastOutside(build, facts).filter(
    (r) => (r.state === 'broken' || r.atMs >= sinceMs) && (decided.get(r.op) ?? 0) < r.atMs,
  );
}

/** Jigs are shared: the readings of all courses count. */
function shopJigNotices(state: ClassState): readonly JigNotice[] {
  const all = new Map([...state.others.flatMap((c) => [...c.builds]), ...state.builds]);
  return jigNotices(state.route, all, state.shop, unitsOfClass(state));
}
