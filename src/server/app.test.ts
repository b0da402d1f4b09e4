import fs from 'node:fs';
import zlib from 'node:zlib';
import type { InjectOptions } from 'fastify';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { TEST_NOW_MS, type TestServer, testEvent, testServer } from '../../test/support/server.ts';
import { foldBuild } from '../course/build-facts.ts';
import { closingList } from '../course/closing-list.ts';
import { ownRoute } from '../route/route.ts';
import { routeTable } from './route-table.ts';

const steel = fs.readFileSync('data/patterns/small-steel-string.yaml', 'utf8');
const PASSPHRASE = 'a long enough phrase';

let server: TestServer;
beforeEach(async () => {
  server = await testServer();
});
afterEach(() => server.close());

const local = { host: 'localhost:4180' };
const ask = (options: InjectOptions) => server.app.inject({ headers: local, ...options });
const cookieOf = (response: { headers: Record<string, unknown> }): string =>
  String(response.headers['set-cookie']).split(';')[0] as string;

const someone = (id: string, role: 'learner' | 'helper', course: string, build: string) => ({
  id,
  name: id,
  role,
  course,
  build,
  ageBand: 'adult',
  machines: { answer: 'yes', on: '2026-09-01' },
  photos: { answer: 'not asked' },
});

/** A class of two courses with a signed-in teacher, two learners and a helper. */
async function classOfTwo() {
  const teacher = cookieOf(
    await ask({ method: 'POST', url: '/api/passphrase', payload: { passphrase: PASSPHRASE } }),
  );
  const people = [
    someone('ada', 'learner', 'evening', 'b1'),
    someone('bo', 'learner', 'evening', 'b2'),
    someone('ruth', 'helper', 'evening', ''),
    someone('cy', 'learner', 'morning', 'b9'),
  ];
  await ask({
    method: 'POST',
    url: '/api/people',
    payload: { people },
    headers: { ...local, cookie: teacher },
  });
  const { code } = (
    await ask({
      method: 'POST',
      url: '/api/join-codes',
      payload: { course: 'evening' },
      headers: { ...local, cookie: teacher },
    })
  ).json<{ code: string }>();
  const learner = cookieOf(await ask({ method: 'POST', url: '/api/join', payload: { code, person: 'ada' } }));
  const { hashToken } = await import('./doors/caller.ts');
  await server.context.sessions.admit(
    hashToken('helper-token'),
    { role: 'helper', person: 'ruth', course: 'evening', build: '' },
    TEST_NOW_MS,
  );
  return { teacher, learner, helper: 'bracewright=helper-token', code };
}

const send = (cookie: string, ...events: unknown[]) =>
  ask({ method: 'POST', url: '/api/events', payload: { events }, headers: { ...local, cookie } }).then((r) =>
    r.json<{ kept: string[]; refused: { id: string; code: string; message: string }[] }>(),
  );

