import type { Locator, Page } from 'playwright-core';
import { untilReady } from '../class-server.ts';

const wordsOf = async (place: Locator): Promise<string> => (await place.textContent()) ?? '';

/** What a person does on the pages of builds, by keyboard. */
export function buildsPage(page: Page) {
  /** Puts the focus where a person would tab to and presses a key there. */
  const pressOn = async (role: 'button' | 'link' | 'checkbox', name: string | RegExp, key = 'Enter') => {
    const target = page.getByRole(role, { name }).first();
    await target.focus();
    await page.keyboard.press(key);
  };
  return {
    async open(address: string) {
      await page.goto(address);
      await untilReady(page);
    },
    pressOn,
    /** Names of the builds, as they stand. */
    names: () => page.locator('.build-row .nm').allInnerTexts(),
    async openFold(words: string) {
      await page.locator('summary', { hasText: words }).first().focus();
      await page.keyboard.press('Enter');
    },
    async typeInto(label: string, words: string) {
      await page.getByLabel(label).first().focus();
      await page.keyboard.press('ControlOrMeta+a');
      await page.keyboard.type(words);
    },
    press: (key: string) => page.keyboard.press(key),
    /** Words of one choice. */
    choice: (id: string) => wordsOf(page.locator(`[data-choice="${id}"]`)),
    section: (heading: string) => wordsOf(page.locator('section', { hasText: heading }).first()),
    history: () => wordsOf(page.locator('.history')),
    says: (words: string | RegExp) => page.getByText(words).first().waitFor(),
    /** Hands a file to the field as the phone's camera would. */
    async addPhoto(bytes: Buffer) {
      await page
        .locator('input[type="file"]')
        .setInputFiles({ name: 'inside.png', mimeType: 'image/png', buffer: bytes });
      await page.locator('.photos img').waitFor();
    },
    photoWidth: () =>
      page
        .locator('.photos img')
        .first()
        .evaluate(async (element) => {
          const image = element as unknown as { decode(): Promise<void>; readonly naturalWidth: number };
          await image.decode();
          return image.naturalWidth;
        }),
    builds: () => page.locator('.touched li').allInnerTexts(),
  };
}
