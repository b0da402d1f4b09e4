import { describe, expect, it } from 'vitest';
import { ownRoute } from '../route/route.ts';
import { foldBuild } from './build-facts.ts';
import { CLOSING_READING, closingList, closingListFault } from './closing-list.ts';
import type { RecordEvent } from './event.ts';

const route = ownRoute();
let made = 0;
const event = (kind: string, body: unknown): RecordEvent => {
  made++;
  return { id: `e${made}`, device: 'd', counter: made, time: made, by: 'x', stream: 'build:b', kind, body };
};
const tick = (item: string) =>
  event('reading', { op: 'X4', reading: CLOSING_READING, spot: item, said: 'checked' });
const items = closingList(route, foldBuild([])).map((i) => i.item);

describe('closing list', () => {
  it('has what the step names: last chances, checks, cautions', () => {
    expect(items).toEqual(expect.arrayContaining(['label', 'bridge plate', 'photo inside taken']));
    expect(items.length).toBeGreaterThanOrEqual(6);
  });

  it('holds the glue until every item is ticked and it is signed', () => {
    const ticks = items.map(tick);
    const sign = event('hold-signed', { op: 'X4', sign: 'closing list' });
    expect(closingListFault(route, foldBuild([sign, ...ticks.slice(1)]), ['X5'])).toMatch(/1 of the closing/);
    expect(closingListFault(route, foldBuild(ticks), ['X4', 'X5', 'X6'])).toMatch(/not signed/);
    expect(closingListFault(route, foldBuild([...ticks, sign]), ['X5'])).toBeUndefined();
    expect(closingListFault(route, foldBuild([]), ['X4'])).toBeUndefined();
  });

  it('asks nothing of a box that was closed before the record began', () => {
    const before = event('done-before-record', { ops: ['X4', 'X5'] });
    expect(closingListFault(route, foldBuild([before]), ['X5'])).toBeUndefined();
  });
});
