import { guardOf, guardWords } from '../../contract/guarded.ts';
import { readBody } from '../../contract/read-body.ts';
import { eventBatch } from '../../contract/requests.ts';
import { gluesBox, openBoxFaults } from '../../course/closing-list.ts';
import { type RecordEvent, readEvent } from '../../course/event.ts';
import { checkBody } from '../../course/event-kinds.ts';
import { checkShopRevision } from '../../course/shop-of-record.ts';
import { InputError } from '../../quantity/input-error.ts';
import { ownRoute } from '../../route/route.ts';
import type { ArrivedEvent } from '../../store/events/events.repository.ts';
import type { Context } from '../context.ts';
import type { Caller } from '../doors/caller.ts';
import { elsewhereFor } from '../doors/door.ts';
import { forgetHealthAtHandOver } from '../people/hand-over.ts';
import { Refusal } from '../refusal.ts';
import { ADMITTED, type ServerRoute } from '../routes.ts';
import { maySee, maySeeEvent, writeFault } from './permission.ts';

/** One answer carries a class's whole term: packed it is a hundred kilobytes. */
const MOST_EVENTS = 5000;
/** A device whose clock runs ahead by more than this is refused: its events would stand behind everybody's for days. */
const MOST_AHEAD_MS = 3 * 24 * 3600 * 1000;

/** Ids of the builds of the caller's course. */
export async function buildsOf(context: Context, caller: Caller): Promise<ReadonlySet<string>> {
  if (caller.course === '') return new Set();
  return new Set(
    (await context.people.all())
      .filter((p) => p.course === caller.course && p.build !== '')
      .map((p) => p.build),
  );
}

interface Sorted {
  readonly good: readonly RecordEvent[];
  readonly refused: readonly { readonly id: string; readonly code: string; readonly message: string }[];
}

/** Reads and judges every event on its own, so that one bad one does not hold back the rest. */
async function sortEvents(context: Context, caller: Caller, raw: readonly unknown[]): Promise<Sorted> {
  const builds = await buildsOf(context, caller);
  const good: RecordEvent[] = [];
  const refused: { id: string; code: string; message: string }[] = [];
  for (const one of raw) {
    const id = String((one as { id?: unknown } | null)?.id ?? '').slice(0, 80);
    try {
      const event = readEvent(one);
      checkBody(event);
      checkShopRevision(event);
      if (event.time > context.nowMs() + MOST_AHEAD_MS)
        throw new InputError(
          'clock-ahead',
          'The clock of this device is more than three days ahead; set it right and enter it again.',
        );
      const fault = writeFault(caller, event, builds);
      if (fault) refused.push({ id, code: 'not-yours', message: `This cannot be kept: ${fault}.` });
      else good.push(event);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      refused.push({ id, code: error.code, message: error.message });
    }
  }
  return { good, refused };
}

/** A withdrawal by a learner may only take back his own entries. */
async function refuseForeignWithdrawals(context: Context, caller: Caller, sorted: Sorted): Promise<Sorted> {
  if (caller.role === 'teacher') return sorted;
  const withdrawals = sorted.good.filter((e) => e.kind === 'event-withdrawn');
  if (withdrawals.length === 0) return sorted;
  const kept = await context.events.ofStreams([...new Set(withdrawals.map((e) => e.stream))]);
  const byId = new Map<string, RecordEvent>([...kept, ...sorted.good].map((e) => [e.id, e]));
  const isForeign = (e: RecordEvent): boolean => {
    const target = byId.get((e.body as { event?: string }).event ?? '');
    return e.kind === 'event-withdrawn' && (target === undefined || target.by !== caller.person);
  };
  return {
    good: sorted.good.filter((e) => !isForeign(e)),
    refused: [
      ...sorted.refused,
      ...sorted.good.filter(isForeign).map((e) => ({
        id: e.id,
        code: 'not-yours',
        message: 'Only your own entries can be taken back; ask for the teacher.',
      })),
    ],
  };
}

