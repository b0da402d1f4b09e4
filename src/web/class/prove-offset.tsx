import { type FormEvent, useState } from 'react';
import type { ClassState } from '../../course/class-state.ts';
import { provedOffset, sanderOf, shopOfCourse } from '../../course/shop-of-record.ts';
import { isFinding } from '../../quantity/finding.ts';
import { parseLength } from '../../quantity/length.ts';
import { formatDecimal, formatInches } from '../../quantity/print-length.ts';
import { MM_PER_IN } from '../../quantity/units.ts';
import { fitOffset } from '../../settings/offset-line.ts';
import { measuredText } from '../parts/amount-text.ts';
import { Says } from '../parts/says.tsx';
import { enter } from '../record/record.ts';
import { shopStream } from './acts.ts';
import { day } from './clock-words.ts';

/** Numbers the strips are fed at, in the machine's own unit. */
const TYPED = { mm: [4, 3.2, 2.4], in: [0.16, 0.125, 0.095] } as const;

/** Proving a machine again: three strips fed at three numbers, three typed measures; all numbers still to come are corrected. */
export function ProveOffset({
  state,
  station,
  isDemo,
}: {
  readonly state: ClassState;
  readonly station: string;
  readonly isDemo: boolean;
}) {
  const fact = state.shop.stations.get(station);
  const { unit } = sanderOf(shopOfCourse(state));
  const inMm = unit === 'in' ? MM_PER_IN : 1;
  const shown = (value: number): string => (unit === 'in' ? formatInches(value * inMm) : value.toFixed(2));
  const proved = provedOffset(fact);
  const [measured, setMeasured] = useState<readonly string[]>(['', '', '']);
  const [says, setSays] = useState('');
  const keep = async (event: FormEvent) => {
    event.preventDefault();
    const points: { typed: number; measured: number }[] = [];
    for (const [i, typed] of TYPED[unit].entries()) {
      const read = parseLength(measured[i] ?? '', {
        unit,
        lowMm: typed * inMm - 1,
        highMm: typed * inMm + 1,
        what: `The strip fed at ${shown(typed)}`,
      });
      if (read.kind !== 'length') {
        setSays(read.text);
        return;
      }
      points.push({ typed, measured: read.valueMm / inMm });
    }
    const fitted = fitOffset(points.map((p) => ({ typedMm: p.typed * inMm, measuredMm: p.measured * inMm })));
    if (isFinding(fitted)) {
      setSays(fitted.text);
      return;
    }
    await enter([{ stream: shopStream(isDemo), kind: 'station-proved', body: { station, unit, points } }]);
    setMeasured(['', '', '']);
    setSays(
      fitted.needsService
        ? `A strip lies ${measuredText(fitted.worstMm, 'mm', unit)} off the line: the machine wants service.`
        : 'Proved. All numbers still to come are corrected.',
    );
  };
  return (
    <details className="prove">
      <summary>
        Prove the offset again
        {proved && fact?.proved && (
          <span className="q">
            {' '}
            last {day(fact.proved.atMs)}: measured ={' '}
            {unit === 'in' ? formatInches(proved.line.alphaMm) : formatDecimal(proved.line.alphaMm, 2)} {unit}{' '}
            + {formatDecimal(proved.line.beta, 3)} × typed
          </span>
        )}
      </summary>
      <form onSubmit={keep}>
        {TYPED[unit].map((typed, i) => (
          <label key={typed}>
            Type {shown(typed)}, feed a strip: it measures, {unit}
            <input
              className="fld"
              inputMode="decimal"
              autoComplete="off"
              value={measured[i] ?? ''}
              onChange={(e) => setMeasured(measured.map((m, j) => (j === i ? e.target.value : m)))}
            />
          </label>
        ))}
        <button type="submit" className="btn">
          Keep the proof
        </button>
        <Says words={says} />
      </form>
    </details>
  );
}
