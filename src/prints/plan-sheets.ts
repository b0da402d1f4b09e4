import { type BoundsMm, box, type Drawing, type Entity, line, text } from '../drawing/model.ts';
import { type TextLook, textWidthMm } from '../drawing/text-size.ts';
import { inLots } from '../schedule/class/in-lots.ts';
import {
  beginOf,
  type ClassProblem,
  endOf,
  type PlanEntry,
  type WorkWindow,
} from '../schedule/class/problem.ts';

/** Width and height of a sheet, so that A4 and Letter both hold it, mm. */
export const PLAN_WIDTH_MM = 186;
const PLAN_HEIGHT_MM = 250;

const NAME_MM = 42;
const LANE_MM = 5;
const SMALL_MM = 1.9;
const WORDS_MM = 2.4;
const TITLE_MM = 4;

/** One bar on a station: work, the change-over before it, or the rest behind it. */
interface Bar {
  readonly stationId: string;
  readonly fromMin: number;
  readonly toMin: number;
  readonly kind: 'work' | 'set-up' | 'rest';
  readonly words: string;
}

/** What the sheets need beside the plan. */
export interface PlanSheetsAbout {
  readonly courseName: string;
  /** A clock minute in words, e.g. `2026-10-06T18:40`. */
  readonly clockText: (minute: number) => string;
}

/**
 * One sheet per session: the stations from top to bottom, the minutes from left to right, every piece of work with who
 * does it; change-overs black, rests hatched as far as they reach into the session.
 *
 * @param problem  the problem that was planned
 * @param entries  the plan
 * @param about    name of the course and how a minute is written
 * @returns        the drawings in the order of the sessions; a session in which nothing is planned has none
 * @source         arithmetic
 */
export function planSheets(
  problem: ClassProblem,
  entries: readonly PlanEntry[],
  about: PlanSheetsAbout,
): Drawing[] {
  const bars = barsOf(problem, entries);
  const sessions = sessionsOf(problem);
  const numbers = numbersOf(sessions);
  return sessions.flatMap((session, i) => {
    const own = bars.filter((b) => b.fromMin < session.endMin && b.toMin > session.beginMin);
    if (!own.some((b) => b.kind === 'work')) return [];
    return [sheetOf(problem, session, numbers[i]!, own, { ...about, ...nameIn(problem, session) })];
  });
}

function sessionsOf(problem: ClassProblem): WorkWindow[] {
  return problem.windows.filter((w) => w.kind === 'session').toSorted((a, b) => a.beginMin - b.beginMin);
}

/** Number of each session in its own course. */
function numbersOf(sessions: readonly WorkWindow[]): number[] {
  return sessions.map(
    (s, i) => sessions.slice(0, i + 1).filter((other) => other.courseId === s.courseId).length,
  );
}

/** The name of the session's course where a plan is of several. */
function nameIn(problem: ClassProblem, session: WorkWindow): Partial<PlanSheetsAbout> {
  const course = problem.courses.find((c) => c.id === session.courseId);
  return problem.courses.length > 1 && course !== undefined ? { courseName: course.name } : {};
}

function barsOf(problem: ClassProblem, entries: readonly PlanEntry[]): Bar[] {
  const lots = inLots(problem, entries);
  const activities = new Map(lots.problem.activities.map((a) => [a.id, a]));
  return lots.entries.flatMap((entry) => {
    const activity = activities.get(entry.activityId)!;
    const way = activity.ways[entry.wayIndex]!;
    const stationId = way.stationId ?? 'no station';
    const who =
      activity.buildIds.length > 3 ? `${activity.buildIds.length} learners` : activity.buildIds.join(', ');
    const words = `${who} ${activity.operationId}`;
    const work = entry.pieces.map(
      (p): Bar => ({ stationId, fromMin: p.beginMin, toMin: p.endMin, kind: 'work', words }),
    );
    const setUp: Bar[] =
      entry.setUpBeginMin === undefined
        ? []
        : [{ stationId, fromMin: entry.setUpBeginMin, toMin: beginOf(entry), kind: 'set-up', words: '' }];
    const rests = activity.rests
      .filter(
        (r) =>
          r.restMin > 0 &&
          (r.resourceId === way.stationId || !activity.ways.some((w) => w.stationId === r.resourceId)),
      )
      .map(
        (r): Bar => ({
          stationId: r.resourceId,
          fromMin: endOf(entry),
          toMin: endOf(entry) + r.restMin,
          kind: 'rest',
          words: who,
        }),
      );
    return [...setUp, ...work, ...rests];
  });
}

