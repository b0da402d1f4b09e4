import { DAY_MS } from '../quantity/time.ts';
import { isFreeKey } from '../route/route-check.ts';
import type { AgeBand, AgeWord, Route, Station } from '../route/route-types.ts';
import { type ClassState, type CourseInShop, planOf, stationOfWork } from './class-state.ts';
import type { KeyFact } from './shop-facts.ts';

const weekMs = 7 * DAY_MS;

/** Whether a person has a key, until when, or why not. */
export type KeyState =
  | { readonly state: 'held'; readonly untilMs: number; readonly gapWeeks: number }
  | { readonly state: 'lapsed'; readonly reason: string }
  | { readonly state: 'not given' };

/**
 * Whether a person has the key at a moment: given, not taken, no incident, not older than the months of the shop, no gap
 * of as many term weeks as the shop says. A gap is time away from the workshop, or, where the shop wants it so, time
 * without that machine; weeks without a session do not count.
 *
 * @param state   the class
 * @param person  who
 * @param key     id of the key
 * @param nowMs   the moment
 * @source        common practice, no published source
 */
export function keyState(state: ClassState, person: string, key: string, nowMs: number): KeyState {
  const fact = state.shop.keys.get(`${person}/${key}`);
  if (!fact || fact.givenMs > nowMs) return { state: 'not given' };
  if (fact.ended !== undefined) return { state: 'lapsed', reason: fact.ended };
  const rule = keyRuleOf(state);
  const untilMs = addMonths(fact.givenMs, rule.lapsesAfterMonths);
  if (nowMs >= untilMs)
    return { state: 'lapsed', reason: `given more than ${rule.lapsesAfterMonths} months ago` };
  const gapWeeks = termWeeks(state, person, lastSeenMs(state, fact, rule.gap, nowMs), nowMs);
  if (gapWeeks >= rule.lapsesAfterGapWeeks)
    return { state: 'lapsed', reason: `${gapWords[rule.gap]} for ${gapWeeks} weeks of term` };
  return { state: 'held', untilMs, gapWeeks };
}

/** When keys lapse in this shop. */
export interface KeyRule {
  readonly lapsesAfterMonths: number;
  readonly lapsesAfterGapWeeks: number;
  readonly gap: 'away' | 'unused';
}

/** The rule of the shop, else the one of the route. @source common practice, no published source */
export function keyRuleOf(state: ClassState): KeyRule {
  const { lapsesAfterMonths, lapsesAfterGapWeeks } = state.shop.keyRule ?? state.route.keyRule;
  return { lapsesAfterMonths, lapsesAfterGapWeeks, gap: state.shop.keyRule?.gap ?? 'away' };
}

/** What a gap is called. */
export const gapWords: Readonly<Record<KeyRule['gap'], string>> = {
  away: 'away from the workshop',
  unused: 'not used',
};

/** The same day so many months later; the last day of a shorter month. */
function addMonths(ms: number, months: number): number {
  const d = new Date(ms);
  const target = new Date(ms);
  target.setUTCDate(1);
  target.setUTCMonth(d.getUTCMonth() + months);
  const lastDay = new Date(Date.UTC(target.getUTCFullYear(), target.getUTCMonth() + 1, 0)).getUTCDate();
  target.setUTCDate(Math.min(d.getUTCDate(), lastDay));
  return target.getTime();
}

function coursesOf(state: ClassState): readonly CourseInShop[] {
  return [state, ...state.others];
}

/** The last time that ends a gap: here or at work in any course, or at work at a station of that key, or given it. */
function lastSeenMs(state: ClassState, fact: KeyFact, gap: KeyRule['gap'], nowMs: number): number {
  const stations = new Set(state.route.stations.filter((s) => s.key === fact.key).map((s) => s.id));
  let lastMs = fact.givenMs;
  for (const c of coursesOf(state)) {
    if (gap === 'away')
      for (const s of c.course.sessions.values())
        if (s.startMs <= nowMs && s.here.get(fact.person) === true) lastMs = Math.max(lastMs, s.startMs);
    for (const l of c.course.learners.values()) {
      const build = l.person === fact.person ? c.builds.get(l.build) : undefined;
      if (!build) continue;
      const plan = planOf(state, build);
      for (const [op, o] of build.operations)
        for (const [partId, part] of o.parts) {
          const at = gap === 'away' ? undefined : stationOfWork(plan, op, partId, part);
          if (gap === 'away' || (at !== undefined && stations.has(at)))
            lastMs = Math.max(lastMs, part.doneMs ?? 0);
        }
    }
  }
  return lastMs;
}

