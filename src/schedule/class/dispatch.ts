import type { Activity, ClassProblem, PlanEntry, Way } from './problem.ts';
import { beginOf, endOf } from './problem.ts';

/** The class at this moment. */
export interface SessionNow {
  readonly problem: ClassProblem;
  readonly nowMin: number;
  /** Learners who are here. */
  readonly presentIds: readonly string[];
  /** Everything done or running, as it was; a running step has its expected end. */
  readonly happened: readonly PlanEntry[];
  /** Ids of what is still running. */
  readonly runningIds: readonly string[];
  /** The plan: what it puts earlier is offered first. */
  readonly plan: readonly PlanEntry[];
  /** What each station of one place is set to now. */
  readonly settings?: Readonly<Record<string, string>>;
  /** Learners who may work at a station alone, by station id; a station that is not named asks for nothing. */
  readonly keyHolders?: Readonly<Record<string, readonly string[]>>;
  /** Minutes of cleaning that follow a gluing. */
  readonly cleaningMin?: number;
  /** Rests are least times, and what is clamped may stay so until somebody comes: a short rest need not end before the bell. */
  readonly mayRestOn?: boolean;
  /** Offers per learner at most; 2 when left out. */
  readonly mostOffers?: number;
}

/** One step offered to a learner, and why. */
export interface Offer {
  readonly activityId: string;
  readonly stationId: string | undefined;
  /** Minutes from now until it can begin; 0 is at once. */
  readonly inMin: number;
  /** One sentence. */
  readonly reason: string;
}

/** What the teacher sees for a live session. */
export interface Dispatch {
  readonly learners: readonly {
    readonly learnerId: string;
    readonly offers: readonly Offer[];
    /** Open steps that are not offered, each with the reason. */
    readonly refused: readonly { readonly activityId: string; readonly because: string }[];
    readonly waiting: string | undefined;
  }[];
  /** Steps that can be done together at one setting of a station. */
  readonly batches: readonly {
    readonly stationId: string;
    readonly setting: string;
    readonly activityIds: readonly string[];
  }[];
  /** Settings to make, in the order they are wanted; what a station stands at already comes first. */
  readonly settings: readonly {
    readonly stationId: string;
    readonly setting: string;
    readonly isSet: boolean;
    readonly forCount: number;
  }[];
  /** Rests that are over or end in this session. */
  readonly releases: readonly {
    readonly activityId: string;
    readonly resourceId: string;
    readonly atMin: number;
    readonly isOver: boolean;
  }[];
}

/** Rests that somebody has to end: up to this long they must end while the session lasts. */
const shortRestMin = 90;

/**
 * What to do now: for each present learner the best next one or two steps, what can be done together, what to set, what to
 * release. Never a step that the rules forbid: no gluing that cannot be clamped, cleaned and released before the bell, no
 * machine without a key or somebody beside.
 *
 * @param now  the class at this moment
 * @returns    offers with their reasons
 * @source     common practice, no published source
 */
export function dispatch(now: SessionNow): Dispatch {
  const view = viewOf(now);
  const learners = now.presentIds.map((learnerId) => offersFor(view, learnerId));
  const offered = new Set(learners.flatMap((l) => l.offers.map((o) => o.activityId)));
  const batches = batchesOf(view, offered);
  return { learners, batches, settings: settingsOf(now, batches), releases: releasesOf(view) };
}

interface View {
  readonly now: SessionNow;
  readonly bellMin: number | undefined;
  readonly activities: ReadonlyMap<string, Activity>;
  readonly done: ReadonlyMap<string, PlanEntry>;
  readonly rank: ReadonlyMap<string, number>;
  /** Places of each resource in use now, and until when. */
  readonly busy: ReadonlyMap<string, readonly number[]>;
  readonly busyLearners: ReadonlyMap<string, number>;
}

