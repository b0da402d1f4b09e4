import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type TestServer, testServer } from '../../test/support/server.ts';

const script = 'export const figures = 1;';
const webFolder = fs.mkdtempSync(path.join(os.tmpdir(), 'bracewright-page-'));
let server: TestServer;

beforeAll(async () => {
  fs.mkdirSync(path.join(webFolder, 'assets'));
  fs.writeFileSync(path.join(webFolder, 'index.html'), '<title>Page</title>');
  fs.writeFileSync(path.join(webFolder, 'assets/page-1a2b.js'), script);
  server = await testServer({ webFolder });
});
afterAll(async () => {
  await server.close();
  fs.rmSync(webFolder, { recursive: true, force: true });
});

const get = (url: string) => server.app.inject({ url, headers: { host: 'localhost' } });

it('lets a browser keep the files named by their content for good, and ask for the page itself each time', async () => {
  const file = await get('/assets/page-1a2b.js');
  expect(file.headers['cache-control']).toBe('public, max-age=31536000, immutable');
  expect(file.body).toBe(script);
  for (const address of ['/', '/session'])
    expect((await get(address)).headers['cache-control']).toBe('no-cache');
});
