import { useEffect, useState } from 'react';
import type { Pattern } from '../../pattern/pattern.ts';
import { readPattern } from '../../pattern/pattern-file.ts';
import { InputError } from '../../quantity/input-error.ts';
import { bundledPatterns } from '../keeping/bundled.ts';
import {
  keptDraft,
  rememberedPatterns,
  rememberedRevisions,
  rememberPatterns,
  rememberRevisions,
  unsentRevisions,
} from '../keeping/device.ts';
import { tellKept } from '../keeping/kept.ts';
import {
  askPatterns,
  askRevisions,
  type PatternText,
  type Revision,
  STARTING_HASH,
} from '../keeping/server.ts';
import { type Draft, fromKept, newDraft } from './draft.ts';

/** A pattern with its saved revisions and the draft of this device, ready to work on. */
export interface PatternSource {
  readonly patternId: string;
  /** All saved revisions, oldest first; those that wait for the server have no hash. */
  readonly revisions: readonly Revision[];
  /** The text the draft stands on. */
  readonly baseText: string;
  readonly base: Pattern;
  readonly draft: Draft;
}

export type Loading =
  | { readonly state: 'loading' }
  | { readonly state: 'missing' }
  | { readonly state: 'unreadable'; readonly sentence: string }
  | { readonly state: 'ready'; readonly source: PatternSource };

/** A server that takes longer is not waited for: what this device remembers is shown. */
const PATIENCE_MS = 2500;

const withPatience = <T>(answer: Promise<T>): Promise<T | undefined> =>
  Promise.race([
    answer,
    new Promise<undefined>((done) => {
      setTimeout(() => done(undefined), PATIENCE_MS);
    }),
  ]);

/** All patterns: the server's, or the remembered and bundled ones. */
export async function loadPatterns(): Promise<readonly PatternText[]> {
  const fromServer = await withPatience(askPatterns());
  tellKept({ isReached: fromServer !== undefined });
  if (fromServer) {
    void rememberPatterns(fromServer);
    return fromServer;
  }
  const remembered = await rememberedPatterns();
  return remembered.length > 0 ? remembered : bundledPatterns;
}

async function loadRevisions(patternId: string): Promise<readonly Revision[]> {
  const fromServer = await withPatience(askRevisions(patternId));
  if (fromServer) void rememberRevisions(patternId, fromServer);
  const saved = fromServer ?? (await rememberedRevisions(patternId));
  const waiting = await unsentRevisions(patternId);
  return [
    ...saved,
    ...waiting.map((w) => ({ hash: '', parent: w.parent, note: w.note, savedAt: w.savedAt, text: w.text })),
  ];
}

/** A starting pattern that no server has numbered yet. */
const startingRevision = (text: string): Revision => ({
  hash: STARTING_HASH,
  parent: null,
  note: 'Starting pattern',
  savedAt: new Date(0).toISOString(),
  text,
});

/** The revision a kept draft began from; the first one for a draft that began without a server. */
function parentOf(draft: Draft | undefined, revisions: readonly Revision[]): Revision | undefined {
  if (!draft) return undefined;
  const known = revisions.findLast((r) => r.hash === draft.parent);
  return known ?? (draft.parent === STARTING_HASH ? revisions[0] : undefined);
}

async function load(patternId: string): Promise<Loading> {
  const [patterns, revisions, kept] = await Promise.all([
    loadPatterns(),
    loadRevisions(patternId),
    keptDraft(patternId),
  ]);
  const found = patterns.find((p) => p.id === patternId) ?? bundledPatterns.find((p) => p.id === patternId);
  const all = revisions.length > 0 ? revisions : found ? [startingRevision(found.text)] : [];
  const keptHere = fromKept(kept);
  const standsOn = parentOf(keptHere, all);
  const revision = standsOn ?? all.at(-1);
  if (!revision) return { state: 'missing' };
  try {
    const base = readPattern(revision.text);
    const draft = keptHere && standsOn ? { ...keptHere, parent: standsOn.hash } : newDraft(revision.hash);
    const source = { patternId, revisions: all, baseText: revision.text, base, draft };
    return { state: 'ready', source };
  } catch (error) {
    if (error instanceof InputError) return { state: 'unreadable', sentence: error.message };
    throw error;
  }
}

/** Loads a pattern once. */
export function usePatternSource(patternId: string): Loading {
  const [loading, setLoading] = useState<Loading>({ state: 'loading' });
  useEffect(() => {
    let isWanted = true;
    void load(patternId).then((loaded) => {
      if (isWanted) setLoading(loaded);
    });
    return () => {
      isWanted = false;
    };
  }, [patternId]);
  return loading;
}
