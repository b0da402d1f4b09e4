import { type BuildFacts, foldBuild } from '../../course/build-facts.ts';
import { type ClassState, classState, type PersonFacts } from '../../course/class-state.ts';
import { foldCourse } from '../../course/course-facts.ts';
import type { RecordEvent } from '../../course/event.ts';
import { foldShop } from '../../course/shop-facts.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import { readPattern } from '../../pattern/pattern-file.ts';
import { ownRoute } from '../../route/route.ts';
import type { Person } from '../../store/people/people.repository.ts';
import type { Context } from '../context.ts';
import { allPatterns } from '../patterns/patterns.service.ts';

const personFacts = (p: Person): PersonFacts => ({
  id: p.id,
  label: p.name,
  role: p.role,
  ageBand: p.ageBand,
  machines: p.machines.answer,
  ...(p.machines.on === undefined ? {} : { machinesOn: p.machines.on }),
  photos: p.photos.answer,
  ...(p.photos.on === undefined ? {} : { photosOn: p.photos.on }),
});

/** The streams of the record. */
async function streamsOf(context: Context): Promise<ReadonlyMap<string, readonly RecordEvent[]>> {
  const streams = new Map<string, RecordEvent[]>();
  for (const { arrival: _arrival, ...event } of await context.events.all()) {
    const list = streams.get(event.stream);
    if (list) list.push(event);
    else streams.set(event.stream, [event]);
  }
  return streams;
}

/** One course as the record has it now, with what its prints need; undefined when there is none of that id. */
export async function courseState(
  context: Context,
  id: string,
): Promise<{ readonly state: ClassState; readonly patternOf: (facts: BuildFacts) => Pattern } | undefined> {
  const streams = await streamsOf(context);
  const course = foldCourse(streams.get(`course:${id}`) ?? []);
  if (!course.setUp || course.removed) return undefined;
  const builds = new Map(
    [...streams]
      .filter(([stream]) => stream.startsWith('build:'))
      .map(([stream, events]) => [stream.slice('build:'.length), foldBuild(events)] as const)
      .filter(([, facts]) => facts.setUp?.course === id),
  );
  const shop = foldShop(streams.get(course.setUp.demo ? 'shop:demo' : 'shop:main') ?? []);
  const state = classState({
    route: ownRoute(),
    course,
    builds,
    shop,
    people: (await context.people.all()).map(personFacts),
  });
  const known = await allPatterns(context);
  const patternOf = (facts: BuildFacts): Pattern => {
    const revision = facts.pattern ?? facts.setUp?.pattern ?? '';
    const text =
      state.shop.revisions.get(revision)?.text ??
      course.revisions.get(revision)?.text ??
      facts.revisions.get(revision)?.text ??
      known.find((p) => p.hash === revision)?.text ??
      known.find((p) => p.text.includes(`instrument: ${facts.setUp?.instrument ?? 'steel'}`))?.text;
    return readPattern(text ?? '');
  };
  return { state, patternOf };
}
