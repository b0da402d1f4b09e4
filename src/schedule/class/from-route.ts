import type {
  Activity,
  Attendance,
  ClassProblem,
  Learner,
  Link,
  Resource,
  Span,
  Way,
  WorkWindow,
} from './problem.ts';
import type {
  RouteChoice,
  RouteForm,
  RouteHours,
  RouteOperation,
  RoutePart,
  RouteStation,
} from './route-form.ts';

/** One learner of a course as the route needs to know it. */
export interface CourseLearner {
  readonly id: string;
  /** Instrument family of the build; the first of the route's when left out. */
  readonly instrument?: string;
  /** under16, from16to17 or adult; left out means the teacher's minutes at keyed stations are the whole minutes. */
  readonly ageBand?: string;
  /** Keys held when the plan begins. */
  readonly keys?: readonly string[];
  readonly awayWindowIds?: readonly string[];
}

/** One course: its sessions (usable minutes), preparation hours, learners and people. */
export interface CourseSetUp {
  readonly id: string;
  readonly name: string;
  readonly sessions: readonly { readonly id: string; readonly beginMin: number; readonly endMin: number }[];
  readonly preparation: readonly {
    readonly id: string;
    readonly beginMin: number;
    readonly endMin: number;
  }[];
  readonly learners: readonly CourseLearner[];
  readonly teacherIds?: readonly string[];
  readonly helperIds?: readonly string[];
}

/** What a class problem is made of. */
export interface ClassSetUp {
  readonly route: RouteForm;
  readonly courses: readonly CourseSetUp[];
  /** Id of a choice of the route, such as the plain first instrument; left out takes everything. */
  readonly choiceId?: string;
  /** Numbers of stations and jigs that differ from the route's own. */
  readonly counts?: Readonly<Record<string, number>>;
  /** Which rest times are planned with. */
  readonly restsAs?: 'least' | 'usual';
  /** Jigs that are passed round for a look rather than held while work is done; they never make anybody wait. */
  readonly looseJigIds?: readonly string[];
  readonly closures?: Readonly<
    Record<string, readonly { readonly beginMin: number; readonly endMin: number }[]>
  >;
}

/**
 * Makes the class problem out of route data. A jig is counted at the parts done away from the bench; in an
 * operation done wholly at the bench it is counted in the first part (later it is only laid on now and then).
 *
 * @param setUp  route data, courses with sessions and learners, choices
 * @returns      the class problem; ids of activities are `learner/operation.part` or `course/operation.part.lot`
 * @assumes      an operation of setting scope is one activity per learner that shares the station's setting, so that
 *               set-ups are counted once per run of the same setting; class and group scope become one activity with
 *               members, in lots of at most the route's number
 * @source       common practice, no published source
 */
export function classProblem(setUp: ClassSetUp): ClassProblem {
  const context = makeContext(setUp);
  const activities = setUp.courses.flatMap((course) => courseActivities(context, course));
  const windows: WorkWindow[] = setUp.courses.flatMap((course) => [
    ...course.sessions.map((s) => ({ ...s, kind: 'session' as const, courseId: course.id })),
    ...course.preparation.map((p) => ({ ...p, kind: 'preparation' as const, courseId: course.id })),
  ]);
  const learners: Learner[] = setUp.courses.flatMap((course) =>
    course.learners.map((l) => ({
      id: l.id,
      courseId: course.id,
      ...(l.awayWindowIds === undefined ? {} : { awayWindowIds: l.awayWindowIds }),
    })),
  );
  return {
    courses: setUp.courses.map(({ id, name }) => ({ id, name })),
    windows,
    learners,
    resources: resourcesOf(setUp, context),
    activities,
    spans: spansOf(setUp, activities),
  };
}

interface Context {
  readonly setUp: ClassSetUp;
  readonly choice: RouteChoice | undefined;
  readonly stations: ReadonlyMap<string, RouteStation>;
  readonly capacityOf: (id: string) => number;
  readonly minutesOf: (hours: RouteHours) => number;
  readonly ordinal: ReadonlyMap<string, number>;
}

