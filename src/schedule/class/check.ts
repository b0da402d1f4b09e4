// Judges a class plan minute by minute from the problem alone. It shares no code with the planner.
import type { Activity, ClassProblem, PlanEntry, Way } from './problem.ts';

interface Use {
  readonly fromMin: number;
  readonly toMin: number;
  readonly by: string;
}

/**
 * Every way in which a plan breaks a class problem.
 *
 * @param problem  the problem
 * @param entries  the plan
 * @returns        one sentence per fault; empty when the plan holds
 * @source         arithmetic
 */
export function classFaults(problem: ClassProblem, entries: readonly PlanEntry[]): string[] {
  const faults: string[] = [];
  const entryOf = new Map<string, PlanEntry>();
  const activityOf = new Map(problem.activities.map((a) => [a.id, a]));
  for (const entry of entries) {
    if (!activityOf.has(entry.activityId))
      faults.push(`${entry.activityId} is planned but is no activity of this class.`);
    else if (entryOf.has(entry.activityId)) faults.push(`${entry.activityId} is planned twice.`);
    else if (entry.pieces.length === 0) faults.push(`${entry.activityId} is planned without a time.`);
    else entryOf.set(entry.activityId, entry);
  }
  const frozen = new Map((problem.state?.fixed ?? []).map((e) => [e.activityId, e]));
  const uses = new Map<string, Use[]>();
  for (const activity of problem.activities) {
    const entry = entryOf.get(activity.id);
    if (entry === undefined) {
      faults.push(`${activity.id} is not planned.`);
      continue;
    }
    const past = frozen.get(activity.id);
    if (past !== undefined) {
      if (JSON.stringify(past.pieces) !== JSON.stringify(entry.pieces) || past.wayIndex !== entry.wayIndex)
        faults.push(`${activity.id} stands as it is and was moved.`);
    } else {
      faults.push(...shapeFaults(problem, activity, entry));
      if (problem.state !== undefined && entry.pieces[0]!.beginMin < problem.state.nowMin)
        faults.push(
          `${activity.id} begins at ${entry.pieces[0]!.beginMin}, before now (${problem.state.nowMin}).`,
        );
    }
    faults.push(...orderFaults(activity, entry, entryOf, activityOf));
    collectUses(activity, entry, uses);
  }
  collectSpans(problem, entryOf, activityOf, uses);
  faults.push(...capacityFaults(problem, uses, frozen));
  faults.push(...settingFaults(problem, entryOf, frozen));
  return faults;
}

function begin(entry: PlanEntry): number {
  return entry.pieces[0]!.beginMin;
}

function end(entry: PlanEntry): number {
  return entry.pieces.at(-1)!.endMin;
}

/** The clock stretches of some minutes of the work, counted from its begin. */
function piecesOfWork(entry: PlanEntry, fromMin: number, toMin: number): [number, number][] {
  const stretches: [number, number][] = [];
  let before = 0;
  for (const piece of entry.pieces) {
    const length = piece.endMin - piece.beginMin;
    const from = Math.max(0, fromMin - before);
    const to = Math.min(length, toMin - before);
    if (from < to) stretches.push([piece.beginMin + from, piece.beginMin + to]);
    before += length;
  }
  return stretches;
}

