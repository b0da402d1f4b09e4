import { civilText } from '../course/civil-time.ts';
import { coursesTogether } from '../course/courses-together.ts';
import {
  type ForecastSetUp,
  type LearnerForecast,
  makeCoursePlayer,
  readForecast,
} from '../schedule/class/forecast.ts';
import { planClass } from '../schedule/class/plan.ts';
import { forecastSensitivities } from '../schedule/class/sensitivities.ts';
import { courseArguments } from './course-argument.ts';
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
export function forecastCommand(files: readonly string[], options: ForecastOptions): number {
  const together = coursesTogether(courseArguments(files).map((n) => n.file));
  const { courses, problem, objectives, uncertainty } = together;
  const runs = Math.round(options.courses ?? 2000);
  const { seed = 1 } = options;
  const dueMin = Object.fromEntries(
    courses.map(({ id, file }) => [id, file.dueMin ?? file.sessions[file.sessions.length - 1]!.endMin]),
  );
  const { entries } = planClass(problem, { iterations: planIterations, seed, dueMin, objectives });
  const setUp: ForecastSetUp = { problem, entries, uncertainty, dueMin, seed };
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
      due:
        courses.length === 1
          ? day(dueMin[courses[0]!.id]!)
          : Object.fromEntries(courses.map((c) => [c.file.name, day(dueMin[c.id]!)])),
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
    for (const { id, file } of courses)
      say(`${file.name}: ${forecast.runs} courses played through, date ${day(dueMin[id]!)}`);
    for (const l of [...forecast.learners, ...forecast.courses])
      say(
        `  ${l.id.padEnd(12)} session ${l.p10Session} / ${l.p50Session} / ${l.p90Session}  likely ${day(l.p50Min)}  in time ${Math.round(100 * (l.chance ?? 0))} %`,
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

const day = (minute: number): string => civilText(minute).slice(0, 10);

function percent(gain: number | undefined): string {
  return `${(gain ?? 0) >= 0 ? '+' : ''}${Math.round(100 * (gain ?? 0))} %`;
}

function rounded(value: number): number {
  return Number(value.toFixed(4));
}

function jsonOf(l: LearnerForecast): object {
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
