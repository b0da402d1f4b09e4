import { civilText } from '../../course/civil-time.ts';
import { courseProblem, readCourseFile } from '../../course/course-file.ts';
import { planRows } from '../../course/plan-rows.ts';
import { InputError } from '../../quantity/input-error.ts';
import { ownRoute } from '../../route/route.ts';
import {
  type ForecastSetUp,
  forecastSensitivities,
  joinPlayed,
  type LearnerForecast,
  makeCoursePlayer,
  readForecast,
} from '../../schedule/class/forecast.ts';
import { minutesAsked } from '../../schedule/class/minutes-asked.ts';
import { planClass } from '../../schedule/class/plan.ts';
import type { ForecastNews, ForecastRequest, LearnerProspect } from './forecast-messages.ts';

const PORTIONS = 20;
const MOST_SENSITIVITY_RUNS = 80;

const say = (news: ForecastNews): void => self.postMessage(news);
const day = (minute: number): string => civilText(minute).slice(0, 10);

const prospect = (l: LearnerForecast): LearnerProspect => ({
  id: l.id,
  p10: day(l.p10Min),
  p50: day(l.p50Min),
  p90: day(l.p90Min),
  ofTwenty: Math.round(20 * (l.chance ?? 0)),
});

function work({ text, seconds, courses, seed }: ForecastRequest): void {
  const file = readCourseFile(text, ownRoute() as never);
  const problem = courseProblem(file);
  const dueMin = { course: file.dueMin ?? file.sessions.at(-1)?.endMin ?? 0 };
  const begun = performance.now();
  const elapsedS = () => (performance.now() - begun) / 1000;
  say({ kind: 'progress', words: 'Planning', shareFrac: 0 });
  const plan = planClass(problem, {
    seconds,
    seed,
    dueMin,
    objectives: file.objectives,
    elapsedS,
    onProgress: () =>
      say({ kind: 'progress', words: 'Planning', shareFrac: Math.min(1, elapsedS() / seconds) / 2 }),
  });
  const [ends] = plan.sessionsByCourse;
  say({
    kind: 'plan',
    asked: minutesAsked(plan.problem),
    sessions: ends?.sessions ?? 0,
    given: ends?.given ?? 0,
    boundWords: plan.bound.reason,
    rows: planRows(plan.problem, plan.entries, file.sessions),
  });
  const setUp: ForecastSetUp = {
    problem,
    entries: plan.entries,
    uncertainty: file.uncertainty,
    dueMin,
    seed,
  };
  const player = makeCoursePlayer(setUp);
  const parts = Array.from({ length: PORTIONS }, (_, i) => {
    const from = Math.floor((i * courses) / PORTIONS);
    const played = player.play(from, Math.floor(((i + 1) * courses) / PORTIONS));
    say({ kind: 'progress', words: 'Playing courses through', shareFrac: 0.5 + (i + 1) / PORTIONS / 2.5 });
    return played;
  });
  const forecast = readForecast(setUp, joinPlayed(parts));
  const changes = forecastSensitivities(setUp, Math.min(MOST_SENSITIVITY_RUNS, courses));
  say({
    kind: 'forecast',
    due: day(dueMin.course),
    learners: forecast.learners.map(prospect),
    course: forecast.courses[0] ? prospect(forecast.courses[0]) : undefined,
    bottlenecks: forecast.bottlenecks.slice(0, 5).map(({ name, shareFrac }) => ({ name, shareFrac })),
    changes: changes.map((c) => ({ text: c.change, earlierDays: c.earlierMin / 1440 })),
    played: forecast.runs,
  });
}

self.onmessage = (event: MessageEvent<ForecastRequest>) => {
  try {
    work(event.data);
  } catch (error) {
    say({
      kind: 'refused',
      text:
        error instanceof InputError
          ? error.message
          : `The plan cannot be made (${error instanceof Error ? error.message : String(error)}); tell whoever looks after the program.`,
    });
  }
};