function shapeFaults(problem: ClassProblem, activity: Activity, entry: PlanEntry): string[] {
  const faults: string[] = [];
  const way = activity.ways[entry.wayIndex];
  if (way === undefined) return [`${activity.id} is done in way ${entry.wayIndex}, which it does not have.`];
  const minutes = entry.pieces.reduce((sum, p) => sum + p.endMin - p.beginMin, 0);
  if (minutes !== way.durationMin)
    faults.push(`${activity.id} has ${minutes} minutes planned, it takes ${way.durationMin}.`);
  const allowed = problem.windows
    .filter((w) => w.kind === activity.where && (w.courseId ?? activity.courseId) === activity.courseId)
    .toSorted((a, b) => a.beginMin - b.beginMin);
  let before = -1;
  if (entry.pieces.length > 1 && !activity.mayStop)
    faults.push(`${activity.id} is broken off although it may not stop.`);
  entry.pieces.forEach((piece, i) => {
    const from = i === 0 ? (entry.setUpBeginMin ?? piece.beginMin) : piece.beginMin;
    const window = allowed.find(
      (w) => from >= w.beginMin && piece.endMin <= w.endMin && piece.beginMin < w.endMin,
    );
    const last = entry.pieces[i - 1];
    if (piece.endMin < piece.beginMin || (last !== undefined && piece.beginMin < last.endMin))
      faults.push(`${activity.id} goes on at ${piece.beginMin} until ${piece.endMin}, backwards in time.`);
    const place = window === undefined ? -1 : allowed.indexOf(window);
    if (last !== undefined && before >= 0 && place > before + 1)
      faults.push(`${activity.id} is broken off at ${last.endMin} and not gone on with in the next session.`);
    before = place;
    if (window === undefined)
      faults.push(
        `${activity.id} lies from ${from} to ${piece.endMin}, outside its ${activity.where === 'session' ? 'sessions' : 'preparation hours'}.`,
      );
    else if (i + 1 < entry.pieces.length && piece.endMin !== window.endMin)
      faults.push(
        `${activity.id} is broken off at ${piece.endMin}, before the session ends at ${window.endMin}.`,
      );
    for (const id of activity.memberIds) {
      const away = problem.learners.find((l) => l.id === id)?.awayWindowIds ?? [];
      if (window !== undefined && away.includes(window.id))
        faults.push(`${activity.id} is planned in session ${window.id}, which ${id} misses.`);
    }
  });
  if (activity.releaseMin !== undefined && begin(entry) < activity.releaseMin)
    faults.push(`${activity.id} begins at ${begin(entry)}, before it may at ${activity.releaseMin}.`);
  faults.push(...peopleFaults(problem, activity, way, entry));
  return faults;
}

function peopleFaults(problem: ClassProblem, activity: Activity, way: Way, entry: PlanEntry): string[] {
  const faults: string[] = [];
  way.attendance.forEach((need, k) => {
    const who = entry.attendantIds[k];
    if (need.onlyAtSetUp === true && entry.setUpBeginMin === undefined) return;
    if (who === undefined || !need.anyOf.includes(who))
      faults.push(`${activity.id} needs one of ${need.anyOf.join(', ')} and has ${who ?? 'nobody'}.`);
  });
  if (activity.helperMin > 0) {
    const helper = problem.learners.find((l) => l.id === entry.helperId);
    if (helper === undefined || helper.courseId !== activity.courseId)
      faults.push(
        `${activity.id} needs a second pair of hands from its course and has ${entry.helperId ?? 'nobody'}.`,
      );
    else if (activity.memberIds.includes(helper.id))
      faults.push(`${activity.id}: ${helper.id} cannot help at the own work.`);
    else {
      const window = problem.windows.find(
        (w) =>
          w.kind === 'session' &&
          w.beginMin <= begin(entry) &&
          begin(entry) < w.endMin &&
          w.courseId === helper.courseId,
      );
      if (window !== undefined && (helper.awayWindowIds ?? []).includes(window.id))
        faults.push(`${activity.id}: ${helper.id} helps in session ${window.id} but misses it.`);
    }
  }
  return faults;
}

/** When a build's own part of an entry begins and ends: its turn where the work has turns, else all of it. */
function turnOf(activity: Activity, entry: PlanEntry, buildId: string | undefined): [number, number] {
  const own = activity.ways[entry.wayIndex]?.turns?.filter((t) => t.buildId === buildId) ?? [];
  const stretches = own.flatMap((t) => piecesOfWork(entry, t.fromMin, t.toMin));
  return stretches.length === 0
    ? [begin(entry), end(entry)]
    : [Math.min(...stretches.map((s) => s[0])), Math.max(...stretches.map((s) => s[1]))];
}

