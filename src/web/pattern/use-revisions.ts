import { useEffect, useState } from 'react';
import { readPattern } from '../../pattern/pattern-file.ts';
import { onSent, sendOrKeep } from '../keeping/sending.ts';
import { askRevisions, type SendResult } from '../keeping/server.ts';
import type { DeskAction, DeskState } from './desk-state.ts';
import { textOfDraft } from './draft.ts';

/** Two revisions were made from one: which to go on with is asked. */
type Fork = SendResult & { readonly kind: 'two-revisions' };

/** Makes revisions of the draft, and goes on with one of two. */
export function useRevisions(
  patternId: string,
  state: DeskState,
  act: (action: DeskAction) => void,
  onMade: () => void,
) {
  const [fork, setFork] = useState<Fork>();
  useEffect(
    () =>
      onSent((id, result) => {
        if (id !== patternId) return;
        if ('hash' in result) act({ kind: 'sent', hash: result.hash });
        if (result.kind === 'two-revisions') setFork(result);
      }),
    [patternId, act],
  );

  const makeRevision = async (note: string): Promise<SendResult> => {
    const text = textOfDraft(state.baseText, state.draft.now);
    const { parent } = state.draft;
    const savedAt = new Date().toISOString();
    const result = await sendOrKeep(patternId, { text, parent, note }, savedAt);
    if (result.kind === 'saved' || result.kind === 'unreached') {
      const hash = result.kind === 'saved' ? result.hash : '';
      act({ kind: 'revised', revision: { hash, parent, note, savedAt, text }, base: readPattern(text) });
      onMade();
    }
    if (result.kind === 'two-revisions') setFork(result);
    return result;
  };

  const chooseRevision = async (hash: string) => {
    setFork(undefined);
    const list = (await askRevisions(patternId)) ?? state.revisions;
    const revision = list.find((r) => r.hash === hash);
    if (revision) act({ kind: 'stand-on', revision, base: readPattern(revision.text), revisions: list });
  };

  return { makeRevision, chooseRevision, fork };
}
