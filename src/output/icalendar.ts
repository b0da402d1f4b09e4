import ical, { ICalCalendarMethod, ICalEventStatus } from 'ical-generator';
import { Temporal } from 'temporal-polyfill';

/** One entry of a calendar. Times are civil, `2026-10-06T18:30`, in the calendar's zone. */
export interface CalendarEntry {
  readonly id: string;
  readonly begin: string;
  readonly end: string;
  readonly title: string;
  readonly text: string;
  /** It was planned and falls out. */
  readonly isCancelled?: boolean;
}

/** What a calendar file is made of. */
export interface CalendarFile {
  readonly name: string;
  /** A name such as Europe/Vienna. */
  readonly timeZone: string;
  /** The moment it is made, `2026-10-06T12:00:00Z`. */
  readonly stamp: string;
  /** For a calendar that is read again and again: after how many hours. */
  readonly refreshHours?: number;
  readonly entries: readonly CalendarEntry[];
}

/**
 * A calendar after RFC 5545, with the rules of its time zone in it.
 *
 * @param file  name, zone, stamp and entries
 * @returns     the text of the .ics file
 * @throws RangeError when the zone is unknown or a time is none
 * @source      rfc-5545
 */
export function calendarText(file: CalendarFile): string {
  const zoned = (civil: string): Temporal.ZonedDateTime =>
    Temporal.PlainDateTime.from(civil).toZonedDateTime(file.timeZone);
  const stamp = Temporal.Instant.from(file.stamp).toString({ smallestUnit: 'second' }).replace(/[-:]/g, '');
  const spans = file.entries.flatMap((e) => [zoned(e.begin), zoned(e.end)]);
  const calendar = ical({ name: file.name, prodId: { company: 'bracewright', product: 'plan' } });
  if (file.refreshHours !== undefined) {
    calendar.method(ICalCalendarMethod.PUBLISH);
    calendar.ttl(file.refreshHours * 3600);
  }
  calendar.timezone({ name: file.timeZone, generator: () => zoneRules(file.timeZone, spans) });
  for (const entry of file.entries)
    calendar.createEvent({
      id: entry.id,
      start: zoned(entry.begin),
      end: zoned(entry.end),
      timezone: file.timeZone,
      summary: entry.title,
      ...(entry.text === '' ? {} : { description: entry.text }),
      ...(entry.isCancelled === true ? { status: ICalEventStatus.CANCELLED } : {}),
    });
  // RFC 5545 wants the stamp in universal time and does not know TIMEZONE-ID
  return calendar
    .toString()
    .replace(/^TIMEZONE-ID:.*\r\n/m, '')
    .replace(/^DTSTAMP:.*(?=\r$)/gm, `DTSTAMP:${stamp}`);
}

/** The zone's changes of the clock over the time of the entries, each written out on its own. */
function zoneRules(zone: string, moments: readonly Temporal.ZonedDateTime[]): string {
  const sorted = moments.toSorted(Temporal.ZonedDateTime.compare);
  const first = (sorted[0] ?? Temporal.Instant.from('2000-01-01T00:00Z').toZonedDateTimeISO(zone)).subtract({
    days: 1,
  });
  const last = (sorted[sorted.length - 1] ?? first).add({ days: 1 });
  const lines = ['BEGIN:VTIMEZONE', `TZID:${zone}`];
  const begin =
    first.getTimeZoneTransition('previous') ??
    first.with({
      month: 1,
      day: 1,
      hour: 0,
      minute: 0,
      second: 0,
      millisecond: 0,
      microsecond: 0,
      nanosecond: 0,
    });
  for (
    let at: Temporal.ZonedDateTime | null = begin;
    at !== null && Temporal.ZonedDateTime.compare(at, last) <= 0;
    at = at.getTimeZoneTransition('next')
  )
    lines.push(...observance(at));
  lines.push('END:VTIMEZONE');
  return lines.join('\r\n');
}

function observance(at: Temporal.ZonedDateTime): string[] {
  const before = at.subtract({ nanoseconds: 1 });
  const kind = at.offsetNanoseconds > before.offsetNanoseconds ? 'DAYLIGHT' : 'STANDARD';
  // the begin of an observance is written in the clock that was valid until then
  const onset = at.toInstant().toZonedDateTimeISO(before.offset).toPlainDateTime();
  return [
    `BEGIN:${kind}`,
    `DTSTART:${onset.toString({ smallestUnit: 'second' }).replace(/[-:]/g, '')}`,
    `TZOFFSETFROM:${before.offset.replace(':', '')}`,
    `TZOFFSETTO:${at.offset.replace(':', '')}`,
    `END:${kind}`,
  ];
}
