import { InputError } from '../quantity/input-error.ts';
import { MINUTE_MS } from '../quantity/time.ts';

/**
 * Civil minutes since 1970-01-01 00:00 of a date and time written as `2026-10-06T18:30` (a blank for the T is fine).
 *
 * @param text    the date and time
 * @param member  the member it stands in
 * @returns       minutes
 * @throws InputError when there is no such date or time
 * @source        iso-8601
 */
export function civilMinutes(text: string, member: string): number {
  const found = /^(\d{4})-(\d{2})-(\d{2})[T ](\d{2}):(\d{2})$/.exec(text);
  const [year, month, day, hour, minute] = (found ?? []).slice(1).map(Number) as [
    number,
    number,
    number,
    number,
    number,
  ];
  const ms = found === null ? Number.NaN : Date.UTC(year, month - 1, day, hour, minute);
  if (
    found === null ||
    hour > 23 ||
    minute > 59 ||
    new Date(ms).toISOString().slice(0, 10) !== text.slice(0, 10)
  )
    throw new InputError(
      'course-date',
      `"${text.replace(/T(00:00|23:59)$/, '')}" in ${member} is no date; write dates as 2026-10-06 and times as 2026-10-06T18:30.`,
      member,
    );
  return ms / MINUTE_MS;
}

/**
 * A civil minute as `2026-10-06T18:30`.
 *
 * @param minutes  civil minutes since 1970-01-01 00:00
 * @returns        the text
 * @source         iso-8601
 */
export function civilText(minutes: number): string {
  return new Date(Math.floor(minutes) * MINUTE_MS).toISOString().slice(0, 16);
}
