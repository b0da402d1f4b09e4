import type { BrowserContext, Page } from 'playwright-core';
import type { ClassServer } from '../class-server.ts';
import { untilReady } from '../class-server.ts';

/** A learner's phone. */
export function benchPage(page: Page) {
  return {
    page,
    /** Joins the course by its code and opens the own bench page. */
    join: async (code: string, name: string) => {
      await page.goto('/session');
      await page.getByLabel('Code of the course').fill(code);
      await page.getByRole('button', { name: 'Find the course' }).click();
      await page.getByRole('button', { name: `I am ${name}`, exact: true }).click();
      const ring = page.getByRole('link', { name: `Bench page of ${name}`, exact: true });
      await page.goto((await ring.getAttribute('href')) ?? '');
      await page.waitForSelector('.bench[data-state="ready"]');
    },
    press: (name: string) => page.getByRole('button', { name, exact: true }).click(),
    step: async () => (await page.locator('.bench h1').textContent()) ?? '',
  };
}

/** Opens the page again in the same browser, as after a flat battery. */
export async function reopened(context: BrowserContext, served: ClassServer, path: string): Promise<Page> {
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  await page.clock.setFixedTime(served.nowMs());
  await page.goto(path);
  await untilReady(page);
  return page;
}
