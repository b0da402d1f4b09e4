/** Milliseconds in a minute. */
export const MINUTE_MS = 60_000;
/** Milliseconds in an hour. */
export const HOUR_MS = 60 * MINUTE_MS;
/** Milliseconds in 24 hours: a day of the clock is an hour shorter or longer twice a year. */
export const DAY_MS = 24 * HOUR_MS;
