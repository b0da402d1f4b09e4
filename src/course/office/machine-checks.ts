import { isFreeKey } from '../../route/route-check.ts';
import { buildsOf, type ClassState, planOf, stationOfWork } from '../class-state.ts';
import type { CivilOf } from '../course-export.ts';
import type { ShopFacts } from '../shop-facts.ts';
import {
  numbers,
  type OfficeCell,
  type OfficeInput,
  type OfficeTable,
  personName,
  stationName,
  words,
} from './office-table.ts';

type Check = NonNullable<ReturnType<ShopFacts['stations']['get']>>['checks'][number];

/** Checks of the time of this course, oldest first. */
function checksOf({ state }: OfficeInput): readonly Check[] {
  const fromMs = state.course.setUp?.atMs ?? 0;
  return [...state.shop.stations.values()]
    .flatMap((s) => s.checks)
    .filter((c) => c.atMs >= fromMs)
    .sort((a, b) => a.atMs - b.atMs);
}

/** Machines that were worked at, by day, as far as steps tell. */
function usedByDay(state: ClassState, civil: CivilOf): ReadonlyMap<string, ReadonlySet<string>> {
  const machines = new Set(state.route.stations.filter((s) => !isFreeKey(s.key)).map((s) => s.id));
  const used = new Map<string, Set<string>>();
  for (const b of buildsOf(state)) {
    const plan = planOf(state, b.facts);
    for (const [op, o] of b.facts.operations)
      for (const [partId, part] of o.parts) {
        const at = stationOfWork(plan, op, partId, part);
        if (part.doneMs === undefined || at === undefined || !machines.has(at)) continue;
        const { date } = civil(part.doneMs);
        used.set(date, (used.get(date) ?? new Set()).add(at));
      }
  }
  return used;
}

const notRight = (state: ClassState, c: Check): string =>
  `${stationName(state, c.station)}: ${c.note ?? (c.state === 'broken' ? 'not to be used' : 'to be looked at')}`;

/**
 * The daily checks of machines, a line a day: how many, by whom, what was not right, what was used without one.
 *
 * @source common practice, no published source
 */
export function machineDaysTable(input: OfficeInput): OfficeTable {
  const { state, civil } = input;
  const checks = checksOf(input);
  const used = usedByDay(state, civil);
  const byDay = new Map<string, Check[]>();
  for (const c of checks) {
    const { date } = civil(c.atMs);
    byDay.set(date, [...(byDay.get(date) ?? []), c]);
  }
  const days = [...new Set([...byDay.keys(), ...used.keys()])].sort().reverse();
  const rows = days.map((date): OfficeCell[] => {
    const list = byDay.get(date) ?? [];
    const checked = new Set(list.map((c) => c.station));
    const unchecked = [...(used.get(date) ?? [])].filter((s) => !checked.has(s));
    return [
      date,
      checked.size,
      [...new Set(list.map((c) => personName(state, c.by)))].join(', '),
      list
        .filter((c) => c.state !== 'met')
        .map((c) => notRight(state, c))
        .join('; '),
      unchecked.map((s) => stationName(state, s)).join(', '),
    ];
  });
  return {
    id: 'machine-days',
    title: 'Machine checks, day by day',
    says: 'Guard, stop, extraction, blade or belt before the first cut of a day. Used without a check: a step was marked done at that machine on that day, or marked later than it was done. The maker’s manual and local codes come first.',
    columns: [
      words('date', 'Day', 1),
      numbers('machines_checked', 'Checked', 0, 0.7),
      words('by', 'By', 1.2),
      words('not_right', 'What was not right', 3),
      words('used_without_check', 'Used without a check', 3),
    ],
    rows,
    none: 'No machine was checked yet.',
  };
}

/**
 * Every check of a machine, the newest first.
 *
 * @source common practice, no published source
 */
export function machineChecksTable(input: OfficeInput): OfficeTable {
  const { state, civil } = input;
  const rows = [...checksOf(input)].reverse().map((c): OfficeCell[] => {
    const at = civil(c.atMs);
    return [
      at.date,
      at.time,
      stationName(state, c.station),
      c.state,
      (c.checked ?? []).join(', '),
      c.note,
      personName(state, c.by),
    ];
  });
  return {
    id: 'machine-checks',
    title: 'Machine checks, one by one',
    says: 'Every check as it was entered, the newest first.',
    columns: [
      words('date', 'Day', 1.1),
      words('time', 'Time', 0.7),
      words('machine', 'Machine', 2),
      words('state', 'Found', 0.9),
      words('checked', 'Looked at', 2),
      words('note', 'What was not right', 2.6),
      words('by', 'By', 1.2),
    ],
    rows,
    none: 'No machine was checked yet.',
  };
}