function orderFaults(
  activity: Activity,
  entry: PlanEntry,
  entryOf: ReadonlyMap<string, PlanEntry>,
  activityOf: ReadonlyMap<string, Activity>,
): string[] {
  return activity.after.flatMap((link) => {
    const other = entryOf.get(link.activityId);
    const before = activityOf.get(link.activityId);
    if (other === undefined || before === undefined) return [];
    const shared = activity.buildIds.filter((b) => before.buildIds.includes(b));
    return (shared.length === 0 ? [undefined] : shared).flatMap((build) => {
      const [start] = turnOf(activity, entry, build);
      const [otherBegin, otherEnd] = turnOf(before, other, build);
      const from = link.from === 'start' ? otherBegin : otherEnd;
      const late = link.mostLagMin !== undefined && start > from + link.mostLagMin;
      if (start >= from + link.lagMin && !late) return [];
      return [
        `${activity.id} begins at ${start}, it has to wait until ${from + link.lagMin} for ${link.activityId}${late ? ` and may wait at most until ${from + link.mostLagMin!}` : ''}.`,
      ];
    });
  });
}

function add(uses: Map<string, Use[]>, id: string, fromMin: number, toMin: number, by: string): void {
  if (toMin <= fromMin) return;
  if (!uses.has(id)) uses.set(id, []);
  uses.get(id)!.push({ fromMin, toMin, by });
}

function collectUses(activity: Activity, entry: PlanEntry, uses: Map<string, Use[]>): void {
  const way = activity.ways[entry.wayIndex];
  if (way === undefined) return;
  const held = [
    ...(way.turns === undefined ? activity.memberIds : []),
    ...activity.jigIds,
    ...(way.stationId === undefined ? [] : [way.stationId]),
  ];
  for (const turn of way.turns ?? [])
    for (const [from, to] of piecesOfWork(entry, turn.fromMin, turn.toMin))
      if (activity.memberIds.includes(turn.buildId)) add(uses, turn.buildId, from, to, activity.id);
  for (const piece of entry.pieces)
    for (const id of held) add(uses, id, piece.beginMin, piece.endMin, activity.id);
  if (entry.setUpBeginMin !== undefined && way.stationId !== undefined)
    add(uses, way.stationId, entry.setUpBeginMin, begin(entry), activity.id);
  for (const rest of activity.rests) {
    const isOtherStation =
      rest.resourceId !== way.stationId && activity.ways.some((w) => w.stationId === rest.resourceId);
    for (let place = 0; place < (rest.places ?? 1) && !isOtherStation; place++)
      add(uses, rest.resourceId, end(entry), end(entry) + rest.restMin, activity.id);
  }
  way.attendance.forEach((need, k) => {
    const who = entry.attendantIds[k];
    if (who === undefined) return;
    if (need.onlyAtSetUp === true) {
      if (entry.setUpBeginMin !== undefined)
        add(
          uses,
          who,
          entry.setUpBeginMin + need.fromMin,
          Math.min(end(entry), entry.setUpBeginMin + need.toMin),
          activity.id,
        );
      return;
    }
    for (const [from, to] of piecesOfWork(entry, need.fromMin, Math.min(need.toMin, way.durationMin)))
      add(uses, who, from, to, activity.id);
  });
  if (entry.helperId !== undefined)
    add(
      uses,
      entry.helperId,
      begin(entry),
      begin(entry) + Math.min(activity.helperMin, way.durationMin),
      activity.id,
    );
}

function collectSpans(
  problem: ClassProblem,
  entryOf: ReadonlyMap<string, PlanEntry>,
  activityOf: ReadonlyMap<string, Activity>,
  uses: Map<string, Use[]>,
): void {
  for (const span of problem.spans ?? []) {
    const from = entryOf.get(span.fromActivityId);
    const until = entryOf.get(span.untilActivityId);
    if (from === undefined || until === undefined) continue;
    const [fromMin] = turnOf(activityOf.get(span.fromActivityId)!, from, span.buildId);
    const [lastBegin, lastEnd] = turnOf(activityOf.get(span.untilActivityId)!, until, span.buildId);
    add(
      uses,
      span.resourceId,
      fromMin,
      span.untilEdge === 'start' ? lastBegin : lastEnd + span.restMin,
      `${span.fromActivityId} to ${span.untilActivityId}`,
    );
  }
}

