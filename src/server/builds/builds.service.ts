import { attendanceOf } from '../../course/attendance.ts';
import type { BuildFacts } from '../../course/build-facts.ts';
import { sheetOfBuild } from '../../course/build-sheet.ts';
import { type ClassState, finishOf } from '../../course/class-state.ts';
import type { RecordEvent } from '../../course/event.ts';
import { ringOf } from '../../course/ring.ts';
import { shopOfCourse } from '../../course/shop-of-record.ts';
import { topThicknesses } from '../../course/top-thickness.ts';
import { numberOf } from '../../graph/sheet.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import { certificate } from '../../prints/certificate.ts';
import { type PassportAbout, passport, passportParts } from '../../prints/passport.ts';
import type { Context } from '../context.ts';
import { courseState } from '../courses/course-state.ts';
import type { Caller } from '../doors/caller.ts';
import { paperAsked, usualPaper } from '../prints/paper-asked.ts';
import { maySeeEvent } from '../record/permission.ts';
import { Refusal } from '../refusal.ts';
import { serverCivil } from '../server-clock.ts';

/** One build with what its papers need. */
export interface FoundBuild {
  readonly build: string;
  readonly facts: BuildFacts;
  readonly state: ClassState;
  readonly pattern: Pattern;
}

const noSuchBuild = (): Refusal =>
  new Refusal(404, 'no-such-build', 'There is no build under that id for you here; open it from the builds.');

/**
 * The build a caller asks for.
 *
 * @throws Refusal 404 when there is none, also when it is another learner's
 */
export async function buildForCaller(context: Context, caller: Caller, build: string): Promise<FoundBuild> {
  if (!/^[A-Za-z0-9._-]{1,80}$/.test(build)) throw noSuchBuild();
  if (caller.role !== 'teacher' && (caller.build === '' || caller.build !== build)) throw noSuchBuild();
  const events = await context.events.ofStreams([`build:${build}`]);
  const setUp = events.findLast((e) => e.kind === 'build-set-up');
  const course = String((setUp?.body as { course?: unknown } | undefined)?.course ?? '');
  const found = await courseState(context, course);
  const facts = found?.state.builds.get(build);
  if (!found || !facts?.setUp) throw noSuchBuild();
  return { build, facts, state: found.state, pattern: found.patternOf(facts) };
}

const dayOf = (ms: number): string => serverCivil(ms).date;

/** Day of the first step, and of the hand-over. */
function workDays(facts: BuildFacts): Pick<PassportAbout, 'begunOn' | 'handedOverOn'> {
  const done = [...facts.operations.values()]
    .filter((o) => o.before !== true)
    .flatMap((o) => [...o.parts.values()].flatMap((p) => p.startedMs ?? p.doneMs ?? []));
  return {
    ...(done.length === 0 ? {} : { begunOn: dayOf(Math.min(...done)) }),
    ...(facts.handedOverMs === undefined ? {} : { handedOverOn: dayOf(facts.handedOverMs) }),
  };
}

async function aboutOf(context: Context, found: FoundBuild): Promise<PassportAbout> {
  const { state, facts, build } = found;
  const learner = [...state.course.learners.values()].find((l) => l.build === build);
  const person = await context.people.get(facts.setUp?.person ?? '');
  const finish = finishOf(state, facts);
  return {
    ask: state.course.setUp?.name ?? 'the workshop',
    revision: (facts.pattern ?? '').slice(0, 6),
    printedOn: dayOf(context.nowMs()),
    isDemo: state.course.setUp?.demo === true,
    ...(learner?.number === undefined ? {} : { number: learner.number }),
    ...(person && !person.isForgotten && person.name !== '' ? { maker: person.name } : {}),
    ...(finish === undefined ? {} : { finish }),
    ...workDays(facts),
  };
}

/**
 * Passport and certificate as one PDF, a page each.
 *
 * @throws InputError for a paper that is not known
 */
export async function passportPdf(
  context: Context,
  found: FoundBuild,
  asked: string | undefined,
): Promise<Uint8Array> {
  const { state, facts, pattern, build } = found;
  const paper = paperAsked(asked, usualPaper(shopOfCourse(state)));
  const about = await aboutOf(context, found);
  const been = attendanceOf(state.course, facts.setUp?.person ?? '', context.nowMs());
  const pages = [
    passport(state.route, pattern, facts, about),
    certificate({
      ...(about.maker === undefined ? {} : { maker: about.maker }),
      course: state.course.setUp?.name ?? 'the course',
      instrument: pattern.name,
      sessions: been.sessions,
      ...(been.firstMs === undefined || been.lastMs === undefined
        ? {}
        : { fromTo: [dayOf(been.firstMs), dayOf(been.lastMs)] as const }),
      hours: Math.round(been.minutes / 6) / 10,
      doneFrac: ringOf(state, build, facts, context.nowMs()).doneFrac,
      printedOn: about.printedOn,
      isDemo: about.isDemo,
    }),
  ];
  return context.pdf.make({
    kind: 'pages',
    pages: pages.map((drawing) => ({ kind: 'fixed', drawing })),
    options: {
      paper,
      documentTitle: `Passport of build ${about.number ?? build}`,
      createdOn: about.printedOn,
    },
  });
}

/** Events that say something of people rather than of the instrument: they stay with the course. */
const OF_PEOPLE: ReadonlySet<string> = new Set([
  'note',
  'photo',
  'incident',
  'incident-closed',
  'help-asked',
  'help-given',
]);

/** What may leave with the instrument of an event: nobody's name or id. */
function instrumentEvent(e: RecordEvent): object {
  const { person: _person, ...body } = e.body as Record<string, unknown>;
  return { id: e.id, kind: e.kind, time: new Date(e.time).toISOString(), body };
}

/** Every number of the build's sheet; what was read, chosen or decided says by whom or by what. */
function asBuiltNumbers({ state, pattern, facts }: FoundBuild): object {
  const sheet = sheetOfBuild(state.route, pattern, facts);
  return Object.fromEntries(
    sheet.catalogue.ordered.flatMap((f) => {
      const value = numberOf(sheet, f.id);
      const by = sheet.given.overrides?.get(f.id)?.by;
      return value === undefined
        ? []
        : [[f.id, { value, unit: f.unit, label: f.label, ...(by === undefined ? {} : { instead_by: by }) }]];
    }),
  );
}

/** The full file of an instrument: what the passport says, without shortening, and the events behind it; no person in it. */
export async function recordFile(context: Context, caller: Caller, found: FoundBuild): Promise<object> {
  const { maker: _maker, ...about } = await aboutOf(context, found);
  const events = (await context.events.ofStreams([`build:${found.build}`]))
    .filter((e) => maySeeEvent(caller, e, new Set([found.build])) && !OF_PEOPLE.has(e.kind))
    .map(instrumentEvent);
  return {
    format: 'bracewright-build/1',
    build: found.build,
    pattern: { name: found.pattern.name, revision: found.facts.pattern ?? '' },
    printed_on: about.printedOn,
    as_built: asBuiltNumbers(found),
    thickness_of_top: topThicknesses(found.state.route, found.facts).map((t) => ({
      spot: t.spot,
      thickness_mm: t.thicknessMm,
      verdict: t.state ?? null,
    })),
    passport: passportParts(found.state.route, found.pattern, found.facts, about),
    events,
  };
}
