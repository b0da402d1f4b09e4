import type { Page } from 'playwright-core';
import { untilReady } from '../class-server.ts';

/** What the thing with the focus is called, run in the page. */
const FOCUSED = `(() => {
  const at = document.activeElement;
  if (!at || at === document.body) return '';
  const label = at.labels?.[0] ?? at;
  return (at.getAttribute('aria-label') ?? '') + ' ' + (label.textContent ?? '');
})()`;

/** The page "Begin a course", used with the keyboard alone; counts the keys. */
export function beginPage(page: Page) {
  let keys = 0;
  const press = async (key: string, times = 1) => {
    for (let i = 0; i < times; i++) await page.keyboard.press(key);
    keys += times;
  };
  const type = async (text: string) => {
    await page.keyboard.type(text);
    keys += text.length;
  };
  /** Tab, or with Shift, until a field of that name has the focus. */
  const tabTo = async (name: string) => {
    for (let i = 0; i < 40; i++) {
      const here = await page.evaluate<string>(FOCUSED);
      if (here.includes(name)) return;
      await press('Tab');
    }
    throw new Error(`The Tab key never came to "${name}".`);
  };
  return {
    keys: () => keys,
    press,
    type,
    tabTo,
    /** Names out of the clipboard: one press. */
    paste: async (text: string) => {
      await page.keyboard.insertText(text);
      keys += 1;
    },
    open: async () => {
      await page.goto('/begin');
      await untilReady(page);
    },
    /** The cell that the arrows stand on. */
    cell: () => page.evaluate<string>("document.activeElement?.getAttribute('aria-label') ?? ''"),
    begun: () => page.waitForURL('**/session**'),
  };
}
