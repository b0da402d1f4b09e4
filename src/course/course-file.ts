import { parseDocument } from 'yaml';
import { InputError } from '../quantity/input-error.ts';
import { DAY_MS } from '../quantity/time.ts';
import type { ClassSetUp, CourseLearner, CourseSetUp } from '../schedule/class/class-set-up.ts';
import type { Uncertainty } from '../schedule/class/forecast.ts';
import { classProblem } from '../schedule/class/from-route.ts';
import { type Objective, usualObjectives } from '../schedule/class/measure.ts';
import type { ClassProblem } from '../schedule/class/problem.ts';
import type { RouteForm } from '../schedule/class/route-form.ts';
import { civilMinutes } from './civil-time.ts';
import { type DoneStep, withProgress } from './course-progress.ts';
import { listOf, mapOf, numberAt, onlyKeys, textAt, wholeAt, type YamlMap } from './yaml-reading.ts';

/** A session as people know it: the whole evening, not only its usable minutes. */
export interface CourseSession {
  readonly id: string;
  readonly number: number;
  readonly beginMin: number;
  readonly endMin: number;
}

/** A course file, read. Minutes are civil minutes of the course's time zone since 1970-01-01 00:00. */
export interface CourseFile {
  readonly name: string;
  readonly timeZone: string;
  readonly sessions: readonly CourseSession[];
  readonly setUp: ClassSetUp;
  readonly dueMin: number | undefined;
  readonly objectives: readonly Objective[];
  readonly uncertainty: Uncertainty;
  readonly nowMin: number | undefined;
  readonly done: readonly DoneStep[];
}

const formatName = 'bracewright-course/1';
const mostLearners = 40;
const topKeys = [
  'format',
  'name',
  'note',
  'time_zone',
  'choice',
  'rests',
  'due',
  'objectives',
  'teachers',
  'helpers',
  'opening_min',
  'closing_min',
  'sessions',
  'preparation',
  'learners',
  'counts',
  'handed_round',
  'closures',
  'chances',
  'progress',
];

/**
 * Reads a course file.
 *
 * @param text   YAML as written
 * @param route  the route the course follows
 * @returns      the course
 * @throws InputError with one sentence
 * @assumes      civil time: a rest over the night in which the clocks change is an hour out
 * @source       arithmetic
 */
export function readCourseFile(text: string, route: RouteForm): CourseFile {
  const document = parseDocument(text, { prettyErrors: true });
  if (document.errors.length > 0)
    throw new InputError(
      'course-yaml',
      `The course file is not YAML: ${document.errors[0]!.message.split('\n')[0]}; correct that line.`,
    );
  const top = mapOf(document.toJS() as unknown, 'The course file');
  if (top['format'] !== formatName)
    throw new InputError(
      'course-format',
      `The format of the course file is ${JSON.stringify(top['format'])}; it must be ${formatName}.`,
      'format',
    );
  onlyKeys(top, topKeys, 'The course file');
  const sessions = readSessions(top);
  const course: CourseSetUp = {
    id: 'course',
    name: textAt(top, 'name', 'The name of the course'),
    sessions: sessions.map((s) => usablePart(s, top)),
    preparation: readPreparation(top, sessions),
    learners: readLearners(top, sessions, route),
    teacherIds: namesAt(top, 'teachers') ?? ['teacher'],
    helperIds: namesAt(top, 'helpers') ?? [],
  };
  const due =
    top['due'] === undefined ? undefined : civilMinutes(`${textAt(top, 'due', 'The date due')}T23:59`, 'due');
  return {
    name: course.name,
    timeZone: readTimeZone(top),
    sessions,
    setUp: { route, courses: [course], ...readChoices(top, route) },
    dueMin: due,
    objectives: readObjectives(top),
    uncertainty: readUncertainty(top),
    ...readProgress(top, course, route),
  };
}

/**
 * The planner's problem of a course file, with what is done taken out or fixed.
 *
 * @param file  the course
 * @returns     the class problem
 * @source      arithmetic
 */
