import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { classOf, doneUpTo, minuteMs, person, startMs, type Told } from '../../test/support/class-of.ts';
import { isFreeKey } from '../route/route-check.ts';
import type { BuildFacts } from './build-facts.ts';
import { type ClassState, planOf } from './class-state.ts';
import { ageWord, keyState } from './keys.ts';
import { partDoneMs, restStartMs } from './progress.ts';
import { lookAround, plainSteps } from './what-next.ts';

const endMs = startMs + 150 * minuteMs;
const met: Told = ['shop:main', 'room-climate', { humidityFrac: 0.45, tempC: 20 }, -10];
const key = (p: string, k: string): Told => ['shop:main', 'key-given', { person: p, key: k }];

function next(state: ClassState, build = 'b1', atMin = 0) {
  const look = lookAround(state, startMs + atMin * minuteMs, endMs);
  return plainSteps(look, build, `p${build.slice(1)}`, state.builds.get(build) as BuildFacts);
}
const opsOf = (state: ClassState, build?: string, atMin?: number) =>
  next(state, build, atMin).offers.map((o) => o.op);
const why = (state: ClassState, op: string, build?: string, atMin?: number) =>
  next(state, build, atMin).withheld.find((w) => w.op === op)?.reason;

describe('plainSteps', () => {
  it('begins with the induction', () => {
    expect(opsOf(classOf([person('p1')], []))).toEqual(['A1']);
  });

  it('puts the longest remaining chain first', () => {
    const offers = next(classOf([person('p1')], [doneUpTo('b1', 'A3', 'A4')])).offers;
    expect(offers[0]?.op).toBe('T1');
    expect(offers.every((o, i) => i === 0 || o.chainMin <= (offers[i - 1]?.chainMin as number))).toBe(true);
    expect(offers.map((o) => o.op)).toContain('G6');
  });

  it('waits for the rest toward each step: a joined plate may be cleaned soon and is sanded after 12 hours', () => {
    const told: Told[] = [
      doneUpTo('b1', 'T1'),
      ['build:b1', 'step-done', { op: 'T2' }, 0],
      [
        'build:b1',
        'put-in-clamps',
        { op: 'T2', holds: [{ what: 'plate-joining-frame', leastH: 0.5, usualH: 1 }] },
        0,
      ],
    ];
    expect(why(classOf([person('p1')], told), 'T3', 'b1', 10)).toBe('resting');
    expect(opsOf(classOf([person('p1')], told), 'b1', 31)).toContain('T3');
    const cleaned = classOf(
      [person('p1')],
      [...told, ['build:b1', 'step-done', { op: 'T3' }, 40], key('p1', 'thickness-sander')],
    );
    expect(why(cleaned, 'T4', 'b1', 60)).toBe('resting');
    expect(
      plainSteps(
        lookAround(cleaned, startMs + 13 * 60 * minuteMs),
        'b1',
        'p1',
        cleaned.builds.get('b1') as BuildFacts,
      ).offers.map((o) => o.op),
    ).toContain('T4');
  });

  it('takes work done before the record began as rested, but not what was told to be in clamps', () => {
    const told: Told[] = [doneUpTo('b1', 'T3'), key('p1', 'thickness-sander')];
    expect(opsOf(classOf([person('p1')], told))).toContain('T4');
    const inClamps: Told = [
      'build:b1',
      'put-in-clamps',
      {
        op: 'T2',
        atMs: startMs - 3_600_000,
        holds: [{ what: 'plate-joining-frame', leastH: 0.5, usualH: 1 }],
      },
      -30,
    ];
    expect(why(classOf([person('p1')], [...told, inClamps]), 'T4')).toBe('resting');
  });

  it('without a key lets the teacher feed the machine, or gives the way by hand with its longer minutes', () => {
    const offers = next(classOf([person('p1')], [doneUpTo('b1', 'T3')])).offers;
    expect(offers.find((o) => o.op === 'T4')).toMatchObject({
      how: 'teacher does it',
      station: 'thickness-sander',
    });
    const saw = next(classOf([person('p1')], [doneUpTo('b1', 'T11')])).offers.find((o) => o.op === 'T13');
    expect(saw).toMatchObject({ how: 'by hand', station: 'bench', likelyMin: 36 });
  });

  it('obeys age table and consent: under 16 no jointer, thickness sander or router alone; no consent, no machine', () => {
    const young = next(
      classOf([person('p1', { ageBand: 'under16' })], [doneUpTo('b1', 'T3'), key('p1', 'thickness-sander')]),
    ).offers;
    expect(young.find((o) => o.op === 'T4')?.how).toBe('teacher does it');
    const sixteen = next(
      classOf(
        [person('p1', { ageBand: 'from16to17' })],
        [doneUpTo('b1', 'T3'), key('p1', 'thickness-sander')],
      ),
    ).offers;
    expect(sixteen.find((o) => o.op === 'T4')?.how).toBe('adult beside');
    const refused = next(
      classOf([person('p1', { machines: 'not asked' })], [doneUpTo('b1', 'T11'), key('p1', 'bandsaw')]),
    ).offers;
    expect(refused.find((o) => o.op === 'T13')?.how).toBe('by hand');
  });

  it("obeys the school's own never, with its reason", () => {
    const never: Told = [
      'shop:main',
      'age-rule-set',
      { station: 'thickness-sander', band: 'adult', word: 'never', reason: 'insurer' },
    ];
    const state = classOf([person('p1')], [doneUpTo('b1', 'T3'), key('p1', 'thickness-sander'), never]);
    expect(opsOf(state)).not.toContain('T4');
    expect(why(state, 'T4')).toBe('thickness sander: adult: never (insurer)');
  });

  it('glues nothing in a room that is broken, and asks for the teacher in one that is doubtful', () => {
    const done = doneUpTo('b1', 'R2', 'T14', 'R3', 'K5');
    const room = (humidityFrac: number): Told => [
      'shop:main',
      'room-climate',
      { humidityFrac, tempC: 20 },
      -10,
    ];
    expect(why(classOf([person('p1')], [done, room(0.6)]), 'R4')).toContain('Room not right for gluing');
    expect(
      next(classOf([person('p1')], [done, room(0.55)])).offers.find((o) => o.op === 'R4')?.roomSign,
    ).toBe(true);
    expect(next(classOf([person('p1')], [done, met])).offers.find((o) => o.op === 'R4')?.roomSign).toBe(
      false,
    );
  });

  it('offers nothing that takes longer than the minutes left before cleaning', () => {
    const state = classOf([person('p1')], [doneUpTo('b1', 'A3', 'A4')]);
    expect(opsOf(state, 'b1', 0)).toContain('T1');
    expect(why(state, 'T1', 'b1', 115)).toBe('takes about 25 minutes, 20 are left');
    expect(opsOf(state, 'b1', 149)).toEqual([]);
  });

  it('leaves out a station that is out of order or full, and says when it is free', () => {
    const done = (b: string) => doneUpTo(b, 'T1');
    const people = ['p1', 'p2', 'p3', 'p4', 'p5'].map((p) => person(p));
    const held = [2, 3, 4, 5].flatMap((i): Told[] => [
      done(`b${i}`),
      [
        `build:b${i}`,
        'put-in-clamps',
        { op: 'T2', holds: [{ what: 'plate-joining-frame', leastH: 0.5, usualH: 1 }] },
        -10,
      ],
    ]);
    const state = classOf(people, [done('b1'), ...held]);
    const frames = next(state).withheld.find((w) => w.op === 'T2');
    expect(frames?.reason).toMatch(/plate-joining frame is taken|in use/);
    expect(frames?.untilMs).toBe(startMs + 20 * minuteMs);
    const broken: Told = [
      'shop:main',
      'station-out-of-order',
      { station: 'plate-joining-frame', reason: 'wedge split' },
    ];
    expect(why(classOf([person('p1')], [done('b1'), broken]), 'T2')).toContain('out of order: wedge split');
  });

  it('holds what follows until a signature is given, and asks for it first where the work waits for it', () => {
    const scrap: Told[] = [doneUpTo('b1', 'F1'), ['build:b1', 'step-done', { op: 'F2' }, 0]];
    expect(opsOf(classOf([person('p1')], scrap))).not.toContain('F3');
    expect(
      opsOf(
        classOf(
          [person('p1')],
          [...scrap, ['build:b1', 'hold-signed', { op: 'F2', sign: 'frets 5, 7, 12 measured' }, 1]],
        ),
      ),
    ).toContain('F3');
    const t4 = next(
      classOf([person('p1')], [doneUpTo('b1', 'T3'), key('p1', 'thickness-sander')]),
    ).offers.find((o) => o.op === 'T4');
    expect(t4?.signFirst?.sign).toBe('first number typed and offset proved');
  });

  it('asks for the daily check before the first use of a machine', () => {
    const told: Told[] = [doneUpTo('b1', 'T11'), key('p1', 'bandsaw')];
    const saw = (t: Told[]) => next(classOf([person('p1')], t)).offers.find((o) => o.op === 'T13');
    expect(saw(told)).toMatchObject({ station: 'bandsaw', checkFirst: true });
    expect(
      saw([...told, ['shop:main', 'machine-checked', { station: 'bandsaw', state: 'met' }, -5]])?.checkFirst,
    ).toBe(false);
    expect(
      saw([...told, ['shop:main', 'machine-checked', { station: 'bandsaw', state: 'broken' }, -5]])
        ?.checkFirst,
    ).toBe(true);
  });

  it('never offers what is forbidden, whatever was done and whoever asks (seed 21)', () => {
    const ids = classOf([person('p1')], [])
      .route.operations.filter((o) => o.kind === 'build')
      .map((o) => o.id);
    let seen = 0;
    fc.assert(
      fc.property(
        fc.subarray(ids, { minLength: 0, maxLength: 6 }),
        fc.array(fc.tuple(fc.constantFrom(...ids), fc.integer({ min: -2000, max: 60 })), { maxLength: 12 }),
        fc.subarray([
          'drill',
          'bandsaw',
          'thickness-sander',
          'router-in-jig',
          'hot-bender',
          'finish',
          'belt-sander',
        ]),
        fc.constantFrom('under16', 'from16to17', 'adult'),
        fc.constantFrom('yes', 'no', 'not asked'),
        fc.integer({ min: 30, max: 65 }),
        fc.integer({ min: 61, max: 149 }),
        (before, done, keys, ageBand, machines, percent, atMin) => {
          const state = classOf(
            [person('p1', { ageBand: ageBand as 'adult', machines: machines as 'yes' })],
            [
              doneUpTo('b1', ...before),
              ...done.map(([op, min]): Told => ['build:b1', 'step-done', { op }, min]),
              ...keys.map((k) => key('p1', k)),
              ['shop:main', 'room-climate', { humidityFrac: percent / 100, tempC: 20 }, atMin - 5],
            ],
          );
          for (const o of next(state, 'b1', atMin).offers) {
            checkOffer(state, o, startMs + atMin * minuteMs, percent);
            seen++;
          }
        },
      ),
      { seed: 21, numRuns: 150 },
    );
    expect(seen).toBeGreaterThan(300);
  });
});

