import { civilText } from '../../course/civil-time.ts';
import type { CivilClock } from '../../course/class-plan.ts';
import { MINUTE_MS } from '../../quantity/time.ts';

/** The clock on this device's wall. */
export const wallClock: CivilClock = {
  timeZone: Intl.DateTimeFormat().resolvedOptions().timeZone,
  minuteOf: (ms) => Math.floor(ms / MINUTE_MS) - new Date(ms).getTimezoneOffset(),
  msOf: (minute) => {
    const at = new Date(minute * MINUTE_MS);
    return new Date(
      at.getUTCFullYear(),
      at.getUTCMonth(),
      at.getUTCDate(),
      at.getUTCHours(),
      at.getUTCMinutes(),
    ).getTime();
  },
};

/** `2026-11-24` of a civil minute. */
export const civilDay = (minute: number): string => civilText(minute).slice(0, 10);

/** `24 Nov` of a day. */
export const shortDay = (date: string): string =>
  new Date(`${date}T12:00Z`).toLocaleDateString('en-GB', { day: 'numeric', month: 'short', timeZone: 'UTC' });

/** `Tue 24 Nov, 18:40` of a civil minute. */
export function shortTime(minute: number): string {
  const at = new Date(`${civilText(minute)}Z`);
  const day = at.toLocaleDateString('en-GB', {
    weekday: 'short',
    day: 'numeric',
    month: 'short',
    timeZone: 'UTC',
  });
  return `${day.replace(',', '')}, ${civilText(minute).slice(11)}`;
}
