import type { Pattern } from '../../pattern/pattern.ts';
import type { Revision } from '../keeping/server.ts';
import { type Change, changed, changedState, type Draft, marked, newDraft, redone, undone } from './draft.ts';
import type { PatternSource } from './source.ts';

/** Everything a person can change on the pattern page. */
export interface DeskState {
  readonly revisions: readonly Revision[];
  readonly baseText: string;
  readonly base: Pattern;
  readonly draft: Draft;
}

export type DeskAction =
  | { readonly kind: 'change'; readonly change: Change }
  /** A drag begins: one step of undo for all of it. */
  | { readonly kind: 'begin' }
  | { readonly kind: 'drag'; readonly change: Change }
  | { readonly kind: 'undo' }
  | { readonly kind: 'redo' }
  | { readonly kind: 'drop' }
  /** A revision was made of the draft. */
  | { readonly kind: 'revised'; readonly revision: Revision; readonly base: Pattern }
  /** A revision that waited has its hash now. */
  | { readonly kind: 'sent'; readonly hash: string }
  /** The draft begins anew on another revision. */
  | {
      readonly kind: 'stand-on';
      readonly revision: Revision;
      readonly base: Pattern;
      /** The list as the server has it now. */
      readonly revisions?: readonly Revision[];
    };

/** The state a page begins with. */
export function beginDesk({ revisions, baseText, base, draft }: PatternSource): DeskState {
  return { revisions, baseText, base, draft };
}

/** The state after one action. */
export function deskAfter(state: DeskState, action: DeskAction): DeskState {
  const { base, draft } = state;
  switch (action.kind) {
    case 'change':
      return { ...state, draft: changed(draft, base, action.change) };
    case 'begin':
      return { ...state, draft: marked(draft) };
    case 'drag':
      return { ...state, draft: { ...draft, now: changedState(draft.now, base, action.change) } };
    case 'undo':
      return { ...state, draft: undone(draft) };
    case 'redo':
      return { ...state, draft: redone(draft) };
    case 'drop':
      return { ...state, draft: newDraft(draft.parent) };
    case 'revised':
      return {
        revisions: [...state.revisions, action.revision],
        baseText: action.revision.text,
        base: action.base,
        draft: newDraft(action.revision.hash),
      };
    case 'sent':
      return afterSending(state, action.hash);
    case 'stand-on':
      return {
        revisions: action.revisions ?? state.revisions,
        baseText: action.revision.text,
        base: action.base,
        draft: newDraft(action.revision.hash),
      };
  }
}

function afterSending(state: DeskState, hash: string): DeskState {
  const index = state.revisions.findIndex((r) => r.hash === '');
  const waiting = state.revisions[index];
  if (!waiting) return state;
  const revisions = state.revisions.with(index, { ...waiting, hash });
  const isParent = state.draft.parent === '' && waiting.text === state.baseText;
  return { ...state, revisions, draft: isParent ? { ...state.draft, parent: hash } : state.draft };
}
