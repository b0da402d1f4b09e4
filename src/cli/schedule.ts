import { civilText } from '../course/civil-time.ts';
import type { CourseFile } from '../course/course-file.ts';
import { type CoursesTogether, coursesTogether } from '../course/courses-together.ts';
import { type PublishedPlan, planFileText, readPlanFile, standingProblem } from '../course/plan-file.ts';
import { type PlanRow, planRows, sessionsOfCourse } from '../course/plan-rows.ts';
import { type CourseVerdict, courseVerdicts } from '../course/plan-verdict.ts';
import { tableToCsv } from '../output/csv.ts';
import { calendarText } from '../output/icalendar.ts';
import { InputError } from '../quantity/input-error.ts';
import { classFaults } from '../schedule/class/check.ts';
import { inLots } from '../schedule/class/in-lots.ts';
import { minutesAsked } from '../schedule/class/minutes-asked.ts';
import { type ClassSearch, courseBound, planClass } from '../schedule/class/plan.ts';
import type { PlannedClass } from '../schedule/class/planned-class.ts';
import type { ClassProblem } from '../schedule/class/problem.ts';
import { type Replanned, replanClass } from '../schedule/class/replan.ts';
import { courseArguments, type NamedCourseFile } from './course-argument.ts';
import { readText, say, sayJson, writeWhole } from './door.ts';

/** Options of `schedule`, as typed. */
export interface ScheduleOptions {
  readonly seconds?: number;
  readonly iterations?: number;
  readonly seed?: number;
  /** Plan file whose sessions stand, and the courses that are planned anew all the same. */
  readonly published?: string;
  readonly replan?: readonly string[];
  /** Plan file to write. */
  readonly publish?: string;
  /** Files to write: a calendar after RFC 5545, a table. */
  readonly ics?: string;
  readonly csv?: string;
  /** A drawing: .pdf for the overview and one sheet per session, .svg for the overview alone. */
  readonly draw?: string;
  readonly json?: boolean;
}

/** A plan of the courses given, and what is said of it. */
interface Answer {
  readonly together: CoursesTogether;
  readonly plan: PlannedClass;
  readonly rows: readonly PlanRow[];
  readonly verdicts: readonly CourseVerdict[];
  readonly faults: readonly string[];
  /** Names of the courses whose published sessions stand. */
  readonly standing: readonly string[];
  readonly replanned: Replanned | undefined;
}

/**
 * `schedule`: the plan of the running courses of a shop, the sum per resource first, how near the best possible it is, and
 * exit 1 when a date cannot be met. Published sessions of courses that are not planned anew stand.
 *
 * @returns exit code 0, or 1 when a course ends after its date or needs more sessions than it has
 * @throws InputError with one sentence
 */
export async function scheduleCommand(files: readonly string[], options: ScheduleOptions): Promise<number> {
  const answer = answerOf(files, options);
  const { together, plan, rows } = answer;
  // all of them are made before the first is written
  const written: [string | undefined, string | Uint8Array][] = [
    [options.csv, options.csv === undefined ? '' : planCsv(rows, together.courses.length > 1)],
    [options.ics, options.ics === undefined ? '' : planCalendar(together, plan, rows)],
    [options.draw, options.draw === undefined ? '' : await planDrawing(options.draw, together, plan)],
    [options.publish, options.publish === undefined ? '' : planFileText(together, plan.entries)],
  ];
  for (const [path, content] of written) if (path !== undefined) writeWhole(path, content);
  if (options.json === true) sayJson(jsonOf(answer));
  else sayPlan(answer);
  return answer.verdicts.every((v) => v.isMet) ? 0 : 1;
}

function answerOf(files: readonly string[], options: ScheduleOptions): Answer {
  const named = courseArguments(files);
  const together = coursesTogether(named.map((n) => n.file));
  const published: PublishedPlan =
    options.published === undefined ? new Map() : readPlanFile(readText(options.published), together);
  const anew = plannedAnew(together, named, published, options);
  const problemOf = (changed: readonly CourseFile[]): ClassProblem =>
    published.size === 0
      ? coursesTogether(changed).problem
      : standingProblem(coursesTogether(changed), published, anew);
  const problem = published.size === 0 ? together.problem : standingProblem(together, published, anew);
  const { iterations, seed = 1 } = options;
  const seconds = options.seconds ?? (iterations === undefined ? 10 : undefined);
  const begun = performance.now();
  const search: ClassSearch = {
    seed,
    objectives: together.objectives,
    elapsedS: () => (performance.now() - begun) / 1000,
    dueMin: together.dueMin,
    ...(iterations === undefined ? {} : { iterations }),
    ...(seconds === undefined ? {} : { seconds }),
  };
  const replanned =
    published.size === 0 ? undefined : replanClass(problem, [...published.values()].flat(), search);
  const plan = replanned ?? planClass(problem, search);
  const lots = inLots(plan.problem, plan.entries);
  const rows = planRows(plan.problem, plan.entries);
  return {
    together,
    plan,
    rows,
    verdicts: courseVerdicts(together, plan, rows, problemOf),
    faults: [...classFaults(plan.problem, plan.entries), ...classFaults(lots.problem, lots.entries)],
    standing: together.courses
      .filter((c) => published.has(c.id) && !anew.includes(c.id))
      .map((c) => c.file.name),
    replanned,
  };
}

