import { type FormEvent, useState } from 'react';
import type { ClassState } from '../../course/class-state.ts';
import { Says } from '../parts/says.tsx';
import type { TryEdit } from './try-edit.ts';

/** An operation of the teacher's own, put between two that are there. */
export function AddOperation({ state, tryEdit }: { readonly state: ClassState; readonly tryEdit: TryEdit }) {
  const [name, setName] = useState('');
  const [after, setAfter] = useState('');
  const [before, setBefore] = useState('');
  const [minutes, setMinutes] = useState('20');
  const [station, setStation] = useState('bench');
  const [text, setText] = useState('');
  const [says, setSays] = useState('');
  const builds = state.route.operations.filter((o) => o.kind === 'build');
  const add = (event: FormEvent) => {
    event.preventDefault();
    const likely = Number(minutes);
    if (name.trim() === '' || !(likely > 0 && likely <= 600)) {
      setSays(
        name.trim() === ''
          ? 'The step has no name yet; give it one.'
          : `The minutes are "${minutes}"; give a number between 1 and 600.`,
      );
      return;
    }
    const own = state.route.operations.filter((o) => o.id.startsWith('OWN')).length + 1;
    const fault = tryEdit({
      what: 'add',
      id: `OWN${own}`,
      name: name.trim(),
      step: builds.find((o) => o.id === after)?.step ?? builds[0]?.step ?? '',
      after: after === '' ? [] : [after],
      before: before === '' ? [] : [before],
      at: [station],
      minutes: { low: Math.round(likely * 0.6), likely, high: Math.round(likely * 1.8) },
      text: text.trim() || name.trim(),
    });
    setSays(fault ?? 'Added.');
    if (!fault) setName('');
  };
  const pick = (
    label: string,
    value: string,
    set: (v: string) => void,
    options: readonly (readonly [string, string])[],
  ) => (
    <label>
      {label}
      <select className="pick" value={value} onChange={(e) => set(e.target.value)}>
        {options.map(([id, words]) => (
          <option key={id} value={id}>
            {words}
          </option>
        ))}
      </select>
    </label>
  );
  const ops = [['', 'nothing'] as const, ...builds.map((o) => [o.id, `${o.id} ${o.name}`] as const)];
  return (
    <section>
      <h2 className="hd">A step of your own</h2>
      <form className="add-op" onSubmit={add}>
        <label>
          Name
          <input className="fld" value={name} onChange={(e) => setName(e.target.value)} />
        </label>
        {pick('After', after, setAfter, ops)}
        {pick('Before', before, setBefore, ops)}
        {pick(
          'At',
          station,
          setStation,
          state.route.stations.map((s) => [s.id, s.name] as const),
        )}
        <label>
          Likely minutes
          <input
            className="fld"
            inputMode="numeric"
            value={minutes}
            onChange={(e) => setMinutes(e.target.value)}
          />
        </label>
        <label>
          What good looks like
          <input className="fld" value={text} onChange={(e) => setText(e.target.value)} />
        </label>
        <button type="submit" className="btn">
          Add the step
        </button>
        <Says words={says} />
      </form>
    </section>
  );
}
