import { InputError } from '../quantity/input-error.ts';
import { MINUTE_MS } from '../quantity/time.ts';
import type { PlannedOperation, PlannedPart } from '../route/planned-route.ts';
import { attendanceFor } from '../schedule/class/attendance.ts';
import { type Dispatch, dispatch } from '../schedule/class/dispatch.ts';
import type { Activity, Attendance, ClassProblem, PlanEntry, Resource } from '../schedule/class/problem.ts';
import type { BuildFacts } from './build-facts.ts';
import { buildsOf, type ClassState, planOf, stationOfWork } from './class-state.ts';
import { type PublishedStep, readPlanText } from './plan-text.ts';
import {
  cleaningMin,
  type Look,
  type NextSteps,
  type Offer,
  plainSteps,
  type Withheld,
} from './what-next.ts';

/** What a learner does next, and who says so. */
export interface OrderedSteps extends NextSteps {
  /** plan: the published plan's order and the planner's dispatch; plain rule: the longest chain first. */
  readonly by: 'plan' | 'plain rule';
}

/** How the next steps of a class were found. */
export interface NextBy {
  readonly by: OrderedSteps['by'];
  /** One sentence for the teacher. */
  readonly words: string;
  /** Stations in the order in which they are best set: what stands already, then what most wait for. */
  readonly settings: readonly { readonly station: string; readonly op: string }[];
}

const noPlan =
  'By the plain rule, the longest chain first: no plan is published yet. The Forecast page makes one.';

/**
 * What a learner may do next. The rules of the room say what is allowed; of that, the planner's dispatch says what is best
 * in the order of the published plan, with a reason, and holds back what it would not begin now. Without a plan, or when
 * the dispatch fails, the plain rule stands.
 *
 * @param look    of the class
 * @param build   id of the build
 * @param person  whose it is
 * @param facts   of the build
 * @source        common practice, no published source
 */
export function nextSteps(look: Look, build: string, person: string, facts: BuildFacts): OrderedSteps {
  const found = ordered(look);
  return found.steps.get(build) ?? { ...plainSteps(look, build, person, facts), by: 'plain rule' };
}

/** How the next steps of the class were found. */
export function nextBy(look: Look): NextBy {
  return ordered(look).how;
}

interface Ordered {
  readonly how: NextBy;
  readonly steps: ReadonlyMap<string, OrderedSteps>;
}

const known = new WeakMap<Look, Ordered>();

function ordered(look: Look): Ordered {
  let found = known.get(look);
  if (!found) known.set(look, (found = order(look)));
  return found;
}

function order(look: Look): Ordered {
  const plain = new Map(
    buildsOf(look.state).map((b) => [b.id, plainSteps(look, b.id, b.person, b.facts)] as const),
  );
  const byPlainRule = (words: string): Ordered => ({
    how: { by: 'plain rule', words, settings: [] },
    steps: new Map([...plain].map(([id, n]) => [id, { ...n, by: 'plain rule' as const }])),
  });
  if (look.state.course.plan === undefined) return byPlainRule(noPlan);
  try {
    return byDispatch(look, plain);
  } catch (error) {
    // what cannot be planned is an answer; a fault of the program is not hidden
    if (!(error instanceof InputError)) throw error;
    const why = error.message.replace(/\.$/, '');
    return byPlainRule(`By the plain rule, the longest chain first: the plan cannot be followed (${why}).`);
  }
}

const nameOf = (build: string, op: string, part: string): string => `${build}/${op}.${part}`;

function byDispatch(look: Look, plain: ReadonlyMap<string, NextSteps>): Ordered {
  const { state, nowMs } = look;
  const session = sessionAt(look);
  const here = buildsOf(state).filter((b) => session?.here.get(b.person) !== false);
  const candidates = [...plain.values()].flatMap((n) =>
    n.offers.filter((o) => !o.running).map((o) => ({ offer: o, activity: activityOf(look, o) })),
  );
  const running = runningOf(look, plain);
  const plannedAt = plannedTimes(state);
  const nowMin = Math.floor(nowMs / MINUTE_MS);
  const problem: ClassProblem = {
    courses: [{ id: 'course', name: 'course' }],
    windows: [
      {
        id: 'now',
        courseId: 'course',
        kind: 'session',
        beginMin: nowMin,
        // without a session the order alone is asked for
        endMin: nowMin + (look.leftMin === undefined ? wholeDayMin : Math.floor(look.leftMin) + cleaningMin),
      },
    ],
    learners: buildsOf(state).map((b) => ({ id: b.id, courseId: 'course' })),
    resources: resourcesOf(state),
    activities: [...candidates.map((c) => c.activity), ...running.map((r) => r.activity)],
  };
  const answer = dispatch({
    problem,
    nowMin,
    presentIds: here.map((b) => b.id),
    happened: running.map((r) => r.entry),
    runningIds: running.map((r) => r.activity.id),
    plan: rankEntries(plannedAt, candidates),
    cleaningMin,
    mayRestOn: true,
    mostOffers: 99,
    settings: standing(look),
  });
  const byId = new Map(candidates.map((c) => [c.activity.id, c.offer]));
  const adultsFor = new Set(
    candidates
      .filter(({ activity }) =>
        activity.ways[0]?.attendance.some(
          (a) => a.fromMin === 0 && a.toMin >= (activity.ways[0]?.durationMin ?? 0),
        ),
      )
      .map(({ activity }) => activity.id),
  );
  const steps = new Map<string, OrderedSteps>();
  for (const [build, n] of plain)
    steps.set(
      build,
      joined(
        n,
        answer.learners.find((l) => l.learnerId === build),
        byId,
        adultsFor,
        plannedAt,
      ),
    );
  return {
    how: {
      by: 'plan',
      words: 'In the order of the published plan.',
      settings: answer.settings.map((s) => ({ station: s.stationId, op: s.setting })),
    },
    steps,
  };
}

