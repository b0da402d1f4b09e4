import { type ClassPlanning, classPlanning, stepsToPublish } from '../../course/class-plan.ts';
import { type ClassState, sessionsOf } from '../../course/class-state.ts';
import { boardChanges, boardOf, plainFault } from '../../course/plan-board.ts';
import { writePlanText } from '../../course/plan-text.ts';
import { quantile } from '../../numeric/statistics.ts';
import { InputError } from '../../quantity/input-error.ts';
import { withMoreSessions } from '../../schedule/class/calendar.ts';
import { classFaults } from '../../schedule/class/check.ts';
import {
  type ForecastSetUp,
  joinPlayed,
  makeCoursePlayer,
  type PlayedCourses,
  readForecast,
} from '../../schedule/class/forecast.ts';
import { minutesAsked } from '../../schedule/class/minutes-asked.ts';
import { moveStep } from '../../schedule/class/move-step.ts';
import { planClass } from '../../schedule/class/plan.ts';
import type { PlannedClass } from '../../schedule/class/planned-class.ts';
import { type ClassProblem, endOf, type PlanEntry } from '../../schedule/class/problem.ts';
import { replanClass } from '../../schedule/class/replan.ts';
import { forecastSensitivities, type Sensitivity } from '../../schedule/class/sensitivities.ts';
import { buildName, operationName, placeName } from '../class/class-names.ts';
import type { ForecastNews, ForecastRequest, LearnerProspect, SeenPlan } from './forecast-messages.ts';
import { civilDay, shortTime, wallClock } from './wall-clock.ts';

const PORTIONS = 20;
const MOST_SENSITIVITY_RUNS = 40;
const DAY_MIN = 1440;
/** Sessions behind the last one in which a published plan may end. */
const MORE_SESSIONS = 30;

const say = (news: ForecastNews): void => self.postMessage(news);
const progress = (words: string, shareFrac: number): void => say({ kind: 'progress', words, shareFrac });

type JobOf<J extends ForecastRequest['job']> = Extract<ForecastRequest, { readonly job: J }>;

let kept: { readonly key: string; readonly planning: ClassPlanning } | undefined;

/** The class made ready for planning; a worker that is asked again about the same moment has it still. */
function planningOf(r: ForecastRequest): ClassPlanning {
  const { course, shop, builds } = r.state;
  const heard = [course.lastMs, shop.lastMs, ...[...builds.values()].map((b) => b.lastMs)];
  const key = [r.nowMs, r.outForSessions, r.dueMs, course.course, ...heard].join();
  if (kept?.key !== key) kept = { key, planning: freshPlanning(r) };
  return kept.planning;
}

function freshPlanning(r: ForecastRequest): ClassPlanning {
  return classPlanning(r.state, {
    clock: wallClock,
    nowMs: r.nowMs,
    outForSessions: r.outForSessions,
    ...(r.dueMs === undefined ? {} : { dueMs: r.dueMs }),
  });
}

/** A station's setting as the planner names it: operation, part, instrument, batch. */
const SETTING = /\b([A-Z]\d+[a-z]?)\.\d+ (?:steel|nylon|uke) \d+/g;

/** Sentences of the planner with names and times in them. */
function inWords(state: ClassState, problem: ClassProblem, sentence: string): string {
  const activities = new Map(problem.activities.map((a) => [a.id, a]));
  const builds = new Set(problem.learners.map((l) => l.id));
  const plain = sentence.replace(SETTING, (_, op: string) => `“${operationName(state, op)}”`);
  return plainFault(plain, problem, {
    step: (id) => {
      const a = activities.get(id);
      const who =
        a && a.buildIds.length > 3
          ? `${a.buildIds.length} learners`
          : a?.buildIds.map((b) => buildName(state, b)).join(', ');
      return a ? `“${a.name}”${who ? ` of ${who}` : ''}` : id;
    },
    thing: (id) => (builds.has(id) ? buildName(state, id) : placeName(state, id)),
    time: shortTime,
  });
}

