import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { TEST_NOW_MS, type TestServer, testEvent, testServer } from '../../../test/support/server.ts';
import { DEMO_COURSE, seedDemo } from '../demo/demo.service.ts';
import { hashToken } from '../doors/caller.ts';
import { forgetHealthOfHandedOver } from './hand-over.ts';

const SECRET = 'only for the teacher';
const teacher = { host: 'localhost:4180' };

let server: TestServer;
beforeEach(async () => {
  server = await testServer();
  await seedDemo(server.context);
  for (const person of ['p3', 'p4']) await note(person, SECRET);
});
afterEach(() => server.close());

const note = (person: string, text: string) =>
  server.app.inject({
    method: 'PUT',
    url: `/api/people/${person}/health-note`,
    headers: teacher,
    payload: { text },
  });
const handOver = (build: string) =>
  testEvent({ stream: `build:${build}`, kind: 'build-handed-over', by: 'teacher', body: {} });
const notes = async () => [...(await server.context.people.healthNotes()).keys()];

describe('a health note', () => {
  it('goes when the instrument is handed over, and none is taken after that', async () => {
    const sent = await server.app.inject({
      method: 'POST',
      url: '/api/events',
      headers: teacher,
      payload: { events: [handOver('b3')] },
    });
    expect(sent.statusCode).toBe(200);
    expect(await notes()).toEqual(['p4']);
    const late = await note('p3', 'again');
    expect([late.statusCode, late.json().message]).toEqual([
      409,
      'The instrument of this person was handed over, so no health note is kept any more.',
    ]);
    expect((await note('p3', '')).statusCode).toBe(200);
    expect(await notes()).toEqual(['p4']);
  });

  it('goes at the next start when the hand-over came in by an import, and with its course', async () => {
    await server.context.events.append([handOver('b3') as never]);
    expect(await forgetHealthOfHandedOver(server.context)).toBe(1);
    expect(await notes()).toEqual(['p4']);
    const removed = testEvent({
      stream: `course:${DEMO_COURSE}`,
      kind: 'course-removed',
      by: 'teacher',
      body: {},
    });
    await server.app.inject({
      method: 'POST',
      url: '/api/events',
      headers: teacher,
      payload: { events: [removed] },
    });
    expect(await notes()).toEqual([]);
  });

  it('goes when the person is forgotten', async () => {
    await server.app.inject({ method: 'POST', url: '/api/people/p4/forget', headers: teacher, payload: {} });
    expect(await notes()).toEqual(['p3']);
    expect((await note('p4', 'again')).json().message).toMatch(/was forgotten/);
  });

  it('is in no answer to anybody but the teacher, in no paper and in no file of the build', async () => {
    const token = 'a-token';
    await server.context.sessions.admit(
      hashToken(token),
      { role: 'learner', person: 'p3', course: DEMO_COURSE, build: 'b3' },
      TEST_NOW_MS,
    );
    const learner = { host: 'elsewhere.example', cookie: `bracewright=${token}` };
    for (const url of ['/api/people', '/api/events?after=0', '/api/builds/b3/record.json', '/api/contacts'])
      expect((await server.app.inject({ url, headers: learner })).body, url).not.toContain(SECRET);
    for (const url of ['/api/people', '/api/events?after=0', '/api/builds/b3/record.json'])
      expect((await server.app.inject({ url, headers: teacher })).body, url).not.toContain(SECRET);
    expect((await server.app.inject({ url: '/api/contacts', headers: teacher })).body).toContain(SECRET);
  });
});