/** Ids of the courses that are planned: those named, and those that have published nothing. */
function plannedAnew(
  together: CoursesTogether,
  named: readonly NamedCourseFile[],
  published: PublishedPlan,
  options: ScheduleOptions,
): string[] {
  const names = (options.replan ?? []).map((text) => {
    const at = named.findIndex((n) => n.argument === text || n.file.name === text);
    if (at < 0)
      throw new InputError(
        'schedule-replan',
        `--replan is "${text}", which is none of the courses given; name one of ${together.courses.map((c) => `"${c.file.name}"`).join(', ')}.`,
      );
    return together.courses[at]!.id;
  });
  if (names.length > 0 && options.published === undefined)
    throw new InputError(
      'schedule-replan',
      '--replan wants the plan that was published; give it with --published.',
    );
  const anew = together.courses.filter((c) => !published.has(c.id) || names.includes(c.id)).map((c) => c.id);
  if (anew.length === 0)
    throw new InputError(
      'schedule-replan',
      'Every course given stands in the published plan; name the one to be planned anew with --replan.',
    );
  return anew;
}

function jsonOf({ together, plan, rows, verdicts, faults, standing, replanned }: Answer): object {
  const bounds = together.courses.map((c) => courseBound(plan, c.id));
  const last = bounds.reduce((most, b) => (b.session > most.session ? b : most));
  return {
    course: together.courses.map((c) => c.file.name).join(', '),
    sessions: Math.max(...verdicts.map((v) => v.sessions)),
    sessions_given: Math.max(...verdicts.map((v) => v.given)),
    bound: last.session,
    reason: last.reason,
    limit: last.limit,
    ends: verdicts
      .map((v) => v.ends)
      .toSorted()
      .at(-1),
    met: verdicts.every((v) => v.isMet),
    text: verdicts.map((v) => v.text).join(' '),
    remedies: verdicts.flatMap((v) => v.remedies),
    courses: verdicts.map((v, i) => ({
      name: v.name,
      sessions: v.sessions,
      sessions_given: v.given,
      bound: bounds[i]!.session,
      reason: bounds[i]!.reason,
      ends: v.ends,
      met: v.isMet,
      stands: standing.includes(v.name),
      text: v.text,
      remedies: v.remedies,
    })),
    ...(replanned === undefined
      ? {}
      : { kept: replanned.isKept, moved: replanned.movedCount, would_help: replanned.wouldHelp }),
    makespan_min: plan.measures.makespanMin,
    bound_min: plan.bound.makespanMin,
    minutes: minutesAsked(together.problem).map((r) => ({
      resource: r.resourceId,
      name: r.name,
      asked: r.askedMin,
      there: r.thereMin,
      over_full_by: r.overFullMin,
    })),
    plan: rows.map((r) => ({
      ...(together.courses.length > 1 ? { course: r.course } : {}),
      session: r.session ?? null,
      begin: r.begin,
      end: r.end,
      activity: r.activity,
      operation: r.operation,
      part: r.part,
      what: r.what,
      learners: r.learners,
      station: r.station ?? null,
      people: r.people,
      helper: r.helper ?? null,
      setting: r.setting ?? null,
      set_up_min: r.setUpMin,
    })),
    iterations: plan.iterations,
    checks: faults,
  };
}

