import fs from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import path from 'node:path';
import { AxeBuilder } from '@axe-core/playwright';
import { type Browser, chromium, type Page } from 'playwright-core';
import { testServer } from '../support/server.ts';

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
const STRICT_POLICY =
  "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; font-src 'self'; connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'self'";

/** A server of one test. */
export interface ServedPage {
  readonly address: string;
  close(): Promise<void>;
}

function requireBuilt(): void {
  if (!fs.existsSync(path.join(BUILT, 'index.html')))
    throw new Error('The page is not built: run "node node_modules/vite/bin/vite.js build" first.');
}

/** The whole server with a data folder of its own on a free port. */
export async function serveWhole(): Promise<ServedPage> {
  requireBuilt();
  const server = await testServer({ webFolder: BUILT });
  const address = await server.app.listen({ host: '127.0.0.1', port: 0 });
  return { address, close: () => server.close() };
}

/** Serves the built page alone, without any interface behind it, on a free port. */
export async function servePageOnly(): Promise<ServedPage> {
  requireBuilt();
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

/**
 * What the browser leaves out. The last list counts, so what the driver leaves out stands here again; the popups of the
 * address line are two pages of their own behind every page and take as long as it.
 */
const LEFT_OUT = [
  ...['WebUIOmniboxPopup', 'WebUIOmniboxAimPopup', 'AimEnabled', 'LensOverlay', 'MediaRouter'],
  ...['HttpsUpgrades', 'HttpsFirstBalancedModeAutoEnable', 'PreconnectToSearch', 'OptimizationHints'],
  ...['AvoidUnnecessaryBeforeUnloadCheckSync', 'DestroyProfileOnBrowserClose', 'PaintHolding'],
  ...['ThirdPartyStoragePartitioning', 'AvoidCorsURLLoaderRestartOnRedirect', 'NetworkTimeServiceQuerying'],
  ...['CDPScreenshotNewSurface', 'SkipListAccountsWithoutGaiaCookies'],
];

/** Debian's Chromium, or the one that CHROMIUM names. */
export const BROWSER = {
  executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
  args: [
    '--no-sandbox',
    '--disable-gpu',
    '--disable-quic',
    '--no-first-run',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
    `--disable-features=${LEFT_OUT.join(',')}`,
  ],
};

/** A browser with nothing in it; `more` are further switches. */
export function openBrowser(more: readonly string[] = []): Promise<Browser> {
  return chromium.launch({ ...BROWSER, args: [...BROWSER.args, ...more] });
}

const WCAG = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];

/** Rows of a long table are of one kind: the first of each of its parts are looked at. */
const MORE_ROWS = 'tbody tr:nth-child(n+9)';

/**
 * What axe-core finds under WCAG 2.0 to 2.2, A and AA: each as "rule: selector". Empty is clean.
 *
 * @param where.within  part of the page to look at; all of it when left out
 * @param where.rules   only these rules; all when left out
 * @param where.but     without these rules: what does not depend on the width is looked at on one screen
 */
export async function axeFaults(
  page: Page,
  where: {
    readonly within?: string;
    readonly rules?: readonly string[] | undefined;
    readonly but?: readonly string[];
  } = {},
): Promise<readonly string[]> {
  // what a bar that sticks to the top covers at the moment would count as too small to touch
  await page.evaluate(
    "window.scrollTo(0, 0); for (const c of document.querySelectorAll('.col')) c.scrollTop = 0;",
  );
  // no page here has frames: one run in the page itself, that keeps only what it finds wrong, takes a third of the time
  let axe = new AxeBuilder({ page })
    .setLegacyMode()
    .options({ resultTypes: ['violations'] })
    .exclude(MORE_ROWS);
  if (where.within !== undefined) axe = axe.include(where.within);
  axe = where.rules ? axe.withRules([...where.rules]) : axe.withTags(WCAG);
  if (where.but) axe = axe.disableRules([...where.but]);
  const { violations } = await axe.analyze();
  return violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.target.join(' ')}`));
}

/** Whether the page can be scrolled sideways. */
export function isWiderThanScreen(page: Page): Promise<boolean> {
  // as text: this file is compiled without the browser's own names
  return page.evaluate<boolean>(
    'document.documentElement.scrollWidth > document.documentElement.clientWidth',
  );
}

/** Messages of the browser's console that tell of a fault, and faults of the page itself; 404 and cut networks aside. */
export function listenForFaults(page: Page): readonly string[] {
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(error.message));
  page.on('console', (message) => {
    const isNetwork = /Failed to load resource|ERR_/.test(message.text());
    if (message.type() === 'error' && !isNetwork) faults.push(message.text());
  });
  return faults;
}
