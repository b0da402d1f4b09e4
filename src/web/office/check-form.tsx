import { type FormEvent, useState } from 'react';
import { useSearch } from 'wouter';
import type { ClassState } from '../../course/class-state.ts';
import { capital } from '../../quantity/words.ts';
import { isFreeKey } from '../../route/route-check.ts';
import { shopStream } from '../class/acts.ts';
import { placeName } from '../class/class-names.ts';
import { day } from '../class/clock-words.ts';
import { Says } from '../parts/says.tsx';
import { enter } from '../record/record.ts';

const FOUND = [
  ['met', 'in order'],
  ['doubtful', 'something to look at; it may be used'],
  ['broken', 'not to be used'],
] as const;

/** Enters the check of a machine, with what was not right; a machine that may not be used is out of order from then on. */
export function CheckForm({ state, isDemo }: { readonly state: ClassState; readonly isDemo: boolean }) {
  const machines = state.route.stations.filter((s) => !isFreeKey(s.key));
  const asked = new URLSearchParams(useSearch()).get('station');
  const [station, setStation] = useState(machines.find((s) => s.id === asked)?.id ?? machines[0]?.id ?? '');
  const [found, setFound] = useState<(typeof FOUND)[number][0]>(asked === null ? 'met' : 'doubtful');
  const [note, setNote] = useState('');
  const [says, setSays] = useState('');
  const keep = async (event: FormEvent) => {
    event.preventDefault();
    const words = note.trim();
    if (found !== 'met' && words === '') return setSays('Write what was not right first.');
    const stream = shopStream(isDemo);
    const body = { station, state: found, ...(words === '' ? {} : { note: words }) };
    await enter([
      { stream, kind: 'machine-checked', body },
      ...(found === 'broken'
        ? [{ stream, kind: 'station-out-of-order' as const, body: { station, reason: words } }]
        : []),
    ]);
    setNote('');
    setSays(
      found === 'broken'
        ? 'Kept. It is out of order until you say below that it is in order again.'
        : 'Kept.',
    );
  };
  return (
    <form className="office-form" onSubmit={keep}>
      <p className="wide">
        <strong>Enter a check.</strong> Guard, stop, extraction, blade or belt.
      </p>
      <label>
        Machine
        <select className="pick" value={station} onChange={(e) => setStation(e.target.value)}>
          {machines.map((s) => (
            <option key={s.id} value={s.id}>
              {s.name}
            </option>
          ))}
        </select>
      </label>
      <label>
        Found
        <select className="pick" value={found} onChange={(e) => setFound(e.target.value as typeof found)}>
          {FOUND.map(([value, words]) => (
            <option key={value} value={value}>
              {words}
            </option>
          ))}
        </select>
      </label>
      <label className="wide">
        What was not right
        <input className="fld" maxLength={500} value={note} onChange={(e) => setNote(e.target.value)} />
      </label>
      <button type="submit" className="btn">
        Keep check
      </button>
      <Says words={says} />
    </form>
  );
}

/** Machines that are out of order, each with the way back. */
export function OutOfOrder({ state, isDemo }: { readonly state: ClassState; readonly isDemo: boolean }) {
  const out = [...state.shop.stations].flatMap(([id, s]) => (s.outOfOrder ? [{ id, ...s.outOfOrder }] : []));
  if (out.length === 0) return null;
  return (
    <ul className="out-of-order">
      {out.map((o) => (
        <li key={o.id}>
          <span>
            <strong>{capital(placeName(state, o.id))} is out of order</strong> since {day(o.atMs)}: {o.reason}
          </span>
          <button
            type="button"
            className="btn"
            onClick={() =>
              void enter([{ stream: shopStream(isDemo), kind: 'station-in-order', body: { station: o.id } }])
            }
          >
            In order again
          </button>
        </li>
      ))}
    </ul>
  );
}
