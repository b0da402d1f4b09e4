import type { Page } from 'playwright-core';

/** The teacher's screen. */
export function sessionPage(page: Page) {
  return {
    page,
    open: async () => {
      await page.goto('/session');
      await page.waitForSelector('.session[data-state="ready"]');
      await page.getByRole('link', { name: 'Bench page of Ada', exact: true }).waitFor();
    },
    press: (name: string | RegExp) => page.getByRole('button', { name, exact: true }).first().click(),
    /** Learners can then join: a passphrase is set, the code of the course is made. */
    letJoin: async (course: string): Promise<string> => {
      await page.request.post('/api/passphrase', { data: { passphrase: 'oak and spruce and glue' } });
      const answer = await page.request.post('/api/join-codes', { data: { course } });
      return ((await answer.json()) as { code: string }).code;
    },
    partShown: (part: string) => page.waitForSelector(`.session[data-part="${part}"]`),
  };
}
