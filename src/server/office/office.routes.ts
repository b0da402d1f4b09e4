import { readBody } from '../../contract/read-body.ts';
import { calendarFeed } from '../../contract/requests.ts';
import { Refusal } from '../refusal.ts';
import { type Ask, EVERYBODY, type ServerRoute, TEACHER_ONLY } from '../routes.ts';
import { feedPath, newFeed, sessionsCalendar } from './calendar.service.ts';
import { officeCsv, officeFileName, officeInput, officePdf, tableAsked } from './office.service.ts';

const COURSE = '/api/courses/:id';

async function course(ask: Ask): Promise<string> {
  const id = ask.params['id'] ?? '';
  await officeInput(ask.context, id);
  return id;
}

/** Tables of the office as files and on paper; the calendar of the sessions. */
export const officeRoutes: readonly ServerRoute[] = [
  {
    method: 'GET',
    url: `${COURSE}/office.csv`,
    roles: TEACHER_ONLY,
    handle: async ({ context, params, query, reply }) => {
      const input = await officeInput(context, params['id'] ?? '');
      const table = tableAsked(input, query['table'] ?? 'hours');
      reply
        .header('content-type', 'text/csv; charset=utf-8')
        .header('content-disposition', `attachment; filename="${officeFileName(input, table.id, 'csv')}"`);
      return officeCsv(table);
    },
  },
  {
    method: 'GET',
    url: `${COURSE}/office.pdf`,
    roles: TEACHER_ONLY,
    handle: async ({ context, params, query, reply }) => {
      const input = await officeInput(context, params['id'] ?? '');
      const pdf = await officePdf(context, input, query['part'] ?? 'all', query['paper']);
      reply.header('content-type', 'application/pdf');
      return Buffer.from(pdf);
    },
  },
  {
    method: 'GET',
    url: `${COURSE}/sessions.ics`,
    roles: TEACHER_ONLY,
    handle: async ({ context, params, query, reply }) => {
      const id = params['id'] ?? '';
      const input = await officeInput(context, id);
      const zone = query['time_zone'] ?? new Intl.DateTimeFormat().resolvedOptions().timeZone;
      reply
        .header('content-type', 'text/calendar; charset=utf-8')
        .header('content-disposition', `attachment; filename="${officeFileName(input, 'sessions', 'ics')}"`);
      return sessionsCalendar(context, id, zone);
    },
  },
  {
    method: 'GET',
    url: `${COURSE}/calendar`,
    roles: TEACHER_ONLY,
    handle: async (ask) => {
      const feed = await ask.context.calendar.ofCourse(await course(ask));
      return feed ? { path: feedPath(feed.token), time_zone: feed.timeZone } : { path: null };
    },
  },
  {
    method: 'POST',
    url: `${COURSE}/calendar`,
    roles: TEACHER_ONLY,
    handle: async (ask) => {
      const id = await course(ask);
      const feed = await newFeed(ask.context, id, readBody(calendarFeed, ask.body).time_zone);
      return { path: feedPath(feed.token), time_zone: feed.timeZone };
    },
  },
  {
    method: 'DELETE',
    url: `${COURSE}/calendar`,
    roles: TEACHER_ONLY,
    handle: async (ask) => {
      await ask.context.calendar.remove(await course(ask));
      return { path: null };
    },
  },
  {
    method: 'GET',
    url: '/api/calendar/:token/sessions.ics',
    roles: EVERYBODY,
    handle: async ({ context, params, reply }) => {
      const feed = await context.calendar.ofToken(params['token'] ?? '');
      const text = feed && (await sessionsCalendar(context, feed.course, feed.timeZone));
      if (text === undefined)
        throw new Refusal(
          404,
          'no-such-calendar',
          'There is no calendar under this address any more; ask the teacher for the new one.',
        );
      reply.header('content-type', 'text/calendar; charset=utf-8').header('cache-control', 'no-store');
      return text;
    },
  },
];
