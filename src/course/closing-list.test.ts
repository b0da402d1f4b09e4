import { describe, expect, it } from 'vitest';
import { ownRoute } from '../route/route.ts';
import { foldBuild } from './build-facts.ts';
import { CLOSING_READING, closingList, closingListFault, openBoxFault } from './closing-list.ts';
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

  it('counts what was gone through with the signature, as on paper', () => {
    const sign = event('hold-signed', { op: 'X4', sign: 'closing list', checked: items });
    expect(closingListFault(route, foldBuild([sign]), ['X5'])).toBeUndefined();
  });

  it('lets no event glue the box with an open list, in whatever order the events came', () => {
    const ticks = items.map(tick);
    const sign = event('hold-signed', { op: 'X4', sign: 'closing list' });
    const glued = [
      event('step-done', { op: 'X5', part: '1' }),
      event('put-in-clamps', { op: 'X5', part: '1', holds: [] }),
      event('coarse-step-done', { step: 'closed', ops: ['X4', 'X5', 'X6'] }),
    ];
    for (const glue of glued) {
      expect(openBoxFault(route, glue, [glue])).toMatch(/closing list are open/);
      expect(openBoxFault(route, glue, [glue, ...ticks])).toMatch(/not signed/);
      expect(openBoxFault(route, glue, [glue, sign, ...ticks.toReversed()])).toBeUndefined();
      // signed on a device whose clock runs ahead: the list stands after the glue in the order, and still counts
      const ahead = { ...sign, id: `${sign.id}-ahead`, time: glue.time + 1e6 };
      expect(openBoxFault(route, glue, [glue, ...ticks, ahead])).toBeUndefined();
      // a new back afterwards opens the list again; that the first one was glued stays true
      const again = event('part-replaced', { op: 'X5', undone: ['X4', 'X5'], reason: 'split' });
      expect(openBoxFault(route, glue, [...ticks, sign, glue, again])).toBeUndefined();
    }
    const before = event('done-before-record', { step: 'closed', ops: ['X4', 'X5', 'X6'] });
    expect(openBoxFault(route, before, [before])).toBeUndefined();
    expect(openBoxFault(route, event('step-done', { op: 'X3' }), [])).toBeUndefined();
  });
});