function makeContext(setUp: ClassSetUp): Context {
  const stations = new Map(setUp.route.stations.map((s) => [s.id, s]));
  const jigs = new Map(setUp.route.jigs.map((j) => [j.id, j.count]));
  const everyone = setUp.courses.flatMap((c) => c.learners.map((l) => l.id));
  return {
    setUp,
    choice: setUp.route.choices?.find((c) => c.id === setUp.choiceId),
    stations,
    capacityOf: (id) => setUp.counts?.[id] ?? stations.get(id)?.capacity ?? jigs.get(id) ?? 0,
    minutesOf: (hours) => Math.round(60 * (setUp.restsAs === 'usual' ? hours.usualH : hours.leastH)),
    ordinal: new Map(everyone.map((id, i) => [id, i])),
  };
}

const teachersOf = (course: CourseSetUp): readonly string[] => course.teacherIds ?? ['teacher'];

function resourcesOf(setUp: ClassSetUp, context: Context): Resource[] {
  const closed = (id: string): Partial<Resource> =>
    setUp.closures?.[id] === undefined ? {} : { closures: setUp.closures[id] };
  const people = new Set(setUp.courses.flatMap((c) => [...teachersOf(c), ...(c.helperIds ?? [])]));
  return [
    ...setUp.route.stations.map(
      (s): Resource => ({
        id: s.id,
        name: s.name,
        kind: 'station',
        capacity: context.capacityOf(s.id),
        ...closed(s.id),
      }),
    ),
    ...setUp.route.jigs.map(
      (j): Resource => ({
        id: j.id,
        name: j.name,
        kind: 'jig',
        capacity: context.capacityOf(j.id),
        ...closed(j.id),
      }),
    ),
    ...[...people].map((id): Resource => ({ id, name: id, kind: 'person', capacity: 1, ...closed(id) })),
  ];
}

/** An operation as it is done for one instrument: parts left, their minutes scaled, everything in its place. */
interface MadeOperation {
  readonly operation: RouteOperation;
  readonly parts: readonly {
    readonly part: RoutePart;
    readonly index: number;
    readonly scale: number;
    readonly turn: number;
  }[];
  /** Operations before, with those not made replaced by what comes before them. */
  readonly after: readonly string[];
}

function madeOperations(context: Context, instrument: string): Map<string, MadeOperation> {
  const { route } = context.setUp;
  const all = new Map(route.operations.map((o) => [o.id, o]));
  const isMade = (o: RouteOperation): boolean =>
    (o.instruments?.includes(instrument) ?? true) &&
    o.variants?.[instrument]?.skip !== true &&
    !(context.choice?.skip?.includes(o.id) ?? false) &&
    !(o.kind === 'key' && o.optional === true);
  const resolve = (id: string, seen: Set<string>): string[] => {
    const o = all.get(id);
    if (o === undefined || seen.has(id)) return [];
    seen.add(id);
    return isMade(o) ? [id] : o.after.flatMap((a) => resolve(a, seen));
  };
  return new Map(
    route.operations.filter(isMade).map((operation) => {
      const after = [...new Set(operation.after.flatMap((a) => resolve(a, new Set())))];
      return [operation.id, { operation, parts: partsOf(context, operation, instrument), after }];
    }),
  );
}

function partsOf(context: Context, operation: RouteOperation, instrument: string): MadeOperation['parts'] {
  const dropped = context.choice?.dropParts?.filter((d) => d.op === operation.id).map((d) => d.part) ?? [];
  const usual = operation.parts.reduce((sum, p) => sum + p.minutes.likely, 0);
  const wanted = context.choice?.likelyMin?.[operation.id] ?? operation.variants?.[instrument]?.likelyMin;
  const scale = wanted === undefined || usual === 0 ? 1 : wanted / usual;
  return operation.parts.flatMap((part, i) => {
    if (dropped.includes(i + 1)) return [];
    const turns = part.repeat?.usualTimes ?? 1;
    return Array.from({ length: turns }, (_, turn) => ({
      part: inPreparation(context, operation, part, i),
      index: i,
      scale,
      turn,
    }));
  });
}

/** A part that the chosen simpler way moves into preparation hours. */
function inPreparation(
  context: Context,
  operation: RouteOperation,
  part: RoutePart,
  index: number,
): RoutePart {
  const moved = context.choice?.inPrep?.[operation.id];
  if (moved === undefined) return part;
  const only = /part (\d+)/.exec(moved.text)?.[1];
  if (only !== undefined && Number(only) !== index + 1) return part;
  return {
    ...part,
    who: 'helper',
    prep: { by: moved.by, usual: true },
    batch: {
      ...part.batch,
      scope: 'setting',
      most: 12,
      setUpMin: moved.setUpMin,
      eachMin: moved.eachMin,
      teacher: 'whole',
      teacherMin: 0,
    },
  };
}

