import { type FormEvent, useState } from 'react';
import type { ClassState } from '../../course/class-state.ts';
import { provedOffset } from '../../course/station-batch.ts';
import { isFinding } from '../../quantity/finding.ts';
import { parseLength } from '../../quantity/length.ts';
import { formatDecimal, formatMm } from '../../quantity/print-length.ts';
import { fitOffset } from '../../settings/offset-line.ts';
import { Says } from '../parts/says.tsx';
import { enter } from '../record/record.ts';
import { shopStream } from './acts.ts';
import { day } from './clock-words.ts';

/** Numbers the strips are fed at, mm. */
const TYPED = [4, 3.2, 2.4] as const;

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
  const proved = provedOffset(fact);
  const [measured, setMeasured] = useState<readonly string[]>(['', '', '']);
  const [says, setSays] = useState('');
  const keep = async (event: FormEvent) => {
    event.preventDefault();
    const points: { typed: number; measured: number }[] = [];
    for (const [i, typed] of TYPED.entries()) {
      const read = parseLength(measured[i] ?? '', {
        unit: 'mm',
        lowMm: typed - 1,
        highMm: typed + 1,
        what: `The strip fed at ${typed.toFixed(2)}`,
      });
      if (read.kind !== 'length') {
        setSays(read.text);
        return;
      }
      points.push({ typed, measured: read.valueMm });
    }
    const fitted = fitOffset(points.map((p) => ({ typedMm: p.typed, measuredMm: p.measured })));
    if (isFinding(fitted)) {
      setSays(fitted.text);
      return;
    }
    await enter([
      { stream: shopStream(isDemo), kind: 'station-proved', body: { station, unit: 'mm', points } },
    ]);
    setMeasured(['', '', '']);
    setSays(
      fitted.needsService
        ? `A strip lies ${formatMm(fitted.worstMm, 2)} mm off the line: the machine wants service.`
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
            last {day(fact.proved.atMs)}: measured = {formatDecimal(proved.line.alphaMm, 2)} +{' '}
            {formatDecimal(proved.line.beta, 3)} × typed
          </span>
        )}
      </summary>
      <form onSubmit={keep}>
        {TYPED.map((typed, i) => (
          <label key={typed}>
            Type {typed.toFixed(2)}, feed a strip: it measures, mm
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
