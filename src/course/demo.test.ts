import { describe, expect, it } from 'vitest';
import { nominalFigures } from '../route/nominal-figures.fixture.ts';
import { ownRoute } from '../route/route.ts';
import { foldBuild } from './build-facts.ts';
import { type ClassState, classState } from './class-state.ts';
import { foldCourse } from './course-facts.ts';
import { demoCourse } from './demo.ts';
import { type Demo, demoStartMs } from './demo-wish.ts';
import { bodyFault } from './event-kinds.ts';
import { releases } from './occupancy.ts';
import { ringOf } from './ring.ts';
import { foldShop } from './shop-facts.ts';
import { opening } from './tonight.ts';

const hourMs = 3_600_000;
/** Tuesday 11 March 2031, noon. */
const noonMs = Date.UTC(2031, 2, 11, 12);
const wish = (nowMs: number, seed = 1) => ({
  seed,
  nowMs,
  route: ownRoute(),
  pattern: { revision: 'r1', name: 'Small steel-string', text: 'format: bracewright-pattern/1' },
  instrument: 'steel' as const,
  figure: (id: string) => nominalFigures[id]?.[0],
});

function stateOf(demo: Demo): ClassState {
  const of = (stream: string) => demo.events.filter((e) => e.stream === stream);
  const streams = [...new Set(demo.events.map((e) => e.stream))].filter((s) => s.startsWith('build:'));
  return classState({
    route: ownRoute(),
    course: foldCourse(of('course:demo')),
    builds: new Map(streams.map((s) => [s.slice('build:'.length), foldBuild(of(s))])),
    shop: foldShop(of('shop:main')),
    people: demo.people,
  });
}

describe('demoStartMs', () => {
  it('is half past six this evening, or tomorrow when that is over, by the clock of the workshop', () => {
    const day = (ms: number) => new Date(ms).toISOString();
    expect(day(demoStartMs(noonMs))).toBe('2031-03-11T18:30:00.000Z');
    expect(day(demoStartMs(Date.UTC(2031, 2, 11, 18, 30)))).toBe('2031-03-12T18:30:00.000Z');
    expect(day(demoStartMs(Date.UTC(2031, 11, 31, 23)))).toBe('2032-01-01T18:30:00.000Z');
    expect(day(demoStartMs(noonMs, -360))).toBe('2031-03-12T00:30:00.000Z');
  });
});

describe('demoCourse', () => {
  const demo = demoCourse(wish(noonMs));
  const state = stateOf(demo);
  const builds = [...state.builds.keys()];
  const done = (b: string): number => ringOf(state, b, state.builds.get(b) as never, noonMs).doneFrac;

  it('gives the same events for the same wish and others for another seed', () => {
    expect(demoCourse(wish(noonMs)).events).toEqual(demo.events);
    expect(demoCourse(wish(noonMs, 2)).events).not.toEqual(demo.events);
  });

  it('writes only events a server would take, none of them later than now, in order of its clock', () => {
    expect(demo.events.filter((e) => bodyFault(e) !== undefined)).toEqual([]);
    expect(demo.events.filter((e) => e.time > noonMs)).toEqual([]);
    expect(demo.events.every((e, i) => i === 0 || e.time > (demo.events[i - 1]?.time as number))).toBe(true);
    expect(state.course.setUp?.demo).toBe(true);
  });

  it('stands half way through its term with 12 learners, the next evening today', () => {
    expect(builds.length).toBe(12);
    expect([...state.course.sessions.values()].filter((s) => s.closedMs !== undefined).length).toBe(15);
    expect(opening(state, noonMs).session?.startMs).toBe(demoStartMs(noonMs));
    const middle = builds.map(done).sort((a, b) => a - b)[6] as number;
    expect(middle).toBeGreaterThan(0.4);
    expect(middle).toBeLessThan(0.6);
  });

  it.each([0, 7, 12, 18, 19, 23])('has something resting, whatever the hour: %i', (hour) => {
    const nowMs = Date.UTC(2031, 2, 11, hour, 5);
    const now = hour === 12 ? state : stateOf(demoCourse(wish(nowMs)));
    const held = releases(now, nowMs);
    expect(held.filter((r) => r.state !== 'met').length).toBeGreaterThan(0);
    expect(held.every((r) => r.sinceMs <= nowMs)).toBe(true);
  });

  it('has one learner behind, one left-handed and one plate too thin', () => {
    const shares = builds.map(done).sort((a, b) => a - b);
    expect(done('b5')).toBe(shares[0]);
    expect((shares[1] as number) - (shares[0] as number)).toBeGreaterThan(0.05);
    expect(builds.filter((b) => state.builds.get(b)?.setUp?.handed === 'left')).toEqual(['b8']);
    const thin = state.builds.get('b3')?.readings.get('T10.1')?.at(-1);
    expect(thin?.value).toBeLessThan(2.75);
    expect(thin?.verdict?.state).toBe('broken');
  });

  it('has one jig that leans to one side and one broken reading nobody has decided about', () => {
    const o = opening(state, noonMs);
    expect(o.jigs.map((j) => [j.jig, j.reading])).toContainEqual(['ring-base', 'T7.2']);
    expect(o.undecided.map((u) => [u.build, u.reading])).toEqual([['b3', 'T10.1']]);
  });

  it('has one key that lapses within weeks, learners under 16 and of 16 to 17', () => {
    expect(opening(state, noonMs).keys).toMatchObject([{ person: 'p9', key: 'bandsaw' }]);
    const bands = demo.people.map((p) => p.ageBand);
    expect(bands).toContain('under16');
    expect(bands).toContain('from16to17');
  });

  it('offers nearly everybody something for the evening', () => {
    const assigned = opening(state, demoStartMs(noonMs) - hourMs / 2).assigned;
    expect(assigned.filter((a) => a.first).length).toBeGreaterThanOrEqual(11);
  });
});
