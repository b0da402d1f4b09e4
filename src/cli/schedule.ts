import { civilText } from '../course/civil-time.ts';
import { type CourseFile, courseProblem } from '../course/course-file.ts';
import { planRemedies } from '../course/plan-remedies.ts';
import { type PlanRow, planRows } from '../course/plan-rows.ts';
import { tableToCsv } from '../output/csv.ts';
import { calendarText } from '../output/icalendar.ts';
import { InputError } from '../quantity/input-error.ts';
import { classFaults } from '../schedule/class/check.ts';
import { inLots } from '../schedule/class/in-lots.ts';
import { minutesAsked } from '../schedule/class/minutes-asked.ts';
import { type PlannedClass, planClass } from '../schedule/class/plan.ts';
import { courseArgument } from './course-argument.ts';
import { say, sayJson, writeWhole } from './door.ts';

/** Options of `schedule`, as typed. */
export interface ScheduleOptions {
  readonly seconds?: number;
  readonly iterations?: number;
  readonly seed?: number;
  /** Files to write: a calendar after RFC 5545, a table. */
  readonly ics?: string;
  readonly csv?: string;
  /** A drawing: .pdf for the overview and one sheet per session, .svg for the overview alone. */
  readonly draw?: string;
  readonly json?: boolean;
}

/**
 * `schedule`: the plan of a course, the sum per resource first, how near the best possible it is, and exit 1 when the
 * date cannot be met.
 *
 * @returns exit code 0, or 1 when the course ends after its date or needs more sessions than it has
 * @throws InputError with one sentence
 */
export async function scheduleCommand(file: string, options: ScheduleOptions): Promise<number> {
  const course = courseArgument(file);
  const problem = courseProblem(course);
  const { iterations, seed = 1 } = options;
  const seconds = options.seconds ?? (iterations === undefined ? 10 : undefined);
  const begun = performance.now();
  const plan = planClass(problem, {
    seed,
    objectives: course.objectives,
    elapsedS: () => (performance.now() - begun) / 1000,
    ...(course.dueMin === undefined ? {} : { dueMin: { course: course.dueMin } }),
    ...(iterations === undefined ? {} : { iterations }),
    ...(seconds === undefined ? {} : { seconds }),
  });
  const lots = inLots(plan.problem, plan.entries);
  const faults = [...classFaults(plan.problem, plan.entries), ...classFaults(lots.problem, lots.entries)];
  const rows = planRows(plan.problem, plan.entries, course.sessions);
  const verdict = verdictOf(course, plan, rows);
  // all of them are made before the first is written
  const files: [string | undefined, string | Uint8Array][] = [
    [options.csv, options.csv === undefined ? '' : planCsv(rows)],
    [options.ics, options.ics === undefined ? '' : planCalendar(course, plan, rows)],
    [options.draw, options.draw === undefined ? '' : await planDrawing(options.draw, course, plan)],
  ];
  for (const [path, content] of files) if (path !== undefined) writeWhole(path, content);
  if (options.json === true) sayJson(jsonOf(course, plan, rows, verdict, faults));
  else sayPlan(course, plan, verdict, faults);
  return verdict.isMet ? 0 : 1;
}

interface Verdict {
  readonly isMet: boolean;
  readonly sessions: number;
  readonly ends: string;
  readonly text: string;
  readonly remedies: readonly string[];
}

function verdictOf(course: CourseFile, plan: PlannedClass, rows: readonly PlanRow[]): Verdict {
  const { sessions, given } = plan.sessionsByCourse[0]!;
  const ends =
    rows
      .map((r) => r.end)
      .toSorted()
      .at(-1) ?? '';
  const due = course.dueMin === undefined ? undefined : civilText(course.dueMin).slice(0, 10);
  const isLate = due !== undefined && ends.slice(0, 10) > due;
  const isMet = sessions <= given && !isLate;
  const text = isMet
    ? `This course ends in session ${sessions} of ${given}, on ${ends.slice(0, 10)}.`
    : `This course ends in session ${sessions}${sessions > given ? ` and has ${given}` : ''}, on ${ends.slice(0, 10)}${isLate ? `, after its date ${due}` : ''}; ${limitOf(course, plan, due)}`;
  return { isMet, sessions, ends, text, remedies: isMet ? [] : planRemedies(course) };
}

