import fs from 'node:fs';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { saveRevision } from '../../src/server/patterns/patterns.service.ts';
import { type ClassServer, classServer, openDevice, untilSent } from './class-server.ts';
import { buildsPage } from './page-models/builds-page.ts';
import { axeFaults, openBrowser } from './support.ts';

/** A picture of one dot. */
const DOT = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNkYPhfDwAChwGA60e6kgAAAABJRU5ErkJggg==',
  'base64',
);

let browser: Browser;
let served: ClassServer;
beforeAll(async () => {
  browser = await openBrowser();
  served = await classServer({ demo: true });
  const text = fs.readFileSync('data/patterns/small-steel-string.yaml', 'utf8');
  const changed = text.replace(
    /(binding:[\s\S]*?height:\s*)([\d.]+)/,
    (_, before, n) => `${before}${Number(n) + 0.5}`,
  );
  expect(changed).not.toBe(text);
  const revision = { text: changed, parent: null, note: 'higher binding' };
  await saveRevision(served.server().context, 'small-steel-string', revision, 'teacher');
});
afterAll(async () => {
  await browser.close();
  await served.close();
});

describe('builds', () => {
  it('takes choice, note, photo and taking back on a phone, by keyboard', async () => {
    const { page } = await openDevice(browser, served, { width: 390, height: 844 });
    const builds = buildsPage(page);
    await builds.open('/builds');
    expect(await builds.names()).toHaveLength(12);
    expect(await axeFaults(page)).toEqual([]);
    await builds.open('/builds/b3');
    expect(await builds.choice('handedness')).toContain('can no longer be changed in this build');
    await builds.openFold('Choose binding');
    await builds.typeInto('Binding height', '7.5');
    await builds.says('figures change.');
    await builds.press('Enter');
    await builds.says('Kept.');
    expect(await builds.choice('binding')).toContain('Own:');
    expect(await builds.history()).toContain('Own choice: Binding height 7.5 mm');
    await builds.typeInto('Note about this build', 'A knot under the bridge');
    await builds.press('Enter');
    await builds.says('A knot under the bridge');
    await builds.addPhoto(DOT);
    expect(await builds.photoWidth()).toBe(1);
    await untilSent(page);
    await builds.pressOn('button', 'Take back: Note: A knot under the bridge');
    await builds.pressOn('button', 'Take it back');
    await builds.says('(taken back)');
    expect(await builds.section('Repairs and notes')).not.toContain('A knot');
    expect(await axeFaults(page)).toEqual([]);
  }, 120_000);

  it('compares two builds: what was read, what the figures say, and the whole tops, on a phone by keyboard', async () => {
    const { page, context } = await openDevice(browser, served, { width: 390, height: 844 });
    const builds = buildsPage(page);
    await builds.open('/builds');
    await builds.pressOn('link', 'Compare two builds');
    await page.getByLabel('First').selectOption('b4');
    await page.getByLabel('Second').selectOption('b3');
    await builds.says('further apart than half of what');
    const sizes = await builds.section('Sizes and fits');
    expect(sizes).toMatch(/4 Dario2\.[78]\d? mm[\s\S]*3 Clara2\.5\d mm[\s\S]*both cannot lie inside/);
    expect(await page.locator('main section h2').nth(1).textContent()).toContain('Sizes and fits');
    const cause = page.locator('[data-cause="top.thickness.final"]');
    expect(await cause.textContent()).toMatch(/Slope of the bridge by the beam rule: [\d.]+° more/);
    expect(await axeFaults(page)).toEqual([]);
    await builds.pressOn('button', 'Compute both tops as whole plates');
    await page.waitForSelector('.whole-tops[data-state="done"]', { timeout: 90_000 });
    const tops = await page.locator('.whole-tops li').allInnerTexts();
    expect(tops[0]).toMatch(/^4 Dario\s+[\d.]+°$/);
    expect(tops[1]).toMatch(/^3 Clara\s+[\d.]+° \(\+[\d.]+°\)$/);
    await builds.pressOn('button', 'Swap');
    await builds.says(/0\.2\d mm more/);
    expect(await axeFaults(page)).toEqual([]);
    await context.close();
  }, 150_000);

  it('shows what a newer revision touches and applies it to the build that was ticked', async () => {
    const { page } = await openDevice(browser, served, { width: 1024, height: 768 });
    const builds = buildsPage(page);
    await builds.open('/builds');
    await builds.pressOn('link', 'Look what it touches');
    await builds.says('Build by build');
    expect(await builds.section('Numbers')).toContain('Binding height');
    const all = await builds.builds();
    expect(all).toHaveLength(12);
    expect(all.every((b) => /Free|Doubtful|Frozen/.test(b))).toBe(true);
    for (const name of all.slice(1)) await builds.pressOn('checkbox', name.split('\n')[0] as string, 'Space');
    await builds.typeInto('Why, kept with each build', 'looks better');
    await builds.pressOn('button', 'Apply to 1 build');
    await builds.says('Applied to 1 build.');
    await untilSent(page);
    expect(await builds.builds()).toHaveLength(11);
    const kept = await served.server().context.events.ofStreams(['build:b1']);
    expect(kept.filter((e) => e.kind === 'pattern-applied').map((e) => e.body)).toMatchObject([
      { reason: 'looks better' },
    ]);
    await builds.open('/builds/b1');
    expect(await builds.history()).toContain('Pattern applied');
  }, 120_000);
});
