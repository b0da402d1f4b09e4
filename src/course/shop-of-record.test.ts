import fs from 'node:fs';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { PLAIN_SHOP } from '../shop/shop.ts';
import type { RecordEvent } from './event.ts';
import { foldShop } from './shop-facts.ts';
import { sanderOf, shopOfEvents, shopOfRecord } from './shop-of-record.ts';

const file = fs.readFileSync('data/shops/evening-workshop.yaml', 'utf8');
let made = 0;
const event = (stream: string, kind: string, body: object, time = Date.UTC(2026, 8, 1)): RecordEvent => {
  made++;
  return {
    id: `e${made}`,
    stream: stream as RecordEvent['stream'],
    kind,
    device: 'd',
    counter: made,
    time,
    by: 'teacher',
    body,
  };
};
const shopFile = (stream = 'shop:main') =>
  event(stream, 'revision-made', { what: 'shop', revision: 'r1', text: file });
const proof = (day: number, unit: string, points: readonly (readonly [number, number])[]) =>
  event(
    'shop:main',
    'station-proved',
    {
      station: 'thickness-sander',
      unit,
      points: points.map(([typed, measured]) => ({ typed, measured })),
    },
    day,
  );
const course = (id: string, body: object) => event(`course:${id}`, 'course-set-up', { name: id, ...body });

describe('the shop of the record', () => {
  it('is its newest file; a proof made later than the one in the file holds, an older one does not', () => {
    const before = shopOfRecord(foldShop([shopFile(), proof(Date.UTC(2026, 9, 1), 'mm', [[3, 3.3]])]));
    expect(before.name).toBe('Evening workshop');
    expect(sanderOf(before).offset).toMatchObject({ alphaMm: 0.16, beta: 0.975 });
    const after = shopOfRecord(
      foldShop([
        shopFile(),
        proof(Date.UTC(2026, 10, 20), 'mm', [
          [3, 3.1],
          [4, 4.1],
        ]),
      ]),
    );
    const { offset, name } = sanderOf(after);
    expect(name).toBe('drum sander by the window');
    expect(offset.provedOn).toBe('2026-11-20');
    expectClose(offset.alphaMm, 0.1, { tol: 1e-9, source: 'the line through both points, by hand' });
  });

  it('knows units and proofs without a file, in the inches they were typed in', () => {
    const shop = shopOfRecord(
      foldShop([
        proof(Date.UTC(2026, 10, 20), 'in', [
          [0.1, 0.104],
          [0.16, 0.164],
        ]),
      ]),
      'in',
    );
    expect([shop.unit, shop.paper]).toEqual(['in', 'letter']);
    const { reads, offset } = sanderOf(shop);
    expect(reads.kind).toBe('digital');
    expectClose(reads.stepMm, 0.0254, { tol: 1e-12, source: 'inch-1959: a thousandth of 25.4 mm' });
    expectClose(offset.alphaMm, 0.1016, { tol: 1e-9, source: '.004 in by hand' });
  });

  it('for a pattern is the own one as soon as there is an own course or file, before that the one of the demo', () => {
    const demo = [course('demo', { demo: true, units: 'mm' }), shopFile('shop:demo')];
    expect(shopOfEvents([])).toBeUndefined();
    expect(shopOfEvents(demo)).toMatchObject({ isDemo: true, shop: { name: 'Evening workshop' } });
    expect(shopOfEvents([...demo, event('course:demo', 'course-removed', {})])).toBeUndefined();
    const own = shopOfEvents([...demo, course('mine', { units: 'in' })]);
    expect(own).toMatchObject({ isDemo: false, shop: { unit: 'in', machines: PLAIN_SHOP.machines } });
  });
});
