import fs from 'node:fs';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type ClassServer, classServer, openDevice, untilReady, untilSent } from './class-server.ts';
import { axeFaults, isWiderThanScreen, listenForFaults, openBrowser } from './support.ts';

let browser: Browser;
let served: ClassServer;
beforeAll(async () => {
  browser = await openBrowser();
  served = await classServer({ demo: true });
});
afterAll(async () => {
  await browser.close();
  await served.close();
});

describe('the pages of people, route and forecast', () => {
  it('are clean for axe on a phone and wider than neither a phone nor a desk', async () => {
    const { context, page } = await openDevice(browser, served, { width: 390, height: 844 });
    const faults = listenForFaults(page);
    const office = ['hours', 'incidents', 'cost', 'calendar', 'term'];
    for (const address of ['/people', '/route', '/forecast', ...office.map((id) => `/office/${id}`)]) {
      await page.goto(address);
      await untilReady(page);
      expect(await axeFaults(page), address).toEqual([]);
      expect(await isWiderThanScreen(page), address).toBe(false);
      await page.setViewportSize({ width: 1440, height: 900 });
      expect(await isWiderThanScreen(page), `${address} at a desk`).toBe(false);
      await page.setViewportSize({ width: 390, height: 844 });
    }
    expect(faults).toEqual([]);
    await context.close();
  }, 240_000);

  it('gives a key and takes it back, and both are still there after loading again', async () => {
    const { context, page } = await openDevice(browser, served, { width: 1024, height: 768 });
    await page.goto('/people');
    await untilReady(page);
    const person = page.locator('details.person').filter({ hasText: 'Kaja' });
    const buffer = person.locator('li').filter({ hasText: 'buffer' });
    await person.locator('summary').click();
    const before = await buffer.getByRole('button').textContent();
    await buffer.getByRole('button').click();
    await untilSent(page);
    await page.reload();
    await untilReady(page);
    await page.locator('details.person').filter({ hasText: 'Kaja' }).locator('summary').click();
    const after = await page
      .locator('details.person')
      .filter({ hasText: 'Kaja' })
      .locator('li')
      .filter({ hasText: 'buffer' })
      .getByRole('button')
      .textContent();
    expect([before, after].sort()).toEqual(['Give', 'Take back']);
    await context.close();
  });

  it('keeps other minutes for a step, and refuses minutes that shrink', async () => {
    const { context, page } = await openDevice(browser, served, { width: 1024, height: 768 });
    await page.goto('/route');
    await untilReady(page);
    await page.getByLabel('Find a step').fill('T5');
    await page.getByRole('button', { name: /^T5/ }).click();
    await page.getByLabel('likely', { exact: true }).first().fill('500');
    await page.getByRole('button', { name: 'Keep minutes' }).first().click();
    expect(await page.getByRole('alert').textContent()).toMatch(/must grow from quick to slow/);
    await page.getByLabel('likely', { exact: true }).first().fill('33');
    await page.getByRole('button', { name: 'Keep minutes' }).first().click();
    await page.getByRole('button', { name: /^T5.*33 min/ }).waitFor();
    await untilSent(page);
    await context.close();
  });

  it('says what was not right at a machine, puts it out of order and in order again, by keyboard', async () => {
    const { context, page } = await openDevice(browser, served, { width: 1024, height: 768 });
    await page.goto('/office/machines?station=drill-press');
    await untilReady(page);
    await page.getByLabel('Found').selectOption('broken');
    await page.getByRole('button', { name: 'Keep check' }).press('Enter');
    await page.getByText('Write what was not right first.').waitFor();
    await page.getByLabel('What was not right').fill('the stop sticks');
    await page.getByLabel('What was not right').press('Enter');
    await page.getByText('Drill press is out of order').waitFor();
    await page.locator('.leaves tr', { hasText: 'drill press: the stop sticks' }).waitFor();
    await page.getByRole('button', { name: 'In order again' }).press('Enter');
    await page.getByText('Drill press is out of order').waitFor({ state: 'detached' });
    await context.close();
  });

  it('takes a shop file in, after saying what it sets anew, and nothing of one that cannot be read', async () => {
    const { context, page } = await openDevice(browser, served, { width: 390, height: 844 });
    await page.goto('/office/shop');
    await untilReady(page);
    const file = (name: string, text: string) => ({
      name,
      mimeType: 'application/yaml',
      buffer: Buffer.from(text),
    });
    const choose = page.getByLabel('Take in a shop file');
    await choose.setInputFiles(file('notes.yaml', 'format: bracewright-shop/1\nname: X\nunit: furlong\n'));
    expect(await page.getByRole('alert').textContent()).toMatch(/^notes\.yaml: .*furlong.*\.$/);
    const summer = fs.readFileSync('data/shops/summer-school.yaml', 'utf8');
    await choose.setInputFiles(file('summer.yaml', summer));
    await page.getByText('settings of this course’s pattern come out differently').waitFor();
    expect(await page.getByRole('alert').count()).toBe(0);
    await page.getByRole('button', { name: 'Keep this shop file' }).click();
    await page.getByText('Cards, settings and batches follow it from now on.').waitFor();
    await untilSent(page);
    await page.reload();
    await untilReady(page);
    expect(await page.locator('.shop-file h3').textContent()).toBe(/^name: (.*)$/m.exec(summer)?.[1]);
    const coming = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Take the shop file out' }).click();
    expect(fs.readFileSync(await (await coming).path(), 'utf8')).toBe(summer);
    await context.close();
  });
});
