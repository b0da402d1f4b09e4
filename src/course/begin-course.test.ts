import { describe, expect, it } from 'vitest';
import { ownRoute } from '../route/route.ts';
import { type BeginAnswers, beginCourse, namesOf } from './begin-course.ts';
import { foldBuild } from './build-facts.ts';
import { classState } from './class-state.ts';
import { foldCourse } from './course-facts.ts';
import type { RecordEvent } from './event.ts';
import { progressOf } from './progress.ts';
import { foldShop } from './shop-facts.ts';

const START = Date.UTC(2026, 10, 3, 18);

const answers = (part: Partial<BeginAnswers> = {}): BeginAnswers => ({
  course: 'tuesday',
  name: 'Tuesday class',
  units: 'in',
  instrument: 'steel',
  pattern: 'abc',
  learners: [
    { person: 'p1', build: 'b1', furthest: 'ring', handed: 'right' },
    { person: 'p2', build: 'b2', handed: 'left' },
  ],
  firstStartMs: START,
  sessionMin: 150,
  sessionCount: 30,
  isPlain: true,
  ...part,
});

const asEvents = (entries: ReturnType<typeof beginCourse>): RecordEvent[] =>
  entries.map((e, i) => ({
    id: `e${i}`,
    device: 'd',
    counter: i + 1,
    time: START - 1000 + i,
    by: 'teacher',
    ...e,
  }));

describe('beginCourse', () => {
  it('counts the furthest coarse step and everything before it as done, and nothing for who begins', () => {
    const events = asEvents(beginCourse(ownRoute(), answers()));
    const of = (stream: string) => events.filter((e) => e.stream === stream);
    const builds = new Map(['b1', 'b2'].map((b) => [b, foldBuild(of(`build:${b}`))]));
    const state = classState({
      route: ownRoute(),
      course: foldCourse(of('course:tuesday')),
      builds,
      shop: foldShop([]),
      people: [],
    });
    const progress = progressOf(state, builds.get('b1') as never, START);
    for (const op of ['A1', 'T1', 'T4', 'T8', 'T9']) expect(progress.get(op)?.state, op).toBe('done');
    expect(progress.get('R6')?.state).not.toBe('done');
    expect(
      [...progressOf(state, builds.get('b2') as never, START).values()].filter((s) => s.state === 'done'),
    ).toEqual([]);
    expect(state.course.sessions.size).toBe(30);
    expect(builds.get('b2')?.setUp?.handed).toBe('left');
  });

  it('puts into clamps what is in clamps, since when it is', () => {
    const events = asEvents(
      beginCourse(ownRoute(), answers({ inClamps: [{ build: 'b1', op: 'T2', sinceMs: START - 3_600_000 }] })),
    );
    const facts = foldBuild(events.filter((e) => e.stream === 'build:b1'));
    expect([...facts.clamps.values()].map((c) => c.sinceMs)).toEqual([START - 3_600_000]);
  });

  it('refuses nobody and a session without length in one sentence', () => {
    expect(() => beginCourse(ownRoute(), answers({ learners: [] }))).toThrow(/paste the names/);
    expect(() => beginCourse(ownRoute(), answers({ sessionMin: 5 }))).toThrow(
      /5 minutes.*between 30 and 600/,
    );
  });
});

describe('namesOf', () => {
  it('takes names as people paste them', () => {
    expect(namesOf('1. Ada\n2) Bo, Cleo;\n\n  Dan ')).toEqual(['Ada', 'Bo', 'Cleo', 'Dan']);
  });

  it('refuses a name that comes twice', () => {
    expect(() => namesOf('Ada\nada')).toThrow(/twice/);
  });
});
