import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { z } from 'zod';
import routeFile from '../../data/route/operations.json' with { type: 'json' };
import planSchema from '../../data/schemas/plan.schema.json' with { type: 'json' };
import { classFaults } from '../schedule/class/check.ts';
import { planClass } from '../schedule/class/plan.ts';
import { beginOf, type PlanEntry } from '../schedule/class/problem.ts';
import { replanClass } from '../schedule/class/replan.ts';
import type { RouteForm } from '../schedule/class/route-form.ts';
import { civilMinutes } from './civil-time.ts';
import { readCourseFile } from './course-file.ts';
import { type CoursesTogether, coursesTogether } from './courses-together.ts';
import { planFileText, readPlanFile, standingProblem } from './plan-file.ts';

const route = routeFile as unknown as RouteForm;
const course = (name: string, first: string, learners: string, more = ''): string => `
format: bracewright-course/1
name: ${name}
time_zone: Europe/Vienna
choice: plain
teachers: [Marta]
sessions: [{ first: ${first}, count: 36, begin: "18:00", end: "21:00" }]
preparation: [{ days_after: 0, begin: "16:30", end: "17:30" }, { days_after: 1, begin: "08:00", end: "09:00" }]
learners: [${learners}]
${more}`;
const uke = (name: string): string => `{ name: ${name}, instrument: uke, age: adult }`;
const tuesday = (more = ''): string => course('Tuesday', '2026-10-06', `${uke('Ada')}, ${uke('Ben')}`, more);
const thursday = (more = ''): string =>
  course('Thursday', '2026-10-08', `${uke('Ada')}, ${uke('Zoe')}`, more);
const together = (...texts: string[]): CoursesTogether =>
  coursesTogether(texts.map((t) => readCourseFile(t, route)));

describe('running courses of one shop', () => {
  const both = together(tuesday(), thursday('due: 2027-06-10'));

  it('are one problem: things and people are shared, learners of one name are two, each course has its date', () => {
    const { problem } = both;
    expect(problem.courses.map((c) => c.id)).toEqual(['Tuesday', 'Thursday']);
    expect(problem.learners.map((l) => l.id)).toEqual(['Ada (Tuesday)', 'Ben', 'Ada (Thursday)', 'Zoe']);
    expect(problem.resources.filter((r) => r.id === 'Marta')).toHaveLength(1);
    expect(both.dueMin).toEqual({ Thursday: civilMinutes('2027-06-10T23:59', 'due') });
    const { entries, problem: planned, sessionsByCourse } = planClass(problem, { iterations: 2 });
    expect(classFaults(planned, entries)).toEqual([]);
    expect(sessionsByCourse.map((s) => s.given)).toEqual([36, 36]);
  });

  it('say of the shop what any of them says', () => {
    const { problem } = together(
      tuesday('counts: { bandsaw: 2 }'),
      thursday('closures: [{ what: bandsaw, from: 2026-11-01T00:00, to: 2026-11-08T00:00 }]'),
    );
    const saw = problem.resources.find((r) => r.id === 'bandsaw')!;
    expect(saw.capacity).toBe(2);
    expect(saw.closures).toHaveLength(1);
  });

  it.each([
    ['twice the same', [tuesday(), tuesday()], 'Two of the courses are called "Tuesday"'],
    [
      'different shops',
      [tuesday('counts: { bandsaw: 1 }'), thursday('counts: { bandsaw: 2 }')],
      'The number of "bandsaw" is 1 in "Tuesday" and 2 in "Thursday"',
    ],
    [
      'different zones',
      [tuesday(), thursday().replace('Vienna', 'Berlin')],
      'The time zone is Europe/Vienna in "Tuesday" and Europe/Berlin in "Thursday"',
    ],
    [
      'different moments',
      [tuesday('progress: { now: 2026-11-03T18:00 }'), thursday('progress: { now: 2026-11-05T18:00 }')],
      'The moment "now" of the progress is 2026-11-03T18:00 in "Tuesday" and 2026-11-05T18:00 in "Thursday"',
    ],
    [
      'somebody in two courses at the same time',
      [tuesday(), course('Same evening', '2026-10-06', uke('Marta')).replace('[Marta]', '[Rolf]')],
      '"Marta" learns in "Same evening" and teaches or helps in "Tuesday", and both have a session on 2026-10-06 at the same time',
    ],
  ])('are refused in one sentence: %s', (_, texts, sentence) => {
    expect(() => together(...texts)).toThrow(sentence);
  });

  it('may have somebody who teaches in one and learns in the other, on different days', () => {
    const { problem } = together(
      tuesday(),
      course('Friday', '2026-10-09', uke('Marta')).replace('[Marta]', '[Rolf]'),
    );
    expect(problem.learners.map((l) => l.id)).toContain('Marta (Friday)');
    expect(classFaults(problem, planClass(problem, { iterations: 1 }).entries)).toEqual([]);
  });
});

