import { readFileSync } from 'node:fs';
import path from 'node:path';
import { Worker } from 'node:worker_threads';
import { classFaults } from '../src/schedule/class/check.ts';
import { fixtureClass, fixtureSizes } from '../src/schedule/class/fixture-courses.ts';
import {
  type ForecastSetUp,
  joinPlayed,
  makeCoursePlayer,
  type PlayedCourses,
  readForecast,
} from '../src/schedule/class/forecast.ts';
import { planClass } from '../src/schedule/class/plan.ts';
import type { ClassProblem, PlanEntry } from '../src/schedule/class/problem.ts';
import { replanClass, stateAsPlanned } from '../src/schedule/class/replan.ts';
import type { RouteForm } from '../src/schedule/class/route-form.ts';
import { middleOf } from './_middle.ts';

const root = path.resolve(import.meta.dirname ?? '.', '..');
const readJson = (file: string): unknown =>
  JSON.parse(readFileSync(path.join(root, file), 'utf8')) as unknown;

const searchS = 10;
const runs = 2000;

/** Prints, for the classes of 6, 12, 24 and 30 learners: bound, best, times to a first plan and to a new one, and how fast courses are played. */
export async function run(): Promise<void> {
  const route = readJson('data/route/operations.json') as RouteForm;
  const best = new Map(
    (
      readJson('test/fixtures/class-best.json') as { classes: { learners: number; bestMin: number }[] }
    ).classes.map((c) => [c.learners, c.bestMin]),
  );
  // a small class first, so that the clock measures planning and not starting
  planClass(fixtureClass(route, 6), { iterations: 3 });
  console.log(
    `Classes: session minutes; targets: first plan < 100 ms, within 3 % of the best after ${searchS} s, bound >= 85 % of the best for 12, a new plan < 1000 ms`,
  );
  console.log(
    'learners activities  first ms  after 10 s    best  over best   bound  of best  tried  replan ms  faults',
  );
  let twelve: { problem: ClassProblem; entries: readonly PlanEntry[] } | undefined;
  for (const learners of fixtureSizes) {
    const problem = fixtureClass(route, learners);
    const firstMs = timeFirst(problem);
    const begun = performance.now();
    const plan = planClass(problem, {
      seed: 1,
      seconds: searchS,
      elapsedS: () => (performance.now() - begun) / 1000,
    });
    if (learners === 12) twelve = { problem, entries: plan.entries };
    const { makespanMin } = plan.measures;
    const known = Math.min(best.get(learners) ?? makespanMin, makespanMin);
    console.log(
      `${String(learners).padStart(8)} ${String(problem.activities.length).padStart(10)} ${firstMs.toFixed(0).padStart(9)} ${String(makespanMin).padStart(11)} ${String(known).padStart(7)}` +
        ` ${(((makespanMin - known) / known) * 100).toFixed(2).padStart(8)} % ${String(plan.bound.makespanMin).padStart(7)} ${((100 * plan.bound.makespanMin) / known).toFixed(1).padStart(6)} %` +
        ` ${String(plan.iterations).padStart(6)} ${timeReplan(problem, plan.entries).toFixed(0).padStart(10)} ${String(classFaults(plan.problem, plan.entries).length).padStart(7)}` +
        `${makespanMin < (best.get(learners) ?? 0) ? '  better than any before: put it into test/fixtures/class-best.json' : ''}`,
    );
  }
  if (twelve !== undefined) await benchForecast(twelve.problem, twelve.entries);
}

/** Milliseconds to a plan that can be shown, middle of five. */
function timeFirst(problem: ClassProblem): number {
  return middleOf(
    Array.from({ length: 5 }, () => {
      const begun = performance.now();
      let first = 0;
      planClass(problem, { iterations: 1, onProgress: () => (first ||= performance.now() - begun) });
      return first;
    }),
  );
}

/** Milliseconds to a new plan in the middle of the course with the bandsaw down for two weeks and three learners away. */
function timeReplan(problem: ClassProblem, entries: readonly PlanEntry[]): number {
  const sessions = problem.windows
    .filter((w) => w.kind === 'session')
    .toSorted((a, b) => a.beginMin - b.beginMin);
  const now = sessions[Math.floor(sessions.length / 3)]!;
  const live: ClassProblem = {
    ...problem,
    resources: problem.resources.map((r) =>
      r.id === 'bandsaw'
        ? { ...r, closures: [{ beginMin: now.beginMin, endMin: now.beginMin + 20_160 }] }
        : r,
    ),
    learners: problem.learners.map((l, i) => (i < 3 ? { ...l, awayWindowIds: [now.id] } : l)),
    state: stateAsPlanned(problem, entries, now.beginMin),
  };
  return middleOf(
    Array.from({ length: 3 }, () => {
      const begun = performance.now();
      replanClass(live, entries, { seconds: 0.3, elapsedS: () => (performance.now() - begun) / 1000 });
      return performance.now() - begun;
    }),
  );
}

async function benchForecast(problem: ClassProblem, entries: readonly PlanEntry[]): Promise<void> {
  const setUp: ForecastSetUp = { problem, entries, seed: 1 };
  const player = makeCoursePlayer(setUp);
  player.play(0, 40);
  const begun = performance.now();
  player.play(0, 400);
  const oneMs = (performance.now() - begun) / 400;
  const { ms, played } = await playOnTwo(setUp);
  const { courses } = readForecast(setUp, played);
  console.log(
    `Forecast of 12: ${oneMs.toFixed(2)} ms a course on one core; ${played.runs} courses on two in ${(ms / 1000).toFixed(2)} s (target < 2 s); ` +
      courses.map((c) => `${c.id}: session ${c.p10Session} / ${c.p50Session} / ${c.p90Session}`).join('; '),
  );
}

/** Plays half of the runs in each of two workers. */
async function playOnTwo(setUp: ForecastSetUp): Promise<{ ms: number; played: PlayedCourses }> {
  const file = new URL('./_forecast-worker.ts', import.meta.url).href;
  const start = `import('tsx/esm/api').then(({ register }) => { register(); return import(${JSON.stringify(file)}); })`;
  const workers = [0, 1].map(
    (i) =>
      new Worker(start, {
        eval: true,
        workerData: { setUp, from: (i * runs) / 2, to: ((i + 1) * runs) / 2 },
      }),
  );
  const heard = (worker: Worker): Promise<unknown> =>
    new Promise((resolve, reject) => {
      worker.once('message', resolve);
      worker.once('error', reject);
    });
  await Promise.all(workers.map(heard));
  const begun = performance.now();
  const parts = workers.map((worker) => {
    const answer = heard(worker);
    worker.postMessage('play');
    return answer as Promise<PlayedCourses>;
  });
  const played = joinPlayed(await Promise.all(parts));
  const ms = performance.now() - begun;
  await Promise.all(workers.map((w) => w.terminate()));
  return { ms, played };
}
