import { Temporal } from 'temporal-polyfill';
import { sessionsOf } from '../../course/class-state.ts';
import { calendarText } from '../../output/icalendar.ts';
import { InputError } from '../../quantity/input-error.ts';
import type { CalendarFeed } from '../../store/calendar/calendar.repository.ts';
import type { Context } from '../context.ts';
import { courseState } from '../courses/course-state.ts';

/** Where the feed of a token is read. */
export const feedPath = (token: string): string => `/api/calendar/${token}/sessions.ics`;

/** A time zone as given. @throws InputError when it is not known */
function checkedZone(timeZone: string): string {
  try {
    Temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(timeZone);
    return timeZone;
  } catch {
    throw new InputError(
      'time-zone',
      `The time zone "${timeZone.slice(0, 60)}" is not known; give a name such as Europe/Vienna.`,
      'time_zone',
    );
  }
}

/**
 * A new secret address for the sessions of a course; an older one opens nothing any more.
 *
 * @param timeZone  a name such as Europe/Vienna
 * @throws InputError when the zone is not known
 */
export async function newFeed(context: Context, course: string, timeZone: string): Promise<CalendarFeed> {
  const feed = {
    course,
    token: Buffer.from(context.randomBytes(24)).toString('base64url'),
    timeZone: checkedZone(timeZone),
    madeMs: context.nowMs(),
  };
  await context.calendar.put(feed);
  return feed;
}

/**
 * The sessions of a course as a calendar after RFC 5545, those that fell out marked so; undefined when the course is gone.
 *
 * @throws InputError when the zone is not known
 */
export async function sessionsCalendar(
  context: Context,
  course: string,
  timeZone: string,
): Promise<string | undefined> {
  checkedZone(timeZone);
  const found = await courseState(context, course);
  if (!found) return undefined;
  const { state } = found;
  const name = state.course.setUp?.name ?? 'Course';
  const civil = (ms: number): string =>
    Temporal.Instant.fromEpochMilliseconds(ms)
      .toZonedDateTimeISO(timeZone)
      .toPlainDateTime()
      .toString({ smallestUnit: 'minute' });
  const numbers = new Map(sessionsOf(state).map((s, i) => [s.session, i + 1]));
  const entries = [...state.course.sessions.values()]
    .filter((s) => s.endMs > s.startMs)
    .sort((a, b) => a.startMs - b.startMs)
    .map((s) => {
      const number = numbers.get(s.session);
      return {
        id: `${s.session}.${course}@bracewright`,
        begin: civil(s.startMs),
        end: civil(s.endMs),
        title: number === undefined ? `${name}: falls out` : `${name}, session ${number}`,
        text: [s.cancelled ?? '', s.note ?? ''].filter((t) => t !== '').join('. '),
        isCancelled: s.cancelled !== undefined,
      };
    });
  return calendarText({
    name: state.course.setUp?.demo === true ? `DEMO: ${name}` : name,
    timeZone,
    stamp: new Date(context.nowMs()).toISOString(),
    refreshHours: 6,
    entries,
  });
}
