import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type ClassServer, classServer, openDevice, untilSent } from './class-server.ts';
import { axeFaults, isWiderThanScreen, listenForFaults, openBrowser } from './support.ts';

/** The planner on a slow machine. */
const SLOW = { timeout: 120_000 };

let browser: Browser;
let served: ClassServer;
beforeAll(async () => {
  browser = await openBrowser();
  served = await classServer({ demo: true });
}, 120_000);
afterAll(async () => {
  await browser.close();
  await served.close();
});

/** Opens the page and waits for the published plan. */
async function openBoard(page: Page): Promise<void> {
  await page.goto('/forecast');
  await page.waitForSelector('main[data-state="ready"] .plan-board', SLOW);
}

const movedPanel = (page: Page) => page.waitForSelector('.move-panel[data-state="moved"]', SLOW);

/** The session under whose heading a step lies. */
const sessionOf = (page: Page, step: string): Promise<string | null> =>
  page.locator(`[data-step="${step}"]`).first().locator('xpath=ancestor::td').getAttribute('data-session');

describe('the calendar', () => {
  it('moves a step by keyboard: what it breaks is shown, kept it is there after loading again, and it can be undone', async () => {
    const { context, page } = await openDevice(browser, served, { width: 1440, height: 900 });
    const faults = listenForFaults(page);
    await openBoard(page);
    const chip = page.locator('.plan-board td .chip:not(.past)').first();
    const step = (await chip.getAttribute('data-step')) ?? '';
    const before = Number(await sessionOf(page, step));
    await chip.focus();
    await page.keyboard.press('ArrowRight');
    await movedPanel(page);
    // the first work of a build holds up what follows it
    const breaks = Number(await page.locator('.move-panel').getAttribute('data-breaks'));
    expect(await page.locator('.move-panel .breaks li').count()).toBe(breaks);
    expect(await page.locator('.move-panel').textContent()).toContain(`In session ${before + 1} it`);
    await page.getByRole('button', { name: /^Keep it/ }).click();
    await untilSent(page);
    await openBoard(page);
    expect(Number(await sessionOf(page, step))).toBe(before + 1);
    await page.locator(`[data-step="${step}"].pinned`).first().click();
    await page.getByRole('button', { name: 'Take your choice back' }).click();
    await page.waitForSelector(`td[data-session="${before}"] [data-step="${step}"]`, SLOW);
    expect(faults).toEqual([]);
    await context.close();
  }, 400_000);

  it('moves a step by dragging, and leaves it where it was when that is not kept', async () => {
    const { context, page } = await openDevice(browser, served, { width: 1440, height: 1200 });
    await openBoard(page);
    const chip = page.locator('.plan-board td .chip:not(.past)').first();
    const step = (await chip.getAttribute('data-step')) ?? '';
    const before = Number(await sessionOf(page, step));
    await chip.scrollIntoViewIfNeeded();
    const from = await chip.boundingBox();
    const to = await page
      .locator(`.plan-board tbody td[data-session="${before + 1}"]`)
      .first()
      .boundingBox();
    if (!from || !to) throw new Error('nothing to drag');
    await page.mouse.move(from.x + 20, from.y + 10);
    await page.mouse.down();
    await page.mouse.move(from.x + 60, from.y + 12, { steps: 4 });
    await page.mouse.move(to.x + to.width / 2, from.y + 12, { steps: 6 });
    await page.mouse.up();
    await movedPanel(page);
    expect(await page.locator('.move-panel').textContent()).toContain(`In session ${before + 1} it`);
    await page.getByRole('button', { name: 'Leave it where it was' }).click();
    expect(Number(await sessionOf(page, step))).toBe(before);
    await context.close();
  }, 300_000);

  it('plays the course through, can be stopped, and is usable on a phone', async () => {
    const { context, page } = await openDevice(browser, served, { width: 390, height: 844 });
    await openBoard(page);
    expect(await isWiderThanScreen(page)).toBe(false);
    await page.getByRole('button', { name: 'Play the course through' }).click();
    await page.waitForSelector('main[data-state="working"]');
    await page.getByRole('button', { name: 'Stop' }).click();
    await page.waitForSelector('main[data-state="ready"]');
    expect(await page.locator('.prospects').count()).toBe(0);
    await page.getByRole('button', { name: 'Play the course through' }).click();
    await page.waitForSelector('main[data-state="done"]', SLOW);
    expect(await page.locator('.prospects > ul').first().locator('li').count()).toBe(12);
    expect(await page.locator('.fan circle').count()).toBe(20);
    for (const kind of ['one more', 'longer', 'pull forward'])
      expect(await page.locator(`.changes li[data-kind="${kind}"]`).count(), kind).toBeGreaterThan(0);
    expect(await isWiderThanScreen(page)).toBe(false);
    expect(await axeFaults(page)).toEqual([]);
    await context.close();
  }, 400_000);

  it('plans anew when a machine is out of order, says what changes, and publishes it', async () => {
    const { context, page } = await openDevice(browser, served, { width: 1024, height: 768 });
    await page.goto('/station/thickness-sander');
    await page.waitForSelector('main[data-state="ready"]');
    const { server } = served;
    const { context: inside } = server();
    await inside.events.append([
      inside.recorder.make({
        stream: 'shop:demo',
        kind: 'station-out-of-order',
        by: 'teacher',
        body: { station: 'thickness-sander', reason: 'belt torn' },
      }),
    ]);
    await openBoard(page);
    await page.getByLabel('What is out of order comes back after').waitFor();
    await page.getByRole('button', { name: 'Plan anew from now' }).click();
    await page.waitForSelector('.replan', SLOW);
    expect(await page.locator('.plan-words').textContent()).toMatch(/Over in session \d+ of \d+/);
    expect(await page.locator('.plan-words').textContent()).toContain('Taken as out of order for now');
    await page.getByRole('button', { name: 'Publish this plan' }).click();
    await untilSent(page);
    await page.waitForSelector('main[data-plan="published"]', SLOW);
    const events = await inside.events.ofStreams(['course:demo']);
    expect(events.filter((e) => e.kind === 'plan-published')).toHaveLength(2);
    await context.close();
  }, 300_000);
});
