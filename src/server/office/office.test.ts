import { spawnSync } from 'node:child_process';
import ICAL from 'ical.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { TEST_NOW_MS, type TestServer, testEvent, testServer } from '../../../test/support/server.ts';
import { officeTables } from '../../course/office/office-parts.ts';
import { bounds } from '../../drawing/bounds.ts';
import { officeSheets } from '../../prints/office-sheets.ts';
import { courseState } from '../courses/course-state.ts';
import { DEMO_COURSE, seedDemo } from '../demo/demo.service.ts';
import { hashToken } from '../doors/caller.ts';
import { officeInput } from './office.service.ts';

let server: TestServer;
beforeAll(async () => {
  server = await testServer();
  await seedDemo(server.context);
});
afterAll(() => server.close());

const teacher = { host: 'localhost:4180' };
const COURSE = `/api/courses/${DEMO_COURSE}`;
const get = (url: string, headers: Record<string, string> = teacher) => server.app.inject({ url, headers });
const newFeed = (time_zone: string) =>
  server.app.inject({ method: 'POST', url: `${COURSE}/calendar`, headers: teacher, payload: { time_zone } });

describe('tables of the office as files', () => {
  it('come as CSV with a line a row, and their name says that the class is invented', async () => {
    for (const { id } of officeTables) {
      const answer = await get(`${COURSE}/office.csv?table=${id}`);
      expect(answer.statusCode, id).toBe(200);
      expect(answer.headers['content-type']).toContain('text/csv');
      expect(answer.headers['content-disposition']).toContain(`filename="demo-${id}-2026-11-02.csv"`);
      expect(answer.body.split('\r\n')[0], id).toMatch(/^[a-z0-9_,-]+$/);
    }
    const hours = (await get(`${COURSE}/office.csv?table=hours`)).body.split('\r\n');
    expect(hours).toHaveLength(1 + 13 + 1);
    const [number, name, sessions, sum, ...each] = (hours[1] ?? '').split(',');
    const here = each.map(Number).filter((h) => Number.isFinite(h) && h > 0);
    expect([number, name, sessions]).toEqual(['1', 'Ada', String(here.length)]);
    const total = here.reduce((a, b) => a + b, 0);
    // each evening is rounded to a tenth of an hour, the sum is not
    expect(Math.abs(Number(sum) - total)).toBeLessThan(0.05 * here.length + 0.01);
    expect(total).toBeGreaterThan(30);
  });

  it('hold no health note', async () => {
    const put = { method: 'PUT', url: '/api/people/p1/health-note', headers: teacher } as const;
    await server.app.inject({ ...put, payload: { text: 'nobody-else-reads-this' } });
    for (const { id } of officeTables)
      expect((await get(`${COURSE}/office.csv?table=${id}`)).body, id).not.toContain('nobody-else-reads');
  });

  it('are refused in one sentence when there is no such table, part, paper or course', async () => {
    const said = async (url: string) => {
      const answer = await get(url);
      return [answer.statusCode, answer.json<{ message: string }>().message] as const;
    };
    expect(await said(`${COURSE}/office.csv?table=gossip`)).toEqual([
      400,
      expect.stringMatching(/^The office has no table "gossip"; it has hours, keys, .*minutes\.$/),
    ]);
    expect((await said(`${COURSE}/office.pdf?part=attic`))[1]).toMatch(/no part "attic"; it has all, hours/);
    expect((await said(`${COURSE}/office.pdf?paper=vellum`))[1]).toMatch(/vellum/);
    expect((await said('/api/courses/nobody/office.csv'))[0]).toBe(404);
  });
});

describe('the office on paper', () => {
  it('stays inside every page and carries the demo mark on each', async () => {
    const input = await officeInput(server.context, DEMO_COURSE);
    const about = { course: 'Evening class', until: 'up to today', printedOn: '2026-11-02', isDemo: true };
    for (const { id, make } of officeTables) {
      const table = make(input);
      expect(table.id).toBe(id);
      const pages = officeSheets(table, about);
      expect(pages.length, table.id).toBeGreaterThan(0);
      const words = pages.map((p) => p.entities.flatMap((e) => (e.kind === 'text' ? [e.text] : [])));
      for (const [i, page] of pages.entries()) {
        const reach = bounds(page.entities);
        expect(reach?.maxX, table.id).toBeLessThanOrEqual(page.frame.maxX + 0.5);
        expect(reach?.maxY, table.id).toBeLessThanOrEqual(page.frame.maxY + 0.5);
        expect(reach?.minX, table.id).toBeGreaterThanOrEqual(-0.5);
        expect(words[i], table.id).toContain('DEMO');
      }
    }
  });

  it('comes as PDF that can be read', async () => {
    const answer = await get(`${COURSE}/office.pdf?part=hours&paper=letter`);
    expect(answer.headers['content-type']).toBe('application/pdf');
    const read = spawnSync('pdftotext', ['-layout', '-', '-'], { input: answer.rawPayload });
    if (read.error) throw new Error('pdftotext is needed: apt-get install poppler-utils');
    const words = read.stdout.toString();
    for (const said of ['Hours and attendance', 'DEMO', 'Ada', 'Together', 'away'])
      expect(words).toContain(said);
  });

  it('is for the teacher only', async () => {
    const token = 'a-learner';
    await server.context.sessions.admit(
      hashToken(token),
      { role: 'learner', person: 'p3', course: DEMO_COURSE, build: 'b3' },
      TEST_NOW_MS,
    );
    const learner = { host: 'elsewhere.example', cookie: `bracewright=${token}` };
    for (const url of [`${COURSE}/office.pdf`, `${COURSE}/office.csv`, `${COURSE}/calendar`])
      expect((await get(url, learner)).statusCode, url).toBe(403);
  });
});

