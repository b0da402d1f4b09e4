import type { Kysely } from 'kysely';
import type { Tables } from '../tables.ts';

/** Where the sessions of a course can be read, by whoever knows the token. */
export interface CalendarFeed {
  readonly course: string;
  readonly token: string;
  readonly timeZone: string;
  readonly madeMs: number;
}

/** Calendar feeds, one a course. */
export interface CalendarRepository {
  /** Makes the feed of a course, or puts a new token in place of the old one, which then opens nothing any more. */
  put(feed: CalendarFeed): Promise<void>;
  ofCourse(course: string): Promise<CalendarFeed | undefined>;
  ofToken(token: string): Promise<CalendarFeed | undefined>;
  remove(course: string): Promise<void>;
}

/** The calendar feeds of a store. */
export function calendarRepository(db: Kysely<Tables>): CalendarRepository {
  const one = async (column: 'course' | 'token', value: string): Promise<CalendarFeed | undefined> => {
    const row = await db.selectFrom('calendar_feed').selectAll().where(column, '=', value).executeTakeFirst();
    return row && { course: row.course, token: row.token, timeZone: row.time_zone, madeMs: row.made_ms };
  };
  return {
    put: async ({ course, token, timeZone, madeMs }) => {
      const row = { token, time_zone: timeZone, made_ms: madeMs };
      await db
        .insertInto('calendar_feed')
        .values({ course, ...row })
        .onConflict((c) => c.column('course').doUpdateSet(row))
        .execute();
    },
    ofCourse: (course) => one('course', course),
    ofToken: (token) => one('token', token),
    remove: async (course) => {
      await db.deleteFrom('calendar_feed').where('course', '=', course).execute();
    },
  };
}
