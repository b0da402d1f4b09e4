import type { Route } from '../route/route-types.ts';
import { type BuildFacts, foldBuild } from './build-facts.ts';
import { compareEvents, type RecordEvent } from './event.ts';

/** The operation that looks inside for the last time. */
export const CLOSING_OP = 'X4';
/** Operations after which nobody gets inside any more. */
export const CLOSING_GLUE: readonly string[] = ['X5'];
/** Under this id a learner's ticks of the list stand in the record, one spot an item. */
export const CLOSING_READING = 'X4.closing-list';

/** One item of the list. */
export interface ClosingItem {
  readonly item: string;
  readonly isChecked: boolean;
}

/**
 * The list that is gone through before a box is glued: the last chance list of the step, what it asks to check, its
 * cautions.
 *
 * @param route  of the course
 * @param facts  of the build
 * @returns      items with what was ticked, one by one or with the signature, since the piece was last begun anew; empty when the route has no such step
 * @source       common practice, no published source
 */
export function closingList(route: Route, facts: BuildFacts): readonly ClosingItem[] {
  const op = route.operations.find((o) => o.id === CLOSING_OP);
  if (!op) return [];
  const lastChance = op.settings.find((s) => s.id.includes('last-chance'))?.formula.split(/,\s*/) ?? [];
  const asked = op.readings.filter((r) => r.kind === 'check').map((r) => r.name);
  const ticked = new Set([
    ...(facts.readings.get(CLOSING_READING) ?? []).map((r) => r.spot),
    ...(facts.signed.get(CLOSING_OP) ?? []).flatMap((s) => s.checked ?? []),
  ]);
  return [...lastChance, ...asked, ...op.cautions].map((item) => ({ item, isChecked: ticked.has(item) }));
}

/** Whether every item is ticked and the teacher has signed, or it was all done before the record began. */
function isClosed(route: Route, facts: BuildFacts): boolean {
  if (facts.operations.get(CLOSING_OP)?.before === true) return true;
  const isSigned = (facts.signed.get(CLOSING_OP) ?? []).length > 0;
  return isSigned && closingList(route, facts).every((i) => i.isChecked);
}

/**
 * Why some operations cannot be marked done: the box would be glued with the closing list open.
 *
 * @param ops  to be marked done
 * @returns    a sentence; undefined when nothing stands against it
 * @source     common practice, no published source
 */
export function closingListFault(
  route: Route,
  facts: BuildFacts,
  ops: readonly string[],
): string | undefined {
  if (!ops.some((op) => CLOSING_GLUE.includes(op)) || isClosed(route, facts)) return undefined;
  const left = closingList(route, facts).filter((i) => !i.isChecked);
  return left.length > 0
    ? `the box cannot be glued yet, ${left.length} of the closing list are open (${left.map((i) => i.item).join('; ')}); tick them on the bench page.`
    : 'the box cannot be glued yet, the closing list is not signed; look inside and sign it.';
}

/** Operations that an event says are glued or done now. What was done before the record began is not among them. */
function gluedBy(event: RecordEvent): readonly string[] {
  const body = event.body as { readonly op?: string; readonly ops?: readonly string[] };
  if (event.kind === 'step-done' || event.kind === 'put-in-clamps') return [body.op ?? ''];
  return event.kind === 'coarse-step-done' ? (body.ops ?? []) : [];
}

/** Whether an event says that a box is glued. @source arithmetic */
export function gluesBox(event: RecordEvent): boolean {
  return gluedBy(event).some((op) => CLOSING_GLUE.includes(op));
}

/**
 * Why an event that says a box is glued cannot be taken: its closing list was open then. What was done offline arrives in
 * any order, so the list counts when it was closed before the event, and also when it stands closed with all that is known.
 *
 * @param event   as it was sent
 * @param stream  all events of its build that are known, those sent with it too
 * @returns       a sentence; undefined when nothing stands against it
 * @source        common practice, no published source
 */
export function openBoxFault(
  route: Route,
  event: RecordEvent,
  stream: readonly RecordEvent[],
): string | undefined {
  const ops = gluedBy(event);
  if (!ops.some((op) => CLOSING_GLUE.includes(op))) return undefined;
  const before = stream.filter((e) => compareEvents(e, event) < 0);
  const fault = closingListFault(route, foldBuild(before), ops);
  return fault && closingListFault(route, foldBuild(stream), ops) ? fault : undefined;
}

/**
 * Events that say a box is glued and cannot be taken, with the sentence for each.
 *
 * @param fresh  events that are to enter the record
 * @param kept   the record of their builds as it is; what stands in it already is taken
 * @source       common practice, no published source
 */
export function openBoxFaults(
  route: Route,
  fresh: readonly RecordEvent[],
  kept: readonly RecordEvent[],
): ReadonlyMap<RecordEvent, string> {
  const known = new Set(kept.map((e) => e.id));
  const all = [...kept, ...fresh];
  const faults = new Map<RecordEvent, string>();
  for (const e of fresh) {
    if (!gluesBox(e) || known.has(e.id)) continue;
    const fault = openBoxFault(
      route,
      e,
      all.filter((other) => other.stream === e.stream),
    );
    if (fault) faults.set(e, fault);
  }
  return faults;
}
