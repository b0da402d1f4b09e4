import { useSyncExternalStore } from 'react';

/** Which unit is shown large. */
export type LargeUnit = 'mm' | 'in';
/** Paper: as the device says, or one of the three. */
export type Theme = 'device' | 'pad' | 'slate' | 'bright';

/** What a person chose for this device. */
export interface Preferences {
  readonly largeUnit: LargeUnit;
  readonly theme: Theme;
}

const KEY = 'bracewright-preferences';
const THEMES: readonly Theme[] = ['device', 'pad', 'slate', 'bright'];
const listeners = new Set<() => void>();
let current = read();

function read(): Preferences {
  let kept: Partial<Preferences> = {};
  try {
    kept = JSON.parse(localStorage.getItem(KEY) ?? '{}') as Partial<Preferences>;
  } catch {
    // storage is switched off or holds something foreign: the defaults serve
  }
  return {
    largeUnit: kept.largeUnit === 'in' ? 'in' : 'mm',
    theme: THEMES.find((theme) => theme === kept.theme) ?? 'device',
  };
}

/** Puts the theme on the page. */
export function showTheme({ theme }: Preferences = current): void {
  const root = document.documentElement;
  if (theme === 'device') delete root.dataset['theme'];
  else root.dataset['theme'] = theme;
}

/** Changes a choice and keeps it on this device. */
export function prefer(change: Partial<Preferences>): void {
  current = { ...current, ...change };
  try {
    localStorage.setItem(KEY, JSON.stringify(current));
  } catch {
    // the choice then lasts as long as the page is open
  }
  showTheme();
  for (const tell of listeners) tell();
}

function listen(tell: () => void): () => void {
  listeners.add(tell);
  return () => listeners.delete(tell);
}

/** The choices of this device; the component follows them. */
export function usePreferences(): Preferences {
  return useSyncExternalStore(listen, () => current);
}
