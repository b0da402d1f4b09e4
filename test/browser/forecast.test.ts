import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type ClassServer, classServer, openDevice, untilSent } from './class-server.ts';
import { listenForFaults, openBrowser } from './support.ts';

/** The planner works beside six other things on a small machine. */
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
});
