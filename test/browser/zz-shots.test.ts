import { afterAll, beforeAll, it } from 'vitest';
import type { Browser } from 'playwright-core';
import { type ClassServer, classServer, openDevice } from './class-server.ts';
import { axeFaults, isWiderThanScreen, listenForFaults, openBrowser } from './support.ts';
let browser: Browser; let served: ClassServer;
beforeAll(async () => { browser = await openBrowser(); served = await classServer({ demo: true }); }, 120_000);
afterAll(async () => { await browser.close(); await served.close(); });
it('shots', async () => {
  for (const [w, h] of [[1440, 900], [390, 844]] as const) {
    const { context, page } = await openDevice(browser, served, { width: w, height: h });
    const faults = listenForFaults(page);
    let t = Date.now();
    await page.goto('/forecast');
    await page.waitForSelector('.plan-board', { timeout: 60000 });
    console.log('board ms', Date.now() - t);
    await page.screenshot({ path: `/tmp/cal-${w}-board.png` });
    await page.screenshot({ path: `/tmp/cal-${w}-full.png`, fullPage: true });
    console.log(await axeFaults(page), await isWiderThanScreen(page));
    const chip = page.locator('.chip:not(.past)').first();
    await chip.focus();
    t = Date.now();
    await page.keyboard.press('ArrowRight');
    await page.waitForSelector('.move-panel[data-state="moved"]', { timeout: 60000 });
    console.log('move ms', Date.now() - t, await page.locator('.move-panel').innerText());
    await page.screenshot({ path: `/tmp/cal-${w}-move.png` });
    console.log(await axeFaults(page));
    if (w === 1440) {
      t = Date.now();
      await page.getByRole('button', { name: 'Play the course through' }).click();
      await page.waitForSelector('main[data-state="done"]', { timeout: 200000 });
      console.log('forecast ms', Date.now() - t);
      await page.locator('.prospects').scrollIntoViewIfNeeded();
      await page.screenshot({ path: `/tmp/cal-${w}-fan.png` });
      await page.locator('.prospects').screenshot({ path: `/tmp/cal-${w}-prospects.png` });
      console.log(await axeFaults(page));
      await page.getByRole('button', { name: 'Plan anew from now' }).click();
      await page.waitForSelector('.replan', { timeout: 200000 });
      console.log(await page.locator('.replan').innerText(), await page.locator('.plan-words').innerText());
    }
    await page.goto('/session');
    await page.waitForSelector('.next-list');
    await page.locator('.next-list summary').click();
    await page.locator('.next-list').screenshot({ path: `/tmp/cal-${w}-next.png` });
    console.log(faults);
    await context.close();
  }
}, 400_000);
