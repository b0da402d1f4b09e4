import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { cardsCommand } from './cards.ts';
import { passPlanCommand } from './pass-plan.ts';

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'bracewright-cards-'));
afterAll(() => fs.rmSync(folder, { recursive: true }));

/** Runs something and gives what it said. */
async function said(run: () => number | Promise<number>): Promise<string> {
  const lines: string[] = [];
  const spy = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    lines.push(String(text));
    return true;
  });
  try {
    await run();
  } finally {
    spy.mockRestore();
  }
  return lines.join('');
}

describe('cards', () => {
  it('writes one page for each card and says what is in it', async () => {
    const out = path.join(folder, 'cards.pdf');
    const text = await said(() =>
      cardsCommand('small-steel-string', {
        out,
        shop: 'data/shops/evening-workshop.yaml',
        paper: 'sheet',
        json: true,
      }),
    );
    const json = JSON.parse(text) as {
      cards: { id: string; settings: { id: string; set_to: string; wanted: number }[] }[];
    };
    const pages = fs.readFileSync(out, 'latin1').match(/\/Type \/Page\b/g) ?? [];
    expect(fs.readFileSync(out, 'latin1').startsWith('%PDF-1.')).toBe(true);
    expect(pages).toHaveLength(json.cards.length);
    const reach = json.cards.flatMap((c) => c.settings).find((s) => s.id === 'hole.reach');
    expect(reach?.set_to).toBe('49.0 mm');
    expectClose(reach?.wanted, 49, { tol: 1e-9, source: 'arithmetic' });
  });

  it('writes nothing when the place cannot be written or the shop is wrong', async () => {
    await expect(
      cardsCommand('small-steel-string', { out: path.join(folder, 'none/cards.pdf') }),
    ).rejects.toThrow(/cannot be written: there is no such file or folder/);
    const shop = path.join(folder, 'bad.yaml');
    fs.writeFileSync(shop, 'format: bracewright-shop/1\nname: x\npins: [63.5 mm]\n');
    const out = path.join(folder, 'never.pdf');
    await expect(cardsCommand('small-steel-string', { out, shop })).rejects.toThrow(
      /bad\.yaml: pins 1: .*6\.35 mm meant/,
    );
    expect(fs.existsSync(out)).toBe(false);
    await expect(cardsCommand('small-steel-string', { out, paper: 'a7' })).rejects.toThrow(
      /must be one of letter, a4, a3, sheet/,
    );
  });
});

describe('pass-plan', () => {
  it('gives the numbers of common practice as JSON', async () => {
    const text = await said(() =>
      passPlanCommand({ start: '0.150 in', target: '0.100 in', perPass: '0.010 in', json: true }),
    );
    const plan = JSON.parse(text) as {
      passes: { type_in: number; face: string }[];
      after_first: number;
      left_mm: number;
    };
    expectClose(plan.after_first, 5, { tol: 0.1, source: 'common practice, no published source' });
    expect(plan.passes.map((p) => p.face)).toEqual(['A', 'B', 'A', 'B', 'A']);
    expectClose(plan.passes.at(-1)?.type_in, 0.1, {
      tol: 1e-9,
      source: 'common practice, no published source',
    });
    expectClose(plan.left_mm, 0, { tol: 1e-6, source: 'arithmetic' });
  });

  it.each([
    [
      { start: '4.2', target: '2.4', perPass: '0.25', low: '2.5' },
      /target 2\.40 mm is under the low limit 2\.50 mm/,
    ],
    [{ start: '.150', target: '.100', perPass: '.010' }, /--start is "\.150".*was it 0\.150 in/],
    [{ start: '4.2', target: 'thin', perPass: '0.25' }, /--target is "thin", which is no number/],
    [{ start: '4.2', target: '2.8', perPass: '0.25', faces: 'both' }, /--faces is "both".*alternate or one/],
    [
      { start: '4.2', target: '2.8', perPass: '0.25', beta: '9' },
      /--beta is "9", and it must be between 0\.8 and 1\.25/,
    ],
    [{ start: '4.2', target: '2.8', perPass: '0.25', lastPasses: '1.5' }, /must be a whole number/],
  ])('refuses %o in one sentence', (options, sentence) => {
    expect(() => passPlanCommand(options)).toThrow(sentence);
  });
});
