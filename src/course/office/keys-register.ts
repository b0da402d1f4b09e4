import { isFreeKey } from '../../route/route-check.ts';
import { gapWords, keyRuleOf, keyState } from '../keys.ts';
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
  const rule = keyRuleOf(state);
  const learners = [...state.course.learners.values()]
    .filter((l) => l.removed === undefined)
    .sort((a, b) => (a.number ?? 0) - (b.number ?? 0));
  const people = [...learners.map((l) => l.person), ...state.course.helpers];
  const whySoon = (weeks: number): string | undefined =>
    weeks > 0 && weeks >= rule.lapsesAfterGapWeeks - 2
      ? `lapses after ${rule.lapsesAfterGapWeeks} weeks of term ${gapWords[rule.gap]}`
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
            now.state === 'held' ? now.gapWeeks : undefined,
            now.state === 'held' ? whySoon(now.gapWeeks) : now.reason,
          ],
        ];
      }),
    );
  return {
    id: 'keys',
    title: 'Keys',
    says: `A key is given after a watched cut. It lapses ${rule.lapsesAfterMonths} months after it was given, after ${rule.lapsesAfterGapWeeks} weeks of term ${gapWords[rule.gap]}, and after an incident that names it. The shop’s own rules and local codes come first.`,
    columns: [
      words('key', 'Key', 2.4),
      words('name', 'Who', 1.2),
      words('state', 'Now', 0.9),
      words('given_on', 'Since', 1.1),
      words('given_by', 'Given by', 1.2),
      words('lapses_on', 'Lapses by age', 1.2),
      numbers('gap_weeks', rule.gap === 'away' ? 'Weeks away' : 'Weeks unused', 0, 1),
      words('why', 'Why', 2.6),
    ],
    rows,
    none: 'No key was given yet.',
  };
}