export function courseProblem(file: CourseFile): ClassProblem {
  return withProgress(
    classProblem({
      ...file.setUp,
      done: file.done,
      ...(file.nowMin === undefined ? {} : { nowMin: file.nowMin }),
    }),
    file.done,
    file.nowMin,
  );
}

function readTimeZone(top: YamlMap): string {
  const zone = textAt(top, 'time_zone', 'The time zone');
  if (!/^[A-Za-z_]+(\/[A-Za-z0-9_+-]+)*$/.test(zone))
    throw new InputError(
      'course-zone',
      `The time zone is "${zone}"; give a name such as Europe/Vienna.`,
      'time_zone',
    );
  return zone;
}

function clockAt(map: YamlMap, key: string, what: string): string {
  const text = textAt(map, key, what);
  if (!/^([01]\d|2[0-3]):[0-5]\d$/.test(text))
    throw new InputError('course-clock', `${what} is "${text}"; write it in quotes as "18:30".`, key);
  return text;
}

function readSessions(top: YamlMap): CourseSession[] {
  const dated = listOf(top['sessions'], 'The sessions').flatMap((item, i) => {
    const map = mapOf(item, `Session entry ${i + 1}`);
    onlyKeys(map, ['date', 'first', 'count', 'every_days', 'skip', 'begin', 'end'], `Session entry ${i + 1}`);
    const begin = clockAt(map, 'begin', `The begin of session entry ${i + 1}`);
    const end = clockAt(map, 'end', `The end of session entry ${i + 1}`);
    return datesOf(map, i).map((date) => ({
      date,
      beginMin: civilMinutes(`${date}T${begin}`, 'sessions'),
      endMin: civilMinutes(`${date}T${end}`, 'sessions'),
    }));
  });
  if (dated.length === 0)
    throw new InputError(
      'course-no-session',
      'The course has no session; give at least one date with begin and end.',
      'sessions',
    );
  if (dated.length > 400)
    throw new InputError(
      'course-sessions',
      `The course has ${dated.length} sessions; at most 400 are planned: split it.`,
      'sessions',
    );
  for (const s of dated)
    if (s.endMin <= s.beginMin)
      throw new InputError(
        'course-session',
        `The session on ${s.date} ends before it begins; correct its hours.`,
        'sessions',
      );
  return dated
    .sort((a, b) => a.beginMin - b.beginMin)
    .map((s, i) => ({ id: `session ${i + 1}`, number: i + 1, beginMin: s.beginMin, endMin: s.endMin }));
}

function datesOf(map: YamlMap, i: number): string[] {
  if (map['date'] !== undefined) return [textAt(map, 'date', `The date of session entry ${i + 1}`)];
  const first = textAt(map, 'first', `The first date of session entry ${i + 1}`);
  const count = wholeAt(map, 'count', `The count of session entry ${i + 1}`, 1, 400);
  const step =
    map['every_days'] === undefined
      ? 7
      : wholeAt(map, 'every_days', `every_days of session entry ${i + 1}`, 1, 60);
  const skip = new Set((map['skip'] === undefined ? [] : listOf(map['skip'], 'skip')).map(String));
  const dates: string[] = [];
  const day0 = civilMinutes(`${first}T00:00`, 'sessions') / 1440;
  for (let k = 0; dates.length < count && k < 2000; k++) {
    const date = new Date((day0 + k * step) * DAY_MS).toISOString().slice(0, 10);
    if (!skip.has(date)) dates.push(date);
  }
  return dates;
}

function usablePart(session: CourseSession, top: YamlMap): CourseSetUp['sessions'][number] {
  const opening = top['opening_min'] === undefined ? 10 : wholeAt(top, 'opening_min', 'The opening', 0, 120);
  const closing = top['closing_min'] === undefined ? 15 : wholeAt(top, 'closing_min', 'The closing', 0, 120);
  const beginMin = session.beginMin + opening;
  const endMin = session.endMin - closing;
  if (endMin <= beginMin)
    throw new InputError(
      'course-session',
      `${session.id} has ${endMin - beginMin} usable minutes after ${opening} of opening and ${closing} of closing; make it longer.`,
      'sessions',
    );
  return { id: session.id, beginMin, endMin };
}