/** Tries one offer against the rules, each written out again. */
function checkOffer(
  state: ClassState,
  o: ReturnType<typeof next>['offers'][number],
  nowMs: number,
  percent: number,
): void {
  const facts = state.builds.get('b1') as BuildFacts;
  const plan = planOf(state, facts);
  const p = plan.byId.get(o.op);
  if (!p) throw new Error(`${o.op} is not in the plan`);
  const isFirst = p.parts.every((x) => partDoneMs(facts, o.op, x.id) === undefined);
  for (const l of isFirst ? p.before : []) {
    const from = plan.byId.get(l.from);
    expect(
      from?.parts.every((x) => partDoneMs(facts, l.from, x.id) !== undefined),
      `${o.op} after ${l.from}`,
    ).toBe(true);
    const restMs = from && restStartMs(facts, from);
    if (restMs !== undefined)
      expect(restMs + l.leastH * 3_600_000, `${o.op}: rest of ${l.from}`).toBeLessThanOrEqual(nowMs);
  }
  const station = state.route.stations.find((s) => s.id === o.station);
  const who = state.people.get('p1');
  if (station && !isFreeKey(station.key) && o.how !== 'teacher does it') {
    expect(who?.machines, `${o.op} at ${o.station}`).toBe('yes');
    expect(keyState(state, 'p1', station.key, nowMs).state).toBe('held');
    expect(['alone', 'adult beside']).toContain(ageWord(state, station.id, who?.ageBand ?? 'under16').word);
  }
  if (
    state.route.roomHolds.operations.includes(o.op) &&
    p.parts.find((x) => x.id === o.part)?.then === 'glue'
  )
    expect(percent).toBeGreaterThanOrEqual(35);
  expect(o.likelyMin).toBeLessThanOrEqual((endMs - nowMs) / minuteMs - 15);
}
