import { readingOf } from '../../route/reading-of.ts';
import type { BuildFacts, ReadingFact } from '../build-facts.ts';
import { buildsOf } from '../class-state.ts';
import {
  buildNumber,
  type OfficeCell,
  type OfficeInput,
  type OfficeTable,
  operationName,
  personName,
  words,
} from './office-table.ts';

const plain = (value: number, unit: string | undefined): string =>
  `${Number(value.toFixed(3))}${unit === undefined || unit === '-' ? '' : ` ${unit}`}`;

function wanted(r: ReadingFact): string {
  const { low, high } = r.verdict ?? {};
  if (low === undefined) return high === undefined ? '' : `at most ${plain(high, r.unit)}`;
  return high === undefined
    ? `at least ${plain(low, r.unit)}`
    : `${Number(low.toFixed(3))} to ${plain(high, r.unit)}`;
}

/**
 * What was decided about a reading outside its limits: a decision entered for its step afterwards, or a later reading at
 * the same spot that was inside.
 *
 * @returns undefined when nothing was entered
 * @source  common practice, no published source
 */
export function decisionAbout(facts: BuildFacts, r: ReadingFact): string | undefined {
  const repair = facts.repairs.find((x) => x.op === r.op && x.atMs >= r.atMs);
  if (repair) {
    const done = repair.decision === 'repair' && repair.doneMs === undefined ? ' (still to repair)' : '';
    return `${repair.decision}${repair.how ? `: ${repair.how}` : ''}${done}`;
  }
  const again = (facts.readings.get(r.reading) ?? []).find(
    (x) => x.spot === r.spot && x.atMs > r.atMs && x.value !== undefined && x.verdict?.state !== 'broken',
  );
  return again ? `read again: ${plain(again.value as number, again.unit)}` : undefined;
}

/** A reading outside its limits with what was decided. */
export interface OutsideDecided {
  readonly build: string;
  readonly person: string;
  readonly reading: ReadingFact;
  readonly decision?: string;
}

/** Readings that were broken when they were taken, the newest first; those of pieces given up too. @source arithmetic */
export function outsideReadings({ state }: OfficeInput): readonly OutsideDecided[] {
  return buildsOf(state)
    .flatMap(({ id, person, facts }) => {
      const kept = [...facts.readings.values()].flat().map((reading): OutsideDecided => {
        const decision = decisionAbout(facts, reading);
        return { build: id, person, reading, ...(decision === undefined ? {} : { decision }) };
      });
      const givenUp = facts.replaced.flatMap((p) =>
        p.readings.map((reading) => ({ build: id, person, reading, decision: `made again: ${p.reason}` })),
      );
      return [...kept, ...givenUp];
    })
    .filter((o) => o.reading.verdict?.state === 'broken')
    .sort((a, b) => b.reading.atMs - a.reading.atMs);
}

/** Readings outside their limits with what was decided about them. @source common practice, no published source */
export function outsideTable(input: OfficeInput): OfficeTable {
  const { state, civil } = input;
  const rows = outsideReadings(input).map(({ build, person, reading: r, decision }): OfficeCell[] => [
    civil(r.atMs).date,
    `${buildNumber(state, build) ?? ''} ${personName(state, person)}`.trim(),
    operationName(state, r.op),
    `${readingOf(state.route, r.reading)?.name ?? r.reading}${r.spot ? `, ${r.spot}` : ''}`,
    r.value === undefined ? (r.said ?? '') : plain(r.value, r.unit),
    wanted(r),
    decision ?? 'no decision entered',
  ]);
  return {
    id: 'outside',
    title: 'Readings outside their limits',
    says: 'The verdict is the one that was shown when it was read. Decided: what was entered for that step afterwards, or a later reading at the same spot that was inside.',
    columns: [
      words('date', 'Day', 1.1),
      words('build', 'Build', 1.3),
      words('operation', 'Step', 2.4),
      words('reading', 'Reading', 2.2),
      words('value', 'Read', 1),
      words('wanted', 'Wanted', 1.5),
      words('decided', 'What was decided', 2.6),
    ],
    rows,
    none: 'Nothing was read outside its limits.',
  };
}
