import { InputError } from '../quantity/input-error.ts';
import { type PlannedRoute, planRoute, type RouteWish } from '../route/planned-route.ts';
import { editRoute, type RouteEdit } from '../route/route-edit.ts';
import type { AgeBand, Route } from '../route/route-types.ts';
import type { BuildFacts, PartFact } from './build-facts.ts';
import type { CourseFacts, SessionFact } from './course-facts.ts';
import type { ShopFacts } from './shop-facts.ts';
import { shopFileOf, shopOfRecord } from './shop-of-record.ts';
import { routeInShop } from './shop-route.ts';

export type Consent = 'yes' | 'no' | 'not asked';

/** What the pages know of a person. It stands in tables of its own, never in events. */
export interface PersonFacts {
  readonly id: string;
  /** First name or nickname. */
  readonly label: string;
  readonly role: 'teacher' | 'helper' | 'learner';
  readonly ageBand?: AgeBand;
  readonly machines: Consent;
  /** Day of a yes, ISO date. */
  readonly machinesOn?: string;
  readonly photos: Consent;
  readonly photosOn?: string;
}

/** A course that works in the same shop. */
export interface CourseInShop {
  readonly course: CourseFacts;
  readonly builds: ReadonlyMap<string, BuildFacts>;
}

/**
 * The other courses that work in the same shop as one; the demo has a shop of its own.
 *
 * @source arithmetic
 */
export function othersInShop(
  courses: ReadonlyMap<string, CourseInShop>,
  id: string,
): readonly CourseInShop[] {
  const isDemo = courses.get(id)?.course.setUp?.demo === true;
  return [...courses]
    .filter(([other, c]) => other !== id && (c.course.setUp?.demo === true) === isDemo)
    .map(([, c]) => c);
}

/** All that the pages of one course are computed from. Time is given apart. */
export interface ClassState extends CourseInShop {
  /** With the teacher's changes in it. */
  readonly route: Route;
  /** Operations switched off in this course. */
  readonly off: readonly string[];
  readonly shop: ShopFacts;
  readonly people: ReadonlyMap<string, PersonFacts>;
  /** Other courses of the shop: they hold stations and jigs too. */
  readonly others: readonly CourseInShop[];
  /** Whether a rest is over after the least or the usual hours. */
  readonly restBy: 'least' | 'usual';
}

/**
 * Puts a state together; the route is the one this shop can do, with the teacher's changes applied.
 *
 * @param parts  facts as folded, people from their table
 * @throws InputError when a change of the route cannot be applied
 * @source       arithmetic
 */
export function classState(parts: {
  readonly route: Route;
  readonly course: CourseFacts;
  readonly builds: ReadonlyMap<string, BuildFacts>;
  readonly shop: ShopFacts;
  readonly people: Iterable<PersonFacts>;
  readonly others?: readonly CourseInShop[];
  readonly restBy?: 'least' | 'usual';
}): ClassState {
  const edited = editRoute(routeHere(parts.route, parts.shop), parts.course.routeEdits.map(readEdit));
  return {
    route: edited.route,
    off: edited.off,
    course: parts.course,
    builds: parts.builds,
    shop: parts.shop,
    people: new Map([...parts.people].map((p) => [p.id, p])),
    others: parts.others ?? [],
    restBy: parts.restBy ?? 'least',
  };
}

const routesHere = new WeakMap<Route, Map<string, Route>>();

/** The route as the shop of the record can do it. */
function routeHere(route: Route, facts: ShopFacts): Route {
  const file = shopFileOf(facts);
  if (!file) return route;
  let known = routesHere.get(route);
  if (!known) routesHere.set(route, (known = new Map()));
  let here = known.get(file.text);
  if (!here) known.set(file.text, (here = routeInShop(route, shopOfRecord(facts))));
  return here;
}

function readEdit(text: string): RouteEdit {
  try {
    return JSON.parse(text) as RouteEdit;
  } catch {
    throw new InputError(
      'route-edit',
      `A change of the route cannot be read: "${text.slice(0, 60)}"; withdraw it and make it again.`,
    );
  }
}

const plans = new WeakMap<Route, Map<string, PlannedRoute>>();

/**
 * The route of one build: its instrument, the choices of the course and its own, its finish.
 *
 * @throws InputError when the build names a choice or a finish the route does not have
 * @source arithmetic
 */
export function planOf(state: ClassState, build: BuildFacts): PlannedRoute {
  const wish = wishOf(state, build);
  const key = `${wish.instrument}|${wish.choices?.join()}|${wish.finish}|${wish.skip?.join()}`;
  let known = plans.get(state.route);
  if (!known) plans.set(state.route, (known = new Map()));
  let plan = known.get(key);
  if (!plan) known.set(key, (plan = planRoute(state.route, wish)));
  return plan;
}

function wishOf(state: ClassState, build: BuildFacts): RouteWish {
  const choices = build.setUp?.choices ?? state.course.setUp?.choices ?? [];
  const finish = finishOf(state, build);
  return {
    instrument: build.setUp?.instrument ?? 'steel',
    choices,
    skip: state.off,
    ...(finish === undefined ? {} : { finish }),
  };
}

/** The finish of a build: its own choice, else what it or the course began with. */
export function finishOf(state: ClassState, build: BuildFacts): string | undefined {
  return build.choices.get('finish')?.value ?? build.setUp?.finish ?? state.course.setUp?.finish;
}

/** Where a part was worked at: as told, else the first station its plan names. */
export function stationOfWork(
  plan: PlannedRoute,
  op: string,
  partId: string,
  part: PartFact,
): string | undefined {
  const planned = plan.byId.get(op)?.parts.find((p) => p.id === partId || partId === 'all');
  return part.station ?? planned?.at[0];
}

/** Sessions of the course in the order of time, those that fell out left aside. */
export function sessionsOf(state: ClassState): readonly SessionFact[] {
  return [...state.course.sessions.values()]
    .filter((s) => s.cancelled === undefined)
    .sort((a, b) => a.startMs - b.startMs);
}

/** Builds of the course with their person, in the order of their numbers. */
export function buildsOf(
  state: ClassState,
): readonly { readonly id: string; readonly person: string; readonly facts: BuildFacts }[] {
  return [...state.course.learners.values()]
    .filter((l) => l.removed === undefined)
    .flatMap((l) => {
      const facts = state.builds.get(l.build);
      return facts?.setUp ? [{ id: l.build, person: l.person, facts, number: l.number ?? 0 }] : [];
    })
    .sort((a, b) => a.number - b.number || (a.id < b.id ? -1 : 1));
}

/** What a person is called on a page. */
export function labelOf(state: ClassState, person: string): string {
  return state.people.get(person)?.label ?? 'somebody';
}
