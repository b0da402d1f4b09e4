import fs from 'node:fs';
import type { AddressInfo } from 'node:net';
import path from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { seedDemo } from '../../src/server/demo/demo.service.ts';
import { TEST_MACHINE, TEST_NOW_MS, type TestServer, testServer } from '../support/server.ts';

const BUILT = path.resolve(import.meta.dirname, '../../dist/web');

/** A server with the built page on a data folder of its own, its clock and that of its pages set. */
export interface ClassServer {
  readonly address: string;
  /** Of both doors under the name of the machine, when an https door was asked for. */
  readonly named?: { readonly http: string; readonly https: string };
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
export async function classServer(
  options: { readonly demo?: boolean; readonly isSecure?: boolean } = {},
): Promise<ClassServer> {
  if (!fs.existsSync(path.join(BUILT, 'index.html')))
    throw new Error('The page is not built: run "node node_modules/vite/bin/vite.js build" first.');
  const folder = fs.mkdtempSync(path.join(path.resolve(import.meta.dirname, '../../node_modules'), '.walk-'));
  let nowMs = TEST_NOW_MS;
  const kind = { webFolder: BUILT, folder, isSecure: options.isSecure === true };
  let current = await testServer(kind);
  if (options.demo) await seedDemo(current.context);
  const ports = { http: 0, https: 0 };
  const listen = async () => {
    const { secure, app } = current;
    if (secure) {
      await secure.app.listen({ host: '127.0.0.1', port: ports.https });
      ports.https = (secure.app.server.address() as AddressInfo).port;
    }
    await app.listen({ host: '127.0.0.1', port: ports.http });
    ports.http = (app.server.address() as AddressInfo).port;
    secure?.opened.listensOn(ports);
  };
  await listen();
  const host = `${TEST_MACHINE.hostName()}.local`;
  const stop = async () => {
    await current.secure?.app.close();
    await current.app.close();
    await current.context.store.close();
  };
  return {
    address: `http://127.0.0.1:${ports.http}`,
    ...(options.isSecure
      ? { named: { http: `http://${host}:${ports.http}`, https: `https://${host}:${ports.https}` } }
      : {}),
    nowMs: () => nowMs,
    setNow: (ms) => {
      nowMs = ms;
      current.setNow(ms);
    },
    server: () => current,
    stop,
    start: async () => {
      current = await testServer(kind);
      current.setNow(nowMs);
      await listen();
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
