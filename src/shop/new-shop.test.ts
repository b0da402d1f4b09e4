import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { newShopText } from './new-shop.ts';
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