/** Weeks with a session of the person's courses between two moments. */
function termWeeks(state: ClassState, person: string, fromMs: number, toMs: number): number {
  const weeks = new Set<number>();
  for (const c of coursesOf(state)) {
    if (![...c.course.learners.values()].some((l) => l.person === person)) continue;
    for (const s of c.course.sessions.values())
      if (s.cancelled === undefined && s.startMs > fromMs && s.startMs < toMs)
        weeks.add(Math.floor((s.startMs - fromMs) / weekMs));
  }
  return weeks.size;
}

/** How a person may work at a station, or why not. */
export type Permission =
  | { readonly may: true; readonly how: Exclude<AgeWord, 'never'>; readonly reason?: string }
  | { readonly may: false; readonly reason: string };

/**
 * What key, age table and consent say about a person at a station.
 *
 * @param state       the class
 * @param person      who
 * @param station     where
 * @param nowMs       the moment
 * @param isKeyCheck  true for the watched cut that gives the key
 * @source            common practice, no published source
 */
export function permission(
  state: ClassState,
  person: string,
  station: Station,
  nowMs: number,
  isKeyCheck = false,
): Permission {
  if (isFreeKey(station.key)) return { may: true, how: 'alone' };
  const p = state.people.get(person);
  if (p?.machines !== 'yes')
    return {
      may: false,
      reason: p?.machines === 'no' ? 'no consent for machines' : 'consent for machines not asked yet',
    };
  if (station.teacherOnly || station.key === 'teacher-only') return { may: true, how: 'teacher does it' };
  const band = p.ageBand;
  if (!band) return { may: false, reason: 'no age band given' };
  const age = ageWord(state, station.id, band);
  if (age.word === 'never')
    return { may: false, reason: `${bandWords[band]}: never${age.reason ? ` (${age.reason})` : ''}` };
  if (age.word === 'teacher does it') return { may: true, how: 'teacher does it' };
  if (!isKeyCheck) {
    const key = keyState(state, person, station.key, nowMs);
    if (key.state === 'not given')
      return { may: false, reason: `no key for the ${keyName(state.route, station.key)}` };
    if (key.state === 'lapsed') return { may: false, reason: `the key has lapsed: ${key.reason}` };
  }
  return { may: true, how: isKeyCheck && age.word === 'alone' ? 'adult beside' : age.word };
}

/** An age band in words. */
export const bandWords: Readonly<Record<AgeBand, string>> = {
  under16: 'under 16',
  from16to17: '16 to 17',
  adult: 'adult',
};

/** The school's own rule for a station and an age band, or the one it starts from. */
export function ageWord(
  state: ClassState,
  station: string,
  band: AgeBand,
): { readonly word: AgeWord; readonly reason?: string } {
  const own = state.shop.ageRules.get(`${station}/${band}`);
  if (own) return { word: own.word, ...(own.reason === undefined ? {} : { reason: own.reason }) };
  return { word: state.route.ageRules.byStation[station]?.[band] ?? state.route.ageRules.otherStations };
}

function keyName(route: Route, key: string): string {
  return route.keys.find((k) => k.id === key)?.text ?? key;
}

/** A key that has lapsed or will within some days. */
export interface KeyNotice {
  readonly person: string;
  readonly key: string;
  readonly text: string;
}

/**
 * Keys of the learners of the course that have lapsed or lapse soon.
 *
 * @param soonDays  how far to look ahead
 * @source          common practice, no published source
 */
export function keyNotices(state: ClassState, nowMs: number, soonDays = 21): readonly KeyNotice[] {
  const people = new Set(
    [...state.course.learners.values()].filter((l) => l.removed === undefined).map((l) => l.person),
  );
  const rule = keyRuleOf(state);
  return [...state.shop.keys.values()]
    .filter((k) => people.has(k.person))
    .flatMap((k) => {
      const s = keyState(state, k.person, k.key, nowMs);
      const text =
        s.state === 'lapsed'
          ? `has lapsed: ${s.reason}`
          : s.state === 'held' && s.untilMs - nowMs < soonDays * DAY_MS
            ? `lapses in ${Math.max(1, Math.ceil((s.untilMs - nowMs) / DAY_MS))} days`
            : s.state === 'held' && s.gapWeeks > 0 && s.gapWeeks >= rule.lapsesAfterGapWeeks - 1
              ? `lapses next week: ${gapWords[rule.gap]} for ${s.gapWeeks} weeks of term`
              : undefined;
      return text === undefined
        ? []
        : [{ person: k.person, key: k.key, text: `${keyName(state.route, k.key)}: ${text}` }];
    });
}
