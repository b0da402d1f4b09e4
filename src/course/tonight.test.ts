import { describe, expect, it } from 'vitest';
import { classOf, doneUpTo, minuteMs, person, startMs, type Told } from '../../test/support/class-of.ts';
import { expectClose } from '../../test/support/expect-close.ts';
import type { BuildFacts } from './build-facts.ts';
import { planOf } from './class-state.ts';
import { closing } from './closing.ts';
import { operationsOfSteps } from './coarse-steps.ts';
import { operationsOfStep, ringOf, wallOf } from './ring.ts';
import { during, opening, sessionNow } from './tonight.ts';

const people = ['p1', 'p2', 'p3', 'p4', 'p5', 'p6'].map((p) => person(p));
const open: Told = ['course:c', 'session-opened', { session: 's1' }, 0];
const here = (...ids: string[]): Told[] =>
  ids.map((p) => ['course:c', 'present', { session: 's1', person: p }, 1]);
const away = (p: string): Told => ['course:c', 'absent', { session: 's1', person: p }, 1];
const met: Told = ['shop:main', 'room-climate', { humidityFrac: 0.45, tempC: 20 }, -5];
const sander = (p: string): Told => ['shop:main', 'key-given', { person: p, key: 'thickness-sander' }];
const at = (min: number): number => startMs + min * minuteMs;

describe('sessionNow', () => {
  it('is the open one, else the next that is not over', () => {
    const s = classOf(people, []);
    expect(sessionNow(s, startMs - 1)?.session).toBe('s1');
    expect(sessionNow(s, startMs + 200 * minuteMs)).toBeUndefined();
    expect(sessionNow(classOf(people, [open]), at(200))?.session).toBe('s1');
    expect(
      sessionNow(classOf(people, [['course:c', 'session-cancelled', { session: 's1' }]]), startMs),
    ).toBeUndefined();
  });
});

describe('opening', () => {
  it('gives a single station away once and lets others do something else', () => {
    const told = ['b1', 'b2', 'b3'].map((b) => doneUpTo(b, 'T13', 'R3', 'K5'));
    const first = opening(classOf(people.slice(0, 3), [...told, met]), startMs).assigned.map(
      (a) => a.first?.station,
    );
    expect(first.every((s) => s !== undefined)).toBe(true);
    const saws = ['b1', 'b2', 'b3'].map((b) => doneUpTo(b, 'T11'));
    const keys = people.map((p): Told => ['shop:main', 'key-given', { person: p.id, key: 'router-in-jig' }]);
    const state = classOf(people.slice(0, 3), [
      ...['b1', 'b2', 'b3'].map((b) => doneUpTo(b, 'F1', 'A4')),
      ...keys,
      ...saws.slice(0, 0),
    ]);
    const atBox = opening(state, startMs).assigned.filter((a) => a.first?.station === 'slot-box');
    expect(atBox.length).toBeLessThanOrEqual(1);
  });

  it('groups those at one setting into a batch with its minutes, and a few late ones into a catch-up batch', () => {
    const three = ['b1', 'b2', 'b3'].map((b) => doneUpTo(b, 'T3'));
    const o = opening(classOf(people.slice(0, 3), [...three, ...people.map((p) => sander(p.id))]), startMs);
    // set-up 4 and 3.5 for each of three, the teacher the whole run
    expect(o.batches.find((b) => b.op === 'T4')).toMatchObject({
      builds: ['b1', 'b2', 'b3'],
      runMin: 14.5,
      teacherMin: 14.5,
    });
    const late = ['b1', 'b2', 'b3', 'b4', 'b5'].map((b) => doneUpTo(b, 'T4'));
    const c = opening(
      classOf(people, [...late, doneUpTo('b6', 'T3'), ...people.map((p) => sander(p.id))]),
      startMs,
    );
    expect(c.catchUp.map((b) => [b.op, b.builds])).toContainEqual(['T4', ['b6']]);
    expect(c.batches.map((b) => b.op)).not.toContain('T4');
  });

  it('lists what is in clamps with how long it has rested', () => {
    const clamp = (b: string, op: string, min: number): Told => [
      `build:${b}` as 'build:b1',
      'put-in-clamps',
      { op, holds: [{ what: 'gluing-deck', leastH: 1, usualH: 4 }] },
      min,
    ];
    const o = opening(
      classOf(people, [clamp('b1', 'R4', -30), clamp('b2', 'R4', -90), clamp('b3', 'R4', -300)]),
      startMs,
    );
    expect(o.release.map((r) => [r.build, r.state])).toEqual([
      ['b3', 'met'],
      ['b2', 'doubtful'],
      ['b1', 'broken'],
    ]);
  });

  it('knows what to demonstrate, which keys ride on it, what to sign, check and set', () => {
    const told = [doneUpTo('b1', 'T3', 'S10b', 'K7'), doneUpTo('b2', 'T3', 'S10b', 'K7')];
    const o = opening(classOf(people.slice(0, 2), told), startMs);
    const demo = o.demonstrate.find((d) => d.ops.includes('T4'));
    expect(demo).toMatchObject({
      builds: ['b1', 'b2'],
      durationMin: 10,
      keys: [{ key: 'thickness-sander', people: ['p1', 'p2'] }],
    });
    expect(o.toSign.some((s) => s.hold.op === 'T4')).toBe(true);
    expect(o.machineChecks).toContain('thickness-sander');
    expect(o.settings.find((s) => s.op === 'T4')?.settings.map((s) => s.id)).toContain('T4.display-to-type');
  });

  it('shows a broken reading until something is decided about it', () => {
    const verdict = {
      state: 'broken',
      words: 'thickness 2.58 mm: broken',
      value: 2.58,
      low: 2.75,
      high: 2.9,
      aim: 2.8,
    };
    const bad: Told = [
      'build:b1',
      'reading',
      { op: 'T10', reading: 'T10.1', value: 2.58, spot: 'bridge, treble side', verdict },
      -60,
    ];
    const good: Told = [
      'build:b1',
      'reading',
      {
        op: 'T10',
        reading: 'T10.1',
        value: 2.8,
        spot: 'bridge, bass side',
        verdict: { ...verdict, state: 'met' },
      },
      -59,
    ];
    const decided: Told = [
      'build:b1',
      'repair-decided',
      { op: 'T10', fault: 'thin', decision: 'carry on' },
      -50,
    ];
    const undecided = (...told: Told[]) =>
      opening(classOf(people, told), startMs).undecided.map((u) => u.reading);
    expect(undecided(bad, good)).toEqual(['T10.1']);
    expect(undecided(bad, good, decided)).toEqual([]);
  });

  it('stops a line whose jig leans to one side', () => {
    const read = (i: number, value: number): Told => [
      `build:b${i}`,
      'reading',
      {
        op: 'T7',
        reading: 'T7.2',
        value,
        jig: 'ring-base',
        verdict: { state: 'met', words: 'x', value, low: 1.2, high: 1.35, aim: 1.3 },
      },
      -100 + i,
    ];
    const six = [1.33, 1.34, 1.32, 1.33, 1.34, 1.33].map((v, i) => read(i + 1, v));
    const notices = (...told: Told[]) => opening(classOf(people, told), startMs).jigs.map((j) => j.jig);
    expect(notices(...six)).toEqual(['ring-base']);
    expect(notices(...six, ['shop:main', 'jig-proved', { jig: 'ring-base' }, -10])).toEqual([]);
    expect(notices(...six.slice(0, 5))).toEqual([]);
    expect(notices(read(1, 1.36), read(2, 1.37))).toEqual(['ring-base']);
    expect(notices(read(1, 1.36), read(2, 1.19))).toEqual([]);
  });
});

