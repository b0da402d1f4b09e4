// Makes the pictures of the README from the demo, and the icons of the installed page from its sign: node scripts/pictures.mjs
import { spawn } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { buildWeb, cliBundle, chromium as findChromium, install, root } from './setup.mjs';

install();
buildWeb();
cliBundle();
const { chromium } = await import('playwright-core');

const PAGES = [
  { name: 'pattern', address: '/pattern/small-steel-string', width: 1440, height: 900 },
  { name: 'session', address: '/session', width: 1440, height: 900 },
  { name: 'bench', address: '/bench/b4', width: 390, height: 844 },
];
const data = fs.mkdtempSync(path.join(os.tmpdir(), 'bracewright-pictures-'));
const server = spawn(
  process.execPath,
  [path.join(root, 'bracewright'), 'start', '--data', data, '--port', '0'],
  {
    stdio: ['ignore', 'pipe', 'inherit'],
  },
);
const url = await new Promise((resolve, reject) => {
  let said = '';
  server.stdout.on('data', (chunk) => {
    said += chunk;
    const found = /http:\/\/localhost:\d+/.exec(said);
    if (found) resolve(found[0]);
  });
  server.once('exit', () => reject(new Error(`the server ended: ${said}`)));
});
const browser = await chromium.launch({
  executablePath: findChromium(),
  args: ['--no-sandbox', '--disable-gpu'],
});
for (const { name, address, width, height } of PAGES) {
  const page = await browser.newPage({ viewport: { width, height } });
  await page.goto(url + address);
  await page.waitForSelector('main[data-state="ready"]');
  await page.evaluate(() => document.fonts.ready);
  await page.screenshot({ path: path.join(root, `docs/pictures/${name}.png`) });
  await page.close();
}
// Tablets want icons as points; a masked one may lose a fifth at each edge, so the sign stands smaller on it.
const sign = fs.readFileSync(path.join(root, 'src/web/public/sign.svg'), 'utf8');
const ICONS = [
  { name: 'icon-192', sizePx: 192, frame: '0 0 32 32' },
  { name: 'icon-512', sizePx: 512, frame: '0 0 32 32' },
  { name: 'icon-masked-512', sizePx: 512, frame: '-8 -6 48 48' },
  { name: 'icon-touch-180', sizePx: 180, frame: '-4 -2 40 40' },
];
for (const { name, sizePx, frame } of ICONS) {
  const page = await browser.newPage({ viewport: { width: sizePx, height: sizePx } });
  await page.setContent(
    `<style>body{margin:0;background:#EBF0E6}svg{display:block}</style>${sign.replace('viewBox="0 0 32 32"', `viewBox="${frame}" width="${sizePx}" height="${sizePx}"`)}`,
  );
  await page.screenshot({ path: path.join(root, `src/web/public/${name}.png`) });
  await page.close();
}
await browser.close();
server.kill();
fs.rmSync(data, { recursive: true, force: true });
