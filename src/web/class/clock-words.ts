import { MINUTE_MS } from '../../quantity/time.ts';

/** `2026-11-03T18:30` on this device's clock. */
export function localMinute(ms: number): string {
  const at = new Date(ms);
  return new Date(ms - at.getTimezoneOffset() * MINUTE_MS).toISOString().slice(0, 16);
}

/** `2026-11-03` on this device's clock. */
export const localDate = (ms: number): string => localMinute(ms).slice(0, 10);

// words of our own: the first formatter of a browser costs as much as drawing the page
const WEEKDAYS = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'] as const;
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sept', 'Oct', 'Nov', 'Dec'] as const;

const weekday = (at: Date): string => WEEKDAYS[at.getDay()] as string;
const two = (n: number): string => String(n).padStart(2, '0');

/** `18:30`, by the clock of this device. */
export function clock(ms: number): string {
  const at = new Date(ms);
  return `${two(at.getHours())}:${two(at.getMinutes())}`;
}

/** `Tue 24 Nov`. */
export function day(ms: number): string {
  const at = new Date(ms);
  return `${weekday(at).slice(0, 3)} ${at.getDate()} ${MONTHS[at.getMonth()]}`;
}

/** `Tuesday evening`. */
export function evening(ms: number): string {
  const at = new Date(ms);
  const part = at.getHours() < 12 ? 'morning' : at.getHours() < 17 ? 'afternoon' : 'evening';
  return `${weekday(at)} ${part}`;
}

const isSameDay = (a: number, b: number): boolean =>
  new Date(a).toDateString() === new Date(b).toDateString();

/** `19:40` today, `Wed 25 Nov` on another day. */
export const when = (ms: number, nowMs: number): string => (isSameDay(ms, nowMs) ? clock(ms) : day(ms));

/** `in 28 min`, `in 3 h`, `now`. */
export function inWords(ms: number, nowMs: number): string {
  const minutes = Math.round((ms - nowMs) / MINUTE_MS);
  if (minutes <= 0) return 'now';
  if (minutes < 100) return `in ${minutes} min`;
  return minutes < 48 * 60 ? `in ${Math.round(minutes / 60)} h` : `in ${Math.round(minutes / 1440)} days`;
}

/** `12 min` since a moment. */
export const sinceWords = (ms: number, nowMs: number): string =>
  `${Math.max(0, Math.round((nowMs - ms) / MINUTE_MS))} min`;
