import fs from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import path from 'node:path';
import { type Browser, chromium } from 'playwright-core';

const BUILT = path.resolve(import.meta.dirname, '../../dist/web');

const KINDS: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.woff2': 'font/woff2',
  '.webmanifest': 'application/manifest+json',
};

/** The strictest policy the page has to live with: nothing inline, nothing from elsewhere. */
export const STRICT_POLICY =
  "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; font-src 'self'; connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'self'";

/** A server of one test. */
export interface TestServer {
  readonly address: string;
  close(): Promise<void>;
}

/** Serves the built page alone, without any interface behind it, on a free port. */
export async function servePageOnly(): Promise<TestServer> {
  if (!fs.existsSync(path.join(BUILT, 'index.html')))
    throw new Error('The page is not built: run "node node_modules/vite/bin/vite.js build" first.');
  const server: Server = createServer((request, response) => {
    const asked = decodeURIComponent(new URL(request.url ?? '/', 'http://here').pathname);
    const file = path.join(BUILT, path.normalize(asked));
    if (asked.startsWith('/api/')) return response.writeHead(404).end();
    const isFile = file.startsWith(BUILT) && fs.existsSync(file) && fs.statSync(file).isFile();
    const served = isFile ? file : path.join(BUILT, 'index.html');
    response.writeHead(200, {
      'content-type': KINDS[path.extname(served)] ?? 'application/octet-stream',
      'content-security-policy': STRICT_POLICY,
    });
    return response.end(fs.readFileSync(served));
  });
  await new Promise<void>((ready) => {
    server.listen(0, '127.0.0.1', ready);
  });
  const { port } = server.address() as AddressInfo;
  return {
    address: `http://127.0.0.1:${port}`,
    close: () =>
      new Promise((done) => {
        server.closeAllConnections();
        server.close(() => done());
      }),
  };
}

/** Debian's Chromium, or the one that CHROMIUM names. */
export function openBrowser(): Promise<Browser> {
  return chromium.launch({
    executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
}
