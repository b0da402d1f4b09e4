import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import type { FastifyInstance } from 'fastify';
import { buildApp } from '../../src/server/app.ts';
import type { Context } from '../../src/server/context.ts';
import { makeContext } from '../../src/server/make-context.ts';
import { openStore } from '../../src/store/open-store.ts';

/** A server of its own with a data folder of its own. */
export interface TestServer {
  readonly app: FastifyInstance;
  readonly context: Context;
  readonly folder: string;
  /** Sets the clock, ms. */
  setNow(nowMs: number): void;
  close(): Promise<void>;
}

/** Time at which test servers begin: 2 November 2026, 18:30 UTC. */
export const TEST_NOW_MS = Date.UTC(2026, 10, 2, 18, 30);

/** Builds a server on a fresh folder; nothing listens unless `webFolder` pages are asked for and `app.listen` is called. */
export async function testServer(
  options: { readonly webFolder?: string; readonly folder?: string } = {},
): Promise<TestServer> {
  const folder = options.folder ?? fs.mkdtempSync(path.join(os.tmpdir(), 'bracewright-test-'));
  const store = await openStore(folder);
  let now = TEST_NOW_MS;
  const context = await makeContext(store, { dataFolder: path.resolve('data'), nowMs: () => now });
  const app = await buildApp(context, options.webFolder ? { webFolder: options.webFolder } : {});
  return {
    app,
    context,
    folder,
    setNow: (nowMs) => {
      now = nowMs;
    },
    close: async () => {
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
