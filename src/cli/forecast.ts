import { civilText } from '../course/civil-time.ts';
import { courseProblem } from '../course/course-file.ts';
import {
  type ForecastSetUp,
  type LearnerForecast,
  makeCoursePlayer,
  readForecast,
} from '../schedule/class/forecast.ts';
import { planClass } from '../schedule/class/plan.ts';
import { forecastSensitivities } from '../schedule/class/sensitivities.ts';
import { courseArgument } from './course-argument.ts';
import { say, sayJson } from './door.ts';

/** Options of `forecast`, as typed. */
export interface ForecastOptions {
  readonly courses?: number;
  readonly seed?: number;
  readonly json?: boolean;
}

/** Plans tried before the course is played through. */
const planIterations = 40;
/** Mean minutes of clock time by which a change has to bring the class home earlier to be worth naming. */
const worthMin = 60;
/** Changes that help, written out. */
const mostSaid = 5;

/**
 * `forecast`: when each learner will be done, with what chance in time, what holds the class up and which step to pull
 * forward.
 *
 * @returns exit code 0
 * @throws InputError with one sentence
 */
export function forecastCommand(file: string, options: ForecastOptions): number {
  const course = courseArgument(file);
  const runs = Math.round(options.courses ?? 2000);
  const { seed = 1 } = options;
  const problem = courseProblem(course);
  const dueMin = { course: course.dueMin ?? course.sessions[course.sessions.length - 1]!.endMin };
  const { entries } = planClass(problem, {
    iterations: planIterations,
    seed,
    dueMin,
    objectives: course.objectives,
  });
  const setUp: ForecastSetUp = { problem, entries, uncertainty: course.uncertainty, dueMin, seed };
  const forecast = readForecast(setUp, makeCoursePlayer(setUp).play(0, runs));
  const sensitivities = forecastSensitivities(setUp, Math.max(20, Math.min(200, runs)));
  const pull = sensitivities.find(
    (s) => s.kind === 'pull forward' && s.earlierMin > worthMin && (s.chanceGain ?? 0) >= 0,
  );
  const [first] = forecast.bottlenecks;
  if (options.json === true)
    sayJson({
      learners: forecast.learners.map(jsonOf),
      courses: forecast.courses.map(jsonOf),
      due: civilText(dueMin.course).slice(0, 10),
      bottleneck:
        first === undefined ? null : { id: first.id, name: first.name, share: rounded(first.shareFrac) },
      bottlenecks: forecast.bottlenecks
        .slice(0, 6)
        .map((b) => ({ id: b.id, name: b.name, share: rounded(b.shareFrac) })),
      pull_forward:
        pull === undefined
          ? null
          : {
              operation: pull.id,
              text: pull.change,
              chance_gain: rounded(pull.chanceGain ?? 0),
              earlier_days: rounded(pull.earlierMin / 1440),
            },
      sensitivities: sensitivities.map((s) => ({
        text: s.change,
        kind: s.kind,
        id: s.id,
        chance_gain: rounded(s.chanceGain ?? 0),
        earlier_days: rounded(s.earlierMin / 1440),
      })),
      played: forecast.runs,
    });
  else {
    say(
      `${course.name}: ${forecast.runs} courses played through, date ${civilText(dueMin.course).slice(0, 10)}`,
    );
    for (const l of [...forecast.learners, ...forecast.courses])
      say(
        `  ${l.id.padEnd(12)} session ${l.p10Session} / ${l.p50Session} / ${l.p90Session}  likely ${civilText(l.p50Min).slice(0, 10)}  in time ${Math.round(100 * (l.chance ?? 0))} %`,
      );
    if (first !== undefined)
      say(`Most waiting is for ${first.name}: ${Math.round(100 * first.shareFrac)} % of the time lost.`);
    for (const s of sensitivities
      .filter((x) => x.earlierMin > worthMin && (x.chanceGain ?? 0) >= 0)
      .slice(0, mostSaid))
      say(
        `  ${s.change}: ${percent(s.chanceGain)} chance for the course, ${(s.earlierMin / 1440).toFixed(1)} days earlier.`,
      );
    say(
      pull === undefined
        ? 'No single step pulled forward would bring the class home earlier.'
        : `Pull forward: ${pull.change}.`,
    );
  }
  return 0;
}

function percent(gain: number | undefined): string {
  return `${(gain ?? 0) >= 0 ? '+' : ''}${Math.round(100 * (gain ?? 0))} %`;
}

function rounded(value: number): number {
  return Number(value.toFixed(4));
}

function jsonOf(l: LearnerForecast): object {
  const day = (minute: number): string => civilText(minute).slice(0, 10);
  return {
    id: l.id,
    p10: day(l.p10Min),
    p50: day(l.p50Min),
    p90: day(l.p90Min),
    p10_session: l.p10Session,
    p50_session: l.p50Session,
    p90_session: l.p90Session,
    chance: rounded(l.chance ?? 0),
  };
}
