import { isFreeKey } from '../../route/route-check.ts';
import { keyState } from '../keys.ts';
import {
  numbers,
  type OfficeCell,
  type OfficeInput,
  type OfficeTable,
  personName,
  words,
} from './office-table.ts';

/**
 * The register of keys: who may use which machine alone since when, by whom it was given, when and why it lapses.
 *
 * @source common practice, no published source
 */
export function keysTable({ state, nowMs, civil }: OfficeInput): OfficeTable {
  const rule = state.shop.keyRule ?? state.route.keyRule;
  const learners = [...state.course.learners.values()]
    .filter((l) => l.removed === undefined)
    .sort((a, b) => (a.number ?? 0) - (b.number ?? 0));
  const people = [...learners.map((l) => l.person), ...state.course.helpers];
  const whySoon = (weeks: number): string | undefined =>
    weeks >= rule.lapsesAfterGapWeeks - 2
      ? `lapses after ${rule.lapsesAfterGapWeeks} weeks unused`
      : undefined;
  const rows = state.route.keys
    .filter((k) => !isFreeKey(k.id))
    .flatMap((key) =>
      people.flatMap((person): OfficeCell[][] => {
        const fact = state.shop.keys.get(`${person}/${key.id}`);
        const now = keyState(state, person, key.id, nowMs);
        if (!fact || now.state === 'not given') return [];
        return [
          [
            key.text,
            personName(state, person),
            now.state,
            civil(fact.givenMs).date,
            personName(state, fact.by),
            now.state === 'held' ? civil(now.untilMs).date : undefined,
            now.state === 'held' ? now.weeksUnused : undefined,
            now.state === 'held' ? whySoon(now.weeksUnused) : now.reason,
          ],
        ];
      }),
    );
  return {
    id: 'keys',
    title: 'Keys',
    says: `A key is given after a watched cut. It lapses ${rule.lapsesAfterMonths} months after it was given, after ${rule.lapsesAfterGapWeeks} weeks of term without use, and after an incident that names it. The shop’s own rules and local codes come first.`,
    columns: [
      words('key', 'Key', 2.4),
      words('name', 'Who', 1.2),
      words('state', 'Now', 0.9),
      words('given_on', 'Since', 1.1),
      words('given_by', 'Given by', 1.2),
      words('lapses_on', 'Lapses by age', 1.2),
      numbers('weeks_unused', 'Weeks unused', 0, 1),
      words('why', 'Why', 2.6),
    ],
    rows,
    none: 'No key was given yet.',
  };
}