/** Preparation hours: the same hours so many days after (or before) each session. */
function readPreparation(top: YamlMap, sessions: readonly CourseSession[]): CourseSetUp['preparation'] {
  if (top['preparation'] === undefined) return [];
  return listOf(top['preparation'], 'The preparation').flatMap((item, i) => {
    const what = `Preparation entry ${i + 1}`;
    const map = mapOf(item, what);
    onlyKeys(map, ['days_after', 'begin', 'end'], what);
    const days = wholeAt(map, 'days_after', `days_after of preparation entry ${i + 1}`, -6, 6);
    const begin = clockAt(map, 'begin', `The begin of preparation entry ${i + 1}`);
    const end = clockAt(map, 'end', `The end of preparation entry ${i + 1}`);
    return sessions.map((s) => {
      const midnight = (Math.floor(s.beginMin / 1440) + days) * 1440;
      const window = {
        id: `preparation ${i + 1} of ${s.id}`,
        beginMin: midnight + ofDay(begin),
        endMin: midnight + ofDay(end),
      };
      if (window.endMin <= window.beginMin)
        throw new InputError(
          'course-preparation',
          `${what} ends before it begins; correct its hours.`,
          'preparation',
        );
      return window;
    });
  });
}

function ofDay(clock: string): number {
  return Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3));
}

const instruments = (route: RouteForm): readonly string[] => [
  ...new Set(route.operations.flatMap((o) => o.instruments ?? [])),
];
const ageBands: readonly string[] = ['under16', 'from16to17', 'adult'];
const learnerKeys = ['name', 'instrument', 'age', 'keys', 'away', 'pace', 'absent_chance'];

function readLearners(top: YamlMap, sessions: readonly CourseSession[], route: RouteForm): CourseLearner[] {
  const list = listOf(top['learners'], 'The learners');
  if (list.length === 0 || list.length > mostLearners)
    throw new InputError(
      'course-learners',
      `The course has ${list.length} learners; it needs 1 to ${mostLearners}.`,
      'learners',
    );
  const seen = new Set<string>();
  return list.map((item, i) => {
    const map = mapOf(item, `Learner ${i + 1}`);
    onlyKeys(map, learnerKeys, `Learner ${i + 1}`);
    const id = textAt(map, 'name', `The name of learner ${i + 1}`);
    if (seen.has(id))
      throw new InputError(
        'course-learner',
        `Two learners are called "${id}"; give each a name of its own.`,
        'learners',
      );
    seen.add(id);
    const instrument =
      map['instrument'] === undefined
        ? undefined
        : choiceAt(map, 'instrument', instruments(route), `The instrument of ${id}`);
    const ageBand = map['age'] === undefined ? undefined : choiceAt(map, 'age', ageBands, `The age of ${id}`);
    const away = (map['away'] === undefined ? [] : listOf(map['away'], `away of ${id}`)).map((d) =>
      awaySession(String(d), id, sessions),
    );
    return {
      id,
      ...(instrument === undefined ? {} : { instrument }),
      ...(ageBand === undefined ? {} : { ageBand }),
      ...(map['keys'] === undefined ? {} : { keys: listOf(map['keys'], `keys of ${id}`).map(String) }),
      ...(away.length === 0 ? {} : { awayWindowIds: away }),
    };
  });
}

function awaySession(date: string, learner: string, sessions: readonly CourseSession[]): string {
  const day = civilMinutes(`${date}T00:00`, 'learners');
  const session = sessions.find((s) => s.beginMin >= day && s.beginMin < day + 1440);
  if (session === undefined)
    throw new InputError(
      'course-away',
      `${learner} is away on ${date}, on which there is no session; correct the date or take it out.`,
      'learners',
    );
  return session.id;
}

