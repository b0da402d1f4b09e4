import { DAY_MS, MINUTE_MS } from '../quantity/time.ts';
import type { InstrumentId, Route } from '../route/route-types.ts';
import type { PersonFacts } from './class-state.ts';
import type { RecordEvent } from './event.ts';

/** What the demo is made from. */
export interface DemoWish {
  readonly seed: number;
  readonly nowMs: number;
  /** Minutes the workshop's clock is ahead of universal time. */
  readonly utcOffsetMin?: number;
  readonly route: Route;
  /** The starting pattern the class builds: its text and the hash of it. */
  readonly pattern: { readonly revision: string; readonly name: string; readonly text: string };
  /** The file of the invented shop and the hash of it. */
  readonly shop?: { readonly revision: string; readonly name: string; readonly text: string };
  readonly instrument: InstrumentId;
  /** Figures of that pattern. */
  readonly figure: (id: string) => number | undefined;
}

/** An invented class: events for the record and people for their own table. */
export interface Demo {
  readonly course: string;
  readonly shop: string;
  readonly events: readonly RecordEvent[];
  readonly people: readonly PersonFacts[];
  readonly next: { readonly session: string; readonly startMs: number; readonly endMs: number };
}

const startMinute = 18 * 60 + 30;

/** Sessions held before the next one: half of the term. */
export const demoHeldCount = 15;

/**
 * When the next session of the demo begins: today at half past six in the evening, or tomorrow when that is over.
 *
 * @source arithmetic
 */
export function demoStartMs(nowMs: number, utcOffsetMin = 0): number {
  const localMs = nowMs + utcOffsetMin * MINUTE_MS;
  const midnightMs = Math.floor(localMs / DAY_MS) * DAY_MS;
  const today = midnightMs + startMinute * MINUTE_MS;
  return (localMs < today ? today : today + DAY_MS) - utcOffsetMin * MINUTE_MS;
}