/** A lot: the builds that go through a part as one activity. */
interface Lot {
  readonly id: string;
  readonly builds: readonly string[];
  /** Position of the lot's first build in its batch: 0 bears the set-up where the station cannot remember it. */
  readonly positionInBatch: number;
  readonly batchIndex: number;
}

function courseActivities(context: Context, course: CourseSetUp): Activity[] {
  const byInstrument = new Map<string, CourseLearner[]>();
  for (const learner of course.learners) {
    const instrument = learner.instrument ?? context.setUp.route.operations[0]?.instruments?.[0] ?? '';
    byInstrument.set(instrument, [...(byInstrument.get(instrument) ?? []), learner]);
  }
  return [...byInstrument].flatMap(([instrument, learners]) =>
    instrumentActivities(context, course, instrument, learners),
  );
}

function instrumentActivities(
  context: Context,
  course: CourseSetUp,
  instrument: string,
  learners: readonly CourseLearner[],
): Activity[] {
  const made = madeOperations(context, instrument);
  const byId = new Map(learners.map((l) => [l.id, l]));
  /** Last activity of an operation for a build, and the first of each part. */
  const lastOf = new Map<string, string>();
  const planned: Activity[] = [];
  for (const operation of inOrder(made)) {
    const { parts } = made.get(operation.id)!;
    let previous = new Map<string, string>();
    parts.forEach(({ part, index, scale, turn }, position) => {
      const now = new Map<string, string>();
      const turnText = part.repeat === undefined ? '' : `.${turn + 1}`;
      for (const lot of lotsOf(context, course, part, learners, `${operation.id}.${index + 1}${turnText}`)) {
        const builds = lot.builds.filter((b) => !hasKeyOf(operation, byId.get(b)!));
        if (builds.length === 0) continue;
        const isLast = position === parts.length - 1;
        const links =
          position === 0
            ? linksToOperation(context, operation, made, builds, lastOf)
            : linksToPart(context, parts[position - 1]!.part, builds, previous);
        const activity = makeActivity({
          context,
          course,
          operation,
          part,
          index,
          scale,
          lot: { ...lot, builds },
          instrument,
          isLast,
          byId,
        });
        planned.push({
          ...activity,
          after: [...links, ...keyLinks(context, activity, builds, lastOf, operation)],
        });
        for (const b of builds) now.set(b, activity.id);
      }
      previous = now;
    });
    for (const [build, id] of previous) lastOf.set(`${build}|${operation.id}`, id);
  }
  return planned;
}

/** Operations so that what comes before stands before; key checks right behind what they follow. */
function inOrder(made: ReadonlyMap<string, MadeOperation>): RouteOperation[] {
  const done = new Set<string>();
  const list: RouteOperation[] = [];
  const visit = (id: string): void => {
    if (done.has(id)) return;
    done.add(id);
    for (const a of made.get(id)!.after) visit(a);
    list.push(made.get(id)!.operation);
  };
  for (const [id, { operation }] of made) if (operation.kind === 'key') visit(id);
  for (const id of made.keys()) visit(id);
  return list;
}

const hasKeyOf = (operation: RouteOperation, learner: CourseLearner): boolean =>
  operation.givesKey !== undefined && (learner.keys?.includes(operation.givesKey) ?? false);

function lotsOf(
  context: Context,
  course: CourseSetUp,
  part: RoutePart,
  learners: readonly CourseLearner[],
  partId: string,
): Lot[] {
  const { batch } = part;
  const most = Math.max(1, batch.most);
  const together = batch.scope === 'class' || batch.scope === 'group';
  const size = together ? lotSize(course, part, most) : 1;
  const lots: Lot[] = [];
  for (let at = 0; at < learners.length; ) {
    const left = most - (at % most);
    const builds = learners.slice(at, at + Math.min(size, left)).map((l) => l.id);
    const id = size === 1 ? `${builds[0]}/${partId}` : `${course.id}/${partId}.${at + 1}`;
    const ordinal = context.ordinal.get(builds[0]!) ?? at;
    lots.push({ id, builds, positionInBatch: at % most, batchIndex: Math.floor(ordinal / most) });
    at += builds.length;
  }
  return lots;
}

