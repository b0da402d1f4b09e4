import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { main } from './main.ts';

let folder = '';
beforeAll(() => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'bracewright-schedule-'));
});
afterAll(() => {
  fs.rmSync(folder, { recursive: true, force: true });
});

/** Runs a command and gives its exit code and what it printed. */
async function run(...args: string[]): Promise<{ code: number; out: string; err: string }> {
  let out = '';
  let err = '';
  const stdout = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    out += String(text);
    return true;
  });
  const stderr = vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
    err += String(text);
    return true;
  });
  try {
    return { code: await main(args), out, err };
  } finally {
    stdout.mockRestore();
    stderr.mockRestore();
  }
}

const write = (name: string, text: string): string => {
  const file = path.join(folder, name);
  fs.writeFileSync(file, text);
  return file;
};

const course = (count: number): string => `
format: bracewright-course/1
name: Two at a time
time_zone: Europe/Vienna
choice: plain
sessions: [{ first: 2026-10-06, count: ${count}, begin: "18:30", end: "21:00" }]
preparation: [{ days_after: 0, begin: "17:00", end: "18:00" }, { days_after: 1, begin: "08:00", end: "09:00" }]
learners: [{ name: Ada, instrument: uke, age: adult }, { name: Ben, instrument: uke, age: adult }]
`;

interface ScheduleJson {
  sessions: number;
  bound: number;
  reason: string;
  met: boolean;
  minutes: { resource: string; asked: number; there: number }[];
  plan: { session: number | null; learners: string[]; begin: string }[];
  checks: string[];
  text: string;
}

interface SeveralJson {
  courses: { name: string; sessions: number; bound: number; met: boolean; stands: boolean }[];
  kept?: boolean;
  plan: { course: string; activity: string; begin: string }[];
}

describe('schedule', () => {
  it('plans a course that fits: exit 0, sums, bound with its reason, plan, no fault; files beside it', async () => {
    const ics = path.join(folder, 'plan.ics');
    const csv = path.join(folder, 'plan.csv');
    const drawing = path.join(folder, 'plan.svg');
    const { code, out } = await run(
      'schedule',
      write('fits.yaml', course(40)),
      '--iterations',
      '5',
      '--ics',
      ics,
      '--csv',
      csv,
      '--draw',
      drawing,
      '--json',
    );
    const json = JSON.parse(out) as ScheduleJson;
    expect(code).toBe(0);
    expect(json).toMatchObject({ met: true, checks: [] });
    expect(json.bound).toBeLessThanOrEqual(json.sessions);
    expect(json.reason).toMatch(/^No plan can be over before session \d+: /);
    expect(json.minutes.find((m) => m.resource === 'teacher')!.asked).toBeGreaterThan(0);
    expect(Math.max(...json.plan.map((r) => r.session ?? 0))).toBe(json.sessions);
    expect(fs.readFileSync(drawing, 'utf8')).toContain('<svg');
    expect(fs.readFileSync(csv, 'utf8')).toMatch(/^session,begin,end,learners,operation/);
    expect(fs.readFileSync(ics, 'utf8').match(/BEGIN:VEVENT/g)).toHaveLength(json.sessions);
  });

  it('answers when it does not fit: exit 1, in which session it ends, the earliest possible, what limits it and what would save sessions', async () => {
    const dated = course(6).replace('time_zone', 'due: 2026-10-20\ntime_zone');
    const { code, out } = await run('schedule', write('due.yaml', dated), '--iterations', '3');
    expect(code).toBe(1);
    expect(out).toMatch(/This course ends in session \d+ and has 6, on 20\d\d-\d\d-\d\d, after its date /);
    expect(out).toMatch(
      /after its date 2026-10-20; the earliest possible is session \d+, on 20\d\d-\d\d-\d\d: /,
    );
    expect(out).toMatch(/ saves \d+ sessions?\./);
  });

  it('writes none of its files when one of them cannot be made', async () => {
    const csv = path.join(folder, 'half.csv');
    const { code, err } = await run(
      'schedule',
      write('half.yaml', course(40)),
      '--iterations',
      '1',
      '--csv',
      csv,
      '--draw',
      path.join(folder, 'half.txt'),
    );
    expect(code).toBe(2);
    expect(err).toContain('it must end in .svg or .pdf');
    expect(fs.existsSync(csv)).toBe(false);
  });

  it('plans several courses of one shop, publishes the plan, and plans one of them anew around the other', async () => {
    const first = write('first.yaml', course(40));
    const other = write(
      'other.yaml',
      course(40).replace('Two at a time', 'Fridays').replace('2026-10-06', '2026-10-09'),
    );
    const plan = path.join(folder, 'plan.yaml');
    const read = async (...args: string[]): Promise<ScheduleJson & SeveralJson> =>
      JSON.parse((await run('schedule', first, other, '--iterations', '3', '--json', ...args)).out);
    const both = await read('--publish', plan);
    expect(both.checks).toEqual([]);
    expect(both.courses.map((c) => [c.name, c.met, c.stands])).toEqual([
      ['Two at a time', true, false],
      ['Fridays', true, false],
    ]);
    for (const c of both.courses) expect(c.bound).toBeLessThanOrEqual(c.sessions);
    const closed = 'closures: [{ what: drill-press, from: 2026-10-01T00:00, to: 2027-02-01T00:00 }]';
    write('other.yaml', `${fs.readFileSync(other, 'utf8')}${closed}\n`);
    const anew = await read('--published', plan, '--replan', 'Fridays');
    expect(anew.checks).toEqual([]);
    expect(anew.kept).toBe(false);
    expect(anew.courses.map((c) => c.stands)).toEqual([true, false]);
    const of = (json: SeveralJson, name: string): unknown[] =>
      json.plan.filter((r) => r.course === name).map((r) => [r.activity, r.begin]);
    expect(of(anew, 'Two at a time')).toEqual(of(both, 'Two at a time'));
    expect(of(anew, 'Fridays')).not.toEqual(of(both, 'Fridays'));
    expect((await run('schedule', first, other, '--published', plan)).err).toContain(
      'name the one to be planned anew',
    );
    expect((await run('schedule', first, other, '--replan', 'Fridays')).err).toContain(
      'give it with --published',
    );
  });

  it('gives one sentence and exit 2 for a course that cannot be meant', async () => {
    const { code, err } = await run('schedule', write('bad.yaml', course(6).replace('"21:00"', '"17:00"')));
    expect(code).toBe(2);
    expect(err.trim()).toBe('The session on 2026-10-06 ends before it begins; correct its hours.');
  });

  it.each([
    ['schedule', '--seconds', 'x', 'between 0.01 and 86400'],
    ['schedule', '--iterations', '', 'between 1 and 1000000000'],
    ['forecast', '--courses', '3', 'between 10 and 1000000'],
    ['start', '--port', '999999', 'between 0 and 65535'],
  ])('%s %s "%s" is refused with its limits in one sentence', async (verb, option, value, limits) => {
    const course = verb === 'start' ? [] : ['demo-evening-class'];
    const { code, err } = await run(verb, ...course, option, value);
    expect(code).toBe(2);
    expect(err.trim()).toBe(`${option} is "${value}"; give a number ${limits}.`);
  });
});

