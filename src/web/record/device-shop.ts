import { type NamedShop, shopOfEvents } from '../../course/shop-of-record.ts';
import { recordView, startRecord, subscribeRecord } from './record.ts';

/** The shop as this device's copy of the record knows it; undefined when it knows none. */
function shopNow(): NamedShop | undefined {
  return shopOfEvents(
    [...recordView().streams]
      .filter(([stream]) => stream.startsWith('shop:') || stream.startsWith('course:'))
      .flatMap(([, events]) => events),
  );
}

/**
 * Tells the shop now and whenever the record changes.
 *
 * @returns ends the telling
 */
export function watchShop(tell: (shop: NamedShop | undefined) => void): () => void {
  let version = -1;
  const look = (): void => {
    const view = recordView();
    if (view.state === 'loading' || view.version === version) return;
    version = view.version;
    tell(shopNow());
  };
  void startRecord().then(look);
  return subscribeRecord(look);
}
