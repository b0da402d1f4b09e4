import type { InjectOptions } from 'fastify';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { TEST_NOW_MS, type TestServer, testEvent, testServer } from '../../../test/support/server.ts';
import { routeTable } from '../route-table.ts';
import { isGuarded } from '../routes.ts';
import { hashToken } from './caller.ts';

const PASSPHRASE = 'a long enough phrase';
const DOORS = {
  'this machine': { isTls: false, host: 'localhost:4180', remoteAddress: '127.0.0.1' },
  'this machine over https': { isTls: true, host: 'localhost:4181', remoteAddress: '127.0.0.1' },
  http: { isTls: false, host: '192.168.7.20:4180', remoteAddress: '192.168.7.50' },
  https: { isTls: true, host: '192.168.7.20:4181', remoteAddress: '192.168.7.50' },
} as const;
type DoorName = keyof typeof DOORS;

let server: TestServer;
beforeEach(async () => {
  server = await testServer({ isSecure: true });
  server.secure?.opened.listensOn({ http: 4180, https: 4181 });
});
afterEach(() => server.close());

const through = (door: DoorName, options: InjectOptions, cookie = '') => {
  const { isTls, host, remoteAddress } = DOORS[door];
  const app = isTls ? server.secure?.app : server.app;
  if (!app) throw new Error('the server has no https door');
  return app.inject({
    remoteAddress,
    ...options,
    headers: { host, ...(cookie ? { cookie } : {}), ...options.headers },
  });
};
const cookieOf = (response: { headers: Record<string, unknown> }): string =>
  String(response.headers['set-cookie']).split(';')[0] as string;

const setPassphrase = () =>
  through('this machine', { method: 'POST', url: '/api/passphrase', payload: { passphrase: PASSPHRASE } });

/** A cookie for each role and kind of door, as a device of that role has it. */
async function cookies() {
  await setPassphrase();
  const admissions = {
    learner: { role: 'learner', person: 'ada', course: 'evening', build: 'b1' },
    helper: { role: 'helper', person: 'ruth', course: 'evening', build: '' },
    teacher: { role: 'teacher', person: 'teacher', course: '', build: '' },
  } as const;
  for (const isTls of [false, true])
    for (const [role, admission] of Object.entries(admissions))
      await server.context.sessions.admit(hashToken(`${role}-token`, isTls), admission, TEST_NOW_MS);
  return (role: 'nobody' | keyof typeof admissions, isTls: boolean): string =>
    role === 'nobody' ? '' : `${isTls ? '__Host-bracewright' : 'bracewright'}=${role}-token`;
}

