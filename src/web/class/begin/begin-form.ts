import type { AgeBand } from '../../../route/route-types.ts';
import type { JigKind } from '../../../shop/shop.ts';
import { localDate } from '../clock-words.ts';

/** What the page "Begin a course" asks, as it was typed. */
export interface BeginForm {
  readonly name: string;
  readonly units: 'mm' | 'in';
  readonly names: string;
  /** Names of the left-handed. */
  readonly left: readonly string[];
  readonly ages: Readonly<Record<string, AgeBand>>;
  readonly hasConsent: boolean;
  readonly patternId: string;
  /** Numbers of the teacher's own plan, by input id, as typed. */
  readonly plan: Readonly<Record<string, string>>;
  /** `2026-11-03T18:30`, by the clock of this device. */
  readonly firstStart: string;
  readonly minutes: string;
  readonly count: string;
  readonly isPlain: boolean;
  /** Coarse steps done, by name. */
  readonly done: Readonly<Record<string, readonly string[]>>;
  readonly clamps: readonly { readonly name: string; readonly op: string; readonly since: string }[];
  readonly proved: readonly { readonly typed: string; readonly measured: string }[];
  readonly jigs: readonly { readonly kind: JigKind; readonly size: string }[];
}

const KEY = 'bracewright-begin';

/** An empty form; the first session is today at half past six. */
export function emptyForm(nowMs: number): BeginForm {
  return {
    name: '',
    units: 'in',
    names: '',
    left: [],
    ages: {},
    hasConsent: false,
    patternId: '',
    plan: {},
    firstStart: `${localDate(nowMs)}T18:30`,
    minutes: '150',
    count: '30',
    isPlain: false,
    done: {},
    clamps: [],
    proved: [1, 2, 3].map(() => ({ typed: '', measured: '' })),
    jigs: [],
  };
}

/** The form as it stood when this device last left it. */
export function keptForm(nowMs: number): BeginForm {
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? '{}') as Partial<BeginForm>;
    return { ...emptyForm(nowMs), ...kept };
  } catch {
    return emptyForm(nowMs);
  }
}

/** Keeps the form on this device until the course has begun. */
export function keepForm(form: BeginForm | undefined): void {
  try {
    if (form) localStorage.setItem(KEY, JSON.stringify(form));
    else localStorage.removeItem(KEY);
  } catch {
    // the form then lasts as long as the page is open
  }
}
