import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { classOf, doneUpTo, person, type Told } from '../../test/support/class-of.ts';
import { sheetOfPattern } from '../figures/pattern-sheet.ts';
import { withNumbers } from '../pattern/edit-pattern.ts';
import { readPattern } from '../pattern/pattern-file.ts';
import { PLAIN_SHOP } from '../shop/shop.ts';
import { changeTouches } from './as-changed.ts';
import type { BuildFacts } from './build-facts.ts';
import { freezePointsOf, frozenBy } from './freeze.ts';
import { redactEvent } from './redact.ts';
import { routeInShop } from './shop-route.ts';

const steel = readPattern(readFileSync('data/patterns/small-steel-string.yaml', 'utf8'));
const people = ['p1', 'p2', 'p3'].map((p) => person(p));

describe('changeTouches', () => {
  const state = classOf(people, [
    doneUpTo('b1', 'A4', 'A3'),
    doneUpTo('b2', 'T6'),
    ['build:b2', 'step-done', { op: 'T7' }],
    doneUpTo('b3', 'T7'),
    ['build:b3', 'pattern-applied', { pattern: 'other' }],
  ]);
  const touched = (id: string, value: number) =>
    changeTouches(
      state,
      sheetOfPattern(steel),
      sheetOfPattern(withNumbers(steel, new Map([[id, value]]))),
      'r1',
    );

  it('names figures, settings, cards and jigs of a wider ring', () => {
    const t = touched('rosette.outer_radius', 63);
    expect(t.figures.map((f) => f.id)).toContain('rosette.channel.width');
    expect(t.settings).toContain('T7.outer-cut-cutter-centre-radius');
    expect(t.cards).toContain('T7');
    expect(t.jigs).toContain('ring-base');
    expect(t.operations).not.toContain('F2');
  });

  it('tells build by build what is cut already and what is frozen; others follow another revision', () => {
    const t = touched('rosette.outer_radius', 63);
    expect(t.builds.map((b) => [b.build, b.state])).toEqual([
      ['b1', 'free'],
      ['b2', 'frozen'],
    ]);
    expect(t.builds[1]?.cut).toContain('T7');
    expect(t.builds[1]?.text).toBe(
      'The sound hole and rosette radii can no longer be changed in this build: "Cut the rosette channel" has begun.',
    );
  });

  it('touches nothing when nothing changes', () => {
    const t = touched('rosette.outer_radius', 62);
    expect(t).toMatchObject({ figures: [], settings: [], cards: [], jigs: [] });
    expect(t.builds.every((b) => b.state === 'free')).toBe(true);
  });
});

describe('freeze points', () => {
  const state = (...told: Told[]) => classOf(people.slice(0, 1), told);
  const frozen = (input: string, ...told: Told[]) => {
    const s = state(...told);
    return frozenBy(s.route, s.builds.get('b1') as BuildFacts, input)?.by;
  };

  it('freeze a choice when the first of its operations has begun', () => {
    expect(frozen('body.length')).toBeUndefined();
    expect(frozen('body.length', ['build:b1', 'step-started', { op: 'S2', part: '1' }])).toBe('S2');
    expect(frozen('handed', ['build:b1', 'step-done', { op: 'G1' }])).toBe('G1');
    expect(frozen('brace.x.height', ['build:b1', 'step-done', { op: 'R2' }])).toBeUndefined();
    expect(frozen('brace.x.crossing_y', ['build:b1', 'step-done', { op: 'R2' }])).toBe('R2');
  });

  it('are lifted when the piece is made again', () => {
    const done: Told = ['build:b1', 'step-done', { op: 'F2' }];
    expect(frozen('scale.length', done)).toBe('F2');
    expect(
      frozen('scale.length', done, [
        'build:b1',
        'part-replaced',
        { op: 'F2', undone: ['F2'], reason: 'slot off' },
      ]),
    ).toBeUndefined();
  });

  it('cover every number of a pattern that shapes wood', () => {
    const free = [...steel.numbers.keys()].filter((id) => freezePointsOf(state().route, id).length === 0);
    expect(free.filter((id) => !/^(allowance|air|weight|fret\.crown)\./.test(id))).toEqual([]);
  });
});

describe('routeInShop', () => {
  it('takes places, cautions and age rules of the shop, and leaves out what it does not have', () => {
    const base = classOf(people, []).route;
    const shop = {
      ...PLAIN_SHOP,
      stations: new Map([
        ['bandsaw', { isHere: true, capacity: 2, cautions: ['No rings.'] }],
        ['jointer', { isHere: false, cautions: [] }],
      ]),
      ageRules: new Map([
        ['bandsaw', { under_16: 'never', from_16_to_17: 'never', adult: 'alone' } as const],
      ]),
    };
    const here = routeInShop(base, shop);
    const saw = here.stations.find((s) => s.id === 'bandsaw');
    expect(saw?.capacity).toBe(2);
    expect(saw?.cautions.length).toBe(
      (base.stations.find((s) => s.id === 'bandsaw')?.cautions.length as number) + 1,
    );
    expect(here.ageRules.byStation['bandsaw']?.under16).toBe('never');
    expect(here.stations.find((s) => s.id === 'jointer')?.capacity).toBe(0);
  });
});

describe('redactEvent', () => {
  const event = (kind: string, body: object, by = 'p1') => ({
    id: 'e',
    stream: 'build:b1' as const,
    kind,
    device: 'd',
    counter: 1,
    time: 1,
    by,
    body,
  });
  const forget = (e: ReturnType<typeof event>) => redactEvent(e, new Set(['p1']), new Set(['b1']));

  it('takes words and photos out, and leaves steps and readings', () => {
    expect(forget(event('note', { text: 'Ada is left-handed' })).body).toEqual({ text: 'removed' });
    expect(forget(event('photo', { hash: 'abc', type: 'image/jpeg' })).body).toEqual({
      hash: 'removed',
      type: 'image/jpeg',
    });
    const step = event('step-done', { op: 'T1' });
    expect(forget(step)).toBe(step);
  });

  it('leaves what others wrote about other builds, and is done once for all', () => {
    const other = { ...event('note', { text: 'x' }, 'p2'), stream: 'build:b2' as const };
    expect(redactEvent(other, new Set(['p1']), new Set(['b1']))).toBe(other);
    const once = forget(event('note', { text: 'x' }));
    expect(forget(once as ReturnType<typeof event>)).toBe(once);
  });
});
