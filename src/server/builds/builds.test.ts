import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { TEST_NOW_MS, type TestServer, testServer } from '../../../test/support/server.ts';
import { DEMO_COURSE, seedDemo } from '../demo/demo.service.ts';
import { hashToken } from '../doors/caller.ts';

let server: TestServer;
beforeAll(async () => {
  server = await testServer();
  await seedDemo(server.context);
});
afterAll(() => server.close());

const teacher = { host: 'localhost:4180' };
const get = (url: string, headers: Record<string, string> = teacher) => server.app.inject({ url, headers });

/** Headers of somebody who was let in with a token. */
async function admitted(role: 'learner' | 'helper', person: string, build: string) {
  const token = `token-of-${person}`;
  await server.context.sessions.admit(
    hashToken(token),
    { role, person, course: DEMO_COURSE, build },
    TEST_NOW_MS,
  );
  return { host: 'elsewhere.example', cookie: `bracewright=${token}` };
}
const pageCount = (pdf: Buffer): number => pdf.toString('latin1').match(/\/Type \/Page\b(?!s)/g)?.length ?? 0;

describe('papers of a build', () => {
  it('are a passport and a certificate for the teacher and for its own learner, for nobody else', async () => {
    const url = '/api/builds/b3/passport.pdf';
    const own = await admitted('learner', 'p3', 'b3');
    const other = await admitted('learner', 'p4', 'b4');
    const helper = await admitted('helper', 'helper', '');
    for (const headers of [teacher, own]) {
      const answer = await get(url, headers);
      expect(answer.statusCode).toBe(200);
      expect(answer.headers['content-type']).toContain('application/pdf');
      expect(pageCount(answer.rawPayload)).toBe(2);
    }
    for (const headers of [other, helper]) {
      expect((await get(url, headers)).statusCode).toBe(404);
      expect((await get('/api/builds/b3/record.json', headers)).statusCode).toBe(404);
    }
    expect((await get(url, { host: 'elsewhere.example' })).statusCode).toBe(401);
  });
  it('are refused in one sentence for a build or a paper that is not there', async () => {
    expect((await get('/api/builds/nowhere/passport.pdf')).statusCode).toBe(404);
    expect((await get('/api/builds/..%2Fb3/record.json')).statusCode).toBe(404);
    const paper = await get('/api/builds/b3/passport.pdf?paper=vellum');
    expect(paper.statusCode).toBe(400);
    expect(paper.json().message).toContain('vellum');
  });
});

describe('the full file of a build', () => {
  it('holds the readings and names nobody', async () => {
    const names = (await server.context.people.all()).map((p) => p.name);
    const answer = await get('/api/builds/b3/record.json');
    const file = answer.json<{
      as_built: Record<string, { value: number; unit: string; instead_by?: string }>;
      thickness_of_top: { spot: string; thickness_mm: number; verdict: string }[];
      events: { kind: string }[];
      passport: { heading: string; lines: string[] }[];
    }>();
    expect(file.events.filter((e) => e.kind === 'reading').length).toBeGreaterThan(10);
    expect(file.events.some((e) => ['note', 'photo', 'incident'].includes(e.kind))).toBe(false);
    expect(answer.body).not.toMatch(/"(by|person|device)":/);
    for (const name of names) expect(answer.body, name).not.toMatch(new RegExp(`\\b${name}\\b`));
    expect(file.passport.map((p) => p.heading)).toEqual([
      'As built',
      'Wood',
      'Moisture at each gluing',
      'Braces, mm',
      'Set-up',
      'Strings',
      'Repairs',
      'Finish',
      'Care',
      'Who to ask',
    ]);
    expect(file.thickness_of_top).toHaveLength(3);
    expect(file.as_built['top.thickness.final']?.value).toBe(
      Math.min(
        ...file.thickness_of_top.filter((t) => t.spot.startsWith('bridge')).map((t) => t.thickness_mm),
      ),
    );
    expect(file.as_built['top.thickness.final']?.instead_by).toContain('measured');
    expect(file.as_built['scale.length']).toMatchObject({ value: 628, unit: 'mm' });
    expect(file.passport.find((p) => p.heading === 'As built')?.lines.join()).toContain('read or chosen');
  });
});
