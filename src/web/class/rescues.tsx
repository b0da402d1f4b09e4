import { useCallback, useState } from 'react';
import type { BuildFacts } from '../../course/build-facts.ts';
import { type ClassState, planOf } from '../../course/class-state.ts';
import { pieceOfOperation, replacementOf } from '../../course/replace-part.ts';
import type { Rescue } from '../../course/rescue.ts';
import { rescuesFor } from '../../course/rescues-for.ts';
import { capital } from '../../quantity/words.ts';
import type { Reading } from '../../route/route-types.ts';
import { measuredText } from '../parts/amount-text.ts';
import { type Entry, enter } from '../record/record.ts';
import type { BuildComputed } from './build-context.ts';
import { PlateBars } from './plate-bars.tsx';

/** What a rescue is computed from and entered into. */
export interface RescuesProps {
  readonly state: ClassState;
  readonly build: string;
  readonly facts: BuildFacts;
  readonly computed: BuildComputed;
  readonly op: string;
  readonly reading: Reading;
  readonly value: number;
  /** Only the teacher decides. */
  readonly canDecide: boolean;
}

/** What to do about a reading that is not met: computed from this build. */
export function Rescues(props: RescuesProps) {
  const { state, facts, computed, op, reading, value, canDecide } = props;
  const found = rescuesFor(
    { ...computed.judge, plan: planOf(state, facts), pattern: computed.pattern },
    op,
    reading,
    value,
  );
  const [byPlate, setByPlate] = useState<{ readonly at: number; readonly rescue: Rescue }>();
  const keepFound = useCallback((rescue: Rescue) => setByPlate({ at: value, rescue }), [value]);
  const lastMs = facts.readings.get(reading.id)?.at(-1)?.atMs ?? 0;
  const decided = facts.repairs.find((r) => r.op === op && r.atMs >= lastMs);
  if (found.length === 0) return null;
  const all =
    byPlate && byPlate.at === value ? [found[0] as Rescue, byPlate.rescue, ...found.slice(1)] : found;
  return (
    <ul className="rescues">
      {all.map((r) => (
        <li className="rescue" key={r.title + r.sentence}>
          <strong>
            {capital(r.action)}: {r.title}
          </strong>
          <p>{r.sentence}</p>
          {r.numbers.length > 0 && (
            <dl>
              {r.numbers.map((n) => (
                <div key={n.label}>
                  <dt>{capital(n.label)}</dt>
                  <dd>
                    {measuredText(
                      // inches are thousandths already
                      n.unit === 'mm' && computed.judge.lengthUnit === 'in'
                        ? n.value
                        : Number(n.value.toFixed(2)),
                      n.unit,
                      computed.judge.lengthUnit,
                    )}
                  </dd>
                </div>
              ))}
            </dl>
          )}
          {r.thinTop && byPlate?.at !== value && (
            <PlateBars thin={r.thinTop} lengthUnit={computed.judge.lengthUnit} onFound={keepFound} />
          )}
          {canDecide && !decided && (
            <button type="button" className="btn sm" onClick={() => void enter(decisionEntries(props, r))}>
              Decide: {r.decision}
            </button>
          )}
        </li>
      ))}
      {decided && <li className="q">Decided: {decided.decision}.</li>}
    </ul>
  );
}

/** The decision, the numbers that hold for this build from now on, and what has to be made again. */
function decisionEntries(
  { state, build, facts, computed, op, reading }: RescuesProps,
  r: Rescue,
): readonly Entry[] {
  const stream = `build:${build}` as const;
  const entries: Entry[] = [
    {
      stream,
      kind: 'repair-decided',
      body: { op, fault: reading.name, decision: r.decision, how: `${r.title}: ${r.sentence}` },
    },
    ...r.numbers.flatMap((n): readonly Entry[] =>
      n.figure === undefined || r.decision === 'replace'
        ? []
        : [
            {
              stream,
              kind: 'own-figure-set',
              body: { figure: n.figure, value: n.value, unit: n.unit, reason: r.title },
            },
          ],
    ),
  ];
  const piece = r.decision === 'replace' ? pieceOfOperation(op) : undefined;
  if (!piece) return entries;
  const again = replacementOf(planOf(state, facts), facts, piece, computed.pattern.stock);
  return [
    ...entries,
    {
      stream,
      kind: 'part-replaced',
      body: {
        op,
        undone: [...again.undone],
        reason: r.title,
        stock: again.stock.map((s) => s.part.replace(/[^A-Za-z0-9]+/g, '-')),
        minutes: again.likelyMin,
      },
    },
  ];
}