const wholeDayMin = 24 * 60;

/** What the rules allow, in the planner's order; what the planner would not begin now is held back with its reason. */
function joined(
  plain: NextSteps,
  answer: Dispatch['learners'][number] | undefined,
  byId: ReadonlyMap<string, Offer>,
  adultsFor: ReadonlySet<string>,
  plannedAt: ReadonlyMap<string, number>,
): OrderedSteps {
  if (answer === undefined) return { ...plain, by: 'plan' };
  const running = plain.offers.filter((o) => o.running);
  const offers = answer.offers.flatMap((a) => {
    const offer = byId.get(a.activityId);
    if (offer === undefined) return [];
    const needsAdult = adultsFor.has(a.activityId);
    const plannedMs = plannedAt.get(a.activityId);
    return [
      {
        ...offer,
        reason: a.reason,
        ...(needsAdult ? { needsAdult } : {}),
        ...(plannedMs === undefined ? {} : { plannedMs }),
      },
    ];
  });
  const refused = answer.refused.flatMap((r): Withheld[] => {
    const offer = byId.get(r.activityId);
    return offer === undefined
      ? []
      : [{ build: offer.build, op: offer.op, part: offer.part, reason: r.because.replace(/\.$/, '') }];
  });
  // who is in the middle of something sees what may follow in the plan's order, whoever is free by then
  const later =
    running.length === 0 ? [] : plain.offers.filter((o) => !o.running && !offers.some((x) => x.op === o.op));
  return {
    ...plain,
    by: 'plan',
    offers: [...running, ...offers, ...later],
    withheld: running.length === 0 ? [...refused, ...plain.withheld] : plain.withheld,
  };
}

function sessionAt(look: Look) {
  const sessions = [...look.state.course.sessions.values()];
  return (
    sessions.find((s) => s.openedMs !== undefined && s.closedMs === undefined) ??
    sessions.find((s) => s.startMs <= look.nowMs && look.nowMs < s.endMs)
  );
}

const teacher = 'teacher';

function resourcesOf(state: ClassState): Resource[] {
  return [
    ...state.route.stations.map(
      (s): Resource => ({
        id: s.id,
        name: `the ${s.name}`,
        kind: 'station',
        capacity: s.capacity,
      }),
    ),
    ...state.route.jigs.map((j): Resource => ({ id: j.id, name: j.name, kind: 'jig', capacity: j.count })),
    ...[teacher, ...state.course.helpers].map(
      (id): Resource => ({
        id,
        name: id === teacher ? 'the teacher' : 'the helper',
        kind: 'person',
        capacity: 1,
      }),
    ),
  ];
}

/** The work of an offer as the planner sees it. Stations and jigs at rest were looked at by the rules. */
function activityOf(look: Look, offer: Offer): Activity {
  const facts = look.state.builds.get(offer.build) as BuildFacts;
  const planned = planOf(look.state, facts).byId.get(offer.op) as PlannedOperation;
  const part = planned.parts.find((p) => p.id === offer.part) as PlannedPart;
  const isJoined = (look.use.stations.get(offer.station) ?? []).some(
    (u) => u.why === 'working' && u.op === offer.op && u.build !== offer.build && part.batch.scope !== 'none',
  );
  return {
    id: nameOf(offer.build, offer.op, offer.part),
    name: part.what,
    operationId: offer.op,
    partIndex: Number.parseInt(offer.part, 10) - 1,
    courseId: 'course',
    memberIds: [offer.build],
    buildIds: [offer.build],
    where: 'session',
    ways: [
      {
        // who joins a run that is going takes no further place and no further adult
        ...(isJoined ? {} : { stationId: offer.station }),
        durationMin: offer.likelyMin,
        ...(part.batch.scope === 'setting' ? { setting: offer.op, setUpMin: part.batch.setUpMin } : {}),
        attendance: isJoined ? [] : attendanceOf(look.state, offer, part),
      },
    ],
    jigIds: isJoined ? [] : planned.op.jigs,
    helperMin: offer.how === 'teacher does it' ? 0 : Math.min(part.helperMin, offer.likelyMin),
    rests:
      part.then === 'glue' ? part.holds.map((h) => ({ resourceId: h.what, restMin: h.leastH * 60 })) : [],
    after: [],
    mayStop: part.then === 'stop' && part.batch.scope === 'none',
  };
}

