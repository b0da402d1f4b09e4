import { type FormEvent, useState } from 'react';
import type { ClassState } from '../../course/class-state.ts';
import { gapWords, keyRuleOf, type KeyRule as Rule } from '../../course/keys.ts';
import { shopStream } from '../class/acts.ts';
import { Says } from '../parts/says.tsx';
import { useGuardedAt } from '../record/guard.ts';
import { enter } from '../record/record.ts';

const GAPS: readonly Rule['gap'][] = ['away', 'unused'];

/** A whole number in a range, or undefined. */
function wholeIn(text: string, low: number, high: number): number | undefined {
  const value = Number(text.trim());
  return text.trim() !== '' && Number.isInteger(value) && value >= low && value <= high ? value : undefined;
}

/** When a key lapses in this shop. */
export function KeyRule({ state, isDemo }: { readonly state: ClassState; readonly isDemo: boolean }) {
  const rule = keyRuleOf(state);
  const [months, setMonths] = useState(String(rule.lapsesAfterMonths));
  const [weeks, setWeeks] = useState(String(rule.lapsesAfterGapWeeks));
  const [gap, setGap] = useState(rule.gap);
  const [says, setSays] = useState('');
  const isShut = useGuardedAt() !== undefined;
  const keep = async (event: FormEvent) => {
    event.preventDefault();
    const lapsesAfterMonths = wholeIn(months, 1, 120);
    const lapsesAfterGapWeeks = wholeIn(weeks, 1, 520);
    if (lapsesAfterMonths === undefined)
      return setSays(`Months is "${months}"; type a whole number between 1 and 120.`);
    if (lapsesAfterGapWeeks === undefined)
      return setSays(`Weeks is "${weeks}"; type a whole number between 1 and 520.`);
    await enter([
      {
        stream: shopStream(isDemo),
        kind: 'key-rule-set',
        body: { lapsesAfterMonths, lapsesAfterGapWeeks, gap },
      },
    ]);
    setSays('Kept: it holds for every key of this shop from now on.');
  };
  return (
    <section className="age-table">
      <h2 className="hd">When a key lapses</h2>
      <p>
        After an incident that names it, and after these times. Common practice to start from; your school’s
        rule decides. Weeks without a session do not count.
      </p>
      <form className="key-rule" onSubmit={keep}>
        <label>
          Months after it was given
          <input
            className="fld"
            inputMode="numeric"
            value={months}
            onChange={(e) => setMonths(e.target.value)}
          />
        </label>
        <label>
          Weeks of term
          <input
            className="fld"
            inputMode="numeric"
            value={weeks}
            onChange={(e) => setWeeks(e.target.value)}
          />
        </label>
        <label>
          In which its holder was
          <select className="pick" value={gap} onChange={(e) => setGap(e.target.value as Rule['gap'])}>
            {GAPS.map((g) => (
              <option key={g} value={g}>
                {g === 'away' ? gapWords.away : 'not at that machine'}
              </option>
            ))}
          </select>
        </label>
        <button type="submit" className="btn" disabled={isShut}>
          Keep this rule
        </button>
      </form>
      <Says words={says} />
    </section>
  );
}
