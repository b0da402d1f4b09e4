import { describe, expect, it } from 'vitest';
import { classOf, doneUpTo, minuteMs, person, startMs, type Told } from '../../test/support/class-of.ts';
import type { ClassState } from './class-state.ts';
import { buildsOf } from './class-state.ts';
import { type PublishedStep, planFormat, writePlanText } from './plan-text.ts';
import { nextBy, nextSteps } from './planned-steps.ts';
import { assign, opening } from './tonight.ts';
import { lookAround, plainSteps } from './what-next.ts';

const people = [person('p1'), person('p2')];
/** Both builds in the middle: several steps are open to each. */
const halfWay: readonly Told[] = [doneUpTo('b1', 'T4', 'S3', 'B2'), doneUpTo('b2', 'T4', 'S3', 'B2')];
const endMs = startMs + 150 * minuteMs;

const step = (build: string, op: string, part: string, atMin: number): PublishedStep => ({
  activityId: `${build}/${op}.${part}`,
  op,
  part,
  builds: [build],
  pieces: [{ startMs: startMs + atMin * minuteMs, endMs: startMs + (atMin + 20) * minuteMs }],
  wayIndex: 0,
  setUpMin: 0,
  people: [],
});
const published = (...steps: readonly PublishedStep[]): Told => [
  'course:c',
  'plan-published',
  { format: planFormat, steps: writePlanText(steps) },
];

function stepsOf(state: ClassState, build: string, atMs = startMs + minuteMs) {
  const look = lookAround(state, atMs, endMs);
  const own = buildsOf(state).find((b) => b.id === build);
  if (!own) throw new RangeError(build);
  return {
    plain: plainSteps(look, own.id, own.person, own.facts),
    next: nextSteps(look, own.id, own.person, own.facts),
    how: nextBy(look),
  };
}

describe('what is next by the plan', () => {
  it('is the plain rule, and says so, while no plan is published', () => {
    const { plain, next, how } = stepsOf(classOf(people, halfWay), 'b1');
    expect(next.by).toBe('plain rule');
    expect(next.offers).toEqual(plain.offers);
    expect(how.words).toContain('no plan is published yet');
  });

  it('takes the order of the plan, with one sentence why', () => {
    const { plain } = stepsOf(classOf(people, halfWay), 'b1');
    expect(plain.offers.length).toBeGreaterThan(1);
    const turned = [...plain.offers].reverse();
    const plan = published(...turned.map((o, i) => step('b1', o.op, o.part, 10 * i)));
    const { next, how } = stepsOf(classOf(people, [...halfWay, plan]), 'b1');
    const allowed = new Set(next.offers.map((o) => `${o.op}/${o.part}`));
    const expected = turned.map((o) => `${o.op}/${o.part}`).filter((key) => allowed.has(key));
    expect(next.offers.map((o) => `${o.op}/${o.part}`)).toEqual(expected);
    expect(next.offers[0]?.reason).toMatch(/^[^.]+(\.\d[^.]*)?\.$/);
    expect(how.by).toBe('plan');
  });

  it('never offers what the rules of the room do not', () => {
    const forbidden = step('b1', 'F9', '1', 0);
    const { plain, next } = stepsOf(classOf(people, [...halfWay, published(forbidden)]), 'b1');
    const allowed = plain.offers.map((o) => `${o.op}/${o.part}`);
    for (const o of next.offers) expect(allowed).toContain(`${o.op}/${o.part}`);
  });

  it('offers nothing late that does not fit with cleaning up before the bell', () => {
    const state = classOf(people, [...halfWay, published(step('b1', 'T1', '1', 0))]);
    const early = stepsOf(state, 'b1').next.offers;
    const late = stepsOf(state, 'b1', endMs - 40 * minuteMs).next.offers;
    expect(early.some((o) => o.likelyMin > 25)).toBe(true);
    expect(late.every((o) => o.likelyMin <= 25)).toBe(true);
  });

  it('holds back work that needs an adult while the only one is tied, and says so', () => {
    const young = [person('p1', { ageBand: 'under16' }), person('p2', { ageBand: 'under16' })];
    const ready = [doneUpTo('b1', 'N3'), doneUpTo('b2', 'N3'), published(step('b1', 'N5', '1', 0))];
    const free = stepsOf(classOf(young, ready), 'b1').next.offers.find((o) => o.op === 'N5');
    expect(free).toMatchObject({ how: 'teacher does it', needsAdult: true });
    expect(free?.reason).toContain('is free now');
    const started: Told = ['build:b2', 'step-started', { op: 'N4', part: '1' }, 0];
    const tied = stepsOf(classOf(young, [...ready, started]), 'b1').next;
    const words = [
      ...tied.offers.map((o) => `${o.op}: ${o.reason}`),
      ...tied.withheld.map((w) => `${w.op}: ${w.reason}`),
    ];
    expect(words.find((w) => w.startsWith('N5: '))).toMatch(/free in \d+ minutes/);
  });

  it('keeps the plain rule when the text of the plan cannot be read', () => {
    const broken: Told = ['course:c', 'plan-published', { format: planFormat, steps: 'nonsense' }];
    const { next, how } = stepsOf(classOf(people, [...halfWay, broken]), 'b1');
    expect(next.by).toBe('plain rule');
    expect(how.words).toContain('the plan cannot be followed');
    expect(how.words).toMatch(/\.$/);
  });

  it('lets a pin made after the plan go before it', () => {
    const { plain } = stepsOf(classOf(people, halfWay), 'b1');
    const [a, b] = plain.offers;
    if (!a || !b) throw new RangeError('two offers are wanted');
    const plan = published(step('b1', a.op, a.part, 0), step('b1', b.op, b.part, 60));
    const pin: Told = [
      'course:c',
      'step-pinned',
      { op: a.op, part: a.part, builds: ['b1'], session: 's1', startMs: startMs + 100 * minuteMs, endMs },
      -60,
    ];
    expect(stepsOf(classOf(people, [...halfWay, plan]), 'b1').next.offers[0]?.op).toBe(a.op);
    expect(stepsOf(classOf(people, [...halfWay, plan, pin]), 'b1').next.offers[0]?.op).toBe(b.op);
  });

  it('gives one adult to one learner at a time', () => {
    const young = [person('p1', { ageBand: 'under16' }), person('p2', { ageBand: 'under16' })];
    const state = classOf(young, [...halfWay, published(step('b1', 'T5', '1', 0), step('b2', 'T5', '1', 0))]);
    const look = lookAround(state, startMs + minuteMs, endMs);
    const firsts = assign(look, buildsOf(state)).flatMap((x) => x.first ?? []);
    const tied = firsts.filter((o) => o.needsAdult === true && o.batch === 'none');
    expect(tied.length).toBeLessThanOrEqual(1);
  });

  it('is the same on the opening page', () => {
    const state = classOf(people, [...halfWay, published(step('b2', 'T5', '1', 0))]);
    expect(opening(state, startMs).nextBy.by).toBe('plan');
  });
});

describe('first steps of a class', () => {
  it('give the only place to who has no other work, when its holder has some', () => {
    // both want the gluing deck first; only the second has something else that is open
    const state = classOf(people, halfWay);
    const look = lookAround(state, startMs + minuteMs, endMs);
    const firsts = assign(look, buildsOf(state));
    const open = firsts.filter((a) => a.next.offers.length > 0);
    expect(open.every((a) => a.first !== undefined)).toBe(true);
  });
});