function viewOf(now: SessionNow): View {
  const { problem, nowMin } = now;
  const activities = new Map(problem.activities.map((a) => [a.id, a]));
  const session = problem.windows.find(
    (w) =>
      w.kind === 'session' &&
      w.beginMin <= nowMin &&
      nowMin < w.endMin &&
      problem.learners.some((l) => now.presentIds.includes(l.id) && l.courseId === w.courseId),
  );
  const busy = new Map<string, number[]>();
  const hold = (id: string, until: number): void => {
    if (until > nowMin) busy.set(id, [...(busy.get(id) ?? []), until]);
  };
  const busyLearners = new Map<string, number>();
  for (const entry of now.happened) {
    const activity = activities.get(entry.activityId);
    const way = activity?.ways[entry.wayIndex];
    if (activity === undefined || way === undefined) continue;
    const end = endOf(entry);
    if (now.runningIds.includes(entry.activityId)) {
      for (const id of [way.stationId, ...activity.jigIds, ...entry.attendantIds])
        if (id !== undefined) hold(id, end);
      for (const id of [...activity.memberIds, entry.helperId])
        if (id !== undefined) busyLearners.set(id, Math.max(busyLearners.get(id) ?? 0, end));
    }
    for (const rest of activity.rests)
      if (rest.resourceId === way.stationId || !activity.ways.some((w) => w.stationId === rest.resourceId))
        hold(rest.resourceId, end + rest.restMin);
  }
  for (const r of problem.resources)
    for (const c of r.closures ?? [])
      if (c.beginMin <= nowMin && nowMin < c.endMin)
        for (let i = 0; i < r.capacity; i++) hold(r.id, c.endMin);
  return {
    now,
    bellMin: session?.endMin,
    activities,
    done: new Map(
      now.happened.filter((e) => !now.runningIds.includes(e.activityId)).map((e) => [e.activityId, e]),
    ),
    rank: new Map(now.plan.toSorted((a, b) => beginOf(a) - beginOf(b)).map((e, i) => [e.activityId, i])),
    busy,
    busyLearners,
  };
}

function offersFor(view: View, learnerId: string): Dispatch['learners'][number] {
  const { now } = view;
  const running = view.busyLearners.get(learnerId);
  if (view.bellMin === undefined)
    return { learnerId, offers: [], refused: [], waiting: 'There is no session now.' };
  const open = now.problem.activities.filter(
    (a) =>
      a.memberIds.includes(learnerId) &&
      a.where === 'session' &&
      !view.done.has(a.id) &&
      !now.runningIds.includes(a.id),
  );
  const judged = open.map((activity) => ({
    activity,
    ...judge(view, activity, learnerId, running ?? now.nowMin),
  }));
  const possible = judged
    .filter((j) => j.offer !== undefined)
    .sort((a, b) =>
      a.offer!.inMin - b.offer!.inMin > 10
        ? 1
        : b.offer!.inMin - a.offer!.inMin > 10
          ? -1
          : (view.rank.get(a.activity.id) ?? 1e9) - (view.rank.get(b.activity.id) ?? 1e9),
    );
  const offers = possible.slice(0, now.mostOffers ?? 2).map((j) => j.offer!);
  const refused = judged
    .filter((j) => j.offer === undefined)
    .map((j) => ({ activityId: j.activity.id, because: j.because }));
  if (offers.length > 0) return { learnerId, offers, refused, waiting: undefined };
  const next = judged.toSorted(
    (a, b) => (view.rank.get(a.activity.id) ?? 1e9) - (view.rank.get(b.activity.id) ?? 1e9),
  )[0];
  return {
    learnerId,
    offers: [],
    refused,
    waiting:
      next === undefined
        ? 'Everything of this build that is done in sessions is done.'
        : `${next.activity.name}: ${next.because}`,
  };
}

interface Judgement {
  readonly offer: Offer | undefined;
  /** Why it cannot be offered; one sentence. */
  readonly because: string;
}

const no = (because: string): Judgement => ({ offer: undefined, because });

/** Most minutes a step may lie ahead and still be worth naming. */
const soonMin = 20;

function judge(view: View, activity: Activity, learnerId: string, freeFrom: number): Judgement {
  const { now } = view;
  const absent = activity.memberIds.find((id) => !now.presentIds.includes(id));
  if (absent !== undefined) return no(`${absent} takes part in it and is not here.`);
  let ready = freeFrom;
  for (const link of activity.after) {
    const entry = view.done.get(link.activityId);
    const name = view.activities.get(link.activityId)?.name ?? link.activityId;
    if (entry === undefined) return no(`it waits for "${name}".`);
    ready = Math.max(ready, (link.from === 'start' ? beginOf(entry) : endOf(entry)) + link.lagMin);
  }
  for (const id of activity.memberIds) ready = Math.max(ready, view.busyLearners.get(id) ?? 0);
  if (ready > now.nowMin + soonMin) return no(`it rests for ${ready - now.nowMin} more minutes.`);
  const tried = activity.ways.map((way) => judgeWay(view, activity, way, learnerId, ready));
  return (
    tried.filter((t) => t.offer !== undefined).sort((a, b) => a.offer!.inMin - b.offer!.inMin)[0] ??
    tried[0] ??
    no('there is no way to do it.')
  );
}

