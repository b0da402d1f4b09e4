import { setBarEnds } from '../../pattern/edit-bars.ts';
import { editPattern, markMine, type PatternEdit } from '../../pattern/edit-pattern.ts';
import type { BarSpec, Pattern, PatternPoint, StraightBar } from '../../pattern/pattern.ts';

/** A number that was typed or dragged since the last revision. */
export interface Typed {
  /** In the unit of the input table. */
  readonly value: number;
  /** As it was written, with its unit, to stand so in the file; undefined when it was dragged. */
  readonly text?: string;
}

/** Both ends of a bar. */
export interface BarEnds {
  readonly from: PatternPoint;
  readonly to: PatternPoint;
}

/** What differs from the revision a draft began from. */
export interface DraftState {
  readonly typed: ReadonlyMap<string, Typed>;
  /** Ends of top bars that were moved, by bar id. */
  readonly bars: ReadonlyMap<string, BarEnds>;
  /** Inputs that became the teacher's own. */
  readonly mine: ReadonlySet<string>;
  readonly handed?: 'right' | 'left';
}

/** A draft with the way back. */
export interface Draft {
  /** Hash of the revision it began from. */
  readonly parent: string | null;
  readonly now: DraftState;
  readonly past: readonly DraftState[];
  readonly future: readonly DraftState[];
}

/** One change a person makes. */
export type Change =
  | { readonly kind: 'number'; readonly id: string; readonly value: number; readonly text?: string }
  | { readonly kind: 'bar'; readonly id: string; readonly ends: BarEnds }
  | { readonly kind: 'mine'; readonly ids: readonly string[] }
  | { readonly kind: 'handed'; readonly handed: 'right' | 'left' };

const UNDO_DEPTH = 200;

/** Nothing typed. */
export const emptyDraftState: DraftState = { typed: new Map(), bars: new Map(), mine: new Set() };

/** A draft on a revision with nothing typed. */
export function newDraft(parent: string | null): Draft {
  return { parent, now: emptyDraftState, past: [], future: [] };
}

/** Whether a draft says nothing that its revision does not say. */
export function isEmptyState({ typed, bars, mine, handed }: DraftState): boolean {
  return typed.size === 0 && bars.size === 0 && mine.size === 0 && handed === undefined;
}

const sameNumber = (a: number | undefined, b: number): boolean => a !== undefined && Math.abs(a - b) < 1e-9;

function withNumber(state: DraftState, base: Pattern, change: Change & { kind: 'number' }): DraftState {
  const typed = new Map(state.typed);
  const { id, value, text } = change;
  if (sameNumber(base.numbers.get(id), value)) typed.delete(id);
  else typed.set(id, text === undefined ? { value } : { value, text });
  const mine = base.mine.has(id) ? state.mine : new Set(state.mine).add(id);
  return { ...state, typed, mine };
}

/** The state after one change; a number put back to where it was is no change any more. */
export function changedState(state: DraftState, base: Pattern, change: Change): DraftState {
  switch (change.kind) {
    case 'number':
      return withNumber(state, base, change);
    case 'bar':
      return { ...state, bars: new Map(state.bars).set(change.id, change.ends) };
    case 'mine':
      return { ...state, mine: new Set([...state.mine, ...change.ids.filter((id) => !base.mine.has(id))]) };
    case 'handed': {
      const { handed: _old, ...rest } = state;
      return change.handed === base.handed ? rest : { ...rest, handed: change.handed };
    }
  }
}

/** Keeps the present state for undo; what follows replaces it. */
export function marked(draft: Draft): Draft {
  return { ...draft, past: [...draft.past, draft.now].slice(-UNDO_DEPTH), future: [] };
}

/** One change as a step of its own. */
export function changed(draft: Draft, base: Pattern, change: Change): Draft {
  return { ...marked(draft), now: changedState(draft.now, base, change) };
}

/** One step back; the same draft when there is none. */
export function undone(draft: Draft): Draft {
  const last = draft.past.at(-1);
  if (!last) return draft;
  return { ...draft, now: last, past: draft.past.slice(0, -1), future: [draft.now, ...draft.future] };
}

/** One step forward again. */
export function redone(draft: Draft): Draft {
  const [next, ...future] = draft.future;
  if (!next) return draft;
  return { ...draft, now: next, past: [...draft.past, draft.now], future };
}

const movedBar = (bar: BarSpec, ends: BarEnds | undefined): BarSpec =>
  bar.kind === 'straight' && ends ? { ...bar, ...ends } : bar;

/** The pattern as the draft has it. */
export function patternOfDraft(base: Pattern, state: DraftState): Pattern {
  if (isEmptyState(state)) return base;
  const numbers = new Map(base.numbers);
  for (const [id, { value }] of state.typed) numbers.set(id, value);
  return {
    ...base,
    handed: state.handed ?? base.handed,
    numbers,
    mine: new Set([...base.mine, ...state.mine]),
    topBars:
      state.bars.size === 0 ? base.topBars : base.topBars.map((b) => movedBar(b, state.bars.get(b.id))),
  };
}

/** The text of the next revision: the old text letter for letter but for what was typed. */
export function textOfDraft(baseText: string, state: DraftState): string {
  const edits: PatternEdit[] = [...state.typed].map(([id, { value, text }]) => ({
    id,
    value: text ?? value,
  }));
  if (state.handed) edits.push({ id: 'handed', value: state.handed });
  let text = editPattern(baseText, edits, false);
  for (const [id, ends] of state.bars) text = setBarEnds(text, id, ends.from, ends.to);
  return markMine(text, [...state.mine]);
}

/** A top bar moved along the body. */
export function shiftedBar(bar: StraightBar, shiftMm: number): BarEnds {
  const moved = ({ xMm, yMm }: PatternPoint): PatternPoint => ({
    xMm,
    yMm: Number((yMm + shiftMm).toFixed(3)),
  });
  return { from: moved(bar.from), to: moved(bar.to) };
}

interface KeptState {
  readonly typed: readonly (readonly [string, Typed])[];
  readonly bars: readonly (readonly [string, BarEnds])[];
  readonly mine: readonly string[];
  readonly handed?: 'right' | 'left';
}

const toKeptState = ({ typed, bars, mine, handed }: DraftState): KeptState => ({
  typed: [...typed],
  bars: [...bars],
  mine: [...mine],
  ...(handed ? { handed } : {}),
});

const fromKeptState = ({ typed, bars, mine, handed }: KeptState): DraftState => ({
  typed: new Map(typed),
  bars: new Map(bars),
  mine: new Set(mine),
  ...(handed ? { handed } : {}),
});

/** A draft as plain data for the store of this device; undefined when there is nothing to keep. */
export function toKept(draft: Draft): unknown {
  if (isEmptyState(draft.now) && draft.past.length === 0) return undefined;
  return {
    version: 1,
    parent: draft.parent,
    now: toKeptState(draft.now),
    past: draft.past.slice(-20).map(toKeptState),
    future: draft.future.slice(0, 20).map(toKeptState),
  };
}

/** A draft that was kept; undefined for anything this version does not know. */
export function fromKept(kept: unknown): Draft | undefined {
  const data = kept as
    | {
        version?: unknown;
        parent: string | null;
        now: KeptState;
        past: readonly KeptState[];
        future: readonly KeptState[];
      }
    | undefined;
  if (data?.version !== 1) return undefined;
  return {
    parent: data.parent,
    now: fromKeptState(data.now),
    past: data.past.map(fromKeptState),
    future: data.future.map(fromKeptState),
  };
}
