import { minutesOfSession } from '../attendance.ts';
import { type ClassState, sessionsOf } from '../class-state.ts';
import type { SessionFact } from '../course-facts.ts';
import {
  numbers,
  type OfficeCell,
  type OfficeInput,
  type OfficeTable,
  personName,
  words,
} from './office-table.ts';

/** Sessions that have begun. @source arithmetic */
export function sessionsHeld(state: ClassState, nowMs: number): readonly SessionFact[] {
  return sessionsOf(state).filter((s) => (s.openedMs ?? s.startMs) <= nowMs);
}

const rounded = (hours: number): number => Math.round(hours * 10) / 10;

const months = 'Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec'.split(' ');

/** `3 Nov` of `2026-11-03`. @source arithmetic */
export function shortDay(date: string): string {
  return `${Number(date.slice(8, 10))} ${months[Number(date.slice(5, 7)) - 1]}`;
}

interface Member {
  readonly person: string;
  readonly number?: number;
  readonly note: string;
}

/** Learners in the order of their numbers, those who left too, then helpers. */
function members(state: ClassState): readonly Member[] {
  const learners = [...state.course.learners.values()]
    .sort((a, b) => (a.number ?? 0) - (b.number ?? 0))
    .map((l) => ({
      person: l.person,
      ...(l.number === undefined ? {} : { number: l.number }),
      note: l.removed === undefined ? '' : ', left the course',
    }));
  return [...learners, ...state.course.helpers.map((person) => ({ person, note: ', helper' }))];
}

/**
 * The register: who was here when and for how many hours.
 *
 * @source arithmetic
 */
export function hoursTable({ state, nowMs, civil }: OfficeInput): OfficeTable {
  const sessions = sessionsHeld(state, nowMs);
  const rows = members(state).map((m): OfficeCell[] => {
    const cells = sessions.map((s): OfficeCell => {
      const here = s.here.get(m.person);
      return here === undefined ? undefined : here ? rounded(minutesOfSession(s, nowMs) / 60) : 'away';
    });
    const hours = sessions.reduce(
      (sum, s) => (s.here.get(m.person) === true ? sum + minutesOfSession(s, nowMs) / 60 : sum),
      0,
    );
    const here = sessions.filter((s) => s.here.get(m.person) === true).length;
    return [m.number, `${personName(state, m.person)}${m.note}`, here, hours, ...cells];
  });
  const hereIn = sessions.map((s) => [...s.here.values()].filter(Boolean).length);
  const days = sessions.map((s) => civil(s.startMs).date);
  const sum = (column: number): number => rows.reduce((all, r) => all + (r[column] as number), 0);
  return {
    id: 'hours',
    title: 'Hours and attendance',
    says: 'Hours from the opening to the closing of a session, or as planned where that was not entered. An empty cell: nobody said whether the person was here. The last line counts who was here.',
    columns: [
      numbers('number', 'No.', 0, 0.5),
      words('name', 'Name'),
      numbers('sessions', 'Sessions', 0, 0.8),
      numbers('hours_h', 'Hours', 1, 0.8),
      ...days.map((date, i) => ({
        id: `${date}${days.indexOf(date) === i ? '' : `-${i + 1}`}_h`,
        label: shortDay(date),
        kind: 'mark' as const,
        share: 0,
        decimals: 1,
      })),
    ],
    rows,
    sums: [undefined, 'Together', sum(2), sum(3), ...hereIn.map(String)],
    none: 'Nobody is in this course yet.',
  };
}
