import { useEffect, useMemo, useState, useSyncExternalStore } from 'react';
import { type BuildFacts, buildReducer } from '../../course/build-facts.ts';
import {
  type ClassState,
  type CourseInShop,
  classState,
  othersInShop,
  type PersonFacts,
} from '../../course/class-state.ts';
import { type CourseFacts, courseReducer } from '../../course/course-facts.ts';
import type { RecordEvent } from '../../course/event.ts';
import { addEvents, type FoldState, foldEvents, type Reducer } from '../../course/fold.ts';
import { type ShopFacts, shopReducer } from '../../course/shop-facts.ts';
import { ownRoute } from '../../route/route.ts';
import type { KnownPerson } from './device-log.ts';
import { type RecordView, recordView, startRecord, subscribeRecord } from './record.ts';

/** The record as this device knows it; starts it on first use. */
export function useRecord(): RecordView {
  useEffect(() => {
    void startRecord();
  }, []);
  return useSyncExternalStore(subscribeRecord, recordView);
}

const folds = new Map<
  string,
  { readonly events: readonly RecordEvent[]; readonly state: FoldState<unknown> }
>();

/** Folds one stream, going on from the last fold when events were only added. */
function factsOf<F>(stream: string, events: readonly RecordEvent[], reducer: Reducer<F>): F {
  const before = folds.get(stream);
  if (before?.events === events) return before.state.facts as F;
  const isLonger = before !== undefined && events.length > before.events.length;
  const state = isLonger
    ? addEvents(reducer, before.state as FoldState<F>, events)
    : foldEvents(reducer, events);
  folds.set(stream, { events, state });
  return state.facts;
}

const personFacts = (p: KnownPerson): PersonFacts => ({
  id: p.id,
  label: p.name,
  role: p.role,
  ...(p.ageBand ? { ageBand: p.ageBand } : {}),
  machines: p.machines?.answer ?? 'not asked',
  ...(p.machines?.on === undefined ? {} : { machinesOn: p.machines.on }),
  photos: p.photos?.answer ?? 'not asked',
  ...(p.photos?.on === undefined ? {} : { photosOn: p.photos.on }),
});

let computed:
  | {
      readonly version: number;
      readonly people: readonly KnownPerson[];
      readonly states: ReadonlyMap<string, ClassState>;
    }
  | undefined;

/** One state per course of the shop, by course id. */
export function classStates(view: RecordView): ReadonlyMap<string, ClassState> {
  if (computed && computed.version === view.version && computed.people === view.people)
    return computed.states;
  const builds = new Map<string, BuildFacts>();
  const courses = new Map<string, CourseFacts>();
  const shops = new Map<string, ShopFacts>();
  for (const [stream, events] of view.streams) {
    const [what, id] = stream.split(':') as [string, string];
    if (what === 'build') builds.set(id, factsOf(stream, events, buildReducer));
    else if (what === 'course') courses.set(id, factsOf(stream, events, courseReducer));
    else if (what === 'shop') shops.set(id, factsOf(stream, events, shopReducer));
  }
  const inShop = new Map<string, CourseInShop>();
  for (const [id, course] of courses) {
    if (!course.setUp || course.removed) continue;
    const own = new Map([...builds].filter(([, b]) => b.setUp?.course === id));
    inShop.set(id, { course, builds: own });
  }
  const people = view.people.map(personFacts);
  const states = new Map<string, ClassState>();
  for (const [id, own] of inShop)
    states.set(
      id,
      classState({
        route: ownRoute(),
        ...own,
        shop: shops.get(own.course.setUp?.demo ? 'demo' : 'main') ?? shopReducer.empty(),
        people,
        others: othersInShop(inShop, id),
      }),
    );
  computed = { version: view.version, people: view.people, states };
  return states;
}

/**
 * The time, renewed every so many seconds and with every change of the record: what has just been entered never lies
 * ahead of it.
 */
export function useNow(everySeconds = 20): number {
  const [tick, setTick] = useState(0);
  const version = useSyncExternalStore(subscribeRecord, () => recordView().version);
  useEffect(() => {
    const timer = window.setInterval(() => setTick((n) => n + 1), everySeconds * 1000);
    return () => window.clearInterval(timer);
  }, [everySeconds]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: read anew when one of the two changes
  return useMemo(() => Date.now(), [tick, version]);
}
