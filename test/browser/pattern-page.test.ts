import fs from 'node:fs';
import type { Browser, BrowserContext, BrowserContextOptions } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { type PatternPageModel, patternPage } from './page-models/pattern-page.ts';
import {
  axeFaults,
  isWiderThanScreen,
  listenForFaults,
  openBrowser,
  type ServedPage,
  servePageOnly,
  serveWhole,
} from './support.ts';

const STEEL = 'small-steel-string';
const DESK = { viewport: { width: 1440, height: 900 } } as const;

let browser: Browser;
const opened: { context?: BrowserContext; server?: ServedPage }[] = [];

beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(() => browser.close());
afterEach(async () => {
  for (const { context, server } of opened.splice(0)) {
    await context?.close();
    await server?.close();
  }
});

async function newPage(server: ServedPage, options: BrowserContextOptions = DESK): Promise<PatternPageModel> {
  const context = await browser.newContext(options);
  opened.push({ context });
  return patternPage(await context.newPage(), server.address);
}

async function served(make: () => Promise<ServedPage>): Promise<ServedPage> {
  const server = await make();
  opened.push({ server });
  return server;
}

// the machine may be busy with other work: a walk may take long, it never waits for a time
const PATIENT = { timeout: 90_000 } as const;

describe('pattern page', PATIENT, () => {
  it('computes in the browser: a typed number, its rule, the place in the drawing, the number that mends it, undo', async () => {
    const model = await newPage(await served(serveWhole));
    const faults = listenForFaults(model.page);
    await model.open(STEEL);
    await model.page.locator('.rules-panel .hd', { hasText: '0 broken' }).waitFor({ state: 'detached' });
    await model.type('brace.x.crossing_y', '219');
    expect(await model.number('brace.x.clear_of_hole')).toBe('4.22');
    expect(await model.verdict('brace-x-clear-of-hole')).toBe('broken');
    await model.lookAt('brace-x-clear-of-hole');
    expect(await model.litKeys()).toContain('brace.x');
    await model.rule('brace-x-clear-of-hole').locator('[data-mend="brace.x.crossing_y"]').click();
    await model.settled();
    expect(await model.verdict('brace-x-clear-of-hole')).toBe('met');
    expect(await model.number('brace.x.crossing_y')).toBe('221.5');
    await model.press('Undo');
    expect(await model.number('brace.x.crossing_y')).toBe('219.0');
    await model.press('Redo');
    expect(await model.number('brace.x.crossing_y')).toBe('221.5');
    expect(faults).toEqual([]);
  });

  it('shows why a number is what it is, down to what was typed and the sources', async () => {
    const model = await newPage(await served(serveWhole));
    await model.open(STEEL);
    const tree = await model.why('brace.x.clear_of_hole');
    const words = await tree.textContent();
    expect(words).toContain('sin(half the opening angle)');
    expect(words).toContain('plane-geometry');
    expect(words).toContain('X crossing from the neck end');
    expect(words).toContain('Rests on');
  });

  it('reads any notation and answers a slip in one sentence, nothing typed is lost', async () => {
    const model = await newPage(await served(serveWhole));
    await model.open(STEEL);
    await model.type('body.length', '18 7/8');
    expect(await model.number('body.length')).toBe('479.4');
    await model.page.locator('[data-edit="top.thickness.final"]').click();
    await model.field('top.thickness.final').fill('28');
    await model.field('top.thickness.final').press('Enter');
    expect(await model.says('top.thickness.final')).toContain('2.8 mm');
    expect(await model.field('top.thickness.final').inputValue()).toBe('28');
    await model.field('top.thickness.final').fill('.110');
    await model.field('top.thickness.final').press('Enter');
    await model.page.getByRole('button', { name: '0.110 in' }).click();
    await model.settled();
    expect(await model.number('top.thickness.final')).toBe('2.79');
    await model.page.getByRole('button', { name: 'Ends of the top bars' }).click();
    await model.type('brace.bars.TB1.to.y', '17 in');
    expect(await model.number('brace.bars.TB1.to.y')).toBe('431.8');
    expect(Number(await model.grip('brace.bars.TB1').getAttribute('aria-valuenow'))).toBe(
      (309.2 + 431.8) / 2,
    );
  });

  it('drags bout, crossing and bar without asking the server; arrow keys do the same', async () => {
    const model = await newPage(await served(serveWhole));
    let askedLastMs = Date.now();
    model.page.on('request', () => {
      askedLastMs = Date.now();
    });
    await model.open(STEEL);
    // the frame catches up with the record after the page is there; the drags begin when it has
    await expect.poll(() => Date.now() - askedLastMs > 2000, { timeout: 30_000 }).toBe(true);
    const asked: string[] = [];
    model.page.on('request', (request) => asked.push(request.url()));
    await model.drag('body.lower_bout.width', 12, 0);
    expect(Number(await model.number('body.lower_bout.width'))).toBeGreaterThan(375);
    expect(Number(await model.number('outline.area'))).toBeGreaterThan(1347);
    await model.drag('brace.x.crossing_y', 0, -6);
    expect(Number(await model.number('brace.x.crossing_y'))).toBeLessThan(224);
    expect(asked.filter((url) => !url.endsWith('/api/patterns'))).toEqual([]);
    const before = Number(await model.number('hole.centre_y'));
    await model.grip('hole.centre_y').press('ArrowDown');
    await model.settled();
    expect(Number(await model.number('hole.centre_y'))).toBe(before + 0.5);
    const bar = model.grip('brace.bars.TB1');
    const from = Number(await bar.getAttribute('aria-valuenow'));
    await bar.press('Shift+ArrowDown');
    await model.settled();
    expect(Number(await bar.getAttribute('aria-valuenow'))).toBeGreaterThan(from + 4.4);
    await model.press('Undo');
    expect(Number(await bar.getAttribute('aria-valuenow'))).toBe(from);
  });

  it('keeps the draft over a reload, makes a revision with a note, shows the last one as ghost', async () => {
    const model = await newPage(await served(serveWhole));
    await model.open(STEEL);
    await model.type('body.lower_bout.width', '376');
    expect(await model.page.locator('.ents path.ly-ghost').count()).toBeGreaterThan(0);
    await model.open(STEEL);
    expect(await model.number('body.lower_bout.width')).toBe('376.0');
    await model.makeRevision('Wider below, for the mould we have');
    await model.page.locator('.sub', { hasText: 'No value typed since revision 2' }).waitFor();
    await model.page.getByRole('button', { name: 'History' }).click();
    const dialog = model.page.getByRole('dialog');
    expect(await dialog.textContent()).toContain('Wider below, for the mould we have');
    await dialog.getByRole('button', { name: 'Compare with revision 1' }).click();
    await dialog.getByRole('button', { name: 'Close the history' }).click();
    await model.page.locator('.ents path.ly-ghost').first().waitFor({ state: 'attached' });
    await model.open(STEEL);
    expect(await model.number('body.lower_bout.width')).toBe('376.0');
  });

  it('keeps two revisions made from one and asks which to go on with', async () => {
    const server = await served(serveWhole);
    const [first, second] = [await newPage(server), await newPage(server)];
    await first.open(STEEL);
    await second.open(STEEL);
    await first.type('hole.radius', '50');
    await second.type('hole.radius', '48');
    await first.makeRevision('first');
    await first.page.locator('.sub', { hasText: 'since revision 2' }).waitFor();
    await second.makeRevision('second');
    await second.page.getByRole('button', { name: 'Go on with the other one' }).click();
    await second.settled();
    await second.page.getByRole('dialog').waitFor({ state: 'detached' });
    const within = { timeout: 20_000 };
    await expect.poll(() => second.number('hole.radius'), within).toBe('50.0');
    await second.page.getByRole('button', { name: 'History' }).click();
    const history = second.page.getByRole('dialog');
    await expect.poll(() => history.textContent(), within).toContain('first');
    await expect.poll(() => history.textContent(), within).toContain('second');
  });

  it('works with the network cut and sends what was made when it is back', async () => {
    const model = await newPage(await served(serveWhole));
    await model.open(STEEL);
    await model.page.context().setOffline(true);
    await model.type('hole.radius', '50');
    expect(await model.number('hole.diameter')).toBe('100.0');
    await model.makeRevision('made in the shed');
    await model.keptWords().filter({ hasText: 'Kept, 1 to send' }).waitFor();
    await model.page.context().setOffline(false);
    await model.keptWords().filter({ hasText: 'Kept and sent' }).waitFor();
    await model.open(STEEL);
    expect(await model.number('hole.radius')).toBe('50.0');
  });

  it('shows the bundled patterns when there is no server at all, under the strictest policy', async () => {
    const model = await newPage(await served(servePageOnly));
    const faults = listenForFaults(model.page);
    for (const id of [STEEL, 'nylon-string', 'tenor-ukulele']) {
      await model.open(id);
      expect(await model.page.locator('[data-verdict="broken"]').count()).toBe(0);
    }
    await model.page.getByRole('link', { name: 'Pattern', exact: true }).click();
    await model.page.locator('main[data-state=ready] .patterns').waitFor();
    expect(await model.page.locator('.psheet').count()).toBe(3);
    expect(faults).toEqual([]);
  });

  it('mirrors what has to be mirrored for a left-handed instrument and seen from inside', async () => {
    const model = await newPage(await served(serveWhole));
    await model.open(STEEL);
    const treble = model.page.locator('.ents text', { hasText: /^TREBLE$/ });
    const right = Number(await treble.getAttribute('x'));
    await model.press('left-handed');
    expect(Number(await treble.getAttribute('x'))).toBeLessThan(0);
    await model.press('Inside, mirrored');
    expect(Number(await treble.getAttribute('x'))).toBeGreaterThan(0);
    await model.press('right-handed');
    expect(Number(await treble.getAttribute('x'))).toBeLessThan(0);
    expect(right).toBeGreaterThan(0);
    const width = Number(await model.number('body.lower_bout.width'));
    await model.drag('body.lower_bout.width', -10, 0);
    expect(Number(await model.number('body.lower_bout.width'))).toBeGreaterThan(width);
  });

  it('shows every listed drawing, and says it when impossible numbers give nothing to draw', async () => {
    const model = await newPage(await served(serveWhole));
    const faults = listenForFaults(model.page);
    await model.open(STEEL);
    const pick = model.page.getByLabel('Other drawings');
    const others = await pick
      .locator('option')
      .evaluateAll((all) => all.map((o) => o.getAttribute('value') ?? ''));
    for (const id of others.filter((value) => value !== '')) {
      await pick.selectOption(id);
      await model.page.locator('.dview[data-state=drawn]').waitFor();
      expect(await model.page.locator('.ents path').count(), id).toBeGreaterThan(3);
    }
    await model.press('Front');
    await model.type('body.waist.width', '300');
    const blocked = model.page.locator('[data-verdict="blocked"]').first();
    expect(await blocked.textContent()).toContain('make the waist narrower');
    await pick.selectOption('side-strip');
    expect(await model.page.locator('.ents text').first().textContent()).toBeTruthy();
    await model.press('Undo');
    expect(await blocked.count()).toBe(0);
    expect(faults).toEqual([]);
  });

  it('hands the drawing out as SVG and DXF in mm', async () => {
    const model = await newPage(await served(serveWhole));
    await model.open(STEEL);
    await model.page.getByText('Take out').click();
    const files = await Promise.all(
      ['This drawing as SVG, mm', 'This drawing as DXF, mm'].map(async (name, index) => {
        if (index > 0) await model.page.getByText('.svg', { exact: false }).first().waitFor();
        const coming = model.page.waitForEvent('download');
        await model.page.getByRole('button', { name }).click();
        const download = await coming;
        return fs.readFileSync(await download.path(), 'utf8');
      }),
    );
    expect(files[0]).toMatch(/<svg[^>]+width="[\d.]+mm"/);
    expect(files[1]).toContain('SPLINE');
  });

  it('shows inches large when asked', async () => {
    const model = await newPage(await served(serveWhole));
    await model.open(STEEL);
    await model.press('in');
    expect(await model.number('hole.diameter')).toBe('355/64');
    await model.type('hole.radius', '2');
    expect(await model.number('hole.diameter')).toBe('4');
  });
});

