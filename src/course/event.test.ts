import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../quantity/input-error.ts';
import { compareEvents, idFromBytes, makeEvent, type RecordEvent, readEvent, seenBy } from './event.ts';
import { bodyFault, checkBody, eventKinds } from './event-kinds.ts';

const bytes = (n: number): Uint8Array => Uint8Array.from({ length: 16 }, (_, i) => (n * 37 + i * 101) & 255);
const draft = { stream: 'build:b1', kind: 'step-done', by: 'p1', body: { op: 'T1' } } as const;

describe('makeEvent', () => {
  it('goes forward even when the clock of the device goes back', () => {
    let recorder = { device: 'tablet', counter: 0, lastTimeMs: 0 };
    const times: number[] = [];
    for (const now of [1000, 1000, 400, 5000]) {
      const made = makeEvent(recorder, draft, now, bytes(now));
      recorder = made.recorder;
      times.push(made.event.time);
    }
    expect(times).toEqual([1000, 1001, 1002, 5000]);
    expect(recorder.counter).toBe(4);
  });

  it('puts what is made after what was seen, though the clocks are two days apart', () => {
    const ahead = makeEvent({ device: 'a', counter: 0, lastTimeMs: 0 }, draft, 172_800_000, bytes(1)).event;
    const slow = seenBy({ device: 'b', counter: 0, lastTimeMs: 0 }, ahead);
    const answer = makeEvent(slow, draft, 5, bytes(2)).event;
    expect(compareEvents(ahead, answer)).toBeLessThan(0);
  });

  it('refuses too little chance and a time that is none', () => {
    const recorder = { device: 'a', counter: 0, lastTimeMs: 0 };
    expect(() => makeEvent(recorder, draft, 1, bytes(1).subarray(0, 8))).toThrow(RangeError);
    expect(() => makeEvent(recorder, draft, Number.NaN, bytes(1))).toThrow(RangeError);
  });
});

describe('idFromBytes', () => {
  it('writes 128 bits as 26 letters that can be told apart, another for every other number (seed 3)', () => {
    fc.assert(
      fc.property(
        fc.uint8Array({ minLength: 16, maxLength: 16 }),
        fc.nat(15),
        fc.integer({ min: 1, max: 255 }),
        (b, at, x) => {
          const other = Uint8Array.from(b);
          other[at] = (other[at] as number) ^ x;
          expect(idFromBytes(b)).toMatch(/^[0-9a-hjkmnp-tv-z]{26}$/);
          expect(idFromBytes(b)).not.toBe(idFromBytes(other));
        },
      ),
      { seed: 3, numRuns: 300 },
    );
  });
});

describe('compareEvents', () => {
  const event = fc.record({
    id: fc.constantFrom('x', 'y', 'z'),
    stream: fc.constant('build:b' as const),
    kind: fc.constant('note'),
    device: fc.constantFrom('a', 'b'),
    counter: fc.nat(2),
    time: fc.nat(2),
    by: fc.constant('p'),
    body: fc.constant({}),
  });
  it('is a total order (seed 5)', () => {
    fc.assert(
      fc.property(event, event, event, (a, b, c) => {
        expect(Math.sign(compareEvents(a, b)) + Math.sign(compareEvents(b, a))).toBe(0);
        if (compareEvents(a, b) <= 0 && compareEvents(b, c) <= 0)
          expect(compareEvents(a, c)).toBeLessThanOrEqual(0);
        if (compareEvents(a, b) === 0) expect(a).toEqual(b);
      }),
      { seed: 5, numRuns: 500 },
    );
  });
});

describe('readEvent', () => {
  const good: RecordEvent = { id: 'e1', device: 'd', counter: 1, time: 2, ...draft };
  it('takes a whole envelope and drops members it does not know', () => {
    expect(readEvent({ ...good, extra: 1 })).toEqual(good);
  });
  it.each([
    ['id', ''],
    ['id', 'a b'],
    ['stream', 'room:1'],
    ['stream', '../x'],
    ['counter', 1.5],
    ['time', -1],
    ['time', '2'],
    ['by', 7],
    ['body', []],
    ['kind', 'x'.repeat(81)],
  ])('refuses %s %j in one sentence', (member, value) => {
    expect(() => readEvent({ ...good, [member]: value })).toThrow(InputError);
    expect(() => readEvent({ ...good, [member]: value })).toThrow(new RegExp(`The ${member} of an event is`));
  });
});

describe('event kinds', () => {
  const event = (kind: string, body: unknown, stream: RecordEvent['stream'] = 'build:b1'): RecordEvent => ({
    id: 'e',
    stream,
    kind,
    device: 'd',
    counter: 1,
    time: 1,
    by: 'p',
    body,
  });

  it('are permanent: every pinned kind is still there', () => {
    const pinned = JSON.parse(readFileSync('test/pinned/event-kinds.json', 'utf8')) as string[];
    expect(
      pinned.filter((k) => !Object.hasOwn(eventKinds, k)),
      'a kind once used is never removed',
    ).toEqual([]);
    expect(
      Object.keys(eventKinds).filter((k) => !pinned.includes(k)),
      'add new kinds to test/pinned/event-kinds.json',
    ).toEqual([]);
  });

  it('check stream and body, and let an unknown kind through', () => {
    expect(
      bodyFault(event('reading', { op: 'T10', reading: 'T10.1', value: 2.46, unit: 'mm' })),
    ).toBeUndefined();
    expect(bodyFault(event('reading', { op: 'T10', reading: 'T10.1', value: '2.46' }))).toMatch(
      /^value: a number/,
    );
    expect(bodyFault(event('key-given', { person: 'p', key: 'bandsaw' }))).toMatch(
      /belongs to shop, not to build/,
    );
    expect(bodyFault(event('repair-decided', { op: 'T1', fault: 'step', decision: 'burn' }))).toMatch(
      /decision: one of carry on, repair, replace/,
    );
    expect(bodyFault(event('something-of-later', { any: 1 }))).toBeUndefined();
    expect(() => checkBody(event('step-done', {}))).toThrow(
      /The event "step-done" cannot be taken: op: 1 to 80/,
    );
    expect(() => checkBody(event('step-done', { op: 'T1' }))).not.toThrow();
  });

  it('keep members of a later version', () => {
    expect(bodyFault(event('step-done', { op: 'T1', mood: 'good' }))).toBeUndefined();
  });
});