/** What signs, gives keys or sets something is not taken through the plain door, and neither is taking it back. */
async function refuseGuarded(
  context: Context,
  elsewhere: string | undefined,
  sorted: Sorted,
): Promise<Sorted> {
  if (elsewhere === undefined) return sorted;
  const taken = sorted.good.filter((e) => e.kind === 'event-withdrawn');
  const kept =
    taken.length > 0 ? await context.events.ofStreams([...new Set(taken.map((e) => e.stream))]) : [];
  const byId = new Map<string, RecordEvent>([...kept, ...sorted.good].map((e) => [e.id, e]));
  const isShut = (e: RecordEvent | undefined, depth = 0): boolean => {
    // what is not known here could be anything
    if (e === undefined || depth > 100) return true;
    return e.kind === 'event-withdrawn'
      ? isShut(byId.get((e.body as { event?: string }).event ?? ''), depth + 1)
      : guardOf(e.kind) !== undefined;
  };
  return {
    good: sorted.good.filter((e) => !isShut(e)),
    refused: [
      ...sorted.refused,
      ...sorted.good
        .filter((e) => isShut(e))
        .map((e) => ({ id: e.id, code: 'other-door', message: guardWords(elsewhere) })),
    ],
  };
}

/** A box is not said to be glued while its closing list is open, whoever says it. */
async function refuseOpenBoxes(context: Context, sorted: Sorted): Promise<Sorted> {
  const glued = sorted.good.filter(gluesBox);
  if (glued.length === 0) return sorted;
  const kept = await context.events.ofStreams([...new Set(glued.map((e) => e.stream))]);
  const faults = openBoxFaults(ownRoute(), sorted.good, kept);
  return {
    good: sorted.good.filter((e) => !faults.has(e)),
    refused: [
      ...sorted.refused,
      ...[...faults].map(([{ id }, fault]) => ({
        id,
        code: 'closing-list-open',
        message: `This cannot be kept: ${fault}`,
      })),
    ],
  };
}

const wholeNumber = (text: string | undefined, name: string): number => {
  const value = Number(text ?? '0');
  if (!Number.isSafeInteger(value) || value < 0)
    throw new InputError(
      'request-form',
      `"${name}" is "${String(text).slice(0, 40)}"; it must be a whole number from 0.`,
    );
  return value;
};

/** The record: sending events, catching up, being told. */
export const recordRoutes: readonly ServerRoute[] = [
  {
    method: 'POST',
    url: '/api/events',
    roles: ADMITTED,
    bodyLimit: 8_000_000,
    handle: async ({ context, caller, request, door, body }) => {
      const { events } = readBody(eventBatch, body);
      const sorted = await sortEvents(context, caller, events);
      const own = await refuseGuarded(
        context,
        elsewhereFor(context, request, door),
        await refuseForeignWithdrawals(context, caller, sorted),
      );
      const { good, refused } = await refuseOpenBoxes(context, own);
      const arrived = await context.events.append(good);
      context.recorder.saw(good);
      context.live.tell(arrived);
      await forgetHealthAtHandOver(context, arrived);
      return { kept: good.map((e) => e.id), refused };
    },
  },
  {
    method: 'GET',
    url: '/api/events',
    roles: ADMITTED,
    handle: async ({ context, caller, query }) => {
      const after = wholeNumber(query['after'], 'after');
      const page = await context.events.after(after, MOST_EVENTS);
      const builds = await buildsOf(context, caller);
      const last = page.at(-1)?.arrival ?? after;
      const events = page.filter((e: ArrivedEvent) => maySeeEvent(caller, e, builds));
      return {
        events: events.map(({ arrival: _arrival, ...e }) => e),
        last,
        more: page.length === MOST_EVENTS,
      };
    },
  },
  {
    method: 'GET',
    url: '/api/live',
    roles: ADMITTED,
    handle: async ({ context, caller, reply }) => {
      if (context.live.count() >= 500)
        throw new Refusal(
          503,
          'too-many-listeners',
          'Too many pages are open on this server; close some and load again.',
        );
      const builds = await buildsOf(context, caller);
      reply.hijack();
      reply.raw.writeHead(200, {
        'content-type': 'text/event-stream',
        'cache-control': 'no-store',
        connection: 'keep-alive',
        'x-content-type-options': 'nosniff',
      });
      reply.raw.write(`retry: 2000\nevent: hello\ndata: ${await context.events.lastArrival()}\n\n`);
      context.live.add(reply.raw, (stream) => maySee(caller, stream, builds));
      return reply;
    },
  },
];