/** Members of one activity: all who work at the same time, or as many as fit into one stretch of preparation. */
function lotSize(course: CourseSetUp, part: RoutePart, most: number): number {
  const { setUpMin, eachMin } = part.batch;
  if (eachMin === 0) return most;
  if (part.prep?.usual !== true) return 1;
  const stretch = Math.max(0, ...course.preparation.map((p) => p.endMin - p.beginMin));
  return Math.max(1, Math.min(most, Math.floor((stretch - setUpMin) / eachMin)));
}

interface Making {
  readonly context: Context;
  readonly course: CourseSetUp;
  readonly operation: RouteOperation;
  readonly part: RoutePart;
  readonly index: number;
  readonly scale: number;
  readonly lot: Lot;
  readonly instrument: string;
  readonly isLast: boolean;
  readonly byId: ReadonlyMap<string, CourseLearner>;
}

function makeActivity(m: Making): Activity {
  const { context, course, operation, part, lot } = m;
  const isPreparation = part.prep?.usual === true;
  const learnerWorks = part.who === 'learner' && !isPreparation;
  const isLonely = course.learners.length === 1;
  return {
    id: lot.id,
    name: `${operation.name}: ${part.what}`,
    operationId: operation.id,
    partIndex: m.index,
    courseId: course.id,
    memberIds: learnerWorks ? lot.builds : [],
    buildIds: lot.builds,
    where: isPreparation ? 'preparation' : 'session',
    ways: part.at
      .filter((id, i) => i === 0 || context.capacityOf(id) > 0)
      .map((station, i) => makeWay(m, station, i, learnerWorks, isLonely)),
    jigIds: jigsAt(context, operation, part),
    helperMin: learnerWorks && !isLonely ? part.helperMin : 0,
    rests: restsOf(m),
    after: [],
    mayStop: learnerWorks && mayStop(context, part),
    uncertainty: { lowMin: part.minutes.low, likelyMin: part.minutes.likely, highMin: part.minutes.high },
  };
}

/** Long hand work at a place without a machine may be laid down at the bell and gone on with next time. */
function mayStop(context: Context, part: RoutePart): boolean {
  const key = context.stations.get(part.at[0] ?? '')?.key;
  const isAlone = part.batch.scope === 'none' && part.helperMin === 0;
  return part.then === 'stop' && isAlone && (key === 'hand' || key === 'none') && part.minutes.likely >= 20;
}

function jigsAt(context: Context, operation: RouteOperation, part: RoutePart): string[] {
  const isBench = (p: RoutePart): boolean => p.at[0] === 'bench';
  if (isBench(part) && (part !== operation.parts[0] || !operation.parts.every(isBench))) return [];
  const loose = context.setUp.looseJigIds ?? [];
  return operation.jigs.filter((id) => context.capacityOf(id) > 0 && !loose.includes(id));
}

function restsOf({ context, operation, part, isLast }: Making): Activity['rests'] {
  const covered = new Set((context.setUp.route.longHolds ?? []).map((h) => h.what));
  const holds = [...(part.rest?.holds ?? []), ...(isLast ? (operation.rest?.holds ?? []) : [])];
  return holds
    .filter((h) => !covered.has(h.what) && context.capacityOf(h.what) > 0)
    .map((h) => ({ resourceId: h.what, restMin: context.minutesOf(h) }));
}

function makeWay(
  m: Making,
  stationId: string,
  position: number,
  learnerWorks: boolean,
  isLonely: boolean,
): Way {
  const { context, course, part, lot, operation } = m;
  const { batch } = part;
  const scaled = (minutes: number): number => Math.max(1, Math.round(minutes * m.scale));
  const isSetting = batch.scope === 'setting';
  const remembers = isSetting && context.capacityOf(stationId) === 1;
  const isOtherWay = isSetting && position > 0 && !remembers;
  const own = isOtherWay
    ? scaled(part.minutes.likely)
    : scaled(batch.eachMin === 0 ? batch.setUpMin : batch.eachMin * lot.builds.length);
  const bears =
    !remembers && !isOtherWay && batch.eachMin > 0 && batch.scope !== 'none' && lot.positionInBatch === 0
      ? batch.setUpMin
      : 0;
  const durationMin = own + bears;
  const people =
    part.prep?.usual === true || part.who !== 'learner'
      ? whoMay(course, part.prep?.by ?? [part.who])
      : teachersOf(course);
  const attendance = [
    ...attendanceOf(m, {
      stationId,
      durationMin,
      bears,
      people,
      learnerWorks,
      setUpMin: remembers ? batch.setUpMin : 0,
    }),
    ...(isLonely && learnerWorks && part.helperMin > 0
      ? [{ anyOf: teachersOf(course), fromMin: 0, toMin: Math.min(part.helperMin, durationMin) }]
      : []),
  ];
  const setting = `${operation.id}.${m.index + 1} ${m.instrument} ${lot.batchIndex + 1}`;
  return {
    stationId,
    durationMin,
    attendance: joined(attendance),
    ...(remembers ? { setting, setUpMin: batch.setUpMin } : {}),
  };
}

