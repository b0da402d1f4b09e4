import { useEffect, useState } from 'react';
import type { NamedShop } from '../../course/shop-of-record.ts';

/** The shop of the record, looked up after the page stands; undefined until then, and when the record knows none. */
export function useShop(): NamedShop | undefined {
  const [shop, setShop] = useState<NamedShop>();
  useEffect(() => {
    let stop: (() => void) | undefined;
    let isGone = false;
    void import('../record/device-shop.ts').then(({ watchShop }) => {
      if (!isGone) stop = watchShop(setShop);
    });
    return () => {
      isGone = true;
      stop?.();
    };
  }, []);
  return shop;
}