function choiceAt(map: YamlMap, key: string, of: readonly string[], what: string): string {
  const text = textAt(map, key, what);
  if (!of.includes(text))
    throw new InputError('course-choice', `${what} is "${text}"; it must be one of ${of.join(', ')}.`, key);
  return text;
}

function namesAt(top: YamlMap, key: string): string[] | undefined {
  if (top[key] === undefined) return undefined;
  return listOf(top[key], key).map((name) => {
    if (typeof name !== 'string' || name.trim() === '')
      throw new InputError('course-name', `${key} names ${JSON.stringify(name)}; give names as words.`, key);
    return name;
  });
}

function readChoices(top: YamlMap, route: RouteForm): Omit<ClassSetUp, 'route' | 'courses'> {
  const known = new Set([...route.stations.map((s) => s.id), ...route.jigs.map((j) => j.id)]);
  const counts = top['counts'] === undefined ? undefined : mapOf(top['counts'], 'The counts');
  for (const id of Object.keys(counts ?? {})) mustKnow(known, id, 'counts');
  const loose = namesAt(top, 'handed_round');
  for (const id of loose ?? []) mustKnow(known, id, 'handed_round');
  const choice =
    top['choice'] === undefined
      ? undefined
      : choiceAt(
          top,
          'choice',
          (route.choices ?? []).map((c) => c.id),
          'The choice',
        );
  const rests =
    top['rests'] === undefined ? undefined : choiceAt(top, 'rests', ['least', 'usual'], 'The rests');
  return {
    ...(choice === undefined ? {} : { choiceId: choice }),
    ...(rests === undefined ? {} : { restsAs: rests as 'least' | 'usual' }),
    ...(counts === undefined
      ? {}
      : {
          counts: Object.fromEntries(
            Object.keys(counts).map((id) => [id, wholeAt(counts, id, `The count of ${id}`, 0, 200)]),
          ),
        }),
    ...(loose === undefined ? {} : { looseJigIds: loose }),
    ...(top['closures'] === undefined ? {} : { closures: readClosures(top, known) }),
  };
}

function mustKnow(known: ReadonlySet<string>, id: string, member: string): void {
  if (!known.has(id))
    throw new InputError(
      'course-station',
      `"${id}" in ${member} is no station or jig of the route; correct the name.`,
      member,
    );
}

function readClosures(
  top: YamlMap,
  known: ReadonlySet<string>,
): Record<string, { beginMin: number; endMin: number }[]> {
  const closures: Record<string, { beginMin: number; endMin: number }[]> = {};
  listOf(top['closures'], 'The closures').forEach((item, i) => {
    const map = mapOf(item, `Closure ${i + 1}`);
    onlyKeys(map, ['what', 'from', 'to'], `Closure ${i + 1}`);
    const what = textAt(map, 'what', `what of closure ${i + 1}`);
    const people = [...(namesAt(top, 'teachers') ?? ['teacher']), ...(namesAt(top, 'helpers') ?? [])];
    if (!people.includes(what)) mustKnow(known, what, 'closures');
    const beginMin = civilMinutes(textAt(map, 'from', `from of closure ${i + 1}`), 'closures');
    const endMin = civilMinutes(textAt(map, 'to', `to of closure ${i + 1}`), 'closures');
    if (endMin <= beginMin)
      throw new InputError(
        'course-closure',
        `The closure of ${what} ends before it begins; correct it.`,
        'closures',
      );
    closures[what] = [...(closures[what] ?? []), { beginMin, endMin }];
  });
  return closures;
}

function readObjectives(top: YamlMap): readonly Objective[] {
  const names = namesAt(top, 'objectives');
  for (const name of names ?? [])
    if (!usualObjectives.includes(name as Objective))
      throw new InputError(
        'course-objective',
        `The objective "${name}" is not known; choose from ${usualObjectives.join(', ')}.`,
        'objectives',
      );
  return (names as Objective[] | undefined) ?? usualObjectives;
}