/** What keeps the course from its date: no plan could, or something is over-full, or most of the waiting is for it. */
function limitOf(course: CourseFile, plan: PlannedClass, due: string | undefined): string {
  const { session, reason } = plan.bound;
  const why = reason.replace(/^[^:]*: /, '');
  const earliest = plan.problem.windows
    .filter((w) => w.kind === 'session')
    .toSorted((a, b) => a.beginMin - b.beginMin)[session - 1];
  const day = earliest === undefined ? '' : civilText(earliest.beginMin).slice(0, 10);
  if (session > course.sessions.length || (due !== undefined && day > due))
    return `the earliest possible is session ${session}, on ${day}: ${why}`;
  const [fullest] = minutesAsked(courseProblem(course));
  if (fullest !== undefined && fullest.overFullMin > 0)
    return `${fullest.name} is the limit, over-full by ${fullest.overFullMin} minutes.`;
  const [most] = plan.waitedFor;
  return plan.sessionsByCourse[0]!.sessions > session && most !== undefined
    ? `${most.name} is the limit, most of the waiting is for it.`
    : why;
}

function jsonOf(
  course: CourseFile,
  plan: PlannedClass,
  rows: readonly PlanRow[],
  verdict: Verdict,
  faults: readonly string[],
): object {
  return {
    course: course.name,
    sessions: verdict.sessions,
    sessions_given: course.sessions.length,
    bound: plan.bound.session,
    reason: plan.bound.reason,
    limit: plan.bound.limit,
    ends: verdict.ends,
    met: verdict.isMet,
    text: verdict.text,
    remedies: verdict.remedies,
    makespan_min: plan.measures.makespanMin,
    bound_min: plan.bound.makespanMin,
    minutes: minutesAsked(courseProblem(course)).map((r) => ({
      resource: r.resourceId,
      name: r.name,
      asked: r.askedMin,
      there: r.thereMin,
      over_full_by: r.overFullMin,
    })),
    plan: rows.map((r) => ({
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

function sayPlan(course: CourseFile, plan: PlannedClass, verdict: Verdict, faults: readonly string[]): void {
  say(`${course.name}: minutes asked and minutes there are`);
  for (const r of minutesAsked(courseProblem(course)).slice(0, 15))
    say(
      `  ${r.name.padEnd(34)} ${String(r.askedMin).padStart(6)} asked ${String(r.thereMin).padStart(7)} there are${r.overFullMin > 0 ? `, over-full by ${r.overFullMin}` : ''}`,
    );
  say(verdict.text);
  say(`${plan.bound.reason}`);
  for (const remedy of verdict.remedies) say(remedy);
  for (const fault of faults) say(`Fault: ${fault}`);
}

/** The plan as a table. */
function planCsv(rows: readonly PlanRow[]): string {
  return tableToCsv<PlanRow>(
    [
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
  course: CourseFile,
  plan: PlannedClass,
): Promise<string | Uint8Array> {
  if (!/\.(svg|pdf)$/i.test(file))
    throw new InputError('drawing-format', `--draw is "${file}"; it must end in .svg or .pdf.`);
  const { planOverview, planSheets } = await import('../prints/plan-sheets.ts');
  const about = { courseName: course.name, clockText: civilText };
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
    documentTitle: `${course.name}: plan`,
    createdOn: new Date().toISOString().slice(0, 10),
  });
}

/** Each session of the course with what is planned in it. */
function planCalendar(course: CourseFile, plan: PlannedClass, rows: readonly PlanRow[]): string {
  const used = plan.problem.windows
    .filter((w) => w.kind === 'session')
    .toSorted((a, b) => a.beginMin - b.beginMin);
  const entries = used.flatMap((window, i) => {
    const own = rows.filter((r) => r.session === i + 1);
    // up to the last session in use, also those in which everything rests
    if (i >= plan.sessionsByCourse[0]!.sessions) return [];
    const given = course.sessions[i];
    return [
      {
        id: `${slug(course.name)}-${i + 1}`,
        begin: civilText(given?.beginMin ?? window.beginMin),
        end: civilText(given?.endMin ?? window.endMin),
        title: `${course.name}, session ${i + 1}`,
        text:
          own.length === 0
            ? 'Nothing is planned: everything rests.'
            : own
                .map(
                  (r) =>
                    `${r.begin.slice(11)} ${r.learners.join(', ')}: ${r.what}${r.station === undefined ? '' : ` (${r.station})`}`,
                )
                .join('\n'),
      },
    ];
  });
  try {
    return calendarText({
      name: course.name,
      timeZone: course.timeZone,
      stamp: new Date().toISOString(),
      entries,
    });
  } catch (error) {
    if (error instanceof RangeError)
      throw new InputError(
        'course-zone',
        `The time zone "${course.timeZone}" is not known; give a name such as Europe/Vienna.`,
        'time_zone',
      );
    throw error;
  }
}

function slug(name: string): string {
  return name.toLowerCase().replace(/[^a-z0-9]+/g, '-');
}
