import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { openBrowser } from '../test/browser/support.ts';
import { startProcess } from '../test/more/server-process.ts';
import { middleOf } from './_middle.ts';

/** The opening page can be used within this. */
const LIMIT_MS = 2000;
const ROUNDS = 5;
const CPU_SLOWER = 4;
const BITS_A_SECOND = 10e6;
const LATENCY_MS = 40;

/** Opens the session page of the demo on a slow device behind a slow network, with nothing kept, several times. */
export async function run(): Promise<void> {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'bracewright-opening-'));
  const server = await startProcess(path.join(folder, 'a'), 0, true);
  const browser = await openBrowser();
  const times: number[] = [];
  for (let i = 0; i < ROUNDS; i++) {
    const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
    const page = await context.newPage();
    const devtools = await context.newCDPSession(page);
    await devtools.send('Network.enable');
    await devtools.send('Network.setCacheDisabled', { cacheDisabled: true });
    await devtools.send('Network.emulateNetworkConditions', {
      offline: false,
      latency: LATENCY_MS,
      downloadThroughput: BITS_A_SECOND / 8,
      uploadThroughput: BITS_A_SECOND / 8,
    });
    await devtools.send('Emulation.setCPUThrottlingRate', { rate: CPU_SLOWER });
    const from = performance.now();
    await page.goto(`${server.url}/session`, { waitUntil: 'commit' });
    await page.waitForSelector('main[data-state="ready"]');
    times.push(performance.now() - from);
    await context.close();
  }
  await browser.close();
  await server.kill();
  fs.rmSync(folder, { recursive: true, force: true });
  const middleMs = middleOf(times);
  console.log(
    `session page of the demo, nothing kept, processor ${CPU_SLOWER} times slower, ${BITS_A_SECOND / 1e6} Mbit/s, ${LATENCY_MS} ms:`,
  );
  console.log(
    `${times.map((t) => t.toFixed(0)).join(', ')} ms; middle ${middleMs.toFixed(0)} ms  limit ${LIMIT_MS}`,
  );
  if (middleMs > LIMIT_MS) process.exitCode = 1;
}
