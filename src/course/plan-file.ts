import { parseDocument } from 'yaml';
import { InputError } from '../quantity/input-error.ts';
import { classProblem } from '../schedule/class/from-route.ts';
import { type Activity, beginOf, type ClassProblem, type PlanEntry } from '../schedule/class/problem.ts';
import { civilMinutes, civilText } from './civil-time.ts';
import type { CoursesTogether } from './courses-together.ts';
import { listOf, mapOf, onlyKeys, textAt, wholeAt, type YamlMap } from './yaml-reading.ts';

const formatName = 'bracewright-plan/1';
const stepKeys = ['activity', 'begin', 'end', 'again', 'way', 'people', 'helper', 'set_up_min'];

/** A published plan by the id of its course in a problem; only courses that are given. */
export type PublishedPlan = ReadonlyMap<string, readonly PlanEntry[]>;

/**
 * A plan as it is published: the steps of each course, one a line, with their civil times.
 *
 * @param together  the courses
 * @param entries   the plan of their problem
 * @returns         YAML
 * @source          arithmetic
 */
export function planFileText(together: CoursesTogether, entries: readonly PlanEntry[]): string {
  const courseOf = new Map(together.problem.activities.map((a) => [a.id, a.courseId]));
  const lines = [`format: ${formatName}`, 'courses:'];
  for (const { id, file } of together.courses) {
    const before = together.joined.activityId(id, '');
    const nameOf = new Map(
      (file.setUp.courses[0]?.learners ?? []).map((l) => [together.joined.learnerId(id, l.id), l.id]),
    );
    lines.push(`  - name: ${JSON.stringify(file.name)}`, '    steps:');
    const own = entries
      .filter((e) => courseOf.get(e.activityId) === id)
      .toSorted((a, b) => beginOf(a) - beginOf(b) || (a.activityId < b.activityId ? -1 : 1));
    for (const e of own)
      lines.push(`      - ${JSON.stringify(stepOf(e, e.activityId.slice(before.length), nameOf))}`);
    if (own.length === 0) lines[lines.length - 1] = '    steps: []';
  }
  return `${lines.join('\n')}\n`;
}

function stepOf(entry: PlanEntry, activity: string, nameOf: ReadonlyMap<string, string>): object {
  const [first, second] = entry.pieces;
  const time = (p: { readonly beginMin: number; readonly endMin: number }): object => ({
    begin: civilText(p.beginMin),
    end: civilText(p.endMin),
  });
  return {
    activity,
    ...time(first!),
    ...(second === undefined ? {} : { again: time(second) }),
    way: entry.wayIndex + 1,
    people: entry.attendantIds.map((id) => id ?? ''),
    ...(entry.helperId === undefined ? {} : { helper: nameOf.get(entry.helperId) ?? entry.helperId }),
    ...(entry.setUpBeginMin === undefined ? {} : { set_up_min: beginOf(entry) - entry.setUpBeginMin }),
  };
}

/** A course's activities in its own terms when nothing was done yet: what a published plan may name. */
function ownActivities(together: CoursesTogether, courseId: string): readonly Activity[] {
  return classProblem(together.courses.find((c) => c.id === courseId)!.file.setUp).activities;
}

/**
 * Reads a published plan in the terms of the courses given. Steps that are done since are left out; steps of courses that
 * are not given are too.
 *
 * @param text      YAML as written
 * @param together  the courses
 * @returns         entries by course id
 * @throws InputError with one sentence
 * @source          arithmetic
 */
export function readPlanFile(text: string, together: CoursesTogether): PublishedPlan {
  const document = parseDocument(text, { prettyErrors: true });
  if (document.errors.length > 0)
    throw new InputError(
      'plan-yaml',
      `The published plan is not YAML: ${document.errors[0]!.message.split('\n')[0]}; correct that line.`,
    );
  const top = mapOf(document.toJS() as unknown, 'The published plan');
  onlyKeys(top, ['format', 'courses'], 'The published plan');
  if (top['format'] !== formatName)
    throw new InputError(
      'plan-format',
      `The format of the published plan is ${JSON.stringify(top['format'])}; it must be ${formatName}.`,
      'format',
    );
  const plan = new Map<string, readonly PlanEntry[]>();
  listOf(top['courses'], 'The courses of the published plan').forEach((item, i) => {
    const map = mapOf(item, `Course ${i + 1} of the published plan`);
    onlyKeys(map, ['name', 'steps'], `Course ${i + 1} of the published plan`);
    const name = textAt(map, 'name', `The name of course ${i + 1} of the published plan`);
    const course = together.courses.find((c) => c.file.name === name);
    if (course === undefined) return;
    if (plan.has(course.id))
      throw new InputError(
        'plan-course',
        `The published plan has "${name}" twice; take one of them out.`,
        'courses',
      );
    plan.set(course.id, readSteps(listOf(map['steps'], `The steps of "${name}"`), name, course.id, together));
  });
  return plan;
}

