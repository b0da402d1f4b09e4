import fs from 'node:fs';
import { createServer, type Server } from 'node:http';
import https from 'node:https';
import type { AddressInfo } from 'node:net';
import os from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { InputError } from '../quantity/input-error.ts';
import { type RunningServer, type StartOptions, startServer } from './main.ts';

let folder: string;
let closers: (() => Promise<void>)[];
beforeEach(() => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'bracewright-start-'));
  closers = [];
});
afterEach(async () => {
  for (const close of closers) await close();
  fs.rmSync(folder, { recursive: true, force: true });
});

const start = async (options: Partial<StartOptions>): Promise<RunningServer> => {
  const server = await startServer({
    data: path.join(folder, 'data'),
    port: 0,
    lan: true,
    https: true,
    newAuthority: false,
    root: path.resolve('.'),
    demo: false,
    ...options,
  });
  closers.push(() => server.close());
  return server;
};

/** A port that somebody else has. */
async function takenPort(): Promise<number> {
  const other: Server = createServer();
  await new Promise<void>((ready) => {
    other.listen(0, '0.0.0.0', ready);
  });
  closers.push(() => new Promise((done) => other.close(() => done())));
  return (other.address() as AddressInfo).port;
}

const refused = async (options: Partial<StartOptions>): Promise<string> => {
  const error = await start(options).then(
    () => undefined,
    (e: unknown) => e,
  );
  expect(error).toBeInstanceOf(InputError);
  return (error as Error).message;
};

describe('starting the server', () => {
  it('opens a plain and a safe door with --lan, the safe one under the workshop’s own authority', async () => {
    const server = await start({});
    const port = new URL(server.secure?.addresses[0] ?? 'x:').port;
    const ca = fs.readFileSync(path.join(folder, 'data/authority/authority.pem'));
    const role = await new Promise<string>((resolve, reject) => {
      https
        .get(`https://localhost:${port}/api/me`, { ca }, (response) => {
          response.on('data', (chunk) => resolve(JSON.parse(String(chunk)).role));
        })
        .on('error', reject);
    });
    expect(role).toBe('teacher');
    expect((await fetch(`${server.addresses[0]}api/authority`)).status).toBe(200);
    await server.close();
    await expect(fetch(`${server.addresses[0]}api/me`)).rejects.toThrow();
  });

  it('makes no authority without --lan or with --no-https', async () => {
    for (const options of [{ lan: false }, { https: false }]) {
      const server = await start(options);
      expect(server.secure).toBeUndefined();
      expect((await fetch(`${server.addresses[0]}api/authority`)).status).toBe(404);
      expect(fs.existsSync(path.join(folder, 'data/authority'))).toBe(false);
      await server.close();
    }
  });

  it('gives one sentence for a port in use and names the option; nothing stays open then', async () => {
    const taken = await takenPort();
    expect(await refused({ port: taken, httpsPort: 0 })).toMatch(
      new RegExp(`^Port ${taken} is in use.*another with --port\\.$`),
    );
    expect(await refused({ httpsPort: taken })).toMatch(
      new RegExp(`^Port ${taken} is in use.*another with --https-port\\.$`),
    );
    // the folder is free again: the store of the refused start was closed
    await start({});
  });

  it('gives one sentence for ports that cannot be and for options that do not go together', async () => {
    expect(await refused({ port: 65_535 })).toMatch(/on port 65536, and ports end at 65535.*--https-port\.$/);
    expect(await refused({ port: 4999, httpsPort: 4999 })).toMatch(/Both doors.*4999.*--https-port\.$/);
    expect(await refused({ lan: false, newAuthority: true })).toMatch(
      /--new-authority belongs to the https door/,
    );
  });

  it('does not start with a damaged authority, starts with --no-https, and makes a new one when told to', async () => {
    await (await start({})).close();
    const file = path.join(folder, 'data/authority/authority.pem');
    const before = (await start({})).secure?.fingerprint;
    await closers.pop()?.();
    fs.writeFileSync(file, 'damaged');
    expect(await refused({})).toMatch(/is damaged; .*--new-authority/);
    await (await start({ https: false })).close();
    const renewed = await start({ newAuthority: true });
    expect(renewed.secure?.fingerprint).toMatch(/^([0-9A-F]{2}:){31}/);
    expect(renewed.secure?.fingerprint).not.toBe(before);
  });
});
