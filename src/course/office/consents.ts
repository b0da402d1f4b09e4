import type { ClassState, Consent } from '../class-state.ts';
import { bandWords } from '../keys.ts';
import { type OfficeCell, type OfficeInput, type OfficeTable, personName, words } from './office-table.ts';

const answer = (consent: Consent | undefined, on: string | undefined): string =>
  consent === 'yes' ? (on === undefined ? 'yes, without a date' : `yes, ${on}`) : (consent ?? 'not asked');

function rowOf(state: ClassState, person: string, role: string, number: number | undefined): OfficeCell[] {
  const p = state.people.get(person);
  return [
    number,
    personName(state, person),
    role,
    p?.ageBand === undefined ? 'not entered' : bandWords[p.ageBand],
    answer(p?.machines, p?.machinesOn),
    answer(p?.photos, p?.photosOn),
  ];
}

/**
 * Who agreed to machines and photos, when, and the age band; nothing else about a person.
 *
 * @source common practice, no published source
 */
export function consentTable({ state }: OfficeInput): OfficeTable {
  const learners = [...state.course.learners.values()]
    .filter((l) => l.removed === undefined)
    .sort((a, b) => (a.number ?? 0) - (b.number ?? 0));
  return {
    id: 'consent',
    title: 'Consent',
    says: 'For somebody under age the answer is that of whoever may give it. Without a yes for machines nobody works at one; without a yes for photos none is taken. Answers are changed on the page of people.',
    columns: [
      { id: 'number', label: 'No.', kind: 'number', share: 0.4 },
      words('name', 'Name', 2),
      words('role', 'Role', 1.2),
      words('age_band', 'Age', 1.2),
      words('machines', 'Machines', 2),
      words('photos', 'Photos', 2),
    ],
    rows: [
      ...learners.map((l) => rowOf(state, l.person, 'learner', l.number)),
      ...state.course.helpers.map((h) => rowOf(state, h, 'helper', undefined)),
    ],
    none: 'Nobody is in this course yet.',
  };
}
