import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { routeTable } from '../../src/server/route-table.ts';
import { type TestServer, testServer } from '../support/server.ts';

let server: TestServer;
beforeAll(async () => {
  server = await testServer();
});
afterAll(() => server.close());

/** Chance with a seed. */
function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

const NASTY = [
  '',
  'null',
  '[]',
  '{}',
  '{"events":[null]}',
  '{"events":{"a":1}}',
  '{"text":1}',
  '"x"',
  '{',
  '\u0000',
  '{"events":[{"id":"a","stream":"build:../../etc","kind":"x"}]}',
  '{"__proto__":{"a":1}}',
  `{"text":"${'a'.repeat(5000)}"}`,
  '{"passphrase":[]}',
  '{"code":{"$gt":""}}',
  '{"people":[{"id":"../x"}]}',
  '[[[[[[[[[[]]]]]]]]]]',
  '1e999',
  '{"events":[{"id":"a","stream":"build:b","kind":"step-done","device":"d","counter":-1,"time":1e300,"by":"x","body":{}}]}',
];
const PATHS = [
  'x',
  '..',
  '%2e%2e%2f',
  'a'.repeat(300),
  '%00',
  "'; DROP TABLE event; --",
  '💥',
  '%',
  'build:b1',
  '-1',
  'NaN',
];

describe('ten thousand random and hostile requests', () => {
  it('get no 500, no stack trace, and leave the store whole', async () => {
    const chance = seeded(5);
    const pick = <T>(list: readonly T[]): T => list[Math.floor(chance() * list.length)] as T;
    const bad: string[] = [];
    for (let i = 0; i < 10_000; i++) {
      const route = pick(routeTable);
      if (route.url === '/api/live') continue;
      const url = `${route.url.replace(/:[a-z]+/, () => encodeURIComponent(pick(PATHS)).replaceAll('%25', '%'))}${chance() < 0.3 ? `?after=${encodeURIComponent(pick(PATHS))}` : ''}`;
      const method = chance() < 0.8 ? route.method : pick(['GET', 'POST', 'PUT', 'DELETE'] as const);
      const headers: Record<string, string> = {
        host: pick(['localhost', 'localhost:1', 'evil.example', '']),
      };
      if (chance() < 0.8)
        headers['content-type'] = pick([
          'application/json',
          'text/plain',
          'image/png',
          'application/octet-stream',
          'multipart/form-data',
        ]);
      if (chance() < 0.2)
        headers['cookie'] = pick(['bracewright=', 'bracewright=x', 'a=b; bracewright=%00', ';;;']);
      const response = await server.app.inject({
        method,
        url,
        headers,
        ...(method === 'GET' ? {} : { payload: pick(NASTY) }),
      });
      if (response.statusCode >= 500 || /node_modules|\bat \S+ \(|SQLITE|\/src\//.test(response.body))
        bad.push(`${method} ${url}: ${response.statusCode} ${response.body.slice(0, 200)}`);
    }
    expect(bad.slice(0, 5)).toEqual([]);
    const { checkStore } = await import('../../src/store/upkeep/upkeep.service.ts');
    expect((await checkStore(server.context.store)).faults).toEqual([]);
  }, 300_000);
});
