import { useSyncExternalStore } from 'react';

const query = '(prefers-reduced-motion: reduce)';

/** Whether the person asked for less movement. */
export function usePrefersStill(): boolean {
  return useSyncExternalStore(
    (changed) => {
      const list = window.matchMedia(query);
      list.addEventListener('change', changed);
      return () => list.removeEventListener('change', changed);
    },
    () => window.matchMedia(query).matches,
  );
}
