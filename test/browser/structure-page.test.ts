import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import type { Browser, BrowserContext, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import {
  axeFaults,
  isWiderThanScreen,
  listenForFaults,
  openBrowser,
  type ServedPage,
  servePageOnly,
  serveWhole,
} from './support.ts';

const STEEL = 'small-steel-string';
/** A whole analysis may take its time on a busy machine; nothing here waits for less than a named state. */
const PATIENCE_MS = 180_000;

let browser: Browser;
const opened: { context?: BrowserContext; server?: ServedPage }[] = [];
const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'structure-page-'));

beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(async () => {
  await browser.close();
  fs.rmSync(folder, { recursive: true });
});
afterEach(async () => {
  for (const { context, server } of opened.splice(0)) {
    await context?.close();
    await server?.close();
  }
});

async function openPage(server: ServedPage, options: BrowserContextOptions): Promise<Page> {
  opened.push({ server });
  const context = await browser.newContext({ reducedMotion: 'reduce', ...options });
  opened.unshift({ context });
  const page = await context.newPage();
  page.setDefaultTimeout(PATIENCE_MS);
  return page;
}

const ready = (page: Page, fineness = 'fine') =>
  page.locator(`main.structure[data-state=ready][data-fineness=${fineness}]`).waitFor();
const slope = async (page: Page): Promise<number> =>
  Number.parseFloat((await page.locator('[data-number=slope]').textContent()) ?? '');

/** Seconds of quiet, then five taps with one note, as a WAV file of 16 bits. */
function tapRecording(frequencyHz: number, humHz = 0): string {
  const rate = 16_000;
  const count = rate * 6;
  const bytes = Buffer.alloc(44 + 2 * count);
  bytes.write('RIFF', 0);
  bytes.writeUInt32LE(36 + 2 * count, 4);
  bytes.write('WAVEfmt ', 8);
  bytes.writeUInt32LE(16, 16);
  bytes.writeUInt16LE(1, 20);
  bytes.writeUInt16LE(1, 22);
  bytes.writeUInt32LE(rate, 24);
  bytes.writeUInt32LE(2 * rate, 28);
  bytes.writeUInt16LE(2, 32);
  bytes.writeUInt16LE(16, 34);
  bytes.write('data', 36);
  bytes.writeUInt32LE(2 * count, 40);
  for (let i = 0; i < count; i++) {
    const t = i / rate;
    const since = t < 1 ? -1 : (t - 1) % 0.95;
    const ring = since < 0 ? 0 : Math.exp(-since * 9) * Math.sin(2 * Math.PI * frequencyHz * since);
    // noise that is the same every time, and the hum of the mains where asked for
    const noise = 2 * ((Math.sin(i * 12.9898) * 43_758.5453) % 1);
    const hum = humHz === 0 ? 0 : 400 * Math.sin(2 * Math.PI * humHz * t);
    bytes.writeInt16LE(Math.round(14_000 * ring + (humHz === 0 ? 12 : 60) * noise + hum), 44 + 2 * i);
  }
  const file = path.join(folder, `taps-${frequencyHz}-${humHz}.wav`);
  fs.writeFileSync(file, bytes);
  return file;
}

