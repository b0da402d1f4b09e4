import { mean } from '../../numeric/statistics.ts';
import { compileClass } from './compile.ts';
import { type Forecast, type ForecastSetUp, makeCoursePlayer, readForecast } from './forecast.ts';
import { tailMinutes } from './priority.ts';
import { beginOf, type ClassProblem, endOf, type PlanEntry } from './problem.ts';

/** What a change of the shop, the hours or the order would do to the chance and the middle finish. */
export interface Sensitivity {
  readonly change: string;
  readonly kind: 'one more' | 'longer' | 'batch' | 'pull forward';
  readonly id: string;
  /** Chance that the whole course is done in time, with and without; undefined without a date. */
  readonly chanceGain: number | undefined;
  /** Minutes of clock time by which the mean finish of the learners comes earlier. */
  readonly earlierMin: number;
  /** The same for each learner, by id; minutes of clock time. */
  readonly earlierOf: Readonly<Record<string, number>>;
}

interface Change {
  readonly change: string;
  readonly kind: Sensitivity['kind'];
  readonly id: string;
  readonly setUp: ForecastSetUp;
  readonly shift?: Readonly<Record<string, number>>;
}

/** Minutes by which each session is tried longer. */
const longerMin = 30;

/**
 * Tries single changes on the same runs: one more of what made most work wait, half an hour more in every session, the
 * work at one setting gathered, and the steps that waited most, two sessions earlier.
 *
 * @param setUp       the set-up
 * @param runs        runs per change; the same drawn minutes in each
 * @param onProgress  told the share that is tried, 0..1
 * @returns           changes, the one that helps most first
 * @source            from memory
 */
export function forecastSensitivities(
  setUp: ForecastSetUp,
  runs: number,
  onProgress?: (shareFrac: number) => void,
): Sensitivity[] {
  const base = makeCoursePlayer(setUp).play(0, runs);
  const first = readForecast(setUp, base);
  const changes = changesOf(setUp, first);
  const { learners } = setUp.problem;
  const meanOf = (finish: Float64Array, l: number): number =>
    mean(Float64Array.from({ length: runs }, (_, run) => finish[run * learners.length + l]!));
  const chanceOf = (f: Forecast): number | undefined =>
    f.courses.some((c) => c.chance === undefined) ? undefined : Math.min(...f.courses.map((c) => c.chance!));
  return changes
    .map(({ change, kind, id, setUp: changed, shift }, i) => {
      const played = makeCoursePlayer(changed, shift).play(0, runs);
      onProgress?.((i + 1) / changes.length);
      const before = chanceOf(first);
      const after = chanceOf(readForecast(changed, played));
      return {
        change,
        kind,
        id,
        chanceGain: before === undefined || after === undefined ? undefined : after - before,
        earlierMin: mean(base.finishMin) - mean(played.finishMin),
        earlierOf: Object.fromEntries(
          learners.map((l, k) => [l.id, meanOf(base.finishMin, k) - meanOf(played.finishMin, k)]),
        ),
      };
    })
    .sort((a, b) => (b.chanceGain ?? 0) - (a.chanceGain ?? 0) || b.earlierMin - a.earlierMin);
}

function changesOf(setUp: ForecastSetUp, first: Forecast): Change[] {
  const { problem } = setUp;
  const more = first.bottlenecks
    .filter((b) => problem.resources.some((r) => r.id === b.id))
    .slice(0, 4)
    .map(
      (b): Change => ({
        change: `one more ${b.name}`,
        kind: 'one more',
        id: b.id,
        setUp: {
          ...setUp,
          problem: {
            ...problem,
            resources: problem.resources.map((r) => (r.id === b.id ? { ...r, capacity: r.capacity + 1 } : r)),
          },
        },
      }),
    );
  const longer: Change = {
    change: 'half an hour more in every session',
    kind: 'longer',
    id: 'sessions',
    setUp: { ...setUp, problem: withLongerSessions(problem) },
  };
  const gap = gapBetweenSessions(problem);
  const sooner = operationsThatWait(setUp, 6).map(
    ({ id, name }): Change => ({
      change: `begin "${name}" two sessions earlier`,
      kind: 'pull forward',
      id,
      setUp,
      shift: { [id]: -2 * gap },
    }),
  );
  return [...more, longer, ...batchesOf(setUp), ...sooner];
}

function withLongerSessions(problem: ClassProblem): ClassProblem {
  const now = problem.state?.nowMin ?? Number.NEGATIVE_INFINITY;
  return {
    ...problem,
    windows: problem.windows.map((w) =>
      w.kind === 'session' && w.endMin > now ? { ...w, endMin: w.endMin + longerMin } : w,
    ),
  };
}

