import { useSyncExternalStore } from 'react';

/** How safe is what was made on this device. */
export interface Kept {
  /** This device can keep things (its store opened and takes writes). */
  readonly isKept: boolean;
  /** The server answered last time. */
  readonly isReached: boolean;
  /** Revisions and entries of the record that wait for the server. */
  readonly unsentCount: number;
}

/** What the keepers say; revisions and entries are counted by different ones. */
interface Told {
  readonly isKept: boolean;
  readonly isReached: boolean;
  /** Revisions that wait. */
  readonly unsentCount: number;
  /** Entries of the record that wait. */
  readonly unsentEventCount: number;
}

let told: Told = { isKept: true, isReached: true, unsentCount: 0, unsentEventCount: 0 };
let current: Kept = { isKept: true, isReached: true, unsentCount: 0 };
const listeners = new Set<() => void>();

/** Tells the frame what changed. */
export function tellKept(change: Partial<Told>): void {
  told = { ...told, ...change };
  const next: Kept = {
    isKept: told.isKept,
    isReached: told.isReached,
    unsentCount: told.unsentCount + told.unsentEventCount,
  };
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
