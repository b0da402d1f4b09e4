import { compareEvents, type RecordEvent } from './event.ts';

/** How the facts of one stream are made: pure functions over a draft that only the fold sees. */
export interface Reducer<F> {
  /** Facts before anything happened. */
  empty(): F;
  /** A copy whose maps may be changed without touching the first. */
  copy(facts: F): F;
  /** Takes one event into the draft. Nested values are replaced, never changed. */
  apply(draft: F, event: RecordEvent): void;
}

/** A fold that can go on: all events in order and the facts they give. */
export interface FoldState<F> {
  /** In the total order, each once. */
  readonly events: readonly RecordEvent[];
  readonly ids: ReadonlySet<string>;
  /** Ids of withdrawn events. */
  readonly withdrawn: ReadonlySet<string>;
  readonly facts: F;
}

/**
 * Folds the events of one stream into facts. The order of arrival and repeated copies do not matter.
 *
 * @param reducer  of the stream
 * @param events   in any order, any number of times
 * @returns        a state that further events can be added to
 * @source         arithmetic
 */
export function foldEvents<F>(reducer: Reducer<F>, events: Iterable<RecordEvent>): FoldState<F> {
  const byId = new Map<string, RecordEvent>();
  for (const e of events) {
    const known = byId.get(e.id);
    // Two events with one id can only be a device that lost its counter; the earlier one stands on every device.
    if (!known || compareEvents(e, known) < 0) byId.set(e.id, e);
  }
  const ordered = inOrder([...byId.values()]);
  const withdrawn = withdrawnIds(ordered, byId);
  const facts = reducer.empty();
  for (const e of ordered) if (!withdrawn.has(e.id)) reducer.apply(facts, e);
  return { events: ordered, ids: new Set(byId.keys()), withdrawn, facts };
}

/** Sorts only when it has to: events mostly arrive in order. */
function inOrder(events: RecordEvent[]): RecordEvent[] {
  for (let i = 1; i < events.length; i++)
    if (compareEvents(events[i - 1] as RecordEvent, events[i] as RecordEvent) > 0)
      return events.sort(compareEvents);
  return events;
}

/**
 * Adds events to a fold. What comes last in the order is added to the facts; anything else folds the stream anew.
 *
 * @param reducer  the same one that made the state
 * @param state    what was folded before; not changed
 * @param events   new or already known
 * @returns        the same state a fold over all events gives
 * @source         arithmetic
 */
export function addEvents<F>(
  reducer: Reducer<F>,
  state: FoldState<F>,
  events: readonly RecordEvent[],
): FoldState<F> {
  const fresh = events.filter((e) => !state.ids.has(e.id));
  const last = state.events.at(-1);
  const isPlain =
    fresh.length === events.length &&
    fresh.every((e, i) => {
      const before = i === 0 ? last : (fresh[i - 1] as RecordEvent);
      return e.kind !== 'event-withdrawn' && (!before || compareEvents(before, e) < 0);
    });
  const isAlone = new Set(fresh.map((e) => e.id)).size === fresh.length;
  if (!isPlain || !isAlone || targetsOf(state).some((t) => fresh.some((e) => e.id === t)))
    return foldEvents(reducer, [...state.events, ...events]);
  const facts = reducer.copy(state.facts);
  for (const e of fresh) reducer.apply(facts, e);
  return {
    events: [...state.events, ...fresh],
    ids: new Set([...state.ids, ...fresh.map((e) => e.id)]),
    withdrawn: state.withdrawn,
    facts,
  };
}

function targetsOf(state: FoldState<unknown>): readonly string[] {
  return state.events.filter((e) => e.kind === 'event-withdrawn').map(targetOf);
}

function targetOf(e: RecordEvent): string {
  return (e.body as { readonly event: string }).event;
}

/**
 * Which events do not count. A withdrawal counts only in its own stream and only while it is not withdrawn itself; a
 * ring of withdrawals withdraws nothing.
 */
function withdrawnIds(
  ordered: readonly RecordEvent[],
  byId: ReadonlyMap<string, RecordEvent>,
): ReadonlySet<string> {
  const against = new Map<string, RecordEvent[]>();
  for (const e of ordered) {
    if (e.kind !== 'event-withdrawn') continue;
    const target = byId.get(targetOf(e));
    if (target?.stream === e.stream) against.set(target.id, [...(against.get(target.id) ?? []), e]);
  }
  const found = new Map<string, boolean>();
  const open = new Set<string>();
  const isVoid = (id: string): boolean => {
    const known = found.get(id);
    if (known !== undefined) return known;
    if (open.has(id)) return false;
    open.add(id);
    const answer = (against.get(id) ?? []).some((w) => !isVoid(w.id));
    open.delete(id);
    if (open.size === 0) found.set(id, answer);
    return answer;
  };
  return new Set([...against.keys()].filter(isVoid));
}