/** Counts minute by minute, but only the minutes in which somebody can be there: a thing can change hands only then. */
function capacityFaults(
  problem: ClassProblem,
  uses: ReadonlyMap<string, readonly Use[]>,
  frozen: ReadonlyMap<string, PlanEntry>,
): string[] {
  const faults: string[] = [];
  const minutes = manned(problem);
  const capacityOf = new Map<string, number>([
    ...problem.resources.map((r): [string, number] => [r.id, r.capacity]),
    ...problem.learners.map((l): [string, number] => [l.id, 1]),
  ]);
  for (const [id, list] of uses) {
    const capacity = capacityOf.get(id);
    if (capacity === undefined) {
      faults.push(`${id} is used by ${list[0]!.by} but this shop does not have it.`);
      continue;
    }
    const count = new Int16Array(minutes.length);
    for (const use of list)
      for (let i = firstAtOrAfter(minutes, use.fromMin); i < minutes.length && minutes[i]! < use.toMin; i++)
        count[i]!++;
    for (let i = 0; i < minutes.length; i++) {
      if (count[i]! <= capacity) continue;
      const m = minutes[i]!;
      const who = list.filter((u) => u.fromMin <= m && m < u.toMin).map((u) => u.by);
      if (who.every((w) => frozen.has(w))) continue;
      faults.push(
        `At minute ${m} ${id} is held ${count[i]} times, there are ${capacity} (${who.join(', ')}).`,
      );
      break;
    }
    faults.push(...closureFaults(problem, id, list, frozen));
  }
  return faults;
}

/** The minutes of all sessions and preparation hours, rising. */
function manned(problem: ClassProblem): Int32Array {
  const minutes: number[] = [];
  for (const w of problem.windows.toSorted((a, b) => a.beginMin - b.beginMin))
    for (let m = Math.max(w.beginMin, (minutes[minutes.length - 1] ?? w.beginMin - 1) + 1); m < w.endMin; m++)
      minutes.push(m);
  return Int32Array.from(minutes);
}

function firstAtOrAfter(minutes: Int32Array, minute: number): number {
  let low = 0;
  let high = minutes.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (minutes[middle]! < minute) low = middle + 1;
    else high = middle;
  }
  return low;
}

function closureFaults(
  problem: ClassProblem,
  id: string,
  list: readonly Use[],
  frozen: ReadonlyMap<string, PlanEntry>,
): string[] {
  const closures = problem.resources.find((r) => r.id === id)?.closures ?? [];
  const open = problem.windows;
  return closures.flatMap((closure) =>
    list
      .filter(
        (u) =>
          !frozen.has(u.by) &&
          open.some(
            (w) =>
              Math.max(w.beginMin, u.fromMin, closure.beginMin) < Math.min(w.endMin, u.toMin, closure.endMin),
          ),
      )
      .map((u) => `${u.by} holds ${id} while it is closed from ${closure.beginMin} to ${closure.endMin}.`),
  );
}

/** Whether a station of one place stands as each piece of work wants it, or was changed over right before. */
function settingFaults(
  problem: ClassProblem,
  entryOf: ReadonlyMap<string, PlanEntry>,
  frozen: ReadonlyMap<string, PlanEntry>,
): string[] {
  const faults: string[] = [];
  for (const station of problem.resources) {
    if (station.kind !== 'station' || station.capacity !== 1) continue;
    const work = problem.activities
      .flatMap((activity) => {
        const entry = entryOf.get(activity.id);
        const way = entry === undefined ? undefined : activity.ways[entry.wayIndex];
        return entry !== undefined && way?.stationId === station.id && way.setting !== undefined
          ? [{ activity, entry, way }]
          : [];
      })
      .sort((a, b) => begin(a.entry) - begin(b.entry));
    let setting = station.setting;
    for (const { activity, entry, way } of work) {
      const setUp = entry.setUpBeginMin === undefined ? 0 : begin(entry) - entry.setUpBeginMin;
      if (way.setting !== setting && setUp < (way.setUpMin ?? 0) && !frozen.has(activity.id))
        faults.push(
          `${activity.id} wants ${station.id} set to ${way.setting}; it stands at ${setting ?? 'nothing'} and only ${setUp} of ${way.setUpMin} minutes are given to change it.`,
        );
      setting = way.setting;
    }
  }
  return faults;
}
