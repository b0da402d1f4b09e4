import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { z } from 'zod';
import routeFile from '../../data/route/operations.json' with { type: 'json' };
import courseSchema from '../../data/schemas/course.schema.json' with { type: 'json' };
import { classFaults } from '../schedule/class/check.ts';
import { makeCoursePlayer, readForecast } from '../schedule/class/forecast.ts';
import { planClass } from '../schedule/class/plan.ts';
import { beginOf } from '../schedule/class/problem.ts';
import type { RouteForm } from '../schedule/class/route-form.ts';
import { civilMinutes, civilText } from './civil-time.ts';
import { type CourseFile, courseProblem, readCourseFile } from './course-file.ts';
import { planRows } from './plan-rows.ts';

const route = routeFile as unknown as RouteForm;
const demoText = readFileSync(new URL('../../data/courses/demo-evening-class.yaml', import.meta.url), 'utf8');

const small = `
format: bracewright-course/1
name: Two evenings
time_zone: Europe/Vienna
sessions:
  - { date: 2026-10-06, begin: "18:30", end: "21:00" }
  - { first: 2026-10-13, count: 2, skip: [2026-10-20], begin: "18:30", end: "21:00" }
preparation:
  - { days_after: 1, begin: "08:00", end: "09:00" }
learners:
  - { name: Ada, instrument: uke, age: adult }
  - { name: Ben, instrument: uke, age: adult, pace: 1.2, absent_chance: 0.2 }
`;
const read = (text: string): CourseFile => readCourseFile(text, route);
const replaced = (from: string, to: string): string => {
  expect(small).toContain(from);
  return small.replace(from, to);
};

describe('civil time', () => {
  it('counts minutes and writes them back', () => {
    // 2026-10-06 is day 20732 after 1970-01-01: 56 years and 14 leap days to 2026-01-01 (20454), then 278 days
    expect(civilMinutes('2026-10-06T18:30', 'x')).toBe(20_732 * 1440 + 18 * 60 + 30);
    expect(civilText(civilMinutes('2026-10-06 18:30', 'x'))).toBe('2026-10-06T18:30');
    expect(() => civilMinutes('2026-02-30T10:00', 'due')).toThrow('"2026-02-30T10:00" in due is no date');
  });
});

