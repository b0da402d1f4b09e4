import { doesCount, learnMinutes } from '../../schedule/class/minutes.ts';
import { attendanceOf, minutesOfSession } from '../attendance.ts';
import { buildsOf } from '../class-state.ts';
import { ringOf, wallOf } from '../ring.ts';
import { workRecords } from '../work-records.ts';
import { sessionsHeld } from './hours.ts';
import { incidentsOf } from './incidents.ts';
import {
  buildNumber,
  numbers,
  type OfficeCell,
  type OfficeInput,
  type OfficeTable,
  operationName,
  personName,
  words,
} from './office-table.ts';
import { outsideReadings } from './outside-readings.ts';

/** A step whose minutes were measured in this course. */
interface MeasuredStep {
  readonly op: string;
  readonly part: number;
  readonly likelyMin: number;
  readonly tookMin: readonly number[];
  /** What the planner believes the likely minutes are to be multiplied with. */
  readonly factor: number;
}

/** Steps with a start and an end that count, by operation and part; and how many steps done have neither. */
function measuredSteps({ state }: OfficeInput): {
  readonly steps: readonly MeasuredStep[];
  readonly unmeasured: number;
} {
  const records = workRecords(state);
  const used = records.filter(doesCount);
  const order = new Map(state.route.operations.map((o, i) => [o.id, i]));
  const steps = learnMinutes(records)
    .operations.map(({ id, factor }): MeasuredStep => {
      const own = used.filter((r) => `${r.operationId}.${r.partIndex + 1}` === id);
      const { operationId, partIndex, minutes } = own[0]!;
      const tookMin = own.map((r) => r.tookMin);
      return { op: operationId, part: partIndex + 1, likelyMin: minutes.likelyMin, tookMin, factor };
    })
    .sort((a, b) => (order.get(a.op) ?? 0) - (order.get(b.op) ?? 0) || a.part - b.part);
  const done = buildsOf(state).reduce(
    (sum, { facts }) =>
      sum +
      [...facts.operations.values()].reduce(
        (parts, o) => parts + [...o.parts.values()].filter((p) => p.doneMs !== undefined).length,
        0,
      ),
    0,
  );
  return { steps, unmeasured: done - used.length };
}

/** Minutes learned: what the route thought, what steps really took, and what the planner makes of it. @source arithmetic */
export function minutesTable(input: OfficeInput): OfficeTable {
  const { steps, unmeasured } = measuredSteps(input);
  const measured = steps.reduce((n, s) => n + s.tookMin.length, 0);
  const rows = steps.map((s): OfficeCell[] => [
    `${operationName(input.state, s.op)}${s.part === 1 ? '' : `, part ${s.part}`}`,
    s.likelyMin,
    s.likelyMin * s.factor,
    s.tookMin.length,
    Math.min(...s.tookMin),
    Math.max(...s.tookMin),
    s.factor,
  ]);
  return {
    id: 'minutes',
    title: 'Minutes learned',
    says: `From ${measured} steps whose start and end were entered by the same person within one session; ${unmeasured} steps were only marked done, were done in a batch or over a bell, or took less than a third of the low or more than three times the high minutes, and teach nothing. Learned: what the planner counts with; it trusts the route until a step was seen often enough.`,
    columns: [
      words('step', 'Step', 4),
      numbers('route_min', 'Route says, min', 0, 1.2),
      numbers('learned_min', 'Learned, min', 0, 1),
      numbers('count', 'Times', 0, 0.8),
      numbers('least_min', 'Least, min', 0, 1),
      numbers('most_min', 'Most, min', 0, 1),
      numbers('ratio', 'Learned / route', 2, 1),
    ],
    rows,
    none: 'No step has a start and an end yet.',
  };
}

