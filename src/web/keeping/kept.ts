import { useSyncExternalStore } from 'react';

/** How safe is what was made on this device. */
export interface Kept {
  /** This device can keep things (its store opened and takes writes). */
  readonly isKept: boolean;
  /** The server answered last time. */
  readonly isReached: boolean;
  /** Revisions that wait for the server. */
  readonly unsentCount: number;
}

let current: Kept = { isKept: true, isReached: true, unsentCount: 0 };
const listeners = new Set<() => void>();

/** Tells the frame what changed. */
export function tellKept(change: Partial<Kept>): void {
  const next = { ...current, ...change };
  if (
    next.isKept === current.isKept &&
    next.isReached === current.isReached &&
    next.unsentCount === current.unsentCount
  )
    return;
  current = next;
  for (const tell of listeners) tell();
}

function listen(tell: () => void): () => void {
  listeners.add(tell);
  return () => listeners.delete(tell);
}

/** The present state; the component follows it. */
export function useKept(): Kept {
  return useSyncExternalStore(listen, () => current);
}