/** Bars of one station in as many lanes as overlap at once. */
function lanesOf(bars: readonly Bar[]): Bar[][] {
  const lanes: Bar[][] = [];
  for (const bar of bars.toSorted((a, b) => a.fromMin - b.fromMin || a.toMin - b.toMin)) {
    const free = lanes.find((lane) => lane[lane.length - 1]!.toMin <= bar.fromMin);
    if (free === undefined) lanes.push([bar]);
    else free.push(bar);
  }
  return lanes;
}

function sheetOf(
  problem: ClassProblem,
  session: WorkWindow,
  number: number,
  bars: readonly Bar[],
  about: PlanSheetsAbout,
): Drawing {
  const scale = (PLAN_WIDTH_MM - NAME_MM) / (session.endMin - session.beginMin);
  const xOf = (minute: number): number =>
    NAME_MM + (Math.min(session.endMin, Math.max(session.beginMin, minute)) - session.beginMin) * scale;
  const entities: Entity[] = [
    text('text', { x: 0, y: TITLE_MM }, `${about.courseName}, session ${number}`, TITLE_MM, {
      face: 'name',
      weight: 700,
    }),
    text(
      'text',
      { x: PLAN_WIDTH_MM, y: TITLE_MM },
      about.clockText(session.beginMin).replace('T', ' '),
      WORDS_MM,
      { anchorX: 'end' },
    ),
  ];
  const top = TITLE_MM + 8;
  const stations = problem.resources.filter((r) => bars.some((b) => b.stationId === r.id));
  const rows = stations.map((r) => ({
    name: r.name,
    lanes: lanesOf(bars.filter((b) => b.stationId === r.id)),
  }));
  const laneCount = rows.reduce((sum, r) => sum + r.lanes.length, 0);
  const laneMm = Math.min(LANE_MM, (PLAN_HEIGHT_MM - top - 8) / Math.max(1, laneCount));
  let y = top;
  for (const row of rows) {
    entities.push(line('dimension', { x: 0, y }, { x: PLAN_WIDTH_MM, y }));
    entities.push(
      text(
        'text',
        { x: 0, y: y + laneMm * 0.72 },
        shortened(row.name, NAME_MM - 2, WORDS_MM * (laneMm / LANE_MM)),
        WORDS_MM * (laneMm / LANE_MM),
      ),
    );
    for (const lane of row.lanes) {
      for (const bar of lane) entities.push(...barEntities(bar, xOf, y, laneMm));
      y += laneMm;
    }
  }
  entities.push(
    line('dimension', { x: 0, y }, { x: PLAN_WIDTH_MM, y }),
    ...hours(session, xOf, top, y, about),
  );
  const frame: BoundsMm = { minX: 0, minY: 0, maxX: PLAN_WIDTH_MM, maxY: y + 2 };
  return { id: `session-${number}`, title: `Session ${number}`, seenFrom: 'the door', frame, entities };
}

function barEntities(bar: Bar, xOf: (minute: number) => number, y: number, laneMm: number): Entity[] {
  const at: BoundsMm = {
    minX: xOf(bar.fromMin),
    maxX: xOf(bar.toMin),
    minY: y + 0.4,
    maxY: y + laneMm - 0.4,
  };
  const width = at.maxX - at.minX;
  if (width <= 0.2) return [];
  const fill = bar.kind === 'set-up' ? 'black' : bar.kind === 'rest' ? 'white' : 'pale';
  const lineType = bar.kind === 'rest' ? 'DASHED' : 'CONTINUOUS';
  const height = SMALL_MM * (laneMm / LANE_MM);
  const words = bar.kind === 'set-up' ? '' : shortened(bar.words, width - 1, height);
  return [
    box('visible', at, { fill, lineType, widthMm: 0.18 }),
    ...(words === '' ? [] : [text('text', { x: at.minX + 0.6, y: y + laneMm * 0.66 }, words, height)]),
  ];
}

