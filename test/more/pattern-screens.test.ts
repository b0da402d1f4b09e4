import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { patternPage } from '../browser/page-models/pattern-page.ts';
import {
  axeFaults,
  isWiderThanScreen,
  openBrowser,
  type ServedPage,
  serveWhole,
} from '../browser/support.ts';

let browser: Browser;
let server: ServedPage;
beforeAll(async () => {
  browser = await openBrowser();
  server = await serveWhole();
});
afterAll(async () => {
  await browser.close();
  await server.close();
});

// what depends on colours and sizes; the whole of axe runs in the page's own walk
const rules = ['color-contrast', 'target-size'];
const screens = [
  { name: 'desk, dark', options: { viewport: { width: 1440, height: 900 }, colorScheme: 'dark' } },
  { name: 'tablet', options: { viewport: { width: 1024, height: 768 }, hasTouch: true } },
  {
    name: 'small phone, dark',
    options: { viewport: { width: 360, height: 740 }, colorScheme: 'dark', hasTouch: true },
  },
] as const;

it.each(screens)(
  'the pattern page on $name: colours and sizes, and nothing wider than the screen',
  async ({ options }) => {
    const context = await browser.newContext(options);
    const model = patternPage(await context.newPage(), server.address);
    await model.open('small-steel-string');
    await model.type('brace.x.crossing_y', '219');
    await model.why('brace.x.clear_of_hole');
    expect(await axeFaults(model.page, { rules })).toEqual([]);
    expect(await isWiderThanScreen(model.page)).toBe(false);
    await context.close();
  },
);
