import { attendanceFor, setUpAttendance } from './attendance.ts';
import { type Context, type CourseLearner, type CourseSetUp, teachersOf } from './class-set-up.ts';
import type { Lot } from './lots.ts';
import type { Attendance, Way } from './problem.ts';
import type { RouteOperation, RoutePart } from './route-form.ts';

/** One lot of one part, with all that decides how it is done. */
export interface Making {
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

/** One way to do a lot's part: at this station, with whoever has to be there. */
export function makeWay(
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
  const setting = `${operation.id}.${m.index + 1} ${m.instrument}`;
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
  if (!at.learnerWorks)
    return [{ anyOf: at.people, fromMin: 0, toMin: at.durationMin }, ...setUpAttendance(at.setUpMin, adults)];
  return attendanceFor({
    batch,
    beside: besideOf(m, at.stationId),
    durationMin: at.durationMin,
    buildCount: m.lot.builds.length,
    isFirst: at.bears > 0 || m.lot.positionInBatch === 0 || batch.eachMin === 0,
    setUpMin: at.setUpMin,
    teachers: at.people,
    adults,
  });
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