describe('structure page', { timeout: PATIENCE_MS * 2 }, () => {
  it('from the pattern to the answer: slope with its verdict, braces, resonances; a slider changes it, stop stops it', async () => {
    const page = await openPage(await serveWhole(), { viewport: { width: 1440, height: 900 } });
    const faults = listenForFaults(page);
    await page.goto(`${opened.at(-1)?.server?.address}/pattern/${STEEL}`);
    await page.getByRole('link', { name: 'Structure and board' }).click();
    await ready(page);
    const drawn = await slope(page);
    expect(drawn).toBeGreaterThan(1.5);
    expect(drawn).toBeLessThan(2.5);
    expect(await page.locator('[data-number=verdict]').textContent()).toBe('met');
    expect(await page.locator('.s-modes > li').count()).toBe(10);
    expect(await page.locator('[data-brace="X-treble"] td').nth(1).textContent()).toMatch(/^1\d\.\d %$/);
    expect(await axeFaults(page)).toEqual([]);

    // by keyboard: a thinner top tilts more
    const slider = page.getByRole('slider', { name: 'Thickness of the top' });
    await slider.focus();
    await slider.press('Home');
    await ready(page);
    expect(await slope(page)).toBeGreaterThan(drawn * 1.1);

    await page.getByRole('button', { name: 'As drawn' }).click();
    await page.getByRole('button', { name: 'Stop', exact: true }).first().click();
    await page.locator('main.structure:not([data-state=working])').waitFor();
    expect(await page.getByRole('progressbar').count()).toBe(0);
    expect(faults).toEqual([]);
  });

  it('one board on a telephone under the strictest policy: readings, a recorded tap, a slip, the thickness beside the pattern', async () => {
    const page = await openPage(await servePageOnly(), { viewport: { width: 390, height: 844 } });
    const faults = listenForFaults(page);
    await page.goto(`${opened.at(-1)?.server?.address}/pattern/${STEEL}/structure`);
    await ready(page);
    expect(await isWiderThanScreen(page)).toBe(false);
    const board = page.locator('.s-board');
    const submit = board.getByRole('button', { name: 'Work out this board' });
    await submit.click();
    expect(await board.getByRole('alert').textContent()).toContain('Length along the grain is missing');
    const readings = { length_mm: '530', width_mm: '205', thickness_mm: '4,2', mass_g: '-182' };
    for (const [name, value] of Object.entries(readings)) await board.locator(`[name=${name}]`).fill(value);
    await board.locator('input[type=file]').setInputFiles(tapRecording(82.8));
    await board.locator('.s-notes button').first().click();
    expect(Number(await board.locator('[name=along_hz]').inputValue())).toBeCloseTo(82.8, 0);
    await submit.click();
    expect(await board.getByRole('alert').textContent()).toContain('mass_g is -182; it must be above 0');
    await board.locator('[name=mass_g]').fill('182.5');
    await submit.click();
    await board.locator('[data-rule="equal tilt"]').waitFor();
    // free-free-beam: 82.8 Hz on this half plate is E along 11.6 GPa, a little above the pattern's 11
    expect(await board.locator('tbody tr').nth(1).textContent()).toMatch(/E along11[3-9]\d\d ± \d+ MPa/);
    expect(await board.locator('[data-rule="cube root"]').textContent()).toContain('2.75 mm');
    expect(await axeFaults(page)).toEqual([]);
    expect(faults).toEqual([]);
  });

  it('hears the note through a microphone, in noise and hum, within what it says', async () => {
    const noteHz = 82.8;
    const server = await servePageOnly();
    const own = await openBrowser([
      '--use-fake-ui-for-media-stream',
      '--use-fake-device-for-media-stream',
      `--use-file-for-fake-audio-capture=${tapRecording(noteHz, 50)}`,
    ]);
    try {
      const context = await own.newContext({ permissions: ['microphone'] });
      opened.push({ context, server });
      const page = await context.newPage();
      page.setDefaultTimeout(PATIENCE_MS);
      await page.goto(`${server.address}/pattern/${STEEL}/structure`);
      await page.getByRole('button', { name: 'Listen by microphone' }).click();
      await page.getByText(/^\d+ taps heard; choose the note of this board along\.$/).waitFor();
      const first = (await page.locator('.s-notes li').first().textContent()) ?? '';
      const [, hz, plusMinus, confidence] = /^([\d.]+) ± ([\d.]+) Hz confidence (\d+) %$/.exec(first) ?? [];
      // two standard deviations, and half of the last digit shown
      expect(Math.abs(Number(hz) - noteHz)).toBeLessThanOrEqual(2 * Number(plusMinus) + 0.05);
      expect(Number(plusMinus)).toBeLessThan(2);
      expect(Number(confidence)).toBeGreaterThan(50);
      await page.locator('.s-notes button').first().click();
      expect(await page.locator('[name=along_hz]').inputValue()).toBe(hz);
    } finally {
      await own.close();
    }
  });

  it('on a plain address says why the browser gives no microphone, and takes the typed note', async () => {
    const server = await servePageOnly();
    const own = await openBrowser(['--host-resolver-rules=MAP shop.test 127.0.0.1']);
    try {
      const context = await own.newContext();
      opened.push({ context, server });
      const page = await context.newPage();
      page.setDefaultTimeout(PATIENCE_MS);
      await page.goto(`${server.address.replace('127.0.0.1', 'shop.test')}/pattern/${STEEL}/structure`);
      await page.getByRole('button', { name: 'Listen by microphone' }).click();
      await page
        .getByText('This address is not secure, so the browser gives no microphone. Use a recorded WAV file')
        .waitFor();
      const readings = {
        length_mm: '530',
        width_mm: '205',
        thickness_mm: '4.2',
        mass_g: '182.5',
        along_hz: '82,8',
      };
      for (const [name, value] of Object.entries(readings)) await page.locator(`[name=${name}]`).fill(value);
      await page.getByRole('button', { name: 'Work out this board' }).click();
      // free-free-beam: 82.8 Hz is 11.6 GPa
      await page.getByText(/^11[3-9]\d\d ± \d+ MPa$/).waitFor();
    } finally {
      await own.close();
    }
  });

  it('the top through the seasons: the saddle falls in a dry room, and a slip is said in one sentence', async () => {
    const page = await openPage(await servePageOnly(), { viewport: { width: 390, height: 844 } });
    await page.goto(`${opened.at(-1)?.server?.address}/pattern/${STEEL}/structure`);
    const saddle = page.locator('[data-season=saddle] td');
    await saddle.filter({ hasText: /^falls 0\.\d to 1\.\d mm$/ }).waitFor();
    expect(await saddle.last().textContent()).toMatch(/^rises 0\.\d to 1\.\d mm$/);
    await page.locator('[name=humidity_dry]').fill('0');
    await page.getByText('Dry winter room is "0"; type a humidity from 1 to 95 %.').waitFor();
  });

  it('says why there is no microphone and what to do instead', async () => {
    const page = await openPage(await servePageOnly(), {
      viewport: { width: 1440, height: 900 },
      permissions: [],
    });
    await page.goto(`${opened.at(-1)?.server?.address}/pattern/tenor-ukulele/structure`);
    await page.getByRole('button', { name: 'Listen by microphone' }).click();
    await page.getByText(/^The microphone .* type the note/).waitFor();
    expect(await page.locator('.roomchart').getAttribute('aria-label')).toContain('0 readings of the room');
  });
});
