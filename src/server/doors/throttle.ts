/** Slows down guessing: after some wrong tries each further one has to wait longer. */
export interface Throttle {
  /** Milliseconds still to wait, 0 when one may try. */
  waitMs(key: string, nowMs: number): number;
  failed(key: string, nowMs: number): void;
  succeeded(key: string): void;
}

const FREE_TRIES = 5;
const FIRST_WAIT_MS = 2000;
const LONGEST_WAIT_MS = 60_000;
const MOST_KEYS = 10_000;

/** Makes a throttle. `key` says what is guessed (the passphrase, a join code), never who guesses: a whole class sits behind one address. */
export function makeThrottle(): Throttle {
  const tries = new Map<string, { count: number; untilMs: number }>();
  return {
    waitMs: (key, nowMs) => Math.max(0, (tries.get(key)?.untilMs ?? 0) - nowMs),
    failed: (key, nowMs) => {
      if (tries.size > MOST_KEYS) tries.clear();
      const count = (tries.get(key)?.count ?? 0) + 1;
      const wait =
        count < FREE_TRIES ? 0 : Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** (count - FREE_TRIES));
      tries.set(key, { count, untilMs: nowMs + wait });
    },
    succeeded: (key) => void tries.delete(key),
  };
}