describe('during', () => {
  const told: Told[] = [
    open,
    ...here('p1', 'p2'),
    away('p3'),
    doneUpTo('b1', 'A3', 'A4'),
    doneUpTo('b2', 'A3', 'A4'),
    met,
  ];

  it('finds who has done nothing for ten minutes and what takes no longer than that', () => {
    const started: Told = ['build:b1', 'step-started', { op: 'T1', part: '1' }, 5];
    const d = during(classOf(people.slice(0, 3), [...told, started]), at(20));
    expect(d.idle.map((i) => i.build)).toEqual(['b2']);
    expect(during(classOf(people.slice(0, 3), [...told, started]), at(9)).idle).toEqual([]);
    for (const o of d.idle[0]?.tenMinutes ?? []) expect(o.likelyMin).toBeLessThanOrEqual(10);
  });

  it('shows who asks for help until it is given', () => {
    const asks: Told = ['build:b2', 'help-asked', { words: 'which face?' }, 5];
    expect(during(classOf(people.slice(0, 3), [...told, asks]), at(6)).help).toMatchObject([
      { build: 'b2', words: 'which face?' },
    ]);
    expect(
      during(classOf(people.slice(0, 3), [...told, asks, ['build:b2', 'help-given', {}, 7]]), at(8)).help,
    ).toEqual([]);
  });

  it('shows a station with who works, what rests until when, and who waits', () => {
    const held = [1, 2].flatMap((i): Told[] => [
      [
        `build:b${i}`,
        'put-in-clamps',
        { op: 'T2', holds: [{ what: 'plate-joining-frame', leastH: 0.5, usualH: 1 }] },
        i,
      ],
    ]);
    const d = during(classOf(people.slice(0, 3), [...told, ...held]), at(10));
    const frame = d.stations.find((s) => s.station === 'plate-joining-frame');
    expect(frame?.resting.map((r) => r.freeMs)).toEqual([at(31), at(32)]);
    expect(frame?.capacity).toBe(4);
  });

  it('leaves out who is not here', () => {
    expect(during(classOf(people.slice(0, 3), told), at(20)).assigned.map((a) => a.person)).toEqual([
      'p1',
      'p2',
    ]);
  });
});