/** Room for a published plan that ends behind the last session; the bound comes with it. */
function firstLook(planning: ClassPlanning): PlannedClass {
  return planClass(planning.problem, { seed: 1, iterations: 1, dueMin: dueOf(planning) });
}

const dueOf = (planning: ClassPlanning): Readonly<Record<string, number>> => ({ course: planning.dueMin });

function seenPlan(
  r: ForecastRequest,
  planning: ClassPlanning,
  planned: PlannedClass,
  entries: readonly PlanEntry[],
): SeenPlan {
  const given = sessionsOf(r.state).length;
  const board = boardOf(planned.problem, entries, planning.pins, given);
  const own = new Set(planning.problem.learners.map((l) => l.id));
  const activities = new Map(planned.problem.activities.map((a) => [a.id, a]));
  const last = Math.max(
    0,
    ...entries
      .filter((e) => activities.get(e.activityId)?.buildIds.some((b) => own.has(b)) === true)
      .map(endOf),
  );
  const { learned, recordCount } = planning;
  return {
    nowMs: r.nowMs,
    board,
    asked: minutesAsked(planning.problem).map((row) => ({
      ...row,
      name: inWords(r.state, planning.problem, row.name),
    })),
    sessions: board.sessions.filter((s) => s.beginMin < last).length,
    given,
    boundSession: planned.bound.session,
    boundWords: inWords(r.state, planned.problem, planned.bound.reason),
    learned: {
      usedFrac: learned.usedFrac,
      recordCount,
      operations: learned.operations.toSorted((a, b) => b.count - a.count),
      learners: learned.learners,
    },
    closed: planning.problem.resources
      .filter((x) => (x.closures ?? []).length > 0)
      .map((x) => placeName(r.state, x.id)),
  };
}

function look(r: JobOf<'look'>): void {
  progress('Reading the plan', 0.1);
  const planning = planningOf(r);
  const first = firstLook(planning);
  say({ kind: 'seen', plan: seenPlan(r, planning, first, planning.published) });
}

function plan(r: JobOf<'plan'>): void {
  progress('Planning', 0);
  const planning = planningOf(r);
  const begun = performance.now();
  const elapsedS = (): number => (performance.now() - begun) / 1000;
  const search = {
    seconds: r.seconds,
    seed: 1,
    dueMin: dueOf(planning),
    objectives: planning.file.objectives,
    elapsedS,
    onProgress: () => progress('Planning', Math.min(1, elapsedS() / r.seconds)),
  };
  const hasPlan = r.state.course.plan !== undefined;
  const found = hasPlan
    ? replanClass(planning.problem, planning.published, search)
    : { ...planClass(planning.problem, search), isKept: false, wouldHelp: [] as readonly string[] };
  const seen = seenPlan(r, planning, found, found.entries);
  const before = hasPlan ? seenPlan(r, planning, found, planning.published).board : undefined;
  const pins = [...planning.pins.keys()];
  const pinBreaks = classFaults(found.problem, found.entries).filter((f) =>
    pins.some((id) => f.startsWith(`${id} `)),
  );
  say({
    kind: 'planned',
    plan: seen,
    text: writePlanText(stepsToPublish(found.problem, found.entries, wallClock)),
    changes: before && boardChanges(before, seen.board),
    isKept: found.isKept,
    wouldHelp: found.wouldHelp.map((w) => inWords(r.state, found.problem, w)),
    pinBreaks: pinBreaks.map((f) => inWords(r.state, found.problem, f)),
  });
}

function move(r: JobOf<'move'>): void {
  progress('Looking what it breaks', 0.2);
  const planning = planningOf(r);
  // a published plan may end behind the last session there is
  const problem = withMoreSessions(planning.problem, MORE_SESSIONS);
  const { entry, breaks } = moveStep(problem, planning.published, r.step, r.windowId);
  const activity = problem.activities.find((a) => a.id === r.step);
  const [piece] = entry.pieces;
  if (!piece) return;
  say({
    kind: 'moved',
    step: r.step,
    windowId: r.windowId,
    beginMin: piece.beginMin,
    endMin: piece.endMin,
    startMs: wallClock.msOf(piece.beginMin),
    endMs: wallClock.msOf(piece.endMin),
    station: activity?.ways[entry.wayIndex]?.stationId,
    breaks: breaks.map((b) => inWords(r.state, problem, b)),
  });
}

