import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { judgeContext, limitsInBuild } from '../../src/course/build-sheet.ts';
import { sessionOfPaper, sessionSheet } from '../../src/course/session-sheet.ts';
import { courseState } from '../../src/server/courses/course-state.ts';
import { type ClassServer, classServer, openDevice, untilSent } from './class-server.ts';
import { sessionPage } from './page-models/session-page.ts';
import { axeFaults, isWiderThanScreen, openBrowser } from './support.ts';

/** A slow typist: 150 keys a minute, five minutes. @source from memory */
const KEYS_IN_FIVE_MINUTES = 750;

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

/** What stands on the paper of the demo's session, cell by cell, with a number for each reading. */
async function writtenCells() {
  const found = await courseState(served.server().context, 'demo');
  const session = found && sessionOfPaper(found.state, served.nowMs());
  if (!found || !session) throw new Error('the demo has no session');
  const { state, patternOf } = found;
  return sessionSheet(state, session).rows.flatMap((row) => {
    const facts = state.builds.get(row.build);
    if (!facts) return [];
    const judge = judgeContext(state.route, patternOf(facts), facts, [...state.builds.values()]);
    const cells = row.steps.flatMap((step, i) => [
      i === 0 ? 'x' : '',
      ...(step.rests ? [i === 0 ? '1930' : ''] : []),
      ...step.readings.map((r) => {
        const limits = limitsInBuild(judge, r);
        const value = limits.nominal ?? limits.hard.low ?? limits.hard.high;
        return i === 0 && value !== undefined ? value.toFixed(1) : '';
      }),
      ...(step.sign === undefined ? [] : ['']),
    ]);
    return ['x', ...cells];
  });
}

describe('a paper evening', () => {
  it('is typed back for 12 learners by keyboard in less keys than five minutes have; a slip is marked and does not stop', async () => {
    const cells = await writtenCells();
    const before = await served.server().context.events.lastArrival();
    const { page, context } = await openDevice(browser, served, { width: 1440, height: 900 });
    const teacher = sessionPage(page);
    await teacher.open();
    await page.goto('/paper');
    await page.waitForSelector('.paper[data-state="ready"]');
    await page.getByLabel('1 Ada: here').focus();
    let keys = 0;
    for (const [i, cell] of cells.entries()) {
      const text = i === 1 ? 'q' : cell;
      await page.keyboard.type(text);
      await page.keyboard.press('Enter');
      keys += text.length + 1;
    }
    expect(keys).toBeLessThan(KEYS_IN_FIVE_MINUTES);
    console.log(`paper evening, 12 learners: ${cells.length} cells, ${keys} keys`);
    const wrong = page.locator('input[aria-invalid="true"]');
    expect(await page.locator('.says.bad').allTextContents()).toEqual(
      expect.arrayContaining([expect.stringMatching(/"q" is neither x nor n/)]),
    );
    expect(await wrong.count()).toBeGreaterThan(0);
    expect(await page.evaluate<string>('document.activeElement?.textContent ?? ""')).toMatch(
      /^Keep \d+ entries/,
    );
    await page.keyboard.press('Enter');
    await page.getByText(/\d+ entries kept/).waitFor();
    await untilSent(page);
    const kept = await served.server().context.events.after(before, 10_000);
    expect(kept.filter((e) => e.kind === 'present')).toHaveLength(12);
    const steps = kept.filter((e) => e.kind === 'step-done').length;
    expect(steps).toBeGreaterThan(6);
    expect(await page.getByLabel('1 Ada: here').inputValue()).toBe('');
    await context.close();
  }, 240_000);
});

describe('pages of a class', () => {
  it('break no rule of accessibility on a phone, and none is wider than a phone or a desk', async () => {
    const { page, context } = await openDevice(browser, served, { width: 390, height: 900 });
    await sessionPage(page).open();
    const bench = await page
      .getByRole('link', { name: 'Bench page of Ada', exact: true })
      .getAttribute('href');
    const paths = ['/session', '/begin', '/paper', '/station/thickness-sander', '/card/none', bench ?? ''];
    for (const path of paths) {
      await page.goto(path);
      await page.waitForSelector('main[data-state="ready"], main[data-state="empty"]');
      expect(await axeFaults(page), path).toEqual([]);
      expect(await isWiderThanScreen(page), `${path} scrolls sideways`).toBe(false);
      await page.setViewportSize({ width: 1440, height: 900 });
      expect(await isWiderThanScreen(page), `${path} scrolls sideways at a desk`).toBe(false);
      // the session is the one page that is laid out otherwise there
      if (path === '/session') expect(await axeFaults(page), `${path} at a desk`).toEqual([]);
      await page.setViewportSize({ width: 390, height: 900 });
    }
    await context.close();
  }, 240_000);
});
