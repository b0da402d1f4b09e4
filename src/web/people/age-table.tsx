import { useState } from 'react';
import type { ClassState } from '../../course/class-state.ts';
import { ageWord } from '../../course/keys.ts';
import { capital } from '../../quantity/words.ts';
import type { AgeBand } from '../../route/route-types.ts';
import { shopStream } from '../class/acts.ts';
import { useGuardedAt } from '../record/guard.ts';
import { enter } from '../record/record.ts';
import { BANDS, isKeyed } from './people-words.ts';

const WORDS = ['alone', 'adult beside', 'teacher does it', 'never'] as const;

/** The school's own table: station by age band. */
export function AgeTable({ state, isDemo }: { readonly state: ClassState; readonly isDemo: boolean }) {
  const [reason, setReason] = useState('');
  const isShut = useGuardedAt() !== undefined;
  const stations = state.route.stations.filter(
    (s) => isKeyed(s.key) || s.id in state.route.ageRules.byStation,
  );
  const set = (station: string, band: AgeBand, word: (typeof WORDS)[number]) =>
    enter([
      {
        stream: shopStream(isDemo),
        kind: 'age-rule-set',
        body: { station, band, word, ...(reason.trim() ? { reason: reason.trim() } : {}) },
      },
    ]);
  return (
    <section className="age-table">
      <h2 className="hd">Who may use what, by age</h2>
      <p>
        Common practice to start from; your school’s rule decides, and local law stands above both. A consent
        not given blocks every station with a key.
      </p>
      <label>
        Reason the school gives, kept with what you change next
        <input className="fld" value={reason} onChange={(e) => setReason(e.target.value)} />
      </label>
      <div className="table-scroll">
        <table>
          <thead>
            <tr>
              <th scope="col">Station</th>
              {BANDS.map(([band, words]) => (
                <th key={band} scope="col">
                  {capital(words)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {stations.map((s) => (
              <tr key={s.id}>
                <th scope="row">{capital(s.name)}</th>
                {BANDS.map(([band, words]) => {
                  const now = ageWord(state, s.id, band);
                  return (
                    <td key={band}>
                      <select
                        className="pick"
                        aria-label={`${s.name}, ${capital(words)}`}
                        title={now.reason ?? ''}
                        value={now.word}
                        disabled={isShut}
                        onChange={(e) => void set(s.id, band, e.target.value as (typeof WORDS)[number])}
                      >
                        {WORDS.map((w) => (
                          <option key={w} value={w}>
                            {w}
                          </option>
                        ))}
                      </select>
                    </td>
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}
