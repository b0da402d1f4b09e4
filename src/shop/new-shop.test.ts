import fs from 'node:fs';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { newShopText, withFixedJigs } from './new-shop.ts';
import { jigsOf, machineAt } from './shop.ts';
import { readShop } from './shop-file.ts';

const shop = readShop(
  newShopText({
    name: 'Shed: north',
    unit: 'in',
    sanderOffset: { alphaMm: 0.16, beta: 0.975, provedOn: '2026-11-02' },
    jigs: [
      { kind: 'hole-cutter', size: '2 in' },
      { kind: 'top-dish', size: '28 ft' },
      { kind: 'top-dish', size: '8000 mm' },
    ],
  }),
);

describe('newShopText', () => {
  it('is read back as it was said', () => {
    expect([shop.name, shop.unit, shop.paper]).toEqual(['Shed: north', 'in', 'letter']);
    expect(machineAt(shop, 'thickness-sander', 'thickness')?.offset).toEqual({
      alphaMm: 0.16,
      beta: 0.975,
      provedOn: '2026-11-02',
    });
    const cutter = jigsOf(shop, 'hole-cutter')[0]?.adjust;
    expectClose(cutter?.kind === 'fixed' ? (cutter.at[0] as number) : 0, 50.8, {
      tol: 1e-9,
      source: 'inch-1959: 2 x 25.4 mm',
    });
    expect(jigsOf(shop, 'top-dish')).toHaveLength(1);
  });

  it('refuses a size no such jig has', () => {
    expect(() =>
      newShopText({ name: 'S', unit: 'mm', jigs: [{ kind: 'hole-cutter', size: '2 mm' }] }),
    ).toThrow(/2 mm/);
  });
});

describe('withFixedJigs', () => {
  const file = fs.readFileSync('data/shops/evening-workshop.yaml', 'utf8');
  const before = readShop(file);
  const fixedOf = (text: string, kind: 'hole-cutter' | 'top-dish') =>
    jigsOf(readShop(text), kind).flatMap((j) => (j.adjust?.kind === 'fixed' ? j.adjust.at : []));

  it('adds sizes and leaves the machines, the other jigs and the comments as they are', () => {
    const now = withFixedJigs(file, [
      { kind: 'hole-cutter', size: '2 in' },
      { kind: 'hole-cutter', size: '60 mm' },
    ]);
    const shop = readShop(now);
    expect(shop.machines).toEqual(before.machines);
    expect(shop.jigs).toHaveLength(before.jigs.length + 1);
    expect(fixedOf(now, 'hole-cutter')).toEqual([50.8, 60]);
    expect(now).toContain('# new belt that day');
  });

  it('writes nothing twice and nothing at all without a jig', () => {
    const once = withFixedJigs(file, [{ kind: 'hole-cutter', size: '2 in' }]);
    expect(withFixedJigs(once, [{ kind: 'hole-cutter', size: '2 in' }])).toBe(once);
    expect(withFixedJigs(file, [])).toBe(file);
  });

  it('refuses a size no such jig has', () => {
    expect(() => withFixedJigs(file, [{ kind: 'hole-cutter', size: '2 mm' }])).toThrow(/2 mm/);
  });
});
