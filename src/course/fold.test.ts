import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BuildFacts, buildReducer } from './build-facts.ts';
import { courseReducer } from './course-facts.ts';
import { makeEvent, type RecordEvent, type Recorder, seenBy } from './event.ts';
import { addEvents, foldEvents } from './fold.ts';
import { shopReducer } from './shop-facts.ts';

const twoDaysMs = 2 * 24 * 3600 * 1000;
const bytes = (n: number): Uint8Array =>
  Uint8Array.from({ length: 16 }, (_, i) => (n >> ((i % 4) * 8)) & 255);

/** Some step of a made-up evening: what one device writes, or that it hears from another. */
type Move = {
  readonly device: number;
  readonly kind: number;
  readonly op: number;
  readonly waitMs: number;
  readonly hears: boolean;
};
const moves = fc.array(
  fc.record({
    device: fc.nat(2),
    kind: fc.nat(13),
    op: fc.nat(3),
    waitMs: fc.nat(90_000),
    hears: fc.boolean(),
  }),
  { maxLength: 40 },
);
const skews = fc.tuple(
  fc.integer({ min: -twoDaysMs, max: twoDaysMs }),
  fc.integer({ min: -twoDaysMs, max: twoDaysMs }),
  fc.integer({ min: -twoDaysMs, max: twoDaysMs }),
);

const ops = ['T1', 'T2', 'R6', 'X2'];

/** Three devices with wrong clocks write one build. */
function evening(list: readonly Move[], skewMs: readonly number[]): readonly RecordEvent[] {
  let now = 1_790_000_000_000;
  const recorders: Recorder[] = [0, 1, 2].map((d) => ({ device: `d${d}`, counter: 0, lastTimeMs: 0 }));
  const events: RecordEvent[] = [];
  list.forEach((m, i) => {
    now += m.waitMs;
    if (m.hears) for (const e of events) recorders[m.device] = seenBy(recorders[m.device] as Recorder, e);
    const made = makeEvent(
      recorders[m.device] as Recorder,
      { stream: 'build:b1', by: `p${m.device}`, ...draftOf(m, events) },
      now + (skewMs[m.device] as number),
      bytes(i + 1),
    );
    recorders[m.device] = made.recorder;
    events.push(made.event);
  });
  return events;
}

function draftOf(m: Move, events: readonly RecordEvent[]): { kind: string; body: object } {
  const op = ops[m.op] as string;
  const target = events[m.waitMs % Math.max(1, events.length)]?.id ?? 'none';
  const drafts: readonly { kind: string; body: object }[] = [
    { kind: 'step-started', body: { op } },
    { kind: 'step-done', body: { op } },
    { kind: 'step-done', body: { op, part: '1' } },
    { kind: 'put-in-clamps', body: { op, holds: [{ what: 'gluing-deck', leastH: 1, usualH: 4 }] } },
    { kind: 'released', body: { op } },
    { kind: 'reading', body: { op, reading: `${op}.1`, value: m.waitMs / 1000, unit: 'mm' } },
    { kind: 'hold-signed', body: { op, sign: 'dry run' } },
    { kind: 'part-replaced', body: { op, undone: [op], reason: 'cracked' } },
    { kind: 'event-withdrawn', body: { event: target } },
    { kind: 'event-withdrawn', body: { event: target } },
    { kind: 'step-reopened', body: { op } },
    { kind: 'coarse-step-done', body: { step: 'ring', ops: ['T1', 'T2'] } },
    { kind: 'note', body: { text: `note ${m.waitMs}` } },
    { kind: 'kind-of-next-year', body: { anything: m.waitMs } },
  ];
  return drafts[m.kind] as { kind: string; body: object };
}

