import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type TestServer, testServer } from '../../../test/support/server.ts';
import { seedDemo } from '../demo/demo.service.ts';

let server: TestServer;
beforeAll(async () => {
  server = await testServer();
});
afterAll(() => server.close());

const local = { host: 'localhost:4180' };
const wordsOf = (pdf: Buffer): string => {
  const read = spawnSync('pdftotext', ['-layout', '-', '-'], { input: pdf });
  if (read.error) throw new Error('pdftotext is needed: apt-get install poppler-utils');
  return read.stdout.toString();
};
const patternCards = async (): Promise<string> => {
  const text = fs.readFileSync('data/patterns/small-steel-string.yaml', 'utf8');
  const { rawPayload } = await server.app.inject({
    method: 'POST',
    url: '/api/prints',
    headers: local,
    payload: { text, what: 'cards', paper: 'a4', revision: '1' },
  });
  return wordsOf(rawPayload);
};

describe('setting cards', () => {
  it('take no shop for granted while the record has none, and the shop of the record as soon as it has', async () => {
    expect(await patternCards()).toContain('no shop: true displays');
    await seedDemo(server.context);
    const words = await patternCards();
    expect(words).toContain('DEMO: Evening');
    // the crank of the shop's own ring router: whole sixteenths of a turn
    expect(words).toMatch(/\d+\/16\s+turns?|\d+\s+turns?/);
    expect(words).not.toContain('no shop:');
  });

  it('of a course come one by one or all, for its own shop', async () => {
    const one = await server.app.inject({
      url: '/api/courses/demo/cards.pdf?card=ring-channel',
      headers: local,
    });
    expect([one.statusCode, one.headers['content-type']]).toEqual([200, 'application/pdf']);
    expect(wordsOf(one.rawPayload)).toContain('DEMO: Evening');
    const none = await server.app.inject({ url: '/api/courses/demo/cards.pdf?card=dragon', headers: local });
    expect([none.statusCode, none.json<{ message: string }>().message]).toEqual([
      400,
      expect.stringContaining('There is no setting card "dragon"'),
    ]);
    const nowhere = await server.app.inject({ url: '/api/courses/nobody/cards.pdf', headers: local });
    expect(nowhere.statusCode).toBe(404);
  });
});
