import { type ChangedNumber, compareSheets } from '../graph/compare.ts';
import type { Sheet } from '../graph/sheet.ts';
import { isFreeKey } from '../route/route-check.ts';
import type { Operation, Route } from '../route/route-types.ts';
import type { BuildFacts } from './build-facts.ts';
import { buildsOf, type ClassState, planOf } from './class-state.ts';
import { type Frozen, frozenBy, isBegun } from './freeze.ts';
import { partDoneMs } from './progress.ts';

/** What a change of the pattern touches, whoever builds it. */
export interface ChangeTouches {
  readonly figures: readonly ChangedNumber[];
  /** Operations with a setting, limit or reading that rests on a changed figure. */
  readonly operations: readonly string[];
  readonly settings: readonly string[];
  /** Operations whose cards must be printed anew. */
  readonly cards: readonly string[];
  /** Jigs of operations whose settings change: prove them again. */
  readonly jigs: readonly string[];
  readonly builds: readonly BuildTouched[];
}

/** What it means for one build. */
export interface BuildTouched {
  readonly build: string;
  readonly person: string;
  /** free: nothing touched is begun; doubtful: something touched is cut already; frozen: a choice is past its last moment. */
  readonly state: 'free' | 'doubtful' | 'frozen';
  /** Touched operations already done, in order. */
  readonly cut: readonly string[];
  readonly begun: readonly string[];
  readonly frozen: readonly Frozen[];
  readonly text: string;
}

/**
 * What a change of the pattern touches before anyone makes it: figures, settings, cards, jigs, parts already cut, build
 * by build.
 *
 * @param state    the class
 * @param from     sheet of the pattern as it is
 * @param to       sheet of the pattern as it would be
 * @param pattern  revision that is to be changed: only builds that follow it are touched
 * @source         common practice, no published source
 */
export function changeTouches(state: ClassState, from: Sheet, to: Sheet, pattern: string): ChangeTouches {
  const figures = compareSheets(from, to);
  const ids = changedNames(figures);
  const touched = operationsTouched(state.route, figures);
  const settings = state.route.operations.flatMap((o) =>
    o.settings.filter((s) => s.figures.some((f) => ids.has(f))),
  );
  const set = new Set(settings.map((s) => s.id));
  const withSettings = touched.filter((o) => o.settings.some((s) => set.has(s.id)));
  const inputs = figures.filter((f) => f.isInput).map((f) => f.id);
  return {
    figures,
    operations: touched.map((o) => o.id),
    settings: [...set],
    cards: withSettings.filter((o) => hasCard(state.route, o)).map((o) => o.id),
    jigs: [...new Set(withSettings.flatMap((o) => o.jigs))],
    builds: buildsOf(state)
      .filter((b) => b.facts.pattern === pattern)
      .map((b) => ({ ...buildTouched(state, b.facts, touched, inputs), build: b.id, person: b.person })),
  };
}

const changedNames = (figures: readonly ChangedNumber[]): ReadonlySet<string> =>
  new Set(figures.flatMap((f) => namesOf(f.id)));

/**
 * Operations with a setting, a limit or a reading that rests on a changed figure, in the order of the route.
 *
 * @source common practice, no published source
 */
export function operationsTouched(route: Route, figures: readonly ChangedNumber[]): readonly Operation[] {
  const ids = changedNames(figures);
  return route.operations.filter((o) => touches(o, ids));
}

/** A figure, and the family it is a member of. */
function namesOf(id: string): readonly string[] {
  const cut = id.lastIndexOf('.');
  return cut > 0 ? [id, id.slice(0, cut)] : [id];
}

function touches(o: Operation, ids: ReadonlySet<string>): boolean {
  const isChanged = (v: unknown): boolean => typeof v === 'string' && ids.has(v);
  return (
    o.settings.some((s) => s.figures.some((f) => ids.has(f))) ||
    o.readings.some((r) => {
      const l = { ...r.limits };
      return [l.of, l.minus, l.plus, l.low, l.high, r.nominal, r.scrapLimit, r.replaces].some(isChanged);
    })
  );
}

/** Cards are made for what is set at a machine or with a jig. */
function hasCard(route: Route, o: Operation): boolean {
  if (o.jigs.length > 0) return true;
  return o.parts.some((p) =>
    p.at.some((s) => !isFreeKey(route.stations.find((x) => x.id === s)?.key ?? 'none')),
  );
}

function buildTouched(
  state: ClassState,
  facts: BuildFacts,
  touched: readonly Operation[],
  inputs: readonly string[],
): Omit<BuildTouched, 'build' | 'person'> {
  const plan = planOf(state, facts);
  const own = touched.filter((o) => plan.byId.has(o.id));
  const begun = own.filter((o) => isBegun(facts, o.id)).map((o) => o.id);
  const cut = begun.filter((op) =>
    plan.byId.get(op)?.parts.every((x) => partDoneMs(facts, op, x.id) !== undefined),
  );
  const frozen = inputs.flatMap((i) => frozenBy(state.route, facts, i) ?? []);
  const once = frozen.filter((f, i) => frozen.findIndex((g) => g.point.id === f.point.id) === i);
  const verdict = once.length > 0 ? 'frozen' : begun.length > 0 ? 'doubtful' : 'free';
  return { state: verdict, cut, begun, frozen: once, text: words(state.route, once, cut, begun) };
}

function words(
  route: Route,
  frozen: readonly Frozen[],
  cut: readonly string[],
  begun: readonly string[],
): string {
  const name = (op: string): string => route.operations.find((o) => o.id === op)?.name ?? op;
  const first = frozen[0];
  if (first) return first.text;
  if (cut.length > 0)
    return `Already done with the old numbers: ${cut.slice(0, 3).map(name).join('; ')}${cut.length > 3 ? ` and ${cut.length - 3} more` : ''}.`;
  if (begun.length > 0) return `Begun with the old numbers: ${begun.map(name).join('; ')}.`;
  return 'Nothing touched is begun: the change can be applied.';
}