describe('a course file', () => {
  it('gives sessions, usable minutes, preparation hours and what is uncertain', () => {
    const course = read(small);
    expect(course.sessions.map((s) => civilText(s.beginMin))).toEqual([
      '2026-10-06T18:30',
      '2026-10-13T18:30',
      '2026-10-27T18:30',
    ]);
    const { windows } = courseProblem(course);
    expect(
      windows
        .filter((w) => w.kind === 'session')
        .map((w) => [civilText(w.beginMin).slice(11), w.endMin - w.beginMin]),
    ).toEqual(Array(3).fill(['18:40', 125]));
    expect(civilText(windows.find((w) => w.kind === 'preparation')!.beginMin)).toBe('2026-10-07T08:00');
    expect(course.uncertainty).toMatchObject({ pace: { Ben: { factor: 1.2 } }, absentOf: { Ben: 0.2 } });
  });

  it('takes out what is long over, fixes what has times and plans nothing in the past', () => {
    const progress = `
progress:
  now: 2026-10-13T19:00
  done:
    - { learners: all, operations: [A1, A2, A3, A4] }
    - { learner: Ada, operation: T1, begin: 2026-10-13T18:40, end: 2026-10-13T18:58 }
`;
    const course = read(small + progress);
    const problem = courseProblem(course);
    expect(problem.activities.some((a) => a.operationId === 'A1')).toBe(false);
    const { entries, problem: planned } = planClass(problem, { iterations: 2 });
    expect(classFaults(planned, entries)).toEqual([]);
    const fixed = entries.find((e) => e.activityId === 'Ada/T1.1')!;
    expect(civilText(beginOf(fixed))).toBe('2026-10-13T18:40');
    for (const e of entries) if (e !== fixed) expect(beginOf(e)).toBeGreaterThanOrEqual(course.nowMin!);
    const rows = planRows(planned, entries);
    expect(rows.find((r) => r.activity === 'Ada/T1.1')).toMatchObject({
      session: 2,
      operation: 'T1',
      part: 1,
      learners: ['Ada'],
      end: '2026-10-13T18:58',
    });
  });

  it('plans a step of a group only for those who have not done it', () => {
    const course = read(`${small}
progress:
  now: 2026-10-13T19:00
  done:
    - { learner: Ada, operations: [A1, A2, A3, A4] }
`);
    const open = courseProblem(course).activities.filter((a) => a.operationId === 'A1');
    expect(open.map((a) => a.memberIds)).toEqual([['Ben'], ['Ben']]);
  });

  it.each([
    [
      'another format',
      ['bracewright-course/1', 'course/9'],
      'The format of the course file is "course/9"; it must be bracewright-course/1.',
    ],
    ['an unknown name', ['name: Two', 'nmae: Two'], 'The course file has "nmae", which is not known'],
    [
      'a session that ends before it begins',
      ['end: "21:00" }\n  - { first', 'end: "18:00" }\n  - { first'],
      'The session on 2026-10-06 ends before it begins',
    ],
    ['a date that does not exist', ['2026-10-06', '2026-13-06'], 'is no date; write dates as 2026-10-06'],
    [
      'a clock time without quotes',
      ['date: 2026-10-06, begin: "18:30"', 'date: 2026-10-06, begin: 18.5'],
      'The begin of session entry 1 is 18.5; give it as text.',
    ],
    ['two learners of one name', ['name: Ben', 'name: Ada'], 'Two learners are called "Ada"'],
    [
      'an instrument the route does not have',
      ['name: Ada, instrument: uke', 'name: Ada, instrument: lute'],
      'The instrument of Ada is "lute"; it must be one of steel, nylon, uke.',
    ],
    [
      'a chance above 0.9',
      ['absent_chance: 0.2', 'absent_chance: 2'],
      'absent_chance of Ben is 2; give a number between 0 and 0.9.',
    ],
    [
      'no learner',
      [
        '  - { name: Ada, instrument: uke, age: adult }\n  - { name: Ben, instrument: uke, age: adult, pace: 1.2, absent_chance: 0.2 }',
        '  []',
      ],
      'The course has 0 learners; it needs 1 to 40.',
    ],
    ['broken YAML', ['sessions:', 'sessions: ]'], 'The course file is not YAML'],
    [
      'an unknown station',
      ['learners:', 'counts: { lathe: 1 }\nlearners:'],
      '"lathe" in counts is no station or jig of the route',
    ],
    [
      'an unknown operation',
      ['learners:', 'progress: { done: [{ learner: Ada, operation: Z9 }] }\nlearners:'],
      'Done entry 1 names operation "Z9", which the route does not have',
    ],
    [
      'a stranger',
      ['learners:', 'progress: { done: [{ learner: Eve, operation: A1 }] }\nlearners:'],
      'Done entry 1 names "Eve", who is no learner of this course',
    ],
    [
      'a running step without now',
      [
        'learners:',
        'progress: { done: [{ learner: Ada, operation: T1, begin: 2026-10-06T19:00 }] }\nlearners:',
      ],
      'is running, but the progress has no "now"',
    ],
  ])('refuses %s in one sentence', (_, [from, to], sentence) => {
    expect(() => courseProblem(read(replaced(from!, to!)))).toThrow(sentence);
  });

  it('has a schema that the demo and the small course keep, and that refuses an unknown name', () => {
    const schema = z.fromJSONSchema(courseSchema as unknown as Parameters<typeof z.fromJSONSchema>[0]);
    for (const text of [small, demoText]) expect(schema.safeParse(parse(text)).success).toBe(true);
    expect(schema.safeParse({ ...(parse(small) as object), nmae: 'x' }).success).toBe(false);
  });
});

describe('the demo course', () => {
  it('can be met as planned, is tight when chance is let in, and keeps every rule', () => {
    const course = read(demoText);
    expect(course.setUp.courses[0]!.learners).toHaveLength(12);
    const problem = courseProblem(course);
    const dueMin = { course: course.dueMin! };
    const plan = planClass(problem, { iterations: 30, seed: 1, dueMin });
    expect(classFaults(plan.problem, plan.entries)).toEqual([]);
    const { sessions, given } = plan.sessionsByCourse[0]!;
    expect(sessions).toBeLessThanOrEqual(given);
    const setUp = { problem, entries: plan.entries, uncertainty: course.uncertainty, dueMin, seed: 1 };
    const { courses, learners } = readForecast(setUp, makeCoursePlayer(setUp).play(0, 120));
    expect(courses[0]!.chance).toBeLessThan(0.8);
    expect(Math.max(...learners.map((l) => l.chance!))).toBeGreaterThan(0.7);
    // the fast worker is sooner than the one who is often away
    const p50 = (id: string): number => learners.find((l) => l.id === id)!.p50Min;
    expect(p50('Emmy')).toBeLessThan(p50('Falk'));
  });
});
