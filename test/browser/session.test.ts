import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type ClassServer, classServer, openDevice, untilSent } from './class-server.ts';
import { benchPage, reopened } from './page-models/bench-page.ts';
import { sessionPage } from './page-models/session-page.ts';
import { openBrowser } from './support.ts';

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

const eventsOf = async (kind: string, sinceArrival: number) =>
  (await served.server().context.events.after(sinceArrival, 10_000)).filter((e) => e.kind === kind);

describe('a session with three devices', () => {
  it('goes on while the network is cut and the server stopped; afterwards everything is there, once', async () => {
    const before = await served.server().context.events.lastArrival();
    const desk = await openDevice(browser, served, { width: 1440, height: 900 });
    const teacher = sessionPage(desk.page);
    await teacher.open();
    const code = await teacher.letJoin('demo');
    await teacher.press('All are here');
    await teacher.press('Open the session');
    await teacher.partShown('during');

    const phones = await Promise.all(
      ['Ada', 'Bruno'].map(async (name) => {
        const device = await openDevice(browser, served, { width: 390, height: 844 });
        const bench = benchPage(device.page);
        await bench.join(code, name);
        return { ...device, bench };
      }),
    );
    const [ada, bruno] = phones;
    if (!ada || !bruno) throw new Error('two phones are needed');
    await ada.bench.press('Start');
    await ada.page.getByRole('button', { name: 'Start', exact: true }).waitFor({ state: 'detached' });
    await untilSent(ada.page);

    // the plug is pulled: one phone by its own switch, the others because nobody answers
    await ada.context.setOffline(true);
    await served.stop();
    const benchPath = new URL(ada.page.url()).pathname;
    await ada.bench.press('Done');
    await bruno.bench.press('Ask for the teacher');
    await teacher.press('Note a near miss');
    for (const page of [ada.page, bruno.page, desk.page])
      await page.waitForSelector('.kept[data-state="unsent"]');
    // the browser of one phone is killed with something still to send
    await ada.page.close();

    await served.start();
    await ada.context.setOffline(false);
    const again = await reopened(ada.context, served, benchPath);
    for (const page of [again, bruno.page, desk.page]) await untilSent(page);
    await desk.page.getByText('2 Bruno asks for you').waitFor();

    expect(await eventsOf('session-opened', before)).toHaveLength(1);
    expect(await eventsOf('present', before)).toHaveLength(12);
    expect(await eventsOf('step-started', before)).toHaveLength(1);
    const done = await eventsOf('step-done', before);
    expect(done).toHaveLength(1);
    expect(`build:${benchPath.split('/').at(-1)}`).toBe(done[0]?.stream);
    expect(done[0]?.by).not.toBe('teacher');
    expect(await eventsOf('help-asked', before)).toHaveLength(1);
    expect(await eventsOf('incident', before)).toHaveLength(1);
    const ids = (await served.server().context.events.all()).map((e) => e.id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const { context } of [desk, ada, bruno]) await context.close();
  }, 240_000);
});
