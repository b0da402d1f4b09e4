import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import type { FastifyInstance } from 'fastify';
import { buildApp } from '../../src/server/app.ts';
import { type OpenedSecureDoor, openSecureDoor } from '../../src/server/authority/open-secure-door.ts';
import type { Context } from '../../src/server/context.ts';
import { makeContext } from '../../src/server/make-context.ts';
import { openStore } from '../../src/store/open-store.ts';

/** A server of its own with a data folder of its own. */
export interface TestServer {
  readonly app: FastifyInstance;
  readonly context: Context;
  /** The https door with its own app, when it was asked for. */
  readonly secure?: { readonly app: FastifyInstance; readonly opened: OpenedSecureDoor };
  readonly folder: string;
  /** Sets the clock, ms. */
  setNow(nowMs: number): void;
  close(): Promise<void>;
}

/** Time at which test servers begin: 2 November 2026, 18:30 UTC. */
export const TEST_NOW_MS = Date.UTC(2026, 10, 2, 18, 30);

/** The machine an https door of a test stands in; its clock is the real one, which the browser looks at too. */
export const TEST_MACHINE = {
  hostName: () => 'bench',
  interfaces: () => ({
    eth: [
      {
        address: '192.168.7.20',
        family: 'IPv4',
        internal: false,
        netmask: '255.255.255.0',
        mac: '',
        cidr: null,
      } as os.NetworkInterfaceInfoIPv4,
    ],
  }),
  nowMs: Date.now,
};

/** Builds a server on a fresh folder; nothing listens unless `webFolder` pages are asked for and `app.listen` is called. */
export async function testServer(
  options: { readonly webFolder?: string; readonly folder?: string; readonly isSecure?: boolean } = {},
): Promise<TestServer> {
  const folder = options.folder ?? fs.mkdtempSync(path.join(os.tmpdir(), 'bracewright-test-'));
  const store = await openStore(folder);
  let now = TEST_NOW_MS;
  const opened = options.isSecure ? openSecureDoor(folder, TEST_MACHINE, false) : undefined;
  const context = await makeContext(store, {
    dataFolder: path.resolve('data'),
    nowMs: () => now,
    ...(opened ? { secureDoor: opened.door } : {}),
  });
  const web = options.webFolder ? { webFolder: options.webFolder } : {};
  const app = await buildApp(context, web);
  const tls = opened && { key: opened.first.keyPem, cert: opened.first.certificatePem };
  const secureApp = tls && (await buildApp(context, { ...web, tls }));
  return {
    app,
    context,
    ...(opened && secureApp ? { secure: { app: secureApp, opened } } : {}),
    folder,
    setNow: (nowMs) => {
      now = nowMs;
    },
    close: async () => {
      await secureApp?.close();
      await app.close();
      await store.close();
      if (options.folder === undefined) fs.rmSync(folder, { recursive: true, force: true });
    },
  };
}

let made = 0;

/** A valid event from a test device. */
export function testEvent(parts: {
  readonly stream: string;
  readonly kind: string;
  readonly by: string;
  readonly body: unknown;
  readonly id?: string;
  readonly time?: number;
}) {
  made++;
  return { id: `test-${made}`, device: 'test', counter: made, time: TEST_NOW_MS + made, ...parts };
}
