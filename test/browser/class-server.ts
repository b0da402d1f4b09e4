import fs from 'node:fs';
import type { AddressInfo } from 'node:net';
import path from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { seedDemo } from '../../src/server/demo/demo.service.ts';
import { TEST_NOW_MS, type TestServer, testServer } from '../support/server.ts';

const BUILT = path.resolve(import.meta.dirname, '../../dist/web');

/** A server with the built page on a data folder of its own, its clock and that of its pages set. */
export interface ClassServer {
  readonly address: string;
  readonly nowMs: () => number;
  /** Moves the clock of the server; pages follow with `setClock`. */
  setNow(nowMs: number): void;
  readonly server: () => TestServer;
  /** Stops the server as if its plug was pulled; what is on disk stays. */
  stop(): Promise<void>;
  /** Starts it again on the same folder and port. */
  start(): Promise<void>;
  close(): Promise<void>;
}

/** Serves the built page; with `demo` the invented class is in it. */
export async function classServer(options: { readonly demo?: boolean } = {}): Promise<ClassServer> {
  if (!fs.existsSync(path.join(BUILT, 'index.html')))
    throw new Error('The page is not built: run "node node_modules/vite/bin/vite.js build" first.');
  const folder = fs.mkdtempSync(path.join(path.resolve(import.meta.dirname, '../../node_modules'), '.walk-'));
  let nowMs = TEST_NOW_MS;
  let current = await testServer({ webFolder: BUILT, folder });
  if (options.demo) await seedDemo(current.context);
  await current.app.listen({ host: '127.0.0.1', port: 0 });
  const { port } = current.app.server.address() as AddressInfo;
  const stop = async () => {
    await current.app.close();
    await current.context.store.close();
  };
  return {
    address: `http://127.0.0.1:${port}`,
    nowMs: () => nowMs,
    setNow: (ms) => {
      nowMs = ms;
      current.setNow(ms);
    },
    server: () => current,
    stop,
    start: async () => {
      current = await testServer({ webFolder: BUILT, folder });
      current.setNow(nowMs);
      await current.app.listen({ host: '127.0.0.1', port });
    },
    close: async () => {
      await stop();
      fs.rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** One device: its own cookies and store, its clock fixed to that of the server. */
export async function openDevice(
  browser: Browser,
  served: ClassServer,
  size: { readonly width: number; readonly height: number },
): Promise<{ readonly context: BrowserContext; readonly page: Page }> {
  const context = await browser.newContext({ viewport: size, baseURL: served.address });
  const page = await context.newPage();
  page.setDefaultTimeout(30_000);
  await page.clock.setFixedTime(served.nowMs());
  return { context, page };
}

/** Waits until a page says that it is there. */
export const untilReady = (page: Page): Promise<unknown> => page.waitForSelector('main[data-state="ready"]');

/** Waits until everything entered on a device is with the server. */
export const untilSent = (page: Page): Promise<unknown> => page.waitForSelector('.kept[data-state="sent"]');
