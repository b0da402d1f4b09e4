import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expectClose } from '../support/expect-close.ts';
import { type ClassServer, classServer, openDevice, untilReady, untilSent } from './class-server.ts';
import { beginPage } from './page-models/begin-page.ts';
import { openBrowser } from './support.ts';

const NAMES = ['Ada', 'Bo', 'Cleo', 'Dag', 'Eike', 'Fenna', 'Gus', 'Hanne', 'Iris', 'Jorn', 'Kim', 'Lou'];
/** A slow typist: 150 keys a minute, five minutes. @source from memory */
const KEYS_IN_FIVE_MINUTES = 750;

let browser: Browser;
let served: ClassServer;
beforeAll(async () => {
  browser = await openBrowser();
  served = await classServer();
});
afterAll(async () => {
  await browser.close();
  await served.close();
});

describe('begin in the middle', () => {
  it('takes 12 learners in inches by keyboard alone in less keys than five minutes have', async () => {
    const { page } = await openDevice(browser, served, { width: 1440, height: 900 });
    const begin = beginPage(page);
    await begin.open();
    await begin.tabTo('Name of the course');
    await begin.type('Monday evening');
    await begin.tabTo('First names');
    await begin.paste(NAMES.join('\n'));
    await begin.tabTo('All have agreed');
    await begin.press('Space');
    await begin.tabTo('Scale length');
    await begin.type('24 29/32');
    await begin.tabTo('Lower bout');
    await begin.type('14 5/8');
    await begin.tabTo('Top, final');
    await begin.type('.110');
    await begin.tabTo('Everybody, Wood in hand');
    // everybody has the ring in; two are further, one is behind
    await begin.press('ArrowRight', 2);
    expect(await begin.cell()).toBe('Everybody, Ring in: not done');
    await begin.press('Enter');
    await begin.press('ArrowDown', 1);
    await begin.press('ArrowRight', 3);
    await begin.press('Enter');
    expect(await begin.cell()).toBe('Ada, Sides bent: done');
    await begin.press('ArrowDown', 1);
    await begin.press('Enter');
    await begin.press('ArrowDown', 10);
    await begin.press('ArrowLeft', 3);
    await begin.press('Enter');
    expect(await begin.cell()).toBe('Lou, Ring in: not done');
    await begin.tabTo('Add what is in clamps');
    await begin.press('Enter');
    await begin.tabTo('Strip 1, typed');
    for (const number of ['.120', '.140', '.160']) {
      await begin.type(number);
      await begin.press('Tab');
    }
    for (const number of ['.123', '.1425', '.162']) {
      await begin.type(number);
      await begin.press('Tab');
    }
    await begin.press('Enter');
    await begin.tabTo('Jig 1: the size');
    await begin.type('2');
    await begin.tabTo('Begin with 12 learners');
    await begin.press('Enter');
    await begin.begun();
    await untilReady(page);
    await untilSent(page);
    expect(begin.keys()).toBeLessThan(KEYS_IN_FIVE_MINUTES);
    console.log(`begin in the middle, 12 learners: ${begin.keys()} keys`);

    expect(await page.locator('.wall-cell').count()).toBe(12);
    const { context } = served.server();
    const all = await context.events.all();
    const of = (kind: string) => all.filter((e) => e.kind === kind);
    expect(of('course-set-up')).toHaveLength(1);
    expect(of('learner-added')).toHaveLength(12);
    expect(of('done-before-record')).toHaveLength(12);
    expect(of('put-in-clamps')).toHaveLength(1);
    expect(of('station-proved')).toHaveLength(1);
    const people = await context.people.all();
    expect(people.map((p) => p.name)).toEqual(expect.arrayContaining(NAMES));
    expect(people.every((p) => p.machines.answer === 'yes')).toBe(true);
    const { patternText, mine } = await ownPattern(all);
    expect(patternText).toContain('24 29/32 in');
    expect(mine).toEqual(
      expect.arrayContaining(['scale.length', 'body.lower_bout.width', 'top.thickness.final']),
    );
    expect(Object.keys(Object.fromEntries(await context.sessions.joinCodes()))).toHaveLength(1);
    const [setUp] = of('course-set-up').map(
      (e) => e.body as { sessions: { startMs: number; endMs: number }[] },
    );
    const first = setUp?.sessions ?? [];
    expect(first).toHaveLength(30);
    expectClose(((first[0]?.endMs ?? 0) - (first[0]?.startMs ?? 0)) / 60_000, 150, {
      tol: 1e-9,
      source: 'arithmetic: the length that stands in the form',
    });
    await page.close();
  });

  it('says in one sentence what is wrong, keeps what was typed, and sends nothing', async () => {
    const before = (await served.server().context.people.all()).length;
    const { page } = await openDevice(browser, served, { width: 390, height: 844 });
    const begin = beginPage(page);
    await begin.open();
    await page.getByLabel('First names').fill('Ada\nBo\nada');
    await page.waitForSelector('.says.bad');
    expect(await page.locator('#names-say').textContent()).toMatch(/"ada" stands there twice/i);
    await page.getByLabel('First names').fill('Ada\nBo');
    await page.getByLabel('Minutes').fill('15');
    await page.getByRole('button', { name: 'Begin with 2 learners' }).click();
    expect(await page.getByRole('alert').textContent()).toMatch(/"15".*between 30 and 600/);
    await page.reload();
    await untilReady(page);
    expect(await page.getByLabel('First names').inputValue()).toBe('Ada\nBo');
    expect((await served.server().context.people.all()).length).toBe(before);
    await page.close();
  });
});

/** The text of the revision the course follows, and whose numbers are the teacher's own. */
async function ownPattern(events: readonly { readonly kind: string; readonly body: unknown }[]) {
  const { readPattern } = await import('../../src/pattern/pattern-file.ts');
  const body = (kind: string) =>
    events.filter((e) => e.kind === kind).map((e) => e.body as Record<string, string>);
  const revision = body('revision-made').find((b) => b['what'] === 'pattern');
  expect(body('course-set-up')[0]?.['pattern']).toBe(revision?.['revision']);
  const patternText = revision?.['text'] ?? '';
  return { patternText, mine: [...readPattern(patternText).mine] };
}
