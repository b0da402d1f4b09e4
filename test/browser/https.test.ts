import { execFileSync, spawnSync } from 'node:child_process';
import { X509Certificate } from 'node:crypto';
import fs from 'node:fs';
import https from 'node:https';
import type { AddressInfo } from 'node:net';
import os from 'node:os';
import path from 'node:path';
import { type BrowserContext, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { authorityFile } from '../../src/server/authority/authority-place.ts';
import { issueCertificate } from '../../src/server/authority/certificates.ts';
import { hashToken } from '../../src/server/doors/caller.ts';
import { qrVideo } from '../support/qr-video.ts';
import { TEST_NOW_MS } from '../support/server.ts';
import { type ClassServer, classServer, untilReady, untilSent } from './class-server.ts';
import { axeFaults, BROWSER, isWiderThanScreen, listenForFaults } from './support.ts';

const PASSPHRASE = 'a long enough phrase';
const hasCertutil = spawnSync('certutil', ['-H']).error === undefined;
if (!hasCertutil)
  console.log('not run: the walk over https, because certutil is not installed (Debian: libnss3-tools)');

let folder: string;
let served: ClassServer;
const open: BrowserContext[] = [];

const named = (): { readonly http: string; readonly https: string } => {
  if (!served.named) throw new Error('the server has no https door');
  return served.named;
};
/** Home of a person whose browser keeps its authorities there. */
const home = () => path.join(folder, 'home');
const certutil = (...args: string[]) =>
  execFileSync('certutil', ['-d', `sql:${home()}/.pki/nssdb`, ...args], { stdio: 'pipe' });

/** A browser of its own with a profile that stays, as an installed page needs; bench.local is this machine. */
async function openTablet(
  profile: string,
  ...args: string[]
): Promise<{ context: BrowserContext; page: Page }> {
  const context = await chromium.launchPersistentContext(path.join(folder, profile), {
    ...BROWSER,
    args: [
      ...BROWSER.args,
      '--host-resolver-rules=MAP bench.local 127.0.0.1, MAP outside.example 127.0.0.1',
      ...args,
    ],
    env: { ...process.env, HOME: home() },
    viewport: { width: 1024, height: 768 },
  });
  open.push(context);
  const page = await context.newPage();
  page.setDefaultTimeout(30_000);
  await page.clock.setFixedTime(served.nowMs());
  return { context, page };
}

const eventsOf = async (kind: string, sinceArrival: number) =>
  (await served.server().context.events.after(sinceArrival, 10_000)).filter((e) => e.kind === kind);

/** Another site that shows a certificate of the workshop's authority, made out to a name outside. */
async function impostor(name: string): Promise<{ address: string; close(): void }> {
  const pem = fs.readFileSync(authorityFile(served.server().folder), 'utf8');
  const cut = pem.indexOf('-----BEGIN CERTIFICATE-----');
  const authority = { keyPem: pem.slice(0, cut), certificatePem: pem.slice(cut) };
  const { keyPem, certificatePem } = issueCertificate(authority, { dns: [name], addresses: [] }, Date.now());
  const server = https.createServer({ key: keyPem, cert: certificatePem }, (_request, response) =>
    response.end('not the workshop'),
  );
  await new Promise<void>((ready) => {
    server.listen(0, '127.0.0.1', ready);
  });
  return {
    address: `https://${name}:${(server.address() as AddressInfo).port}/`,
    close: () => {
      server.closeAllConnections();
      server.close();
    },
  };
}

/** Builds of the demo in the order in which their learners came. */
const builds = async (): Promise<readonly string[]> =>
  (await served.server().context.events.all()).flatMap((e) =>
    e.kind === 'learner-added' ? [(e.body as { build: string }).build] : [],
  );

/** Some learners have begun the finish, and the teacher has not yet signed that the surface is ready. */
async function beginsUnsigned(...which: readonly number[]): Promise<void> {
  const { events, recorder } = served.server().context;
  const all = await builds();
  await events.append(
    which.map((i) =>
      recorder.make({ stream: `build:${all[i]}`, kind: 'step-started', by: 'teacher', body: { op: 'P2' } }),
    ),
  );
}

beforeAll(async () => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'bracewright-https-'));
  served = await classServer({ demo: true, isSecure: true });
  const { app } = served.server();
  const headers = { host: 'localhost' };
  await app.inject({ method: 'POST', url: '/api/passphrase', headers, payload: { passphrase: PASSPHRASE } });
  await beginsUnsigned(0, 1);
  if (!hasCertutil) return;
  fs.mkdirSync(path.join(home(), '.pki/nssdb'), { recursive: true });
  certutil('-N', '--empty-password');
}, 120_000);
afterAll(async () => {
  for (const context of open) await context.close();
  await served.close();
  fs.rmSync(folder, { recursive: true, force: true });
});