function readUncertainty(top: YamlMap): Uncertainty {
  const chances = top['chances'] === undefined ? {} : mapOf(top['chances'], 'The chances');
  onlyKeys(chances, ['absent', 'scrap', 'machine_failure'], 'The chances');
  const chance = (map: YamlMap, key: string, what: string): number | undefined =>
    map[key] === undefined ? undefined : numberAt(map, key, what, 0, 0.9);
  const learners = listOf(top['learners'], 'The learners').map((item) => mapOf(item, 'A learner'));
  const absentOf = Object.fromEntries(
    learners.flatMap((l) =>
      l['absent_chance'] === undefined
        ? []
        : [[String(l['name']), chance(l, 'absent_chance', `absent_chance of ${String(l['name'])}`)!]],
    ),
  );
  const pace = Object.fromEntries(
    learners.flatMap((l) =>
      l['pace'] === undefined
        ? []
        : [
            [
              String(l['name']),
              { factor: numberAt(l, 'pace', `pace of ${String(l['name'])}`, 0.3, 3), logSd: 0.1 },
            ],
          ],
    ),
  );
  const optional = {
    absentChance: chance(chances, 'absent', 'The chance to be absent'),
    scrapChance: chance(chances, 'scrap', 'The chance of scrap'),
    failChance: chance(chances, 'machine_failure', 'The chance of a machine failure'),
  };
  return {
    absentOf,
    pace,
    ...Object.fromEntries(Object.entries(optional).filter(([, v]) => v !== undefined)),
  };
}

function readProgress(
  top: YamlMap,
  course: CourseSetUp,
  route: RouteForm,
): Pick<CourseFile, 'nowMin' | 'done'> {
  if (top['progress'] === undefined) return { nowMin: undefined, done: [] };
  const map = mapOf(top['progress'], 'The progress');
  onlyKeys(map, ['now', 'done'], 'The progress');
  const operations = new Set(route.operations.map((o) => o.id));
  const names = course.learners.map((l) => l.id);
  const done = (map['done'] === undefined ? [] : listOf(map['done'], 'done')).flatMap((item, i) => {
    const what = `Done entry ${i + 1}`;
    const entry = mapOf(item, what);
    onlyKeys(entry, ['learner', 'learners', 'operations', 'operation', 'part', 'begin', 'end'], what);
    const who =
      entry['learners'] === 'all'
        ? names
        : entry['learners'] === undefined
          ? [textAt(entry, 'learner', `learner of done entry ${i + 1}`)]
          : listOf(entry['learners'], 'learners').map(String);
    for (const name of who)
      if (!names.includes(name))
        throw new InputError(
          'course-learner',
          `${what} names "${name}", who is no learner of this course; correct the name.`,
          'progress',
        );
    const which =
      entry['operations'] === undefined
        ? [textAt(entry, 'operation', `operation of done entry ${i + 1}`)]
        : listOf(entry['operations'], 'operations').map(String);
    for (const id of which)
      if (!operations.has(id))
        throw new InputError(
          'course-operation',
          `${what} names operation "${id}", which the route does not have; correct the name.`,
          'progress',
        );
    const part =
      entry['part'] === undefined ? undefined : wholeAt(entry, 'part', `part of done entry ${i + 1}`, 1, 20);
    const time = (key: string): number | undefined =>
      entry[key] === undefined
        ? undefined
        : civilMinutes(textAt(entry, key, `${key} of done entry ${i + 1}`), 'progress');
    return who.flatMap((learnerId) =>
      which.map(
        (operationId): DoneStep => ({
          learnerId,
          operationId,
          partIndex: part === undefined ? undefined : part - 1,
          beginMin: time('begin'),
          endMin: time('end'),
        }),
      ),
    );
  });
  return {
    nowMin: map['now'] === undefined ? undefined : civilMinutes(textAt(map, 'now', 'now'), 'progress'),
    done,
  };
}