/** A line every half hour with its time. */
function hours(
  session: WorkWindow,
  xOf: (minute: number) => number,
  top: number,
  bottom: number,
  about: PlanSheetsAbout,
): Entity[] {
  const first = Math.ceil(session.beginMin / 30) * 30;
  const marks: Entity[] = [];
  for (let m = first; m <= session.endMin; m += 30)
    marks.push(
      line('ghost', { x: xOf(m), y: top - 2 }, { x: xOf(m), y: bottom }, { lineType: 'CONTINUOUS' }),
      text('text', { x: xOf(m), y: top - 2.6 }, about.clockText(m).slice(11), SMALL_MM, {
        anchorX: xOf(m) > PLAN_WIDTH_MM - 4 ? 'end' : 'middle',
      }),
    );
  return marks;
}

/** As many whole words (then letters) as fit. */
function shortened(words: string, widthMm: number, heightMm: number): string {
  const look: TextLook = { heightMm, face: 'sans', weight: 400 };
  if (textWidthMm(words, look) <= widthMm) return words;
  let kept = words;
  while (kept.length > 0 && textWidthMm(`${kept}.`, look) > widthMm) kept = kept.slice(0, -1).trimEnd();
  return kept.length < 2 ? '' : `${kept}.`;
}

/**
 * The whole course on one sheet: stations by sessions, each field filled as far as the station is in use.
 *
 * @param problem  the problem that was planned
 * @param entries  the plan
 * @param about    name of the course
 * @returns        one drawing
 * @source         arithmetic
 */
export function planOverview(
  problem: ClassProblem,
  entries: readonly PlanEntry[],
  about: PlanSheetsAbout,
): Drawing {
  const bars = barsOf(problem, entries).filter((b) => b.kind !== 'rest');
  const all = sessionsOf(problem);
  const numbers = new Map(numbersOf(all).map((number, i) => [all[i]!.id, number]));
  const sessions = all.filter((s) => bars.some((b) => b.fromMin < s.endMin && b.toMin > s.beginMin));
  const stations = problem.resources.filter((r) => bars.some((b) => b.stationId === r.id));
  const top = TITLE_MM + 8;
  const fieldMm = (PLAN_WIDTH_MM - NAME_MM) / Math.max(1, sessions.length);
  const rowMm = Math.min(6, (PLAN_HEIGHT_MM - top - 4) / Math.max(1, stations.length));
  const entities: Entity[] = [
    text('text', { x: 0, y: TITLE_MM }, `${about.courseName}: stations by sessions`, TITLE_MM, {
      face: 'name',
      weight: 700,
    }),
  ];
  sessions.forEach(({ id }, i) => {
    const x = NAME_MM + (i + 0.5) * fieldMm;
    entities.push(
      text('text', { x, y: top - 1.5 }, String(numbers.get(id)), Math.min(SMALL_MM, fieldMm * 0.5), {
        anchorX: 'middle',
      }),
    );
  });
  stations.forEach((station, r) => {
    const y = top + r * rowMm;
    entities.push(
      text(
        'text',
        { x: 0, y: y + rowMm * 0.7 },
        shortened(station.name, NAME_MM - 2, Math.min(WORDS_MM, rowMm * 0.5)),
        Math.min(WORDS_MM, rowMm * 0.5),
      ),
    );
    sessions.forEach((session, i) => {
      const frac = useFrac(bars, station.id, station.capacity, session);
      const minX = NAME_MM + i * fieldMm;
      const field: BoundsMm = { minX, maxX: minX + fieldMm, minY: y, maxY: y + rowMm };
      entities.push(box('visible', field, { widthMm: 0.1, ink: 'grey' }));
      if (frac > 0)
        entities.push(
          box(
            'visible',
            { ...field, minY: y + rowMm * (1 - frac) },
            { fill: frac > 0.8 ? 'black' : 'grey', isStroked: false },
          ),
        );
    });
  });
  const frame: BoundsMm = { minX: 0, minY: 0, maxX: PLAN_WIDTH_MM, maxY: top + stations.length * rowMm + 1 };
  return { id: 'plan-overview', title: 'Stations by sessions', seenFrom: 'the door', frame, entities };
}

function useFrac(bars: readonly Bar[], stationId: string, capacity: number, session: WorkWindow): number {
  const used = bars
    .filter((b) => b.stationId === stationId)
    .reduce(
      (sum, b) =>
        sum + Math.max(0, Math.min(b.toMin, session.endMin) - Math.max(b.fromMin, session.beginMin)),
      0,
    );
  return Math.min(1, used / (Math.max(1, capacity) * (session.endMin - session.beginMin)));
}