function whoMay(course: CourseSetUp, by: readonly string[]): readonly string[] {
  const ids = by.flatMap((who) => (who === 'teacher' ? teachersOf(course) : (course.helperIds ?? [])));
  return ids.length > 0 ? ids : teachersOf(course);
}

interface AtStation {
  readonly stationId: string;
  readonly durationMin: number;
  readonly bears: number;
  readonly people: readonly string[];
  readonly learnerWorks: boolean;
  readonly setUpMin: number;
}

function attendanceOf(m: Making, at: AtStation): Attendance[] {
  const { batch } = m.part;
  const isKeyed = !['none', 'hand', undefined].includes(m.context.stations.get(at.stationId)?.key);
  const adults =
    isKeyed && m.operation.givesKey === undefined ? [...at.people, ...(m.course.helperIds ?? [])] : at.people;
  const whole: Attendance = { anyOf: at.people, fromMin: 0, toMin: at.durationMin };
  const besideWhole: Attendance = { ...whole, anyOf: adults };
  const setUp: Attendance[] =
    at.setUpMin > 0 ? [{ anyOf: adults, fromMin: 0, toMin: at.setUpMin, onlyAtSetUp: true }] : [];
  if (!at.learnerWorks) return [whole, ...setUp];
  const beside = besideOf(m, at.stationId);
  const setUpToo = batch.teacher === 'whole' || batch.teacher === 'first' ? setUp : [];
  if (beside === 'teacher') return [whole, ...setUpToo];
  if (beside === 'adult') return [besideWhole, ...setUpToo];
  const minutes = Math.min(
    at.durationMin,
    batch.teacherMin * (batch.teacher === 'sign' || batch.teacher === 'each' ? m.lot.builds.length : 1),
  );
  if (batch.teacher === 'whole') return [besideWhole, ...setUp];
  if (minutes === 0 || batch.teacher === 'none') return [];
  if (batch.teacher === 'each') return [{ ...whole, toMin: minutes }];
  if (batch.teacher === 'sign') return [{ ...whole, fromMin: at.durationMin - minutes }];
  if (at.setUpMin > 0) return [{ ...besideWhole, toMin: batch.teacherMin, onlyAtSetUp: true }];
  return at.bears > 0 || m.lot.positionInBatch === 0 || batch.eachMin === 0
    ? [{ ...besideWhole, toMin: minutes }]
    : [];
}

/** Two stretches of the same people that touch or overlap become one. */
function joined(list: readonly Attendance[]): Attendance[] {
  const whole = list.find(
    (a) => a.onlyAtSetUp !== true && a.fromMin === 0 && list.some((b) => b !== a && b.onlyAtSetUp !== true),
  );
  return whole === undefined
    ? [...list]
    : [
        { ...whole, toMin: Math.max(...list.map((a) => (a.onlyAtSetUp === true ? 0 : a.toMin))) },
        ...list.filter((a) => a.onlyAtSetUp === true),
      ];
}

/**
 * Whether somebody has to stand beside for the whole work: an adult by the table of age bands; the teacher where the
 * band says so, or where the band or the key is missing.
 */