describe('closing', () => {
  it('lists machines used and not cleaned, what rests overnight, what to prepare, and writes to who was away', () => {
    const state = classOf(people.slice(0, 3), [
      open,
      ...here('p1', 'p2'),
      away('p3'),
      doneUpTo('b1', 'T11'),
      doneUpTo('b2', 'A4', 'A3'),
      doneUpTo('b3', 'T1'),
      ['build:b1', 'step-done', { op: 'T13', station: 'bandsaw' }, 30],
      [
        'build:b2',
        'put-in-clamps',
        { op: 'T2', holds: [{ what: 'plate-joining-frame', leastH: 0.5, usualH: 1 }] },
        130,
      ],
      ['shop:main', 'note', { text: 'buy belts', forNext: true }, 100],
      [
        'course:c',
        'session-planned',
        { session: 's2', startMs: startMs + 7 * 86_400_000, endMs: startMs + 7 * 86_400_000 + 9_000_000 },
      ],
    ]);
    const c = closing(state, at(140));
    expect(c.notCleaned).toEqual(['bandsaw']);
    expect(c.overnight.map((r) => [r.build, r.state])).toEqual([['b2', 'broken']]);
    expect(c.notesForNext).toEqual(['buy belts']);
    expect(c.prepare.map((p) => p.op)).toContain('F1');
    expect(c.messages.map((m) => m.person)).toEqual(['p3']);
    expect(c.messages[0]?.text).toMatch(
      /^P3, we missed you\. The others worked on: .*Your next step: Glue the halves|^P3, we missed you\./,
    );
    expect(c.messages[0]?.text).toContain('Your next step:');
    const cleaned: Told = ['shop:main', 'station-cleaned', { station: 'bandsaw' }, 139];
    const again = classOf(people.slice(0, 3), [
      open,
      ...here('p1'),
      doneUpTo('b1', 'T11'),
      ['build:b1', 'step-done', { op: 'T13', station: 'bandsaw' }, 30],
      cleaned,
    ]);
    expect(closing(again, at(140)).notCleaned).toEqual([]);
  });
});

describe('ring and wall', () => {
  const ring = (...told: Told[]) => {
    const s = classOf(people.slice(0, 1), told);
    return ringOf(s, 'b1', s.builds.get('b1') as BuildFacts, at(60));
  };
  const segment = (id: string, ...told: Told[]) => ring(...told).segments.find((s) => s.stage === id);

  it('has 11 segments that add up to the route, empty at the beginning and full at the end', () => {
    expect(ring().segments.length).toBe(11);
    expect(ring().doneFrac).toBe(0);
    const all = ring(doneUpTo('b1', 'U8'));
    // U8 comes after everything but the offcuts
    expect(all.doneFrac).toBeGreaterThan(0.99);
    expect(all.segments.filter((s) => s.state === 'done').length).toBe(10);
  });

  it('shows rests, work, holds, repairs', () => {
    expect(segment('top', doneUpTo('b1', 'T1'), ['build:b1', 'step-done', { op: 'T2' }, 50])).toMatchObject({
      state: 'resting',
      untilMs: at(80),
    });
    expect(
      segment('top', doneUpTo('b1', 'T3'), ['build:b1', 'step-started', { op: 'T4' }, 50]),
    ).toMatchObject({ state: 'at work', holdAhead: true });
    expect(segment('board', doneUpTo('b1', 'F1'), ['build:b1', 'step-done', { op: 'F2' }, 50])?.state).toBe(
      'to sign',
    );
    expect(
      segment('top', doneUpTo('b1', 'T3'), [
        'build:b1',
        'repair-decided',
        { op: 'T3', fault: 'step', decision: 'repair' },
        50,
      ])?.state,
    ).toBe('to repair');
    expect(segment('top', doneUpTo('b1', 'T3'))?.holdAhead).toBe(true);
  });

  it('fills a coarse step with the share of its minutes, and ticking one ticks its own steps', () => {
    const s = classOf(people.slice(0, 1), [doneUpTo('b1', 'T4')]);
    const cell = (step: string) => wallOf(s, at(60)).rows[0]?.cells.find((c) => c.step === step);
    expect(cell('top-joined')).toMatchObject({ doneFrac: 1, state: 'done', before: true });
    // T4 of T4 to T9: 20 of 20 + 25 + 10 + 20 + 20 + 15 minutes
    expectClose(cell('ring')?.doneFrac, 20 / 110, { tol: 1e-9, source: 'arithmetic' });
    expect(operationsOfStep(s, s.builds.get('b1') as BuildFacts, 'ring')).toEqual(
      ['T4', 'T5', 'T6', 'T7', 'T8', 'T9'].slice(1),
    );
  });

  it('touching the furthest step stands for all before it, and nothing beside it', () => {
    const s = classOf(people.slice(0, 1), []);
    const ops = operationsOfSteps(s.route, planOf(s, s.builds.get('b1') as BuildFacts), ['top-cut']);
    expect(ops).toContain('T10');
    expect(ops).toContain('A1');
    expect(ops).not.toContain('K1');
    expect(ops.indexOf('A1')).toBeLessThan(ops.indexOf('T10'));
  });
});