describe('the table of routes', () => {
  it('answers each role as the table says, and nobody with 401', async () => {
    const { teacher, learner, helper } = await classOfTwo();
    const cookies = { nobody: '', learner, helper, teacher } as const;
    for (const route of routeTable) {
      if (route.url === '/api/live' || route.url === '/api/sign-out') continue;
      for (const role of ['nobody', 'learner', 'helper', 'teacher'] as const) {
        const response = await ask({
          method: route.method,
          url: route.url.replace(/:[a-z]+/, 'x'),
          headers: { ...local, ...(cookies[role] ? { cookie: cookies[role] } : {}) },
          ...(route.method === 'GET' ? {} : { payload: {} }),
        });
        const isAllowed = route.roles.includes(role);
        const said = `${route.method} ${route.url} as ${role}: ${response.statusCode}`;
        if (isAllowed) expect([401, 500], said).not.toContain(response.statusCode);
        else expect(response.statusCode, said).toBe(role === 'nobody' ? 401 : 403);
        expect(response.body, said).not.toMatch(/node_modules|at \S+ \(/);
      }
    }
  });

  it('gives the machine it runs on to the teacher only until a passphrase is set, and never to another name', async () => {
    expect((await ask({ url: '/api/me' })).json()).toMatchObject({
      role: 'teacher',
      passphrase_is_set: false,
    });
    expect((await ask({ url: '/api/me', headers: { host: 'elsewhere.example' } })).json()).toMatchObject({
      role: 'nobody',
    });
    expect((await ask({ url: '/api/me', remoteAddress: '192.168.1.20' })).json()).toMatchObject({
      role: 'nobody',
    });
    await classOfTwo();
    expect((await ask({ url: '/api/me' })).json()).toMatchObject({ role: 'nobody', passphrase_is_set: true });
  });

  it('slows down guessing of the passphrase', async () => {
    await classOfTwo();
    const tries = [];
    for (let i = 0; i < 7; i++)
      tries.push(
        (await ask({ method: 'POST', url: '/api/sign-in', payload: { passphrase: 'wrong' } })).statusCode,
      );
    expect(tries.slice(0, 5)).toEqual([403, 403, 403, 403, 403]);
    expect(tries.slice(5)).toEqual([429, 429]);
    server.setNow(TEST_NOW_MS + 120_000);
    expect(
      (await ask({ method: 'POST', url: '/api/sign-in', payload: { passphrase: PASSPHRASE } })).statusCode,
    ).toBe(200);
  });

  it('refuses a request that another site made the browser send', async () => {
    const response = await ask({
      method: 'POST',
      url: '/api/patterns',
      payload: { text: steel },
      headers: { ...local, origin: 'http://elsewhere.example' },
    });
    expect(response.statusCode).toBe(403);
  });

  it('sends a policy that allows no inline script', async () => {
    const policy = String((await ask({ url: '/api/me' })).headers['content-security-policy']);
    expect(policy).toContain("script-src 'self'");
    expect(policy).not.toContain('unsafe');
  });
});

describe('patterns', () => {
  it('gives the three starting patterns and keeps revisions letter for letter', async () => {
    const list = (await ask({ url: '/api/patterns' })).json<{ id: string; hash: string; text: string }[]>();
    expect(list.map((p) => p.id)).toEqual(['small-steel-string', 'nylon-string', 'tenor-ukulele']);
    const text = `${steel}# a comment of mine\n`;
    const saved = await ask({
      method: 'POST',
      url: '/api/patterns/small-steel-string/revisions',
      payload: { text, parent: list[0]?.hash, note: 'wider' },
    });
    expect(saved.statusCode).toBe(201);
    const revisions = (await ask({ url: '/api/patterns/small-steel-string/revisions' })).json<
      { hash: string; text: string; parent: string | null }[]
    >();
    expect(revisions.map((r) => r.text)).toEqual([steel, text]);
    expect(revisions[1]?.parent).toBe(list[0]?.hash);
  });

  it('keeps both of two revisions made from one parent and says so to the second', async () => {
    const [first] = (await ask({ url: '/api/patterns' })).json<{ hash: string }[]>();
    const make = (note: string) =>
      ask({
        method: 'POST',
        url: '/api/patterns/small-steel-string/revisions',
        payload: { text: `${steel}# ${note}\n`, parent: first?.hash, note },
      });
    expect((await make('one')).statusCode).toBe(201);
    const second = await make('two');
    expect(second.statusCode).toBe(409);
    expect(second.json()).toMatchObject({ code: 'two-revisions' });
    expect((await ask({ url: '/api/patterns/small-steel-string/revisions' })).json()).toHaveLength(3);
  });

  it('refuses a text that is no pattern in one sentence and keeps nothing', async () => {
    const response = await ask({
      method: 'POST',
      url: '/api/patterns/small-steel-string/revisions',
      payload: { text: steel.replace('480 mm', '48 mm'), parent: null, note: '' },
    });
    expect(response.statusCode).toBe(400);
    expect(response.json<{ message: string }>().message).toMatch(/Body length.*48 mm.*480 mm/);
    expect(await server.context.events.lastArrival()).toBe(0);
  });
});

describe('the record', () => {
  it('keeps an event once however often it is sent, and gives it to who catches up', async () => {
    const { learner, teacher } = await classOfTwo();
    const event = testEvent({ stream: 'build:b1', kind: 'step-done', by: 'ada', body: { op: 'T1' } });
    const first = await send(learner, event, event);
    await send(learner, event);
    expect(first.kept).toContain(event.id);
    const caught = (await ask({ url: '/api/events?after=0', headers: { ...local, cookie: teacher } })).json<{
      events: { id: string }[];
      last: number;
    }>();
    expect(caught.events.map((e) => e.id)).toEqual([event.id]);
    expect(caught.last).toBe(1);
  });

  it('sends the record packed to a device that can unpack it', async () => {
    const { learner, teacher } = await classOfTwo();
    const notes = Array.from({ length: 40 }, (_, i) =>
      testEvent({ stream: 'build:b1', kind: 'note', by: 'ada', body: { text: `note ${i}` } }),
    );
    await send(learner, ...notes);
    const headers = { ...local, cookie: teacher };
    const plain = await ask({ url: '/api/events?after=0', headers });
    const packed = await ask({
      url: '/api/events?after=0',
      headers: { ...headers, 'accept-encoding': 'br' },
    });
    expect(packed.headers['content-encoding']).toBe('br');
    expect(packed.rawPayload.length).toBeLessThan(plain.rawPayload.length / 4);
    expect(zlib.brotliDecompressSync(packed.rawPayload).equals(plain.rawPayload)).toBe(true);
  });

  it('lets a learner write only his own build, in his own name, and only what is his', async () => {
    const { learner } = await classOfTwo();
    const own = testEvent({
      stream: 'build:b1',
      kind: 'reading',
      by: 'ada',
      body: { op: 'T4', reading: 'T4.1', value: 3.2, unit: 'mm' },
    });
    const others = testEvent({ stream: 'build:b2', kind: 'step-done', by: 'ada', body: { op: 'T1' } });
    const inBosName = testEvent({ stream: 'build:b1', kind: 'step-done', by: 'bo', body: { op: 'T1' } });
    const signed = testEvent({
      stream: 'build:b1',
      kind: 'hold-signed',
      by: 'ada',
      body: { op: 'T4', sign: 'seen' },
    });
    const key = testEvent({
      stream: 'shop:main',
      kind: 'key-given',
      by: 'ada',
      body: { person: 'ada', key: 'bandsaw' },
    });
    const { kept, refused } = await send(learner, own, others, inBosName, signed, key);
    expect(kept).toEqual([own.id]);
    expect(refused.map((r) => r.id)).toEqual([others.id, inBosName.id, signed.id, key.id]);
  });

  it('takes back only one’s own entries', async () => {
    const { learner, teacher } = await classOfTwo();
    const signed = testEvent({
      stream: 'build:b1',
      kind: 'hold-signed',
      by: 'teacher',
      body: { op: 'T4', sign: 'seen' },
    });
    await send(teacher, signed);
    const { refused } = await send(
      learner,
      testEvent({ stream: 'build:b1', kind: 'event-withdrawn', by: 'ada', body: { event: signed.id } }),
    );
    expect(refused).toHaveLength(1);
  });

  it('does not hold back good events for a bad one, keeps unknown kinds, and refuses nonsense in one sentence', async () => {
    const { teacher } = await classOfTwo();
    const good = testEvent({ stream: 'build:b1', kind: 'step-done', by: 'teacher', body: { op: 'T1' } });
    const unknown = testEvent({
      stream: 'build:b1',
      kind: 'invented-later',
      by: 'teacher',
      body: { what: 1 },
    });
    const bad = testEvent({ stream: 'build:b1', kind: 'step-done', by: 'teacher', body: {} });
    const { kept, refused } = await send(teacher, good, bad, unknown, null, 'x', { id: 5 });
    expect(kept).toEqual([good.id, unknown.id]);
    expect(refused).toHaveLength(4);
    for (const r of refused) expect(r.message).toMatch(/^[A-Z].*\.$/);
  });

  it('keeps no glued box with an open closing list, whoever says so, and takes list and glue in one batch', async () => {
    const { learner, teacher } = await classOfTwo();
    const say = (kind: string, by: string, body: object) => testEvent({ stream: 'build:b1', kind, by, body });
    const glue = say('step-done', 'ada', { op: 'X5', part: '1' });
    const first = await send(learner, glue);
    expect(first.kept).toEqual([]);
    expect(first.refused[0]?.message).toMatch(/^This cannot be kept: the box cannot be glued yet.*\.$/);
    const coarse = say('coarse-step-done', 'teacher', { step: 'closed', ops: ['X4', 'X5', 'X6'] });
    expect((await send(teacher, coarse)).refused).toHaveLength(1);
    const items = closingList(ownRoute(), foldBuild([])).map((i) => i.item);
    const sign = say('hold-signed', 'teacher', { op: 'X4', sign: 'closing list', checked: items });
    expect((await send(teacher, glue, sign)).kept).toEqual([glue.id, sign.id]);
    const other = testEvent({
      stream: 'build:b2',
      kind: 'done-before-record',
      by: 'teacher',
      body: { step: 'closed', ops: ['X4', 'X5', 'X6'] },
    });
    expect((await send(teacher, other)).kept).toEqual([other.id]);
  });

  it('hides other courses and incidents from a learner', async () => {
    const { teacher, learner } = await classOfTwo();
    await send(
      teacher,
      testEvent({ stream: 'build:b9', kind: 'step-done', by: 'teacher', body: { op: 'T1' } }),
      testEvent({ stream: 'build:b2', kind: 'step-done', by: 'teacher', body: { op: 'T1' } }),
      testEvent({
        stream: 'shop:main',
        kind: 'incident',
        by: 'teacher',
        body: { severity: 'near miss', text: 'slipped' },
      }),
    );
    const seen = (await ask({ url: '/api/events?after=0', headers: { ...local, cookie: learner } })).json<{
      events: { stream: string }[];
    }>();
    expect(seen.events.map((e) => e.stream)).toEqual(['build:b2']);
  });

  it('stands after closing and opening the store', async () => {
    const { teacher } = await classOfTwo();
    const event = testEvent({ stream: 'build:b1', kind: 'step-done', by: 'teacher', body: { op: 'T1' } });
    await send(teacher, event);
    await server.app.close();
    await server.context.store.close();
    const again = await testServer({ folder: server.folder });
    expect((await again.context.events.all()).map((e) => e.id)).toEqual([event.id]);
    await again.close();
    server = await testServer();
  });
});

describe('people', () => {
  it('forgets a person: name, consent, contact, devices go, the record stays', async () => {
    const { teacher, learner } = await classOfTwo();
    const asTeacher = { headers: { ...local, cookie: teacher } };
    await ask({
      method: 'PUT',
      url: '/api/people/ada/contact',
      payload: { text: 'sister, 555' },
      ...asTeacher,
    });
    await send(learner, testEvent({ stream: 'build:b1', kind: 'step-done', by: 'ada', body: { op: 'T1' } }));
    expect(
      (await ask({ method: 'POST', url: '/api/people/ada/forget', payload: {}, ...asTeacher })).statusCode,
    ).toBe(200);
    const people = (await ask({ url: '/api/people', ...asTeacher })).json<
      { id: string; name: string; isForgotten: boolean; machines: unknown }[]
    >();
    expect(people.find((p) => p.id === 'ada')).toMatchObject({
      name: '',
      isForgotten: true,
      machines: { answer: 'not asked' },
    });
    expect((await ask({ url: '/api/contacts', ...asTeacher })).json()).toMatchObject({ contacts: {} });
    expect((await ask({ url: '/api/me', headers: { ...local, cookie: learner } })).json()).toMatchObject({
      role: 'nobody',
    });
    const kinds = (await server.context.events.all()).map((e) => e.kind);
    expect(kinds).toEqual(['step-done', 'person-anonymised']);
  });

  it('takes the words of a forgotten person out of the record', async () => {
    const { teacher, learner } = await classOfTwo();
    await send(
      learner,
      testEvent({ stream: 'build:b1', kind: 'note', by: 'ada', body: { text: 'my knee hurts' } }),
    );
    await ask({
      method: 'POST',
      url: '/api/people/ada/forget',
      payload: {},
      headers: { ...local, cookie: teacher },
    });
    expect(JSON.stringify(await server.context.events.all())).not.toContain('knee');
  });

  it('shows a learner no age and no consent of others', async () => {
    const { learner } = await classOfTwo();
    const people = (await ask({ url: '/api/people', headers: { ...local, cookie: learner } })).json<
      Record<string, unknown>[]
    >();
    expect(people.map((p) => p['id'])).toEqual(['ada', 'bo', 'ruth']);
    expect(Object.keys(people[1] ?? {})).not.toContain('ageBand');
  });
});

describe('photos', () => {
  const png = Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    Buffer.alloc(40),
  ]);
  const post = (cookie: string, stream: string, bytes: Buffer, type = 'image/png') =>
    ask({
      method: 'POST',
      url: `/api/files/${stream}`,
      payload: bytes,
      headers: { ...local, cookie, 'content-type': type },
    });

  it('keeps a picture of one’s own build by what it is, and shows it to who may see it', async () => {
    const { teacher, learner } = await classOfTwo();
    const kept = await post(learner, 'build:b1', png, 'application/octet-stream');
    expect(kept.statusCode).toBe(200);
    const { hash, type } = kept.json<{ hash: string; type: string }>();
    expect(type).toBe('image/png');
    const seen = await ask({ url: `/api/files/${hash}`, headers: { ...local, cookie: teacher } });
    expect(seen.headers['content-type']).toBe('image/png');
    expect(seen.rawPayload.equals(png)).toBe(true);
  });

  it('shows the whole class what the teacher shows at a step, and the photo of a build to nobody else', async () => {
    const { teacher, learner } = await classOfTwo();
    const hashOf = (r: Awaited<ReturnType<typeof post>>) => r.json<{ hash: string }>().hash;
    const shown = hashOf(await post(teacher, 'shop:main', png));
    const other = hashOf(await post(teacher, 'build:b2', Buffer.concat([png, Buffer.from('b2')])));
    const seenBy = async (cookie: string, hash: string) =>
      (await ask({ url: `/api/files/${hash}`, headers: { ...local, cookie } })).statusCode;
    expect(await seenBy(learner, shown)).toBe(200);
    expect(await seenBy(learner, other)).toBe(404);
  });

  it('refuses a page that says it is a picture, another build, and what is too large', async () => {
    const { learner } = await classOfTwo();
    expect(
      (await post(learner, 'build:b1', Buffer.from('<html><script>alert(1)</script></html>'))).statusCode,
    ).toBe(415);
    expect((await post(learner, 'build:b2', png)).statusCode).toBe(403);
    expect((await post(learner, 'build:b1', Buffer.alloc(13 * 1024 * 1024, 1))).statusCode).toBe(413);
  });
});