function besideOf(
  { context, lot, byId, operation }: Making,
  stationId: string,
): 'teacher' | 'adult' | 'as told' {
  const station = context.stations.get(stationId);
  if (station === undefined || station.key === 'none' || station.key === 'hand') return 'as told';
  if (operation.givesKey !== undefined || station.teacherOnly === true) return 'teacher';
  const rule = context.setUp.route.ageRules?.byStation[stationId];
  const hasCheck = context.setUp.route.operations.some(
    (o) => o.givesKey === station.key && o.optional !== true,
  );
  const words = lot.builds.map((id) => {
    const learner = byId.get(id)!;
    const hasKey = hasCheck || (learner.keys?.includes(station.key) ?? false);
    if (!hasKey || learner.ageBand === undefined) return 'teacher does it';
    return rule?.[learner.ageBand] ?? 'alone';
  });
  if (words.every((w) => w === 'alone')) return 'as told';
  return words.every((w) => w === 'alone' || w === 'adult beside') ? 'adult' : 'teacher';
}

function linksToOperation(
  context: Context,
  operation: RouteOperation,
  made: ReadonlyMap<string, MadeOperation>,
  builds: readonly string[],
  lastOf: ReadonlyMap<string, string>,
): Link[] {
  const links = new Map<string, Link>();
  for (const before of made.get(operation.id)!.after) {
    const { rest } = made.get(before)!.operation;
    const own = rest?.before.find((b) => b.op === operation.id) ?? rest?.beforeOthers;
    for (const build of builds) {
      const id = lastOf.get(`${build}|${before}`);
      if (id !== undefined)
        links.set(id, { activityId: id, lagMin: own === undefined ? 0 : context.minutesOf(own) });
    }
  }
  // a rest may also bind an operation that is not the next one
  for (const other of made.values()) {
    const own = other.operation.rest?.before.find((b) => b.op === operation.id);
    if (own === undefined) continue;
    for (const build of builds) {
      const id = lastOf.get(`${build}|${other.operation.id}`);
      if (id !== undefined) links.set(id, { activityId: id, lagMin: context.minutesOf(own) });
    }
  }
  return [...links.values()];
}

function linksToPart(
  context: Context,
  part: RoutePart,
  builds: readonly string[],
  previous: ReadonlyMap<string, string>,
): Link[] {
  const rest = part.repeat?.rest ?? part.rest;
  const ids = new Set(builds.flatMap((b) => previous.get(b) ?? []));
  return [...ids].map((activityId) => ({
    activityId,
    lagMin: rest === undefined ? 0 : context.minutesOf(rest),
  }));
}

/** No machine before its key: the key check of the usual station comes first. */
function keyLinks(
  context: Context,
  activity: Activity,
  builds: readonly string[],
  lastOf: ReadonlyMap<string, string>,
  operation: RouteOperation,
): Link[] {
  if (operation.kind === 'key' || activity.memberIds.length === 0) return [];
  const keys = new Set(activity.ways.map((w) => context.stations.get(w.stationId ?? '')?.key));
  const checks = context.setUp.route.operations.filter(
    (o) => o.givesKey !== undefined && keys.has(o.givesKey),
  );
  const ids = new Set(checks.flatMap((o) => builds.flatMap((b) => lastOf.get(`${b}|${o.id}`) ?? [])));
  return [...ids]
    .filter((id) => !activity.after.some((l) => l.activityId === id))
    .map((activityId) => ({ activityId, lagMin: 0 }));
}

function spansOf(setUp: ClassSetUp, activities: readonly Activity[]): Span[] {
  const find = (build: string, operationId: string, isLast: boolean): string | undefined => {
    const own = activities.filter((a) => a.operationId === operationId && a.buildIds.includes(build));
    return (isLast ? own[own.length - 1] : own[0])?.id;
  };
  return setUp.courses.flatMap((course) =>
    course.learners.flatMap((learner) =>
      (setUp.route.longHolds ?? []).flatMap((hold): Span[] => {
        const from = find(learner.id, hold.fromOp, false);
        const until = hold.untilRestOf ?? hold.untilStartOf;
        const last =
          until === undefined ? undefined : find(learner.id, until, hold.untilRestOf !== undefined);
        if (from === undefined || last === undefined) return [];
        const rest = setUp.route.operations
          .find((o) => o.id === hold.untilRestOf)
          ?.rest?.holds.find((h) => h.what === hold.what);
        const hours = setUp.restsAs === 'usual' ? rest?.usualH : rest?.leastH;
        return [
          {
            resourceId: hold.what,
            fromActivityId: from,
            untilActivityId: last,
            untilEdge: hold.untilRestOf === undefined ? 'start' : 'end',
            restMin: Math.round(60 * (hours ?? 0)),
          },
        ];
      }),
    ),
  );
}