/** Whom an offer ties; signatures are judged by the rules of the room and tie nobody here. */
function attendanceOf(state: ClassState, offer: Offer, part: PlannedPart): readonly Attendance[] {
  const { batch } = part;
  return attendanceFor({
    batch: batch.teacher === 'sign' ? { ...batch, teacher: 'none' } : batch,
    beside: offer.how === 'teacher does it' ? 'teacher' : offer.how === 'adult beside' ? 'adult' : 'as told',
    durationMin: offer.likelyMin,
    buildCount: 1,
    isFirst: true,
    setUpMin: 0,
    teachers: [teacher],
    adults: [teacher, ...state.course.helpers],
  });
}

/** What is being worked at now, with who is tied by it. */
function runningOf(
  look: Look,
  plain: ReadonlyMap<string, NextSteps>,
): { readonly activity: Activity; readonly entry: PlanEntry }[] {
  const { state, nowMs } = look;
  const nowMin = Math.floor(nowMs / MINUTE_MS);
  return buildsOf(state).flatMap((b) =>
    (plain.get(b.id)?.offers ?? [])
      .filter((o) => o.running)
      .map((o) => {
        const part =
          b.facts.operations.get(o.op)?.parts.get(o.part) ?? b.facts.operations.get(o.op)?.parts.get('all');
        const beginMin = Math.floor((part?.startedMs ?? nowMs) / MINUTE_MS);
        const station = (part && stationOfWork(planOf(state, b.facts), o.op, o.part, part)) ?? o.station;
        const activity = activityOf(look, { ...o, station });
        const attends = activity.ways[0]?.attendance.map((a) =>
          beginMin + a.toMin > nowMin ? a.anyOf[0] : undefined,
        );
        return {
          activity,
          entry: {
            activityId: activity.id,
            pieces: [{ beginMin, endMin: Math.max(nowMin + 1, beginMin + o.likelyMin) }],
            wayIndex: 0,
            attendantIds: attends ?? [],
          },
        };
      }),
  );
}

/** What each machine stands at: the operation last worked at it this evening. */
function standing(look: Look): Readonly<Record<string, string>> {
  const last = new Map<string, { readonly ms: number; readonly op: string }>();
  for (const b of buildsOf(look.state)) {
    const plan = planOf(look.state, b.facts);
    for (const [op, o] of b.facts.operations)
      for (const [id, part] of o.parts) {
        const ms = part.doneMs ?? part.startedMs;
        const at = stationOfWork(plan, op, id, part);
        if (ms === undefined || at === undefined || look.nowMs - ms > wholeDayMin * MINUTE_MS) continue;
        if (ms > (last.get(at)?.ms ?? 0)) last.set(at, { ms, op });
      }
  }
  return Object.fromEntries([...last].map(([at, { op }]) => [at, op]));
}

const steps = new WeakMap<object, readonly PublishedStep[]>();

/** The steps of the published plan; read once for each plan. */
export function publishedSteps(state: ClassState): readonly PublishedStep[] {
  const { plan } = state.course;
  if (plan === undefined) return [];
  let read = steps.get(plan);
  if (!read) steps.set(plan, (read = readPlanText(plan.steps)));
  return read;
}

/** When the plan has each step of each build, pins of the teacher in their place. */
function plannedTimes(state: ClassState): ReadonlyMap<string, number> {
  let found = times.get(state.course);
  if (!found) times.set(state.course, (found = readTimes(state)));
  return found;
}

const times = new WeakMap<object, ReadonlyMap<string, number>>();

function readTimes(state: ClassState): ReadonlyMap<string, number> {
  const startMs = new Map<string, number>();
  for (const s of publishedSteps(state))
    for (const b of s.builds) startMs.set(nameOf(b, s.op, s.part), s.pieces[0]?.startMs ?? 0);
  for (const p of state.course.pins.values())
    if (p.atMs > (state.course.plan?.atMs ?? 0))
      for (const b of p.builds) startMs.set(nameOf(b, p.op, p.part), p.startMs);
  return startMs;
}

/** The candidates in the plan's order; what the plan does not know comes last. */
function rankEntries(
  plannedAt: ReadonlyMap<string, number>,
  candidates: readonly { readonly activity: Activity }[],
): PlanEntry[] {
  return candidates.flatMap(({ activity }) => {
    const startMs = plannedAt.get(activity.id);
    const piece = { beginMin: (startMs ?? 0) / MINUTE_MS, endMin: (startMs ?? 0) / MINUTE_MS };
    return startMs === undefined
      ? []
      : [{ activityId: activity.id, pieces: [piece], wayIndex: 0, attendantIds: [] }];
  });
}