describe('the two doors', () => {
  it('answer each role as the table of routes says, whatever door it comes through', async () => {
    const cookie = await cookies();
    for (const door of Object.keys(DOORS) as DoorName[])
      for (const route of routeTable) {
        if (route.url === '/api/live' || route.url === '/api/sign-out') continue;
        for (const role of ['nobody', 'learner', 'helper', 'teacher'] as const) {
          const response = await through(
            door,
            {
              method: route.method,
              url: route.url.replace(/:[a-z]+/, 'x'),
              ...(route.method === 'GET' ? {} : { payload: {} }),
            },
            cookie(role, DOORS[door].isTls),
          );
          const said = `${route.method} ${route.url} as ${role} through ${door}: ${response.statusCode}`;
          const code = /json/.test(String(response.headers['content-type']))
            ? (response.json<{ code?: string } | null>()?.code ?? '')
            : '';
          if (!route.roles.includes(role))
            expect(response.statusCode, said).toBe(role === 'nobody' ? 401 : 403);
          else if (door === 'http' && isGuarded(route))
            expect([response.statusCode, code], said).toEqual([403, 'other-door']);
          else {
            expect([401, 500], said).not.toContain(response.statusCode);
            expect(code, said).not.toBe('other-door');
          }
        }
      }
  });

  it('guard everything only the teacher may write, his passphrase, and what is personal', () => {
    const guarded = routeTable.filter(isGuarded).map((r) => `${r.method} ${r.url}`);
    for (const wanted of [
      'POST /api/sign-in',
      'POST /api/passphrase',
      'GET /api/contacts',
      'PUT /api/people/:id/health-note',
      'POST /api/people',
      'POST /api/patterns/:id/revisions',
      'POST /api/join-codes',
    ])
      expect(guarded).toContain(wanted);
    for (const open of ['POST /api/join', 'POST /api/events', 'GET /api/authority', 'POST /api/sign-out'])
      expect(guarded).not.toContain(open);
  });

  it('refuse signing, keys, limits and settings over plain http in one sentence that says where to go, and keep the rest', async () => {
    const cookie = await cookies();
    const bodies = [
      ['build:b1', 'hold-signed', { op: 'T4', sign: 'seen' }],
      ['shop:main', 'key-given', { person: 'ada', key: 'bandsaw' }],
      ['shop:main', 'key-taken', { person: 'ada', key: 'bandsaw' }],
      ['shop:main', 'age-rule-set', { station: 'bandsaw', band: 'adult', word: 'alone' }],
      ['shop:main', 'station-set', { station: 'bandsaw', value: 3, unit: 'mm' }],
      ['build:b1', 'step-done', { op: 'T1' }],
    ] as const;
    const send = async (door: DoorName, events: readonly unknown[]) =>
      (
        await through(
          door,
          { method: 'POST', url: '/api/events', payload: { events } },
          cookie('teacher', DOORS[door].isTls),
        )
      ).json<{ kept: string[]; refused: { id: string; code: string; message: string }[] }>();
    const make = () => bodies.map(([stream, kind, body]) => testEvent({ stream, kind, by: 'teacher', body }));
    const plain = make();
    const overHttp = await send('http', plain);
    expect(overHttp.kept).toEqual([plain[5]?.id]);
    expect(overHttp.refused.map((r) => r.id)).toEqual(plain.slice(0, 5).map((e) => e.id));
    for (const r of overHttp.refused) {
      expect(r.code).toBe('other-door');
      expect(r.message).toMatch(
        /^Signing, keys, limits and settings .*https:\/\/192\.168\.7\.20:4181\/ .*\.$/,
      );
    }
    for (const door of ['https', 'this machine', 'this machine over https'] as const) {
      const events = make();
      expect((await send(door, events)).kept, door).toEqual(events.map((e) => e.id));
    }
    // nor is a signature taken back there, not by a detour either
    const signed = testEvent({
      stream: 'build:b1',
      kind: 'hold-signed',
      by: 'teacher',
      body: { op: 'T5', sign: 'seen' },
    });
    const back = testEvent({
      stream: 'build:b1',
      kind: 'event-withdrawn',
      by: 'teacher',
      body: { event: signed.id },
    });
    await send('https', [signed, back]);
    const detour = [back.id, signed.id, 'never-heard-of'].map((event) =>
      testEvent({ stream: 'build:b1', kind: 'event-withdrawn', by: 'teacher', body: { event } }),
    );
    expect((await send('http', detour)).refused.map((r) => r.code)).toEqual(detour.map(() => 'other-door'));
    const own = testEvent({
      stream: 'build:b1',
      kind: 'event-withdrawn',
      by: 'teacher',
      body: { event: plain[5]?.id },
    });
    expect((await send('http', [own])).kept).toEqual([own.id]);
  });

  it('give tokens that hold at the door they were given at only', async () => {
    await setPassphrase();
    const signIn = (door: DoorName) =>
      through(door, { method: 'POST', url: '/api/sign-in', payload: { passphrase: PASSPHRASE } });
    const overHttps = await signIn('https');
    expect(String(overHttps.headers['set-cookie'])).toMatch(
      /^__Host-bracewright=[\w-]{43}; Path=\/; HttpOnly; SameSite=Strict; Max-Age=\d+; Secure$/,
    );
    const here = await signIn('this machine');
    expect(String(here.headers['set-cookie'])).toMatch(
      /^bracewright=[\w-]{43}; Path=\/; HttpOnly; SameSite=Strict; Max-Age=\d+$/,
    );
    expect((await signIn('http')).json()).toMatchObject({
      code: 'other-door',
      guarded_at: 'https://192.168.7.20:4181/',
    });
    const roleAt = async (door: DoorName, cookie: string) =>
      (await through(door, { url: '/api/me' }, cookie)).json<{ role: string }>().role;
    expect(await roleAt('https', cookieOf(overHttps))).toBe('teacher');
    expect(await roleAt('http', cookieOf(here))).toBe('teacher');
    // somebody who read a token of the plain door in the air gets nowhere with it at the other
    const read = cookieOf(here).split('=')[1];
    expect(await roleAt('https', `__Host-bracewright=${read}`)).toBe('nobody');
    expect(await roleAt('https', `bracewright=${read}`)).toBe('nobody');
    expect(await roleAt('http', `bracewright=${cookieOf(overHttps).split('=')[1]}`)).toBe('nobody');
    const out = await through(
      'https',
      { method: 'POST', url: '/api/sign-out', payload: {} },
      cookieOf(overHttps),
    );
    expect(String(out.headers['set-cookie'])).toMatch(/^__Host-bracewright=;.*Max-Age=0; Secure$/);
    expect(await roleAt('https', cookieOf(overHttps))).toBe('nobody');
  });

  it('say at /api/me where guarded things are taken, under the name one came by', async () => {
    const at = async (door: DoorName, host?: string) =>
      (await through(door, { url: '/api/me', ...(host ? { headers: { host } } : {}) })).json<{
        guarded_at: string | null;
      }>().guarded_at;
    expect(await at('http')).toBe('https://192.168.7.20:4181/');
    expect(await at('http', 'bench.local:4180')).toBe('https://bench.local:4181/');
    expect(await at('http', 'evil.example')).toBe('https://192.168.7.20:4181/');
    expect(await at('https')).toBeNull();
    expect(await at('this machine')).toBeNull();
  });

  it('refuse a request that a page of the plain door made the browser send to the other', async () => {
    const from = (origin: string) =>
      through('https', { method: 'POST', url: '/api/join', payload: { code: 'x' }, headers: { origin } });
    expect((await from('http://192.168.7.20:4181')).json()).toMatchObject({ code: 'foreign-page' });
    expect((await from('http://192.168.7.20:4180')).json()).toMatchObject({ code: 'foreign-page' });
    expect((await from('https://192.168.7.20:4181')).json()).toMatchObject({ code: 'wrong-code' });
  });

  it('send the same policy, and none that would shut the plain door', async () => {
    for (const door of Object.keys(DOORS) as DoorName[]) {
      const { headers } = await through(door, { url: '/api/me' });
      expect(String(headers['content-security-policy']), door).toContain("script-src 'self'");
      expect(String(headers['content-security-policy']), door).not.toMatch(/unsafe|upgrade-insecure/);
      expect(headers['permissions-policy'], door).toContain('camera=(self)');
      expect(headers['cross-origin-opener-policy'], door).toBe(door === 'http' ? undefined : 'same-origin');
      // it would hold for every port of this name, the phones' too
      expect(headers['strict-transport-security'], door).toBeUndefined();
    }
  });

  it('hand out the authority’s certificate in both forms, and never its key', async () => {
    const { opened } = server.secure ?? {};
    for (const door of ['http', 'https'] as const) {
      const der = await through(door, { url: '/api/authority/bracewright-workshop.crt' });
      expect(der.headers['content-type']).toBe('application/x-x509-ca-cert');
      expect(Buffer.from(opened?.door.authority.der ?? []).equals(der.rawPayload)).toBe(true);
      const pem = await through(door, { url: '/api/authority/bracewright-workshop.pem' });
      expect(pem.headers['content-type']).toBe('application/x-x509-ca-cert');
      expect(pem.body).toMatch(/^-----BEGIN CERTIFICATE-----[\s\S]+-----END CERTIFICATE-----\n$/);
      expect((await through(door, { url: '/api/authority' })).json()).toMatchObject({
        fingerprint_sha256: expect.stringMatching(/^([0-9A-F]{2}:){31}[0-9A-F]{2}$/),
        secure_address: 'https://192.168.7.20:4181/',
        http_addresses: ['http://192.168.7.20:4180/', 'http://bench.local:4180/'],
      });
    }
  });
});

describe('a server with one door', () => {
  it('refuses nobody for the door, and says that there is no certificate', async () => {
    const plain = await testServer();
    const headers = { host: '192.168.7.20:4180' };
    const ask = (options: InjectOptions) =>
      plain.app.inject({ headers, remoteAddress: '192.168.7.50', ...options });
    expect((await ask({ url: '/api/me' })).json()).toMatchObject({ guarded_at: null });
    expect((await ask({ url: '/api/authority' })).json()).toMatchObject({ code: 'no-https' });
    expect(
      (await ask({ method: 'POST', url: '/api/sign-in', payload: { passphrase: 'x' } })).json(),
    ).toMatchObject({ code: 'no-passphrase' });
    await plain.close();
  });
});
