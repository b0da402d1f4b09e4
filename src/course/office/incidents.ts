import { buildsOf, type ClassState } from '../class-state.ts';
import type { IncidentFact } from '../stream-facts.ts';
import {
  type OfficeCell,
  type OfficeInput,
  type OfficeTable,
  personName,
  stationName,
  words,
} from './office-table.ts';

/** An incident with the stream it was entered in. */
export interface KeptIncident extends IncidentFact {
  readonly stream: `build:${string}` | `course:${string}` | `shop:${string}`;
}

/**
 * Incidents and near misses since the course began: of the shop, of the course, of its builds; the newest first.
 *
 * @source arithmetic
 */
export function incidentsOf(state: ClassState): readonly KeptIncident[] {
  const fromMs = state.course.setUp?.atMs ?? 0;
  const of = (stream: KeptIncident['stream'], list: readonly IncidentFact[]): KeptIncident[] =>
    list.map((i) => ({ ...i, stream }));
  return [
    ...of(`shop:${state.shop.shop ?? 'main'}`, state.shop.incidents),
    ...of(`course:${state.course.course ?? ''}`, state.course.incidents),
    ...buildsOf(state).flatMap((b) => of(`build:${b.id}`, b.facts.incidents)),
  ]
    .filter((i) => i.atMs >= fromMs)
    .sort((a, b) => b.atMs - a.atMs);
}

/** The sentence that stands at the form and over the table. */
export const NO_HEALTH_WORDS =
  'Say what happened and what was done about the cause. No names, no injuries, no treatment: such things belong in your school’s own accident book.';

/**
 * Incidents and near misses without names and without anything about health: first aid is told as yes or no.
 *
 * @source common practice, no published source
 */
export function incidentsTable({ state, civil }: OfficeInput): OfficeTable {
  const rows = incidentsOf(state).map((i): OfficeCell[] => {
    const at = civil(i.atMs);
    return [
      at.date,
      at.time,
      i.severity,
      i.station === undefined ? undefined : stationName(state, i.station),
      i.text,
      i.followUp,
      i.closed === undefined ? 'open' : `closed: ${i.closed}`,
      personName(state, i.by),
    ];
  });
  return {
    id: 'incidents',
    title: 'Incidents and near misses',
    says: NO_HEALTH_WORDS,
    columns: [
      words('date', 'Day', 1.1),
      words('time', 'Time', 0.7),
      words('kind', 'Kind', 1),
      words('where', 'Where', 1.3),
      words('what_happened', 'What happened', 3.4),
      words('follow_up', 'Follow-up', 2),
      words('state', 'Now', 2),
      words('entered_by', 'Entered by', 1.1),
    ],
    rows,
    none: 'No incident and no near miss was entered.',
  };
}
