import { describe, expect, it } from 'vitest';
import { classOf, doneUpTo, person, startMs, type Told } from '../../test/support/class-of.ts';
import type { Station } from '../route/route-types.ts';
import type { ClassState } from './class-state.ts';
import { keyNotices, keyState, permission } from './keys.ts';

const dayMs = 86_400_000;
const given = (atMs: number, key = 'bandsaw'): Told => [
  'shop:main',
  'key-given',
  { person: 'p1', key, atMs },
];
const state = (...told: Told[]): ClassState => classOf([person('p1')], told);
const held = (s: ClassState, nowMs = startMs) => keyState(s, 'p1', 'bandsaw', nowMs).state;
const at = (s: ClassState, id: string): Station => s.route.stations.find((x) => x.id === id) as Station;
/** One session in each of so many weeks before the class meets. */
const weeks = (count: number): Told[] =>
  Array.from({ length: count }, (_, k) => {
    const start = startMs - (k + 1) * 7 * dayMs;
    return ['course:c', 'session-planned', { session: `w${k}`, startMs: start, endMs: start + 9_000_000 }];
  });

describe('keyState', () => {
  it('lapses after 12 months to the day', () => {
    const lastYear = Date.UTC(2029, 8, 2, 18, 30);
    expect(held(state(given(lastYear + 1)))).toBe('held');
    expect(keyState(state(given(lastYear)), 'p1', 'bandsaw', startMs)).toEqual({
      state: 'lapsed',
      reason: 'given more than 12 months ago',
    });
  });

  it('ends a month that is too short on its last day', () => {
    const s = state(given(Date.UTC(2028, 1, 29)));
    expect(held(s, Date.UTC(2029, 1, 28) - 1)).toBe('held');
    expect(held(s, Date.UTC(2029, 1, 28))).toBe('lapsed');
  });

  it('lapses after six weeks of term away from the workshop, holidays not counted', () => {
    const longAgo = startMs - 100 * dayMs;
    expect(held(state(given(longAgo)))).toBe('held');
    expect(held(state(given(longAgo), ...weeks(5)))).toBe('held');
    expect(held(state(given(longAgo), ...weeks(6)))).toBe('lapsed');
  });

  it('ends the gap of somebody who was here or at work, unless the shop counts weeks without that machine', () => {
    const base = [given(startMs - 100 * dayMs), ...weeks(8)];
    const here: Told = ['course:c', 'present', { session: 'w1', person: 'p1' }];
    const worked: Told = ['build:b1', 'step-done', { op: 'T1', atMs: startMs - 10 * dayMs }];
    const unused: Told = [
      'shop:main',
      'key-rule-set',
      { lapsesAfterMonths: 12, lapsesAfterGapWeeks: 6, gap: 'unused' },
    ];
    expect(keyState(state(...base), 'p1', 'bandsaw', startMs)).toEqual({
      state: 'lapsed',
      reason: 'away from the workshop for 8 weeks of term',
    });
    expect(held(state(...base, here))).toBe('held');
    expect(held(state(...base, worked))).toBe('held');
    expect(held(state(...base, here, worked, unused))).toBe('lapsed');
    const away: Told = ['course:c', 'absent', { session: 'w1', person: 'p1' }];
    expect(held(state(...base, away))).toBe('lapsed');
  });

  it('counts work at a station of that key as use', () => {
    const unused: Told = [
      'shop:main',
      'key-rule-set',
      { lapsesAfterMonths: 12, lapsesAfterGapWeeks: 6, gap: 'unused' },
    ];
    const used: Told = [
      'build:b1',
      'step-done',
      { op: 'T13', station: 'bandsaw', atMs: startMs - 10 * dayMs },
    ];
    expect(held(state(given(startMs - 100 * dayMs), ...weeks(6), used, unused))).toBe('held');
    const byHand: Told = [
      'build:b1',
      'step-done',
      { op: 'T13', station: 'bench', atMs: startMs - 10 * dayMs },
    ];
    expect(held(state(given(startMs - 100 * dayMs), ...weeks(6), byHand, unused))).toBe('lapsed');
  });

  it('goes by the rule of the shop where it has one', () => {
    const rule: Told = ['shop:main', 'key-rule-set', { lapsesAfterMonths: 3, lapsesAfterGapWeeks: 50 }];
    expect(held(state(given(startMs - 100 * dayMs), rule))).toBe('lapsed');
    expect(held(state(given(startMs - 80 * dayMs), rule, ...weeks(8)))).toBe('held');
  });

  it('ends with an incident and when it is taken, and is not there before it is given', () => {
    const incident: Told = [
      'shop:main',
      'incident',
      { severity: 'near miss', text: 'x', person: 'p1', key: 'bandsaw' },
    ];
    expect(held(state(given(startMs - dayMs), incident))).toBe('lapsed');
    expect(
      held(state(given(startMs - dayMs), ['shop:main', 'key-taken', { person: 'p1', key: 'bandsaw' }])),
    ).toBe('lapsed');
    expect(held(state(given(startMs + dayMs)))).toBe('not given');
  });
});

describe('keyNotices', () => {
  it('says which keys have lapsed, lapse within three weeks or by the next week of term', () => {
    const texts = (...told: Told[]) => keyNotices(state(...told), startMs).map((n) => n.text);
    expect(texts(given(startMs - 300 * dayMs))).toEqual([]);
    expect(texts(given(startMs - 355 * dayMs))).toEqual(['bandsaw: lapses in 10 days']);
    expect(texts(given(startMs - 400 * dayMs))).toEqual([
      'bandsaw: has lapsed: given more than 12 months ago',
    ]);
    expect(texts(given(startMs - 100 * dayMs), ...weeks(5))[0]).toContain('lapses next week');
  });
});

describe('permission', () => {
  it('lets the watched cut be made without the key it gives, with an adult beside', () => {
    const s = state();
    expect(permission(s, 'p1', at(s, 'bandsaw'), startMs)).toMatchObject({ may: false });
    expect(permission(s, 'p1', at(s, 'bandsaw'), startMs, true)).toEqual({ may: true, how: 'adult beside' });
  });

  it('asks neither consent nor age at the bench', () => {
    const s = classOf([person('p1', { machines: 'no', ageBand: 'under16' })], [doneUpTo('b1', 'A1')]);
    expect(permission(s, 'p1', at(s, 'bench'), startMs)).toEqual({ may: true, how: 'alone' });
    expect(permission(s, 'p1', at(s, 'bandsaw'), startMs)).toEqual({
      may: false,
      reason: 'no consent for machines',
    });
  });

  it('gives no machine to somebody without an age band, or unknown', () => {
    const s = classOf(
      [{ id: 'p1', label: 'P', role: 'learner', machines: 'yes', photos: 'no' }],
      [given(startMs - dayMs)],
    );
    expect(permission(s, 'p1', at(s, 'bandsaw'), startMs)).toMatchObject({
      may: false,
      reason: 'no age band given',
    });
    expect(permission(s, 'nobody', at(s, 'bandsaw'), startMs)).toMatchObject({ may: false });
  });
});