describe('pattern page on every screen', PATIENT, () => {
  // everything once at the desk and once on a phone; other colours and sizes are in test/more
  const screens = [
    { name: 'desk, light', options: { ...DESK, colorScheme: 'light' }, but: ['target-size'] },
    {
      name: 'phone',
      options: { viewport: { width: 390, height: 844 }, hasTouch: true },
      but: ['color-contrast'],
    },
  ] as const;

  it.each(screens)(
    '$name: axe finds nothing and nothing is wider than the screen',
    async ({ options, but }) => {
      const model = await newPage(await served(serveWhole), options);
      await model.open(STEEL);
      await model.type('brace.x.crossing_y', '219');
      await model.why('brace.x.clear_of_hole');
      expect(await axeFaults(model.page, { but })).toEqual([]);
      expect(await isWiderThanScreen(model.page)).toBe(false);
      await model.lookAt('brace-x-clear-of-hole');
      await model.rule('brace-x-clear-of-hole').locator('[data-mend]').waitFor();
      expect(await axeFaults(model.page, { within: '.c-side', but })).toEqual([]);
      expect(await isWiderThanScreen(model.page)).toBe(false);
    },
    90_000,
  );

  it('can be used by keyboard alone from the first key', async () => {
    const model = await newPage(await served(serveWhole));
    await model.open(STEEL);
    await model.page.keyboard.press('Tab');
    expect(await model.page.locator(':focus').textContent()).toBe('Go to the page');
    await model.page.locator('[data-edit="hole.radius"]').focus();
    await model.page.keyboard.press('Enter');
    await model.page.keyboard.type('50');
    await model.page.keyboard.press('Enter');
    await model.settled();
    expect(await model.number('hole.radius')).toBe('50.0');
    expect(await model.page.locator(':focus').getAttribute('data-edit')).toBe('hole.radius');
    await model.page.keyboard.press('Control+z');
    await model.settled();
    expect(await model.number('hole.radius')).toBe('49.0');
  });
});

describe('pattern page without the server', PATIENT, () => {
  it('opens again, with its draft, after the server has gone', async () => {
    const server = await servePageOnly();
    const model = await newPage(server);
    await model.open(STEEL);
    await model.page.evaluate('navigator.serviceWorker.ready');
    await model.type('hole.radius', '50');
    await server.close();
    await model.open(STEEL);
    expect(await model.number('hole.radius')).toBe('50.0');
    await model.open('tenor-ukulele');
    expect(await model.page.locator('h1').textContent()).toBe('Tenor ukulele');
  });
});
