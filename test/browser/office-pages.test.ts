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
  it.each([
    [390, 844],
    [1440, 900],
  ])('are clean for axe and not wider than a screen of %i px', async (width, height) => {
    const { context, page } = await openDevice(browser, served, { width, height });
    const faults = listenForFaults(page);
    const office = width < 500 ? ['hours', 'incidents', 'cost', 'calendar'] : ['hours', 'term'];
    for (const address of ['/people', '/route', '/forecast', ...office.map((id) => `/office/${id}`)]) {
      await page.goto(address);
      await untilReady(page);
      expect(await axeFaults(page), address).toEqual([]);
      expect(await isWiderThanScreen(page), address).toBe(false);
    }
    expect(faults).toEqual([]);
    await context.close();
  });

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

  it('plans the rest of the course from the record and says who will be done when', async () => {
    const { context, page } = await openDevice(browser, served, { width: 1024, height: 768 });
    await page.goto('/forecast');
    await untilReady(page);
    await page.getByRole('button', { name: 'Plan the rest of the course' }).click();
    await page.waitForSelector('main[data-state="done"]', { timeout: 120_000 });
    expect(await page.locator('.prospects > ul').first().locator('li').count()).toBe(12);
    expect(await page.locator('main').textContent()).toMatch(/Over in session \d+ of \d+/);
    expect(await axeFaults(page)).toEqual([]);
    await context.close();
  }, 150_000);

  it('takes prices, an incident and its end on a phone by keyboard, and they are in files and sums', async () => {
    const { context, page } = await openDevice(browser, served, { width: 390, height: 844 });
    /** Puts the focus where a person would tab to, types and presses Enter. */
    const typeInto = async (label: string, words: string) => {
      await page.getByLabel(label, { exact: true }).focus();
      await page.keyboard.type(words);
      await page.keyboard.press('Enter');
    };
    await page.goto('/office/cost');
    await untilReady(page);
    expect(await page.locator('.leaves').first().textContent()).toContain('no price entered');
    await page.getByText('Enter prices').focus();
    await page.keyboard.press('Enter');
    const price = page.locator('.one-price').filter({ hasText: 'One top half' });
    await price.locator('input').focus();
    await page.keyboard.type('dear');
    await page.keyboard.press('Enter');
    expect(await price.getByRole('alert').textContent()).toMatch(/"dear" is no price; write it as 12\.50/);
    await page.keyboard.press('ControlOrMeta+a');
    await page.keyboard.type('12,50');
    await page.keyboard.press('Enter');
    await price.getByText('Kept.').waitFor();
    await untilSent(page);
    // two halves in each of 12 builds
    expect(await page.locator('.leaves').first().locator('tfoot').textContent()).toContain('300.00 EUR');
    expect(await page.getByText('1 of 15 have one').count()).toBe(1);
    expect(await axeFaults(page)).toEqual([]);

    await page.goto('/office/incidents');
    await untilReady(page);
    expect(await page.locator('.office-form').first().textContent()).toMatch(
      /No names, no injuries, no treatment/,
    );
    await page.getByLabel('Where').selectOption({ label: 'bandsaw' });
    await typeInto('What happened', 'The table was left tilted');
    await page.getByText('Open: Near miss').waitFor();
    await typeInto('Closed with', 'a note on the fence');
    await page.getByText('closed: a note on the fence').waitFor();
    await untilSent(page);
    const csv = await page.request.get('/api/courses/demo/office.csv?table=incidents');
    expect(await csv.text()).toMatch(
      /bandsaw,The table was left tilted,,closed: a note on the fence,the teacher/,
    );
    await context.close();
  });

  it('gives the sessions to a calendar program under an address that can be made anew', async () => {
    const { context, page } = await openDevice(browser, served, { width: 1024, height: 768 });
    await page.goto('/office/calendar');
    await untilReady(page);
    const address = page.locator('.feed input');
    await page.getByRole('button', { name: 'Make an address' }).press('Enter');
    await address.waitFor();
    const first = await address.inputValue();
    const outside = await browser.newContext();
    const read = async (url: string) => outside.request.get(url);
    expect(await (await read(first)).text()).toMatch(/^BEGIN:VCALENDAR\r\n[\s\S]*BEGIN:VEVENT/);
    await page.getByRole('button', { name: 'Make a new address' }).press('Enter');
    await page.getByText('An older address opens nothing any more').waitFor();
    const second = await address.inputValue();
    expect(second).not.toBe(first);
    expect((await read(first)).status()).toBe(404);
    expect((await read(second)).status()).toBe(200);
    await outside.close();
    await context.close();
  });
});
