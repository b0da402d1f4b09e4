import type { Verdict } from '../graph/rule.ts';
import { HOUR_MS } from '../quantity/time.ts';
import type { Route } from '../route/route-types.ts';
import type { ClimateFact } from './shop-facts.ts';

/** Whether the room is right for gluing, with the reason in words. */
export interface RoomVerdict {
  readonly state: Verdict;
  readonly text: string;
  readonly humidityFrac?: number;
  readonly tempC?: number;
  readonly atMs?: number;
  /** The teacher signs a gluing. */
  readonly teacherSigns: boolean;
}

/** A reading older than this says nothing about now. */
const freshMs = 3 * HOUR_MS;
/** To come back into a better state the humidity must lie inside it by this much, so that the word does not flicker. */
const backByFrac = 0.01;
/** Water-based glues do not hold below this. */
const coldestC = 13;

/**
 * Whether the room is right for gluing now: 40 to 50 % met, 35 to 58 % doubtful, beyond that broken; the last 24 hours
 * count too.
 *
 * @param route    holds the limits
 * @param climate  readings of the room, oldest first
 * @param nowMs    the moment
 * @returns        one verdict; without a fresh reading it is doubtful and says so
 * @source         common practice, no published source
 */
export function roomVerdict(route: Route, climate: readonly ClimateFact[], nowMs: number): RoomVerdict {
  const past = climate.filter((c) => c.atMs <= nowMs).sort((a, b) => a.atMs - b.atMs);
  const last = past.at(-1);
  if (!last || nowMs - last.atMs > freshMs)
    return {
      state: 'doubtful',
      teacherSigns: true,
      text: 'No humidity read in the last 3 hours: read it before anything is glued.',
    };
  let state: Verdict = 'met';
  let worst: Verdict = 'met';
  const dayAgoMs = nowMs - route.roomHolds.hoursBefore * HOUR_MS;
  for (const c of past) {
    state = nextState(route, state, c);
    if (c.atMs >= dayAgoMs) worst = worse(worst, state);
  }
  const now = worse(state, temperatureState(route, last));
  const before: Verdict = worst === 'met' ? 'met' : 'doubtful';
  const verdict = worse(now, before);
  return {
    ...measured(last),
    state: verdict,
    teacherSigns: verdict === 'doubtful',
    text: words(route, last, now, verdict, past, dayAgoMs),
  };
}

function measured(c: ClimateFact): Pick<RoomVerdict, 'humidityFrac' | 'tempC' | 'atMs'> {
  return { humidityFrac: c.humidityFrac, atMs: c.atMs, ...(c.tempC === undefined ? {} : { tempC: c.tempC }) };
}

const rank: Readonly<Record<Verdict, number>> = { met: 0, doubtful: 1, broken: 2 };

function worse(a: Verdict, b: Verdict): Verdict {
  return rank[a] >= rank[b] ? a : b;
}

function humidityState(route: Route, frac: number, insideByFrac: number): Verdict {
  const { met, doubtful } = route.roomHolds.humidityPct;
  const inside = (band: readonly number[]): boolean =>
    frac >= (band[0] as number) / 100 + insideByFrac - 1e-9 &&
    frac <= (band[1] as number) / 100 - insideByFrac + 1e-9;
  if (inside(met)) return 'met';
  return inside(doubtful) ? 'doubtful' : 'broken';
}

/** Getting worse counts at once; getting better only when it is clear. */
function nextState(route: Route, before: Verdict, c: ClimateFact): Verdict {
  const plain = humidityState(route, c.humidityFrac, 0);
  if (rank[plain] >= rank[before]) return plain;
  const clear = humidityState(route, c.humidityFrac, backByFrac);
  return rank[clear] < rank[before] ? clear : before;
}

function temperatureState(route: Route, c: ClimateFact): Verdict {
  if (c.tempC === undefined) return 'met';
  if (c.tempC < coldestC) return 'broken';
  return c.tempC >= (route.roomHolds.temperatureC[0] as number) &&
    c.tempC <= (route.roomHolds.temperatureC[1] as number)
    ? 'met'
    : 'doubtful';
}

function words(
  route: Route,
  last: ClimateFact,
  now: Verdict,
  verdict: Verdict,
  past: readonly ClimateFact[],
  dayAgoMs: number,
): string {
  const { met, doubtful } = route.roomHolds.humidityPct;
  const read = `${Math.round(last.humidityFrac * 100)} % RH${last.tempC === undefined ? '' : ` at ${Math.round(last.tempC)} C`}`;
  const few =
    past.filter((c) => c.atMs >= dayAgoMs && c.how === 'logger').length < 3 ? ' (two readings only)' : '';
  if (verdict === 'broken')
    return `Room not right for gluing: ${read}, it must lie between ${doubtful[0]} and ${doubtful[1]} % and above ${coldestC} C${few}.`;
  if (now === 'doubtful')
    return `${read}: between ${met[0]} and ${met[1]} % at 18 to 24 C is wanted; the teacher signs each gluing${few}.`;
  if (verdict === 'doubtful')
    return `${read} now, but outside ${met[0]} to ${met[1]} % within the last ${route.roomHolds.hoursBefore} hours: the teacher signs each gluing${few}.`;
  return `${read}: right for gluing${few}.`;
}