/** Where every build stands at the end of the term. @source common practice, no published source */
export function termBuildsTable(input: OfficeInput): OfficeTable {
  const { state, nowMs, civil } = input;
  const wall = wallOf(state, nowMs);
  const outside = outsideReadings(input);
  const rows = buildsOf(state).map(({ id, person, facts }): OfficeCell[] => {
    const been = attendanceOf(state.course, person, nowMs);
    const cells = wall.rows.find((r) => r.build === id)?.cells ?? [];
    const doneSteps = cells.filter((c) => c.doneFrac >= 1);
    const open = cells.findIndex((c) => c.doneFrac < 1);
    const last = open < 0 ? wall.steps.length - 1 : open - 1;
    const own = outside.filter((o) => o.build === id);
    return [
      buildNumber(state, id),
      personName(state, person),
      been.sessions,
      been.minutes / 60,
      100 * ringOf(state, id, facts, nowMs).doneFrac,
      last < 0 ? 'none yet' : wall.steps[last]?.name,
      `${doneSteps.length} of ${cells.length}`,
      facts.replaced.length,
      own.length,
      own.filter((o) => o.decision !== undefined).length,
      facts.handedOverMs === undefined ? undefined : civil(facts.handedOverMs).date,
    ];
  });
  const sum = (column: number): number => rows.reduce((n, r) => n + (r[column] as number), 0);
  return {
    id: 'term-builds',
    title: 'Where every build stands',
    says: 'Finished up to: the last coarse step before the first that is not whole; later ones may be done already, the next column counts them all.',
    columns: [
      numbers('number', 'No.', 0, 0.5),
      words('name', 'Name', 1.4),
      numbers('sessions', 'Sessions', 0, 0.9),
      numbers('hours_h', 'Hours', 1, 0.8),
      numbers('done_pct', 'Done, %', 0, 0.8),
      words('finished_up_to', 'Finished up to', 2),
      words('coarse_steps', 'Coarse steps', 1.1),
      numbers('parts_made_again', 'Made again', 0, 1),
      numbers('readings_outside', 'Outside', 0, 0.9),
      numbers('of_them_decided', 'Decided', 0, 0.9),
      words('handed_over_on', 'Handed over', 1.2),
    ],
    rows,
    sums: [
      undefined,
      'Together',
      sum(2),
      sum(3),
      undefined,
      undefined,
      undefined,
      sum(7),
      sum(8),
      sum(9),
      rows.filter((r) => r[10] !== undefined).length.toString(),
    ],
    none: 'There is no build in this course yet.',
  };
}

/** The term in a few lines. @source arithmetic */
export function termTable(input: OfficeInput): OfficeTable {
  const { state, nowMs } = input;
  const held = sessionsHeld(state, nowMs);
  const planned = [...state.course.sessions.values()].filter((s) => s.cancelled === undefined).length;
  const builds = buildsOf(state);
  const been = builds.map((b) => attendanceOf(state.course, b.person, nowMs));
  const outside = outsideReadings(input);
  const incidents = incidentsOf(state);
  const { steps, unmeasured } = measuredSteps(input);
  const measured = steps.reduce((n, s) => n + s.tookMin.length, 0);
  const kinds = ['near miss', 'first aid', 'injury', 'damage'] as const;
  const row = (what: string, value: OfficeCell, more = ''): OfficeCell[] => [what, value, more];
  const hours = (minutes: number): string => (minutes / 60).toFixed(1);
  const rows = [
    row('Sessions held', `${held.length}`, `of ${planned} planned`),
    row('Hours taught', hours(held.reduce((sum, s) => sum + minutesOfSession(s, nowMs), 0))),
    row('Hours of learners', hours(been.reduce((sum, b) => sum + b.minutes, 0)), `${builds.length} learners`),
    row(
      'Builds finished',
      `${builds.filter((b) => ringOf(state, b.id, b.facts, nowMs).doneFrac >= 1).length}`,
      `of ${builds.length}; handed over: ${builds.filter((b) => b.facts.handedOverMs !== undefined).length}`,
    ),
    row('Parts made again', `${builds.reduce((n, b) => n + b.facts.replaced.length, 0)}`),
    row(
      'Readings outside their limits',
      `${outside.length}`,
      `decided about: ${outside.filter((o) => o.decision !== undefined).length}`,
    ),
    row(
      'Incidents and near misses',
      `${incidents.length}`,
      kinds
        .map((k) => [k, incidents.filter((i) => i.severity === k).length] as const)
        .filter(([, n]) => n > 0)
        .map(([k, n]) => `${k}: ${n}`)
        .join(', '),
    ),
    row(
      'Steps whose minutes are known',
      `${measured}`,
      `of ${measured + unmeasured} done; ${steps.length} kinds of step`,
    ),
  ];
  return {
    id: 'term',
    title: 'The term in a few lines',
    says: 'From the record, up to now.',
    columns: [words('what', 'What', 2), words('value', 'So many', 1), words('more', 'And', 4)],
    rows,
    none: '',
  };
}