function readSteps(
  list: readonly unknown[],
  name: string,
  courseId: string,
  together: CoursesTogether,
): readonly PlanEntry[] {
  const known = new Map(ownActivities(together, courseId).map((a) => [a.id, a]));
  const open = together.problem.activities.filter((a) => a.courseId === courseId);
  const byId = new Map(open.map((a) => [a.id, a]));
  const names = new Set(
    together.courses.find((c) => c.id === courseId)!.file.setUp.courses[0]?.learners.map((l) => l.id),
  );
  const entries = new Map<string, PlanEntry>();
  const seen = new Set<string>();
  list.forEach((item, i) => {
    const what = `Step ${i + 1} of "${name}" in the published plan`;
    const map = mapOf(item, what);
    onlyKeys(map, stepKeys, what);
    const id = textAt(map, 'activity', `The activity of step ${i + 1} of "${name}"`);
    if (seen.has(id))
      throw new InputError(
        'plan-activity',
        `${what}, "${id}", stands there twice; take one out.`,
        'activity',
      );
    seen.add(id);
    const own = byId.get(together.joined.activityId(courseId, id));
    const activity = own ?? known.get(id);
    if (activity === undefined)
      throw new InputError(
        'plan-activity',
        `${what} is "${id}", which that course does not have; correct it, or publish the plan anew.`,
        'activity',
      );
    const way =
      map['way'] === undefined ? 1 : wholeAt(map, 'way', `The way of ${what}`, 1, activity.ways.length);
    const step = together.joined.entry(courseId, readStep(map, id, way - 1, what, together.problem, names));
    const standing = own === undefined ? leftOf(activity, open, together, courseId) : [own];
    for (const a of standing)
      if (a === own || !entries.has(a.id)) entries.set(a.id, { ...step, activityId: a.id });
  });
  return [...entries.values()];
}

/** What is left of a lot since some of its learners have done it. */
function leftOf(
  lot: Activity,
  open: readonly Activity[],
  { joined }: CoursesTogether,
  courseId: string,
): readonly Activity[] {
  const builds = new Set(lot.buildIds.map((b) => joined.learnerId(courseId, b)));
  return lot.buildIds.length < 2
    ? []
    : open.filter(
        (a) =>
          a.operationId === lot.operationId &&
          a.partIndex === lot.partIndex &&
          a.buildIds.every((b) => builds.has(b)),
      );
}

function readStep(
  map: YamlMap,
  activityId: string,
  wayIndex: number,
  what: string,
  problem: ClassProblem,
  learners: ReadonlySet<string>,
): PlanEntry {
  const piece = (of: YamlMap): { beginMin: number; endMin: number } => {
    const beginMin = civilMinutes(textAt(of, 'begin', `The begin of ${what}`), 'the published plan');
    const endMin = civilMinutes(textAt(of, 'end', `The end of ${what}`), 'the published plan');
    if (endMin < beginMin)
      throw new InputError('plan-time', `${what} ends before it begins; correct its times.`, 'end');
    return { beginMin, endMin };
  };
  const first = piece(map);
  const again = map['again'] === undefined ? undefined : piece(mapOf(map['again'], `"again" of ${what}`));
  const resources = new Set(problem.resources.map((r) => r.id));
  const people = (map['people'] === undefined ? [] : listOf(map['people'], `The people of ${what}`)).map(
    (id) => {
      if (id === '') return undefined;
      if (typeof id !== 'string' || !resources.has(id))
        throw new InputError(
          'plan-person',
          `${what} names ${JSON.stringify(id)}, whom no course has as teacher or helper; correct the name.`,
          'people',
        );
      return id;
    },
  );
  const setUpMin =
    map['set_up_min'] === undefined ? 0 : wholeAt(map, 'set_up_min', `set_up_min of ${what}`, 0, 600);
  const helper = map['helper'] === undefined ? undefined : textAt(map, 'helper', `The helper of ${what}`);
  if (helper !== undefined && !learners.has(helper))
    throw new InputError(
      'plan-person',
      `${what} has "${helper}" lend a hand, who is no learner of that course; correct the name.`,
      'helper',
    );
  return {
    activityId,
    pieces: again === undefined ? [first] : [first, again],
    wayIndex,
    attendantIds: people,
    ...(helper === undefined ? {} : { helperId: helper }),
    ...(setUpMin === 0 ? {} : { setUpBeginMin: first.beginMin - setUpMin }),
  };
}

/**
 * The problem in which published sessions stand: those of every course that is not planned anew, and of the others what
 * began before now where nothing else is told.
 *
 * @param together   the courses
 * @param published  their published plan
 * @param replanned  ids of the courses that are planned anew
 * @returns          the problem with its state
 * @source           common practice, no published source
 */
export function standingProblem(
  together: CoursesTogether,
  published: PublishedPlan,
  replanned: readonly string[],
): ClassProblem {
  const { problem } = together;
  const happened = problem.state?.fixed ?? [];
  const told = new Set(happened.map((e) => e.activityId));
  const nowMin = problem.state?.nowMin ?? Math.min(...problem.windows.map((w) => w.beginMin));
  const standing = [...published].flatMap(([courseId, entries]) => {
    const { file } = together.courses.find((c) => c.id === courseId)!;
    const isAnew = replanned.includes(courseId);
    const asPlanned = isAnew && file.done.length === 0;
    return entries.filter((e) => !told.has(e.activityId) && (!isAnew || (asPlanned && beginOf(e) < nowMin)));
  });
  return { ...problem, state: { nowMin, fixed: [...happened, ...standing] } };
}