/** Reads an iCalendar text with a general library (ical.js); the zone comes from the file, times come out in UTC. */
function readCalendar(text: string): readonly {
  readonly uid: string;
  readonly startMs: number;
  readonly status: unknown;
  readonly summary: string;
  readonly description: string;
}[] {
  const calendar = new ICAL.Component(ICAL.parse(text) as unknown[]);
  const zone = calendar.getFirstSubcomponent('vtimezone');
  const timezone = zone ? new ICAL.Timezone(zone) : ICAL.Timezone.utcTimezone;
  return calendar.getAllSubcomponents('vevent').map((component) => {
    const { uid, startDate, summary, description } = new ICAL.Event(component);
    startDate.zone = timezone;
    const status = component.getFirstPropertyValue('status');
    return { uid, startMs: startDate.toUnixTime() * 1000, status, summary, description };
  });
}

describe('the calendar of the sessions', () => {
  it('gives every session at its time on both sides of a clock change, in any zone', async () => {
    const { state } = (await courseState(server.context, DEMO_COURSE)) ?? {};
    const sessions = [...(state?.course.sessions.values() ?? [])].map((s) => s.startMs).sort();
    for (const zone of ['Europe/Vienna', 'America/New_York', 'Asia/Kolkata', 'Australia/Adelaide']) {
      const { path } = (await newFeed(zone)).json<{ path: string }>();
      const answer = await get(path, { host: 'elsewhere.example' });
      expect(answer.headers['content-type']).toContain('text/calendar');
      const events = readCalendar(answer.body);
      expect(events.map((e) => e.startMs).sort(), zone).toEqual(sessions);
      expect(new Set(events.map((e) => e.uid)).size).toBe(sessions.length);
      for (const line of answer.body.split('\r\n'))
        expect(Buffer.byteLength(line), line).toBeLessThanOrEqual(75);
      expect(answer.body).toContain('NAME:DEMO: Evening class');
      expect(answer.body).not.toMatch(/Ada|Bruno/);
    }
  });

  it('is shut under the old address as soon as a new one is made or it is taken away', async () => {
    const outside = { host: 'elsewhere.example' };
    const { path: old } = (await newFeed('Europe/Vienna')).json<{ path: string }>();
    const { path: fresh } = (await newFeed('Europe/Vienna')).json<{ path: string }>();
    expect(fresh).not.toBe(old);
    expect(old.length).toBeGreaterThan(32 + '/api/calendar//sessions.ics'.length - 1);
    expect((await get(old, outside)).statusCode).toBe(404);
    expect((await get(fresh, outside)).statusCode).toBe(200);
    expect((await get(`${COURSE}/calendar`)).json()).toEqual({ path: fresh, time_zone: 'Europe/Vienna' });
    await server.app.inject({ method: 'DELETE', url: `${COURSE}/calendar`, headers: teacher });
    expect((await get(fresh, outside)).json().message).toMatch(/no calendar under this address any more/);
    expect((await get(`${COURSE}/calendar`)).json()).toEqual({ path: null });
  });

  it('marks a session that falls out and numbers the others without it', async () => {
    await server.app.inject({
      method: 'POST',
      url: '/api/events',
      headers: teacher,
      payload: {
        events: [
          testEvent({
            stream: `course:${DEMO_COURSE}`,
            kind: 'session-cancelled',
            by: 'teacher',
            body: { session: 'evening-20', reason: 'the hall is closed' },
          }),
        ],
      },
    });
    const events = readCalendar((await get(`${COURSE}/sessions.ics?time_zone=Europe/Vienna`)).body);
    const out = events.filter((e) => e.status === 'CANCELLED');
    expect(out.map((e) => [e.summary, e.description])).toEqual([
      ['Evening class (Demo): falls out', 'the hall is closed'],
    ]);
    expect(events.at(-1)?.summary).toBe('Evening class (Demo), session 29');
  });

  it('is refused in one sentence for a zone that is none', async () => {
    const answer = await newFeed('Europe/Nowhere');
    expect([answer.statusCode, answer.json().message]).toEqual([
      400,
      'The time zone "Europe/Nowhere" is not known; give a name such as Europe/Vienna.',
    ]);
    expect((await get(`${COURSE}/sessions.ics?time_zone=Moon/Base`)).statusCode).toBe(400);
  });
});