describe('forecast', () => {
  it('gives each learner a distribution and a chance, the bottleneck and a step to pull forward', async () => {
    const { code, out } = await run('forecast', write('fits.yaml', course(40)), '--courses', '40', '--json');
    const json = JSON.parse(out) as {
      learners: { id: string; p10: string; p50: string; p90: string; chance: number }[];
      bottleneck: { share: number } | null;
    };
    expect(code).toBe(0);
    expect(json.learners.map((l) => l.id)).toEqual(['Ada', 'Ben']);
    for (const l of json.learners) {
      expect(l.p10 <= l.p50 && l.p50 <= l.p90).toBe(true);
      expect(l.chance).toBeGreaterThanOrEqual(0);
      expect(l.chance).toBeLessThanOrEqual(1);
    }
    expect(json.bottleneck!.share).toBeGreaterThan(0);
  });
});

describe('forecast of several courses', () => {
  it('tells of each course, with a date of its own', async () => {
    const other = course(40).replace('Two at a time', 'Fridays').replace('2026-10-06', '2026-10-09');
    const { out } = await run(
      'forecast',
      write('first.yaml', course(40)),
      write('other.yaml', other),
      '--courses',
      '10',
      '--json',
    );
    const json = JSON.parse(out) as { due: Record<string, string>; courses: { id: string }[] };
    expect(json.courses.map((c) => c.id)).toEqual(['Two at a time', 'Fridays']);
    expect(Object.keys(json.due)).toEqual(['Two at a time', 'Fridays']);
  });
});

describe('project', () => {
  const instance = {
    durations: [2, 3, 4],
    successors: [[2], [], []],
    demands: [[1], [1], [1]],
    capacities: [1],
  };

  it('prints starts, makespan, bound, schedules and seconds', async () => {
    const { code, out } = await run(
      'project',
      write('project.json', JSON.stringify(instance)),
      '--schedules',
      '50',
      '--json',
    );
    expect(code).toBe(0);
    const json = JSON.parse(out) as { starts: number[]; schedules: number; seconds: number };
    expect(json).toMatchObject({ makespan: 9, lowerBound: 9 });
    expect(json.starts).toHaveLength(3);
    expect(json.schedules).toBeGreaterThan(0);
    expect(json.seconds).toBeGreaterThanOrEqual(0);
  });

  it('names the members of a circle in order, with exit 2', async () => {
    const { code, err } = await run(
      'project',
      write('circle.json', JSON.stringify({ ...instance, successors: [[1], [2], [0]] })),
    );
    expect(code).toBe(2);
    expect(err).toContain('0 -> 1 -> 2 -> 0');
  });
});
