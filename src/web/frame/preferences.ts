import { useSyncExternalStore } from 'react';

/** Which unit is shown large. */
export type LargeUnit = 'mm' | 'in';
/** Paper: as the device says, or one of the three. */
export type Theme = 'device' | 'pad' | 'slate' | 'bright';

/** What a person chose for this device. */
export interface Preferences {
  /** As chosen here, else as the class on this device was begun. */
  readonly largeUnit: LargeUnit;
  readonly theme: Theme;
}

/** What is kept on the device. */
interface Kept {
  readonly largeUnit?: LargeUnit;
  /** Units of the class last shown here. */
  readonly classUnit?: LargeUnit;
  readonly theme: Theme;
}

const KEY = 'bracewright-preferences';
const THEMES: readonly Theme[] = ['device', 'pad', 'slate', 'bright'];
const listeners = new Set<() => void>();
let kept = read();
let current = preferencesOf(kept);

function unitOf(value: unknown): LargeUnit | undefined {
  return value === 'in' || value === 'mm' ? value : undefined;
}

function read(): Kept {
  let found: { readonly [K in keyof Kept]?: unknown } = {};
  try {
    found = JSON.parse(localStorage.getItem(KEY) ?? '{}') as typeof found;
  } catch {
    // storage is switched off or holds something foreign: the defaults serve
  }
  const largeUnit = unitOf(found.largeUnit);
  const classUnit = unitOf(found.classUnit);
  return {
    ...(largeUnit ? { largeUnit } : {}),
    ...(classUnit ? { classUnit } : {}),
    theme: THEMES.find((theme) => theme === found.theme) ?? 'device',
  };
}

function preferencesOf({ largeUnit, classUnit, theme }: Kept): Preferences {
  return { largeUnit: largeUnit ?? classUnit ?? 'mm', theme };
}

/** Puts the theme on the page. */
export function showTheme({ theme }: Preferences = current): void {
  const root = document.documentElement;
  if (theme === 'device') delete root.dataset['theme'];
  else root.dataset['theme'] = theme;
}

function keep(next: Kept): void {
  kept = next;
  current = preferencesOf(kept);
  try {
    localStorage.setItem(KEY, JSON.stringify(kept));
  } catch {
    // the choice then lasts as long as the page is open
  }
  showTheme();
  for (const tell of listeners) tell();
}

/** Changes a choice and keeps it on this device. */
export function prefer(change: Partial<Preferences>): void {
  keep({ ...kept, ...change });
}

/** The units of the class that this device shows; they hold until somebody chooses others here. */
export function followClassUnit(unit: LargeUnit): void {
  if (kept.classUnit !== unit) keep({ ...kept, classUnit: unit });
}

function listen(tell: () => void): () => void {
  listeners.add(tell);
  return () => listeners.delete(tell);
}

/** The choices of this device; the component follows them. */
export function usePreferences(): Preferences {
  return useSyncExternalStore(listen, () => current);
}