describe('foldEvents', () => {
  it('gives the same state for any order of arrival, any repetition, clocks two days off (seed 11)', () => {
    fc.assert(
      fc.property(moves, skews, fc.infiniteStream(fc.nat()), (list, skew, chance) => {
        const events = evening(list, skew);
        const whole = foldEvents(buildReducer, events);
        const shuffled = [...events, ...events.filter((_, i) => i % 3 === 0)]
          .map((e) => [chance.next().value as number, e] as const)
          .sort((a, b) => a[0] - b[0])
          .map(([, e]) => e);
        expect(foldEvents(buildReducer, shuffled)).toEqual(whole);
      }),
      { seed: 11, numRuns: 300 },
    );
  });

  it('gives the same state when the events come in split over devices and in pieces (seed 12)', () => {
    fc.assert(
      fc.property(moves, skews, fc.array(fc.nat(5), { minLength: 1 }), (list, skew, cuts) => {
        const events = evening(list, skew);
        const byDevice = ['d0', 'd1', 'd2'].flatMap((d) => events.filter((e) => e.device === d));
        let state = foldEvents(buildReducer, []);
        for (let i = 0, c = 0; i < byDevice.length; c++) {
          const size = 1 + (cuts[c % cuts.length] as number);
          state = addEvents(buildReducer, state, byDevice.slice(Math.max(0, i - 1), i + size));
          i += size;
        }
        expect(state).toEqual(foldEvents(buildReducer, events));
      }),
      { seed: 12, numRuns: 300 },
    );
  });

  it('never changes a state it was given', () => {
    const [first, ...rest] = evening(
      Array.from({ length: 12 }, (_, i) => ({
        device: 0,
        kind: i,
        op: i % 4,
        waitMs: 1000 + i,
        hears: true,
      })),
      [0, 0, 0],
    );
    const before = foldEvents(buildReducer, [first as RecordEvent]);
    const kept = JSON.stringify([...before.facts.operations]) + before.events.length;
    let state = before;
    for (const e of rest) state = addEvents(buildReducer, state, [e]);
    expect(JSON.stringify([...before.facts.operations]) + before.events.length).toBe(kept);
    expect(state.events.length).toBe(12);
  });
});

/** Events of one device, a minute apart. */
function told(
  stream: RecordEvent['stream'],
  drafts: readonly (readonly [string, object])[],
): readonly RecordEvent[] {
  return drafts.map(([kind, body], i) => ({
    id: `e${i + 1}`,
    stream,
    kind,
    device: 'd',
    counter: i + 1,
    time: 60_000 * (i + 1),
    by: 't',
    body,
  }));
}

const build = (...drafts: readonly (readonly [string, object])[]): BuildFacts =>
  foldEvents(buildReducer, told('build:b1', drafts)).facts;

describe('facts of a build', () => {
  it('takes "done" alone, and infers no minutes from a start that is missing', () => {
    const f = build(['step-done', { op: 'T1' }], ['step-started', { op: 'T2' }], ['step-done', { op: 'T2' }]);
    expect(f.operations.get('T1')?.parts.get('all')).toEqual({ doneMs: 60_000, doneBy: 't' });
    expect(f.operations.get('T2')?.parts.get('all')).toMatchObject({ minutes: 1 });
  });

  it('does not believe that somebody worked for days at one part', () => {
    const start = told('build:b1', [['step-started', { op: 'T1' }]]);
    const done = {
      ...(start[0] as RecordEvent),
      id: 'z',
      counter: 2,
      kind: 'step-done',
      time: 3 * twoDaysMs,
    };
    const f = foldEvents(buildReducer, [...start, done]).facts;
    expect(f.operations.get('T1')?.parts.get('all')?.doneMs).toBe(3 * twoDaysMs);
    expect(f.operations.get('T1')?.parts.get('all')?.minutes).toBeUndefined();
  });

  it('withdraws an event, and takes it back when the withdrawal is withdrawn', () => {
    const list: readonly (readonly [string, object])[] = [
      ['step-done', { op: 'T1' }],
      ['event-withdrawn', { event: 'e1' }],
      ['event-withdrawn', { event: 'e2' }],
    ];
    expect(build(...list.slice(0, 2)).operations.has('T1')).toBe(false);
    expect(build(...list).operations.has('T1')).toBe(true);
  });

  it('lets no stream withdraw what stands in another', () => {
    const [done] = told('build:b1', [['step-done', { op: 'T1' }]]);
    const foreign = {
      ...(done as RecordEvent),
      id: 'w',
      stream: 'build:b2' as const,
      kind: 'event-withdrawn',
      body: { event: 'e1' },
    };
    expect(foldEvents(buildReducer, [done as RecordEvent, foreign]).withdrawn.size).toBe(0);
  });

  it('keeps the readings of a part that is made again with the note of its loss', () => {
    const f = build(
      ['step-done', { op: 'S3' }],
      ['reading', { op: 'S3', reading: 'S3.3', value: 1 }],
      ['put-in-clamps', { op: 'S3', holds: [{ what: 'mould', leastH: 12, usualH: 24 }] }],
      [
        'part-replaced',
        { op: 'S3', undone: ['S1', 'S2', 'S3'], reason: 'cracked at the waist', stock: ['side-pair'] },
      ],
    );
    expect(f.operations.size + f.readings.size + f.clamps.size).toBe(0);
    expect(f.replaced[0]).toMatchObject({
      reason: 'cracked at the waist',
      readings: [{ reading: 'S3.3', value: 1 }],
    });
  });

  it('keeps what it does not understand and counts it', () => {
    const f = build(['seen-by-dog', { dog: 1 }], ['step-done', { op: 7 }], ['step-done', { op: 'T1' }]);
    expect(f.unknown).toEqual(['e1', 'e2']);
    expect([...f.operations.keys()]).toEqual(['T1']);
  });

  it('releases one thing and holds the other', () => {
    const f = build(
      [
        'put-in-clamps',
        {
          op: 'X2',
          holds: [
            { what: 'clamp-rack', leastH: 2, usualH: 12 },
            { what: 'mould', leastH: 2, usualH: 12 },
          ],
        },
      ],
      ['released', { op: 'X2', what: 'clamp-rack' }],
    );
    expect(f.clamps.get('X2/all')?.holds.map((h) => h.releasedMs)).toEqual([120_000, undefined]);
  });
});