describe.skipIf(!hasCertutil)('a tablet on https', () => {
  it('is refused by its browser until it trusts the authority it got over http', async () => {
    const { context, page } = await openTablet('stranger');
    const faults = listenForFaults(page);
    const refused = await context.newPage();
    await expect(refused.goto(named().https)).rejects.toThrow(/ERR_CERT_AUTHORITY_INVALID/);
    await page.goto(`${named().http}/tablets`);
    await untilReady(page);
    expect(await page.evaluate('isSecureContext')).toBe(false);
    expect(await axeFaults(page)).toEqual([]);
    for (const width of [390, 1440]) {
      await page.setViewportSize({ width, height: 844 });
      expect(await isWiderThanScreen(page), `${width} px`).toBe(false);
    }
    const arrives = page.waitForEvent('download');
    await page.getByRole('link', { name: 'Get the certificate' }).click();
    const file = path.join(folder, 'workshop.crt');
    await (await arrives).saveAs(file);
    const certificate = new X509Certificate(fs.readFileSync(file));
    const shown = await page.getByRole('img', { name: /^Fingerprint/ }).getAttribute('aria-label');
    expect(shown).toBe(`Fingerprint, SHA-256: ${certificate.fingerprint256.replaceAll(':', ' ')}`);
    expect(certificate.ca).toBe(true);
    // the plain door takes no passphrase and says so before one types it
    await page.goto(`${named().http}/session`);
    await page.getByText('The passphrase is not taken over plain http').waitFor();
    expect(await page.getByLabel('Passphrase').count()).toBe(0);
    expect(faults).toEqual([]);
    // what a person does in the menus of the tablet
    certutil('-A', '-t', 'C,,', '-n', 'workshop', '-i', file);
    await context.close();
    open.pop();
  }, 120_000);

  it('then is a secure context, keeps the page, opens without the network, queues, and sends on return', async () => {
    const { context, page } = await openTablet('tablet');
    const faults = listenForFaults(page);
    await page.goto(`${named().https}/session`);
    expect(await page.evaluate('isSecureContext')).toBe(true);
    await page.getByLabel('Passphrase').fill(PASSPHRASE);
    await page.getByRole('button', { name: 'Open the book' }).click();
    await page.waitForSelector('main.session[data-screen="teacher"]');
    await untilSent(page);
    const cookies = await context.cookies(named().https);
    expect(cookies.map((c) => [c.name, c.secure, c.httpOnly, c.sameSite])).toEqual([
      ['__Host-bracewright', true, true, 'Strict'],
    ]);
    await page.evaluate('navigator.serviceWorker.ready.then((r) => r.active.state)');
    // asked from outside: a page that may not evaluate text cannot wait for it by itself
    await expect
      .poll(() => page.evaluate('navigator.serviceWorker.controller !== null'), { timeout: 30_000 })
      .toBe(true);
    const browser = await context.newCDPSession(page);
    const { installabilityErrors } = await browser.send('Page.getInstallabilityErrors');
    expect(installabilityErrors).toEqual([]);

    const before = await served.server().context.events.lastArrival();
    await context.setOffline(true);
    await page.reload();
    await page.waitForSelector('main.session[data-screen="teacher"]');
    await page.getByRole('button', { name: 'All are here' }).click();
    await page.waitForSelector('.kept[data-state="unsent"]');
    // the plug of the server is pulled too, and the tablet closed with something to send
    await served.stop();
    await page.close();
    await served.start();
    await context.setOffline(false);
    const again = await context.newPage();
    await again.clock.setFixedTime(served.nowMs());
    await again.goto(`${named().https}/session`);
    await again.waitForSelector('main.session[data-screen="teacher"]');
    await untilSent(again);
    expect(await eventsOf('present', before)).toHaveLength(12);

    // the same authority vouches for nothing outside, whoever has its key
    const outside = await impostor('outside.example');
    const refused = await context.newPage();
    await expect(refused.goto(outside.address)).rejects.toThrow(/ERR_CERT_INVALID/);
    await refused.close();
    outside.close();

    await again
      .getByRole('button', { name: /^Sign [^o]/ })
      .first()
      .click();
    await untilSent(again);
    expect(await eventsOf('hold-signed', before)).toHaveLength(1);
    expect(faults).toEqual([]);
    await context.close();
    open.pop();
  }, 180_000);

  it('scans a part tag with its camera, and finds the part by its number without one', async () => {
    const learners = await builds();
    const film = path.join(folder, 'tag.y4m');
    fs.writeFileSync(film, qrVideo(`http://192.168.7.20:4180/bench/${learners[3]}`));
    const { context, page } = await openTablet(
      'tablet',
      '--use-fake-device-for-media-stream',
      `--use-file-for-fake-video-capture=${film}`,
    );
    await page.goto(`${named().https}/scan`);
    await untilReady(page);
    expect(await axeFaults(page)).toEqual([]);
    await page.getByRole('button', { name: 'Use the camera' }).click();
    await page.getByRole('alert').filter({ hasText: 'The camera was refused' }).waitFor();
    await context.grantPermissions(['camera'], { origin: named().https });
    await page.getByRole('button', { name: 'Use the camera' }).click();
    await page.waitForURL(`${named().https}/bench/${learners[3]}`);

    // a browser that reads codes itself is asked first
    await page.addInitScript(
      `globalThis.BarcodeDetector = class {
        static getSupportedFormats() { return Promise.resolve(['qr_code']); }
        detect() { return Promise.resolve([{ rawValue: 'http://elsewhere/card/ring-channel' }]); }
      };`,
    );
    await page.goto(`${named().https}/scan`);
    await page.getByRole('button', { name: 'Use the camera' }).click();
    await page.waitForURL(`${named().https}/card/ring-channel`);

    await page.goto(`${named().https}/scan`);
    await untilReady(page);
    await page.getByLabel(/^Number on the part tag/).fill('77');
    await page.keyboard.press('Enter');
    await page.getByRole('alert').filter({ hasText: 'No build has the number 77' }).waitFor();
    await page.getByLabel(/^Number on the part tag/).fill('4 top');
    await page.keyboard.press('Enter');
    await page.waitForURL(`${named().https}/bench/${learners[3]}`);
    await context.close();
    open.pop();
  }, 120_000);

  it('is told at the plain door what is not taken there, before trying', async () => {
    await served
      .server()
      .context.sessions.admit(
        hashToken('before-https'),
        { role: 'teacher', person: 'teacher', course: '', build: '' },
        TEST_NOW_MS,
      );
    const { context, page } = await openTablet('plain');
    const { hostname } = new URL(named().http);
    await context.addCookies([{ name: 'bracewright', value: 'before-https', domain: hostname, path: '/' }]);
    await page.goto(`${named().http}/session`);
    await page.waitForSelector('main.session[data-screen="teacher"]');
    await page.getByText('This is the plain door').waitFor();
    expect(
      await page
        .getByRole('button', { name: /^Sign over https/ })
        .first()
        .isDisabled(),
    ).toBe(true);
    expect(await axeFaults(page)).toEqual([]);
    await page.goto(`${named().http}/scan`);
    await page.getByText('Over plain http the browser gives no camera').waitFor();
    await context.close();
    open.pop();
  }, 120_000);
});
