import { type BuildFacts, foldBuild } from '../../course/build-facts.ts';
import {
  type ClassState,
  type CourseInShop,
  classState,
  othersInShop,
  type PersonFacts,
} from '../../course/class-state.ts';
import { foldCourse } from '../../course/course-facts.ts';
import type { RecordEvent } from '../../course/event.ts';
import { foldShop } from '../../course/shop-facts.ts';
import { type NamedShop, shopOfEvents } from '../../course/shop-of-record.ts';
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

/** The shop for what belongs to no course; undefined when the record knows none. */
export async function shopOfStore(context: Context): Promise<NamedShop | undefined> {
  const [shops, courses] = await Promise.all([
    context.events.ofStreams(['shop:main', 'shop:demo']),
    context.events.ofKinds(['course-set-up', 'course-removed']),
  ]);
  return shopOfEvents([...shops, ...courses]);
}

/** The courses that work in the same shop, each with its builds. */
function coursesInShop(streams: Awaited<ReturnType<typeof streamsOf>>): ReadonlyMap<string, CourseInShop> {
  const builds = new Map(
    [...streams]
      .filter(([stream]) => stream.startsWith('build:'))
      .map(([stream, events]) => [stream.slice('build:'.length), foldBuild(events)] as const),
  );
  const found = new Map<string, CourseInShop>();
  for (const [stream, events] of streams) {
    if (!stream.startsWith('course:')) continue;
    const id = stream.slice('course:'.length);
    const course = foldCourse(events);
    if (!course.setUp || course.removed) continue;
    found.set(id, { course, builds: new Map([...builds].filter(([, b]) => b.setUp?.course === id)) });
  }
  return found;
}

/** One course as the record has it now, with what its prints need; undefined when there is none of that id. */
export async function courseState(
  context: Context,
  id: string,
): Promise<{ readonly state: ClassState; readonly patternOf: (facts: BuildFacts) => Pattern } | undefined> {
  const streams = await streamsOf(context);
  const inShop = coursesInShop(streams);
  const own = inShop.get(id);
  const { setUp } = own?.course ?? {};
  if (!own || !setUp) return undefined;
  const shop = foldShop(streams.get(setUp.demo ? 'shop:demo' : 'shop:main') ?? []);
  const state = classState({
    route: ownRoute(),
    ...own,
    shop,
    people: (await context.people.all()).map(personFacts),
    others: othersInShop(inShop, id),
  });
  const known = await allPatterns(context);
  const read = new Map<string, Pattern>();
  const patternOf = (facts: BuildFacts): Pattern => {
    const revision = facts.pattern ?? facts.setUp?.pattern ?? '';
    const text =
      state.shop.revisions.get(revision)?.text ??
      own.course.revisions.get(revision)?.text ??
      facts.revisions.get(revision)?.text ??
      known.find((p) => p.hash === revision)?.text ??
      known.find((p) => p.text.includes(`instrument: ${facts.setUp?.instrument ?? 'steel'}`))?.text;
    const before = read.get(text ?? '');
    if (before) return before;
    const pattern = readPattern(text ?? '');
    read.set(text ?? '', pattern);
    return pattern;
  };
  return { state, patternOf };
}
