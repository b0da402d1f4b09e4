import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { judgeContext, limitsInBuild } from '../../src/course/build-sheet.ts';
import { readingOf } from '../../src/route/reading-of.ts';
import { courseState } from '../../src/server/courses/course-state.ts';
import { type ClassServer, classServer, openDevice, untilSent } from './class-server.ts';
import { sessionPage } from './page-models/session-page.ts';
import { openBrowser } from './support.ts';

/** The most that an evening may ask of a learner, on average. */
const TOUCHES_A_LEARNER = 4;
const NUMBERS_A_LEARNER = 6;

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

/** Counts what hands do. */
function counter(page: Page) {
  let touches = 0;
  let numbers = 0;
  return {
    counts: () => ({ touches, numbers }),
    touch: async (name: string | RegExp) => {
      await page.getByRole('button', { name, exact: true }).first().click();
      touches++;
    },
    /** Typing a number and the Enter that hands it in. */
    type: async (text: string) => {
      await page.keyboard.type(text);
      await page.keyboard.press('Enter');
      numbers++;
    },
  };
}

/** What a reading should be in a build, as text. */
async function nominal(build: string, id: string): Promise<string> {
  const found = await courseState(served.server().context, 'demo');
  const facts = found?.state.builds.get(build);
  const reading = found && readingOf(found.state.route, id);
  if (!found || !facts || !reading) throw new Error(`no reading ${id} in ${build}`);
  const judge = judgeContext(found.state.route, found.patternOf(facts), facts, [
    ...found.state.builds.values(),
  ]);
  const limits = limitsInBuild(judge, reading);
  return (limits.nominal ?? limits.hard.low ?? limits.hard.high ?? 45).toFixed(2);
}

/** Types the readings that a step asks, and says that it is done. */
async function workAtBench(page: Page, path: string, hands: ReturnType<typeof counter>): Promise<void> {
  const build = path.split('/').at(-1) ?? '';
  await page.goto(path);
  await page.waitForSelector('.bench[data-state="ready"]');
  const open = page.locator('.readings > .one-reading .keypad input');
  for (let left = await open.count(); left > 0; left--) {
    const field = open.first();
    const id = await field.locator('xpath=ancestor::*[@data-reading]').getAttribute('data-reading');
    await field.focus();
    await hands.type(await nominal(build, id ?? ''));
    await untilSent(page);
  }
  const done = page.getByRole('button', { name: 'Done', exact: true });
  if ((await done.count()) > 0) await hands.touch('Done');
  await untilSent(page);
}

describe('an evening of 12', () => {
  it('asks at most 4 touches and 6 typed numbers of a learner on average', async () => {
    const before = await served.server().context.events.lastArrival();
    const { page, context } = await openDevice(browser, served, { width: 1440, height: 900 });
    const hands = counter(page);
    const teacher = sessionPage(page);
    await teacher.open();
    await page.getByLabel('Humidity, %').focus();
    await hands.type('46');
    await hands.touch('All are here');
    const machines = await page.getByRole('button', { name: 'Checked', exact: true }).count();
    for (let i = 0; i < machines; i++) {
      await hands.touch('Checked');
      await untilSent(page);
    }
    await hands.touch('Open the session');
    await teacher.partShown('during');
    const links = await page.locator('.wall-cell').all();
    const paths = await Promise.all(links.map(async (l) => (await l.getAttribute('href')) ?? ''));
    expect(paths).toHaveLength(12);
    for (const path of paths) await workAtBench(page, path, hands);

    // the second half: one gesture marks a step done for several
    served.setNow(served.nowMs() + 70 * 60_000);
    await page.clock.setFixedTime(served.nowMs());
    await teacher.open();
    const groups = await page.getByRole('button', { name: /^Done for \d+$/ }).count();
    for (let i = 0; i < groups; i++) {
      await hands.touch(/^Done for \d+$/);
      await untilSent(page);
    }
    await hands.touch('Closing');
    await hands.touch('Close the session');
    await untilSent(page);

    const kept = await served.server().context.events.after(before, 10_000);
    const done = kept.filter((e) => e.kind === 'step-done');
    const { touches, numbers } = hands.counts();
    console.log(
      `an evening of 12: ${done.length} parts done, ${(touches / 12).toFixed(1)} touches and ${(numbers / 12).toFixed(1)} numbers a learner`,
    );
    expect(done.length).toBeGreaterThan(12);
    expect(new Set(done.map((e) => e.stream)).size).toBe(12);
    expect(kept.filter((e) => e.kind === 'session-closed')).toHaveLength(1);
    expect(touches / 12).toBeLessThanOrEqual(TOUCHES_A_LEARNER);
    expect(numbers / 12).toBeLessThanOrEqual(NUMBERS_A_LEARNER);
    await context.close();
  }, 300_000);
});