/** The two operations that make a station be set up most often, each gathered in two goes. */
function batchesOf(setUp: ForecastSetUp): Change[] {
  const byId = new Map(setUp.problem.activities.map((a) => [a.id, a]));
  const now = setUp.problem.state?.nowMin ?? 0;
  const open = setUp.entries.filter((e) => beginOf(e) >= now);
  const minutes = new Map<string, { name: string; sum: number; entries: PlanEntry[] }>();
  for (const e of open) {
    const a = byId.get(e.activityId);
    const way = a?.ways[e.wayIndex];
    if (a === undefined || way?.setting === undefined || e.setUpBeginMin === undefined) continue;
    const own = minutes.get(a.operationId) ?? { name: a.name.split(':')[0]!, sum: 0, entries: [] };
    own.sum += beginOf(e) - e.setUpBeginMin;
    own.entries.push(e);
    minutes.set(a.operationId, own);
  }
  return [...minutes]
    .filter(([, m]) => m.entries.length > 2)
    .sort((a, b) => b[1].sum - a[1].sum)
    .slice(0, 2)
    .map(([id, m]) => ({
      change: `gather "${m.name}" in two goes`,
      kind: 'batch' as const,
      id,
      setUp: {
        ...setUp,
        entries: gathered(
          setUp.entries,
          (e) => byId.get(e.activityId)?.operationId === id && beginOf(e) >= now,
        ),
      },
    }));
}

/** The same plan with the chosen work beginning together, in two halves: only the order of the plan counts. */
function gathered(entries: readonly PlanEntry[], isChosen: (e: PlanEntry) => boolean): readonly PlanEntry[] {
  const begins = entries
    .filter(isChosen)
    .map(beginOf)
    .sort((a, b) => a - b);
  const half = Math.ceil(begins.length / 2);
  const goes = [
    begins[Math.floor(half / 2)] ?? 0,
    begins[half + Math.floor((begins.length - half) / 2)] ?? 0,
  ];
  const border = begins[half] ?? Number.POSITIVE_INFINITY;
  return entries.map((e) => {
    if (!isChosen(e)) return e;
    const beginMin = beginOf(e) < border ? goes[0]! : goes[1]!;
    return { ...e, pieces: [{ beginMin, endMin: beginMin + endOf(e) - beginOf(e) }] };
  });
}

/** Session minutes of slack at which a step presses half as much as one without any. */
const pressingMin = 120;

function gapBetweenSessions(problem: ClassProblem): number {
  const sessions = problem.windows
    .filter((w) => w.kind === 'session')
    .toSorted((a, b) => a.beginMin - b.beginMin);
  return sessions.length < 2
    ? 10_080
    : (sessions[sessions.length - 1]!.beginMin - sessions[0]!.beginMin) / (sessions.length - 1);
}

/**
 * Operations whose steps stand ready in the plan while what follows them presses: each step counts with the time it
 * waits, the more the less time is left between what has to follow it and the end of its build.
 */
function operationsThatWait(setUp: ForecastSetUp, count: number): { id: string; name: string }[] {
  const compiled = compileClass(setUp.problem);
  const tails = tailMinutes(compiled);
  const sessionMin = new Map(
    setUp.problem.courses.map((c, i) => [c.id, compiled.sessionCalendar[i]!.minutesBefore]),
  );
  const inSession = (courseId: string, minute: number): number =>
    sessionMin.get(courseId)![compiled.grid.slotAtOrAfter(minute)]!;
  const ends = new Map(setUp.entries.map((e) => [e.activityId, endOf(e)]));
  const begins = new Map(setUp.entries.map((e) => [e.activityId, beginOf(e)]));
  const now = setUp.problem.state?.nowMin ?? 0;
  const waits = new Map<string, { total: number; name: string }>();
  const lastOf = new Map<string, number>();
  for (const a of setUp.problem.activities)
    for (const b of a.buildIds) lastOf.set(b, Math.max(lastOf.get(b) ?? 0, ends.get(a.id) ?? 0));
  for (const a of setUp.problem.activities) {
    const begin = begins.get(a.id);
    if (begin === undefined || begin < now || a.memberIds.length === 0 || a.partIndex > 0) continue;
    const ready = Math.max(now, ...a.after.map((l) => (ends.get(l.activityId) ?? 0) + l.lagMin));
    const own = waits.get(a.operationId) ?? { total: 0, name: a.name.split(':')[0]! };
    const waited = inSession(a.courseId, begin) - inSession(a.courseId, ready);
    const last = Math.max(0, ...a.buildIds.map((b) => lastOf.get(b) ?? 0));
    const slack = Math.max(
      0,
      inSession(a.courseId, last) - inSession(a.courseId, begin) - tails[compiled.activityIndex.get(a.id)!]!,
    );
    own.total += waited / (1 + slack / pressingMin);
    waits.set(a.operationId, own);
  }
  return [...waits]
    .filter(([, w]) => w.total > 0)
    .sort((x, y) => y[1].total - x[1].total)
    .slice(0, count)
    .map(([id, { name }]) => ({ id, name }));
}