function judgeWay(view: View, activity: Activity, way: Way, learnerId: string, readyMin: number): Judgement {
  const { now } = view;
  let begin = readyMin;
  for (const id of [way.stationId, ...activity.jigIds]) {
    if (id === undefined) continue;
    const free = freeAt(view, id);
    if (free === undefined) return no(`${nameOf(view, id)} is not there.`);
    begin = Math.max(begin, free);
  }
  const attended = attendanceAt(view, way, begin);
  if (attended === undefined) return no('nobody is free to stand beside.');
  begin = Math.max(begin, attended);
  if (!mayWorkAt(now, way, learnerId))
    return no(
      `${learnerId} has no key for ${nameOf(view, way.stationId!)} and nobody stands beside the whole time.`,
    );
  if (activity.helperMin > 0 && !hasHelper(view, activity, begin))
    return no('no second pair of hands is free.');
  if (begin > now.nowMin + soonMin)
    return no(`${nameOf(view, way.stationId ?? '')} is free in ${begin - now.nowMin} minutes.`);
  const isSet =
    way.setting === undefined || way.stationId === undefined || now.settings?.[way.stationId] === way.setting;
  const setUpMin = isSet ? 0 : (way.setUpMin ?? 0);
  const end = begin + setUpMin + way.durationMin;
  const left = view.bellMin! - begin;
  if (!activity.mayStop && end > view.bellMin!)
    return no(`it takes ${end - begin} minutes and only ${Math.max(0, left)} are left.`);
  const bell = beforeTheBell(view, activity, end);
  if (bell !== undefined) return no(bell);
  return {
    because: '',
    offer: {
      activityId: activity.id,
      stationId: way.stationId,
      inMin: begin - now.nowMin,
      reason: reasonFor(view, activity, way, begin, end, isSet),
    },
  };
}

/** A rest that begins now must be cleaned up after, and a short one must also end before the bell. */
function beforeTheBell(view: View, activity: Activity, end: number): string | undefined {
  const glues = activity.rests.length > 0;
  if (!glues) return undefined;
  const cleaning = view.now.cleaningMin ?? 5;
  if (end + cleaning > view.bellMin!)
    return `${end + cleaning - view.now.nowMin} minutes with clamping and cleaning, and the bell is in ${view.bellMin! - view.now.nowMin}.`;
  if (view.now.mayRestOn === true) return undefined;
  const short = activity.rests.find(
    (r) => r.restMin > 0 && r.restMin <= shortRestMin && end + r.restMin > view.bellMin!,
  );
  if (short === undefined) return undefined;
  const nextAdult = view.now.problem.windows.some(
    (w) =>
      w.kind === 'preparation' && w.beginMin <= end + short.restMin + 120 && w.endMin > end + short.restMin,
  );
  return nextAdult
    ? undefined
    : `it has to be released ${short.restMin} minutes after the gluing and nobody is there then.`;
}

/** When a place of a resource is free; undefined when this shop has none. */
function freeAt(view: View, id: string): number | undefined {
  const capacity = view.now.problem.resources.find((r) => r.id === id)?.capacity ?? 0;
  if (capacity === 0) return undefined;
  const until = (view.busy.get(id) ?? []).toSorted((a, b) => a - b);
  return until.length < capacity ? view.now.nowMin : until[until.length - capacity]!;
}

/** When everybody the way needs is free. */
function attendanceAt(view: View, way: Way, begin: number): number | undefined {
  let latest = begin;
  for (const need of way.attendance) {
    if (need.onlyAtSetUp === true && view.now.settings?.[way.stationId ?? ''] === way.setting) continue;
    const free = need.anyOf.flatMap((id) => freeAt(view, id) ?? []);
    if (free.length === 0) return undefined;
    latest = Math.max(latest, Math.min(...free) - (need.onlyAtSetUp === true ? 0 : need.fromMin));
  }
  return latest;
}

