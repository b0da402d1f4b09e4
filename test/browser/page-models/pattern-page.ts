import type { Locator, Page } from 'playwright-core';

/** The pattern page as a person uses it. Nothing here waits for a time: only for states the page names. */
export interface PatternPageModel {
  readonly page: Page;
  open(patternId: string): Promise<void>;
  /** Everything is computed and nothing is dragged. */
  settled(): Promise<void>;
  number(id: string): Promise<string>;
  /** Types into a number in place and leaves with Enter. */
  type(id: string, text: string): Promise<void>;
  field(id: string): Locator;
  /** What the field under a wrong entry says. */
  says(id: string): Promise<string>;
  rule(id: string): Locator;
  verdict(id: string): Promise<string | null>;
  lookAt(ruleId: string): Promise<void>;
  litKeys(): Promise<readonly string[]>;
  why(id: string): Promise<Locator>;
  grip(inputId: string): Locator;
  /** Drags a grip by CSS px in several moves. */
  drag(inputId: string, dxPx: number, dyPx: number): Promise<void>;
  press(name: string): Promise<void>;
  makeRevision(note: string): Promise<void>;
  keptWords(): Locator;
}

/** Opens the model on a page of a browser; `address` is the server's. */
export function patternPage(page: Page, address: string): PatternPageModel {
  const main = page.locator('main.pg');
  const settled = () => page.locator('main.pg[data-state=ready]').waitFor();
  const row = (id: string) => page.locator(`tr[data-figure="${id}"]`);
  const field = (id: string) => page.locator(`[data-field="${id}"]`);
  const rule = (id: string) => page.locator(`[data-rule="${id}"]`);
  const grip = (id: string) => page.locator(`[data-input="${id}"]`);
  const press = async (name: string) => {
    await page.getByRole('button', { name, exact: true }).click();
    await settled();
  };
  /** Below the three columns one panel shows at a time. */
  const show = async (panel: 'Numbers' | 'Rules' | 'Revision') => {
    const pick = page.locator('.panelpick button', { hasText: panel });
    if (await pick.isVisible()) await pick.click();
  };
  const open = async (patternId: string) => {
    await page.goto(`${address}/pattern/${patternId}`);
    await settled();
    await page.locator('.dview[data-state=drawn]').waitFor();
  };
  const drag = async (inputId: string, dxPx: number, dyPx: number) => {
    const box = await grip(inputId).boundingBox();
    if (!box) throw new Error(`no grip for ${inputId}`);
    const x = box.x + box.width / 2;
    const y = box.y + box.height / 2;
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + dxPx, y + dyPx, { steps: 8 });
    await page.mouse.up();
    await settled();
  };
  return {
    page,
    open,
    settled,
    number: async (id) => ((await row(id).locator('td.mm').textContent()) ?? '').trim(),
    type: async (id, text) => {
      await show('Numbers');
      await page.locator(`[data-edit="${id}"]`).click();
      await field(id).fill(text);
      await field(id).press('Enter');
      await settled();
    },
    field,
    says: async (id) => {
      const said = await field(id).getAttribute('aria-describedby');
      return (await page.locator(`[id="${said}"]`).textContent()) ?? '';
    },
    rule,
    verdict: (id) => rule(id).getAttribute('data-verdict'),
    lookAt: async (id) => {
      await show('Rules');
      await rule(id).locator('button').first().click();
      await settled();
    },
    litKeys: async () => {
      const lit = await main.locator('section.dr').getAttribute('data-lit');
      return (lit ?? '').split(' ').filter((key) => key !== '');
    },
    why: async (id) => {
      await show('Numbers');
      await row(id).locator('button.fig').click();
      const tree = page.locator(`[data-why="${id}"]`);
      await tree.waitFor();
      return tree;
    },
    grip,
    drag,
    press,
    makeRevision: async (note) => {
      await show('Revision');
      await page.getByRole('button', { name: /^Make revision \d+$/ }).click();
      const dialog = page.getByRole('dialog');
      await dialog.getByRole('textbox').fill(note);
      await dialog.getByRole('button', { name: /^Make revision/ }).click();
    },
    keptWords: () => page.locator('.kept'),
  };
}