function prospect(
  id: string,
  finish: Float64Array,
  dueMin: number,
  changes: readonly Sensitivity[],
): LearnerProspect {
  const sorted = finish.toSorted();
  const at = (q: number): string => civilDay(quantile(sorted, q));
  const inTime = sorted.filter((f) => f <= dueMin).length / Math.max(1, sorted.length);
  const pull = changes
    .filter((c) => c.kind === 'pull forward')
    .toSorted((a, b) => (b.earlierOf[id] ?? 0) - (a.earlierOf[id] ?? 0))[0];
  const earlierDays = (pull?.earlierOf[id] ?? 0) / DAY_MIN;
  return {
    id,
    p10: at(0.1),
    p25: at(0.25),
    p50: at(0.5),
    p75: at(0.75),
    p90: at(0.9),
    twenty: Array.from({ length: 20 }, (_, i) => at((i + 0.5) / 20)),
    ofTwenty: Math.round(20 * inTime),
    ...(pull && earlierDays > 0.3 ? { pullForward: { text: pull.change, earlierDays } } : {}),
  };
}

function forecast(r: JobOf<'forecast'>): void {
  progress('Reading the plan', 0);
  const planning = planningOf(r);
  const entries = planning.published.length > 0 ? planning.published : firstLook(planning).entries;
  const { learned, dueMin } = planning;
  const setUp: ForecastSetUp = {
    problem: planning.routeProblem,
    entries,
    uncertainty: {
      ...planning.file.uncertainty,
      minutesFactor: Object.fromEntries(learned.operations.map((o) => [o.id, o.factor])),
      pace: Object.fromEntries(learned.learners.map((l) => [l.id, { factor: l.factor, logSd: l.logSd }])),
    },
    dueMin: dueOf(planning),
    seed: 1,
  };
  const player = makeCoursePlayer(setUp);
  const parts: PlayedCourses[] = [];
  for (let i = 0; i < PORTIONS; i++) {
    parts.push(
      player.play(Math.floor((i * r.courses) / PORTIONS), Math.floor(((i + 1) * r.courses) / PORTIONS)),
    );
    progress('Playing courses through', (0.5 * (i + 1)) / PORTIONS);
  }
  const played = joinPlayed(parts);
  const read = readForecast(setUp, played);
  const changes = forecastSensitivities(setUp, Math.min(MOST_SENSITIVITY_RUNS, r.courses), (share) =>
    progress('Trying what would help', 0.5 + share / 2),
  );
  const { learners } = planning.problem;
  const finishOf = (l: number): Float64Array =>
    Float64Array.from({ length: played.runs }, (_, run) => played.finishMin[run * learners.length + l] ?? 0);
  const own = learners.map((_, l) => finishOf(l));
  const whole = Float64Array.from({ length: played.runs }, (_, run) =>
    Math.max(...own.map((f) => f[run] ?? 0)),
  );
  say({
    kind: 'forecast',
    due: civilDay(dueMin),
    learners: learners.map((l, i) => prospect(l.id, own[i] ?? new Float64Array(), dueMin, changes)),
    course: prospect('course', whole, dueMin, []),
    bottlenecks: read.bottlenecks
      .slice(0, 5)
      .map(({ name, shareFrac }) => ({ name: inWords(r.state, planning.problem, name), shareFrac })),
    changes: changes.map((c) => ({
      text: inWords(r.state, planning.problem, c.change),
      kind: c.kind,
      earlierDays: c.earlierMin / DAY_MIN,
      moreOfTwenty: Math.round(20 * (c.chanceGain ?? 0)),
    })),
    played: read.runs,
  });
}

function work(r: ForecastRequest): void {
  if (r.job === 'look') look(r);
  else if (r.job === 'plan') plan(r);
  else if (r.job === 'move') move(r);
  else forecast(r);
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