function sayPlan({ together, plan, verdicts, faults, standing, replanned }: Answer): void {
  say(`${together.courses.map((c) => c.file.name).join(', ')}: minutes asked and minutes there are`);
  for (const r of minutesAsked(together.problem).slice(0, 15))
    say(
      `  ${r.name.padEnd(34)} ${String(r.askedMin).padStart(6)} asked ${String(r.thereMin).padStart(7)} there are${r.overFullMin > 0 ? `, over-full by ${r.overFullMin}` : ''}`,
    );
  for (const name of standing) say(`The published sessions of "${name}" stand.`);
  if (replanned !== undefined)
    say(
      replanned.isKept
        ? 'The published plan still holds and is kept.'
        : `${replanned.movedCount} published or open steps have another time now.`,
    );
  for (const v of verdicts) {
    say(v.text);
    say(courseBound(plan, v.courseId).reason);
    for (const remedy of v.remedies) say(remedy);
  }
  for (const help of replanned?.wouldHelp ?? []) say(help);
  for (const fault of faults) say(`Fault: ${fault}`);
}

/** The plan as a table. */
function planCsv(rows: readonly PlanRow[], areSeveral: boolean): string {
  return tableToCsv<PlanRow>(
    [
      ...(areSeveral ? [{ heading: 'course', cell: (r: PlanRow) => r.course }] : []),
      { heading: 'session', cell: (r) => r.session },
      { heading: 'begin', cell: (r) => r.begin },
      { heading: 'end', cell: (r) => r.end },
      { heading: 'learners', cell: (r) => r.learners.join(', ') },
      { heading: 'operation', cell: (r) => r.operation },
      { heading: 'part', cell: (r) => r.part },
      { heading: 'what', cell: (r) => r.what },
      { heading: 'station', cell: (r) => r.station },
      { heading: 'people', cell: (r) => r.people.join(', ') },
      { heading: 'helper', cell: (r) => r.helper },
      { heading: 'set_up_min', cell: (r) => r.setUpMin },
    ],
    rows,
  );
}

/** The plan drawn: stations by sessions, and one sheet per session. */
async function planDrawing(
  file: string,
  { courses }: CoursesTogether,
  plan: PlannedClass,
): Promise<string | Uint8Array> {
  if (!/\.(svg|pdf)$/i.test(file))
    throw new InputError('drawing-format', `--draw is "${file}"; it must end in .svg or .pdf.`);
  const { planOverview, planSheets } = await import('../prints/plan-sheets.ts');
  const courseName = courses.map((c) => c.file.name).join(', ');
  const about = { courseName, clockText: civilText };
  const overview = planOverview(plan.problem, plan.entries, about);
  if (/\.svg$/i.test(file)) return (await import('../output/svg.ts')).drawingToSvg(overview);
  const [{ drawingsToPdf }, { loadFonts }] = await Promise.all([
    import('../output/pdf.ts'),
    import('../output/fonts-node.ts'),
  ]);
  const pages = [overview, ...planSheets(plan.problem, plan.entries, about)].map(
    (drawing) => ({ kind: 'fixed', drawing }) as const,
  );
  return drawingsToPdf(pages, {
    paper: 'a4',
    fonts: loadFonts(),
    documentTitle: `${courseName}: plan`,
    createdOn: new Date().toISOString().slice(0, 10),
  });
}

/** Each session of the courses with what is planned in it. */
function planCalendar(
  { courses, timeZone }: CoursesTogether,
  plan: PlannedClass,
  rows: readonly PlanRow[],
): string {
  const entries = courses.flatMap(({ id, file }) => {
    const used = plan.sessionsByCourse.find((s) => s.courseId === id)!.sessions;
    // up to the last session in use, also those in which everything rests
    return sessionsOfCourse(plan.problem, id)
      .slice(0, used)
      .map((window, i) => {
        const own = rows.filter((r) => r.course === file.name && r.session === i + 1);
        const given = file.sessions[i];
        return {
          id: `${slug(file.name)}-${i + 1}`,
          begin: civilText(given?.beginMin ?? window.beginMin),
          end: civilText(given?.endMin ?? window.endMin),
          title: `${file.name}, session ${i + 1}`,
          text:
            own.length === 0
              ? 'Nothing is planned: everything rests.'
              : own
                  .map(
                    (r) =>
                      `${r.begin.slice(11)} ${r.learners.join(', ')}: ${r.what}${r.station === undefined ? '' : ` (${r.station})`}`,
                  )
                  .join('\n'),
        };
      });
  });
  try {
    return calendarText({
      name: courses.map((c) => c.file.name).join(', '),
      timeZone,
      stamp: new Date().toISOString(),
      entries,
    });
  } catch (error) {
    if (error instanceof RangeError)
      throw new InputError(
        'course-zone',
        `The time zone "${timeZone}" is not known; give a name such as Europe/Vienna.`,
        'time_zone',
      );
    throw error;
  }
}

function slug(name: string): string {
  return name.toLowerCase().replace(/[^a-z0-9]+/g, '-');
}