function mayWorkAt(now: SessionNow, way: Way, learnerId: string): boolean {
  const holders = way.stationId === undefined ? undefined : now.keyHolders?.[way.stationId];
  if (holders === undefined || holders.includes(learnerId)) return true;
  return way.attendance.some((a) => a.onlyAtSetUp !== true && a.fromMin === 0 && a.toMin >= way.durationMin);
}

function hasHelper(view: View, activity: Activity, begin: number): boolean {
  return view.now.presentIds.some(
    (id) =>
      !activity.memberIds.includes(id) &&
      (view.busyLearners.get(id) ?? 0) <= begin &&
      view.now.problem.learners.find((l) => l.id === id)?.courseId === activity.courseId,
  );
}

function nameOf(view: View, id: string): string {
  return view.now.problem.resources.find((r) => r.id === id)?.name ?? id;
}

function reasonFor(
  view: View,
  activity: Activity,
  way: Way,
  begin: number,
  end: number,
  isSet: boolean,
): string {
  const where =
    way.stationId === undefined
      ? 'No station is needed'
      : `${nameOf(view, way.stationId)} is free ${begin <= view.now.nowMin ? 'now' : `in ${begin - view.now.nowMin} minutes`}`;
  const setting = way.setting !== undefined && isSet ? ' and stands at the right setting' : '';
  const rest = Math.max(0, ...activity.rests.map((r) => r.restMin));
  const followed =
    rest > 0 ? `, then it rests ${rest >= 120 ? `${Math.round(rest / 60)} hours` : `${rest} minutes`}` : '';
  const rank = view.rank.get(activity.id);
  const first =
    rank !== undefined &&
    view.now.problem.activities.every(
      (a) =>
        !a.memberIds.some((m) => activity.memberIds.includes(m)) ||
        view.done.has(a.id) ||
        a.id === activity.id ||
        view.now.runningIds.includes(a.id) ||
        (view.rank.get(a.id) ?? 1e9) > rank,
    );
  return `${where}${setting}; ${end - begin} minutes fit before the bell${followed}${first ? '; the plan has it next' : '; useful while waiting'}.`;
}

function batchesOf(view: View, offered: ReadonlySet<string>): Dispatch['batches'] {
  const groups = new Map<string, { stationId: string; setting: string; activityIds: string[] }>();
  for (const id of offered) {
    const way = view.activities.get(id)?.ways[0];
    if (way?.setting === undefined || way.stationId === undefined) continue;
    const key = `${way.stationId} ${way.setting}`;
    const group = groups.get(key) ?? { stationId: way.stationId, setting: way.setting, activityIds: [] };
    group.activityIds.push(id);
    groups.set(key, group);
  }
  return [...groups.values()].sort((a, b) => b.activityIds.length - a.activityIds.length);
}

function settingsOf(now: SessionNow, batches: Dispatch['batches']): Dispatch['settings'] {
  return batches
    .map((b) => ({
      stationId: b.stationId,
      setting: b.setting,
      isSet: now.settings?.[b.stationId] === b.setting,
      forCount: b.activityIds.length,
    }))
    .sort((a, b) => Number(b.isSet) - Number(a.isSet) || b.forCount - a.forCount);
}

function releasesOf(view: View): Dispatch['releases'] {
  const { now } = view;
  const until = view.bellMin ?? now.nowMin;
  return now.happened
    .filter((e) => !now.runningIds.includes(e.activityId))
    .flatMap((entry) => {
      const activity = view.activities.get(entry.activityId);
      const followed = now.happened.some(
        (h) =>
          view.activities.get(h.activityId)?.after.some((l) => l.activityId === entry.activityId) === true,
      );
      if (activity === undefined || followed) return [];
      return activity.rests.map((r) => ({
        activityId: entry.activityId,
        resourceId: r.resourceId,
        atMin: endOf(entry) + r.restMin,
      }));
    })
    .filter((r) => r.atMin <= until)
    .map((r) => ({ ...r, isOver: r.atMin <= now.nowMin }))
    .sort((a, b) => a.atMin - b.atMin);
}
