import type { ClassState } from '../../course/class-state.ts';
import { planOf } from '../../course/class-state.ts';
import { CLOSING_OP, CLOSING_READING, closingList, closingListFault } from '../../course/closing-list.ts';
import type { SessionFact } from '../../course/course-facts.ts';
import type { Release } from '../../course/occupancy.ts';
import type { SignDue } from '../../course/tonight.ts';
import { type Entry, enter } from '../record/record.ts';

const courseStream = (courseId: string) => `course:${courseId}` as const;
const buildStream = (build: string) => `build:${build}` as const;
/** The shop a course works in. */
export const shopStream = (isDemo: boolean) => (isDemo ? 'shop:demo' : 'shop:main') as `shop:${string}`;

/** An id that nobody else makes, for what is entered under a name of its own. */
export const freshId = (prefix: string): string =>
  `${prefix}-${[...crypto.getRandomValues(new Uint8Array(6))].map((b) => b.toString(16).padStart(2, '0')).join('')}`;

export const openSession = (courseId: string, session: string) =>
  enter([{ stream: courseStream(courseId), kind: 'session-opened', body: { session } }]);
export const closeSession = (courseId: string, session: string, notes: string) =>
  enter([
    {
      stream: courseStream(courseId),
      kind: 'session-closed',
      body: { session, ...(notes.trim() ? { notes: notes.trim() } : {}) },
    },
  ]);

/** Says of several at once that they are here or not. */
export const setHere = (courseId: string, session: SessionFact, people: readonly string[], isHere: boolean) =>
  enter(
    people.map(
      (person): Entry => ({
        stream: courseStream(courseId),
        kind: isHere ? 'present' : 'absent',
        body: { session: session.session, person },
      }),
    ),
  );

/** Signs a hold point; the closing list goes with its signature. */
export const signHold = (due: SignDue, state: ClassState) => {
  const facts = state.builds.get(due.build);
  const checked =
    due.hold.op === CLOSING_OP && facts ? closingList(state.route, facts).map((i) => i.item) : undefined;
  return enter([
    {
      stream: buildStream(due.build),
      kind: 'hold-signed',
      body: { op: due.hold.op, sign: due.hold.sign, ...(checked ? { checked } : {}) },
    },
  ]);
};

/** How many items of the closing list are open before a hold may be signed. */
export const openBeforeSign = (due: SignDue, state: ClassState): number => {
  const facts = state.builds.get(due.build);
  return due.hold.op === CLOSING_OP && facts
    ? closingList(state.route, facts).filter((i) => !i.isChecked).length
    : 0;
};

/** Ticks one item of the closing list. */
export const tickClosing = (build: string, item: string) =>
  enter([
    {
      stream: buildStream(build),
      kind: 'reading',
      body: { op: CLOSING_OP, reading: CLOSING_READING, spot: item, said: 'checked' },
    },
  ]);

/** Ticks a coarse step with the operations it stands for. */
export const coarseDone = (build: string, step: string, ops: readonly string[]) =>
  enter([{ stream: buildStream(build), kind: 'coarse-step-done', body: { step, ops } }]);

/** Says when a dry run began or glue went on; the time then stands in the record, not in the page. */
export const noteMoment = (build: string, op: string, text: string) =>
  enter([{ stream: buildStream(build), kind: 'note', body: { op, text } }]);

export const release = (r: Release) =>
  enter([{ stream: buildStream(r.build), kind: 'released', body: { op: r.op, part: r.part, what: r.what } }]);

export const giveHelp = (build: string) =>
  enter([{ stream: buildStream(build), kind: 'help-given', body: {} }]);
export const askHelp = (build: string, op: string | undefined) =>
  enter([{ stream: buildStream(build), kind: 'help-asked', body: op ? { op } : {} }]);

export const startStep = (build: string, op: string, part: string, station: string) =>
  enter([{ stream: buildStream(build), kind: 'step-started', body: { op, part, station } }]);

/** The part is done; when it ends in glue, what is held goes into clamps with it. */
export function doneStep(
  state: ClassState,
  builds: readonly string[],
  op: string,
  part: string,
): Promise<readonly string[]> {
  // a box with an open closing list is never marked as glued, whichever page asks
  const free = builds.filter((build) => {
    const facts = state.builds.get(build);
    return !facts || closingListFault(state.route, facts, [op]) === undefined;
  });
  return enter(free.flatMap((build) => doneEntries(state, build, op, part)));
}

/** Whether a part of a build ends in glue, and what goes into clamps with it. */
export function gluingOf(state: ClassState, build: string, op: string, part: string) {
  const facts = state.builds.get(build);
  const planned = facts
    ? planOf(state, facts)
        .byId.get(op)
        ?.parts.find((p) => p.id === part)
    : undefined;
  const holds = (planned?.holds ?? []).map((h) => ({ what: h.what, leastH: h.leastH, usualH: h.usualH }));
  return { isGlued: planned?.then === 'glue', holds };
}

function doneEntries(state: ClassState, build: string, op: string, part: string): readonly Entry[] {
  const { isGlued, holds } = gluingOf(state, build, op, part);
  return [
    { stream: buildStream(build), kind: 'step-done', body: { op, part } },
    ...(isGlued && holds.length > 0
      ? [{ stream: buildStream(build), kind: 'put-in-clamps', body: { op, part, holds } } as const]
      : []),
  ];
}

export const checkMachine = (isDemo: boolean, station: string) =>
  enter([{ stream: shopStream(isDemo), kind: 'machine-checked', body: { station, state: 'met' } }]);
export const readClimate = (isDemo: boolean, humidityFrac: number) =>
  enter([{ stream: shopStream(isDemo), kind: 'room-climate', body: { humidityFrac, by: 'opening' } }]);
export const noteIncident = (isDemo: boolean, severity: 'near miss' | 'first aid', text: string) =>
  enter([{ stream: shopStream(isDemo), kind: 'incident', body: { severity, text } }]);
export const stationCleaned = (isDemo: boolean, station: string) =>
  enter([{ stream: shopStream(isDemo), kind: 'station-cleaned', body: { station } }]);