describe('a published plan', () => {
  const both = together(tuesday(), thursday());
  const { entries } = planClass(both.problem, { iterations: 2 });
  const text = planFileText(both, entries);
  const bySession = (list: readonly PlanEntry[]): PlanEntry[] =>
    list.toSorted((a, b) => (a.activityId < b.activityId ? -1 : 1));
  const ofCourse = (list: readonly PlanEntry[], id: string): PlanEntry[] =>
    bySession(list.filter((e) => e.activityId.startsWith(`${id}: `)));

  it('is written and read back whole, and keeps its schema', () => {
    const schema = z.fromJSONSchema(planSchema as unknown as Parameters<typeof z.fromJSONSchema>[0]);
    expect(schema.safeParse(parse(text)).success).toBe(true);
    expect(bySession([...readPlanFile(text, both).values()].flat())).toEqual(bySession(entries));
  });

  it('of the other course stands when one is planned anew, also when what it needs fails', () => {
    const now = together(
      tuesday(),
      thursday(`progress: { now: 2026-11-02T12:00 }
closures: [{ what: bandsaw, from: 2026-11-02T00:00, to: 2026-12-20T00:00 }]`),
    );
    const published = readPlanFile(text, now);
    const problem = standingProblem(now, published, ['Thursday']);
    const plan = replanClass(problem, [...published.values()].flat(), { iterations: 4 });
    expect(classFaults(plan.problem, plan.entries)).toEqual([]);
    expect(plan.isKept).toBe(false);
    expect(ofCourse(plan.entries, 'Tuesday')).toEqual(ofCourse(entries, 'Tuesday'));
    const nowMin = civilMinutes('2026-11-02T12:00', 'now');
    const past = (list: readonly PlanEntry[]): PlanEntry[] =>
      ofCourse(list, 'Thursday').filter((e) => beginOf(e) < nowMin);
    expect(past(plan.entries)).toEqual(past(entries));
  });

  it('leaves the rest of a lot where it was when one of its learners has done it', () => {
    const now = together(
      tuesday('progress: { now: 2026-10-06T17:59, done: [{ learner: Ada, operations: [A1] }] }'),
      thursday(),
    );
    const induction = entries.find((e) => e.activityId === 'Tuesday: course/A1.1.1')!;
    const read = readPlanFile(text, now).get('Tuesday')!;
    expect(read.find((e) => e.activityId === 'Tuesday: Ben/A1.1')!.pieces).toEqual(induction.pieces);
    expect(read.some((e) => e.activityId === 'Tuesday: course/A1.1.1')).toBe(false);
  });

  it.each([
    ['another format', ['bracewright-plan/1', 'plan/7'], 'The format of the published plan is "plan/7"'],
    ['an unknown step', ['"Ben/T1.1"', '"Ben/Z1.1"'], 'which that course does not have'],
    ['a stranger', ['"people":["Marta"]', '"people":["Otto"]'], 'names "Otto", whom no course has'],
    ['a time that is none', ['T17:', 'T37:'], 'is no date'],
  ])('is refused in one sentence: %s', (_, [from, to], sentence) => {
    expect(text).toContain(from!);
    expect(() => readPlanFile(text.replace(from!, to!), both)).toThrow(sentence);
  });
});