describe('facts of a course', () => {
  it('knows sessions, who is here, learners and changes of the route', () => {
    const f = foldEvents(
      courseReducer,
      told('course:c1', [
        ['course-set-up', { name: 'Evening class', sessions: [{ session: 's1', startMs: 1, endMs: 2 }] }],
        ['learner-added', { person: 'p1', build: 'b1' }],
        ['session-opened', { session: 's1' }],
        ['present', { session: 's1', person: 'p1' }],
        ['absent', { session: 's1', person: 'p1' }],
        ['route-edited', { edit: '{"what":"switch-off","op":"X7"}' }],
        ['learner-removed', { person: 'p1' }],
      ]),
    ).facts;
    expect(f.course).toBe('c1');
    expect(f.sessions.get('s1')).toMatchObject({ startMs: 1, openedMs: 180_000 });
    expect(f.sessions.get('s1')?.here.get('p1')).toBe(false);
    expect(f.learners.get('p1')?.removed).toBe('left the course');
    expect(f.routeEdits.length).toBe(1);
  });
});

describe('facts of the shop', () => {
  it('ends a key when it is taken, and after an incident that names it', () => {
    const f = foldEvents(
      shopReducer,
      told('shop:main', [
        ['key-given', { person: 'p1', key: 'bandsaw' }],
        ['key-given', { person: 'p1', key: 'drill' }],
        ['key-given', { person: 'p2', key: 'bandsaw' }],
        ['key-taken', { person: 'p2', key: 'bandsaw' }],
        [
          'incident',
          {
            severity: 'near miss',
            text: 'thumb near the blade',
            person: 'p1',
            station: 'bandsaw',
            key: 'bandsaw',
          },
        ],
        ['key-given', { person: 'p2', key: 'bandsaw' }],
      ]),
    ).facts;
    expect(f.keys.get('p1/bandsaw')?.ended).toBe('after an incident');
    expect(f.keys.get('p1/drill')?.ended).toBeUndefined();
    expect(f.keys.get('p2/bandsaw')?.ended).toBeUndefined();
    expect(f.incidents.length).toBe(1);
  });

  it('knows what is out of order, not cleaned and checked', () => {
    const f = foldEvents(
      shopReducer,
      told('shop:main', [
        ['station-out-of-order', { station: 'bandsaw', reason: 'blade' }],
        ['station-not-cleaned', { station: 'bench' }],
        ['machine-checked', { station: 'drill-press', state: 'met' }],
        ['station-in-order', { station: 'bandsaw' }],
        ['room-climate', { humidityFrac: 0.46, tempC: 21, by: 'opening' }],
      ]),
    ).facts;
    expect(f.stations.get('bandsaw')?.outOfOrder).toBeUndefined();
    expect(f.stations.get('bench')?.notCleaned).toBeDefined();
    expect(f.stations.get('drill-press')?.checks.length).toBe(1);
    expect(f.climate).toMatchObject([{ humidityFrac: 0.46, how: 'opening' }]);
  });
});
