import { foldBuild } from '../../src/course/build-facts.ts';
import { type ClassState, classState, type PersonFacts } from '../../src/course/class-state.ts';
import { foldCourse } from '../../src/course/course-facts.ts';
import type { RecordEvent, StreamId } from '../../src/course/event.ts';
import { foldShop } from '../../src/course/shop-facts.ts';
import { ownRoute } from '../../src/route/route.ts';

/** What a test tells of a class: stream, kind, body, and when in minutes after the start of the session. */
export type Told = readonly [stream: StreamId, kind: string, body: object, atMin?: number];

/** Start of the session of a told class: 2 September 2030, 18:30 UTC. */
export const startMs = Date.UTC(2030, 8, 2, 18, 30);
export const minuteMs = 60_000;

/** A learner of a told class: adult with consent unless said otherwise. */
export function person(id: string, more: Partial<PersonFacts> = {}): PersonFacts {
  return {
    id,
    label: id.toUpperCase(),
    role: 'learner',
    ageBand: 'adult',
    machines: 'yes',
    photos: 'yes',
    ...more,
  };
}

/** Events as told; what has no time happened a week before the session. */
export function eventsOf(told: readonly Told[]): readonly RecordEvent[] {
  return told.map(([stream, kind, body, atMin], i) => ({
    id: `e${i}`,
    stream,
    kind,
    device: 'd',
    counter: i + 1,
    time: startMs + (atMin ?? -7 * 24 * 60 + i / 1000) * minuteMs,
    by: 'teacher',
    body,
  }));
}

/** A class of steel-strings with one session, as told. Builds b1.. belong to p1... */
export function classOf(people: readonly PersonFacts[], told: readonly Told[]): ClassState {
  const all = eventsOf([
    [
      'course:c',
      'course-set-up',
      { name: 'Class', sessions: [{ session: 's1', startMs, endMs: startMs + 150 * minuteMs }] },
    ],
    ...people.flatMap((p, i): Told[] => [
      ['course:c', 'learner-added', { person: p.id, build: `b${i + 1}`, number: i + 1 }],
      [
        `build:b${i + 1}`,
        'build-set-up',
        { course: 'c', person: p.id, instrument: 'steel', pattern: 'r1', handed: 'right' },
      ],
    ]),
    ...told,
  ]);
  const of = (stream: string) => all.filter((e) => e.stream === stream);
  return classState({
    route: ownRoute(),
    course: foldCourse(of('course:c')),
    builds: new Map(people.map((_, i) => [`b${i + 1}`, foldBuild(of(`build:b${i + 1}`))])),
    shop: foldShop(of('shop:main')),
    people,
  });
}

/** Operations of the steel-string up to and with some, done before the record began. */
export function doneUpTo(build: string, ...ops: readonly string[]): Told {
  const byId = new Map(ownRoute().operations.map((o) => [o.id, o]));
  const all = new Set<string>();
  const visit = (id: string): void => {
    if (all.has(id)) return;
    all.add(id);
    for (const a of byId.get(id)?.after ?? []) visit(a);
  };
  for (const op of ops) visit(op);
  return [`build:${build}`, 'done-before-record', { ops: [...all] }];
}
