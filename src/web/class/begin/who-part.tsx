import type { Dispatch } from 'react';
import type { AgeBand } from '../../../route/route-types.ts';
import { Switch } from '../../parts/switch.tsx';
import type { BeginForm } from './begin-form.ts';

interface WhoProps {
  readonly form: BeginForm;
  readonly names: readonly string[];
  readonly fault: string;
  readonly change: Dispatch<Partial<BeginForm>>;
}

const AGES: Readonly<Record<AgeBand, string>> = {
  under16: 'under 16',
  from16to17: '16 or 17',
  adult: 'adult',
};

/** What the course is called, the units of the shop, the names. */
export function WhoPart({ form, names, fault, change }: WhoProps) {
  return (
    <section className="begin-part">
      <h2 className="hd">Shop and class</h2>
      <label>
        Name of the course
        <input
          className="fld"
          value={form.name}
          placeholder="Evening class"
          autoComplete="off"
          onChange={(e) => change({ name: e.target.value })}
        />
      </label>
      <div className="pair">
        <span>Units of the shop</span>
        <Switch
          label="Units of the shop"
          options={[
            { value: 'in', words: 'inches' },
            { value: 'mm', words: 'millimetres' },
          ]}
          value={form.units}
          onChange={(units) => change({ units })}
        />
      </div>
      <label>
        First names, one on a line
        <textarea
          className="fld"
          rows={6}
          value={form.names}
          spellCheck={false}
          aria-invalid={fault !== ''}
          aria-describedby="names-say"
          onChange={(e) => change({ names: e.target.value })}
        />
      </label>
      <p id="names-say" className={fault === '' ? 'q' : 'says bad'}>
        {fault === '' ? `${names.length} ${names.length === 1 ? 'learner' : 'learners'}` : fault}
      </p>
      <label className="tick">
        <input
          type="checkbox"
          checked={form.hasConsent}
          onChange={(e) => change({ hasConsent: e.target.checked })}
        />
        All have agreed in writing to work at machines
      </label>
      {names.length > 0 && (
        <details>
          <summary>Who is left-handed, or under 18</summary>
          <ul className="whos">
            {names.map((name) => (
              <Who key={name} name={name} form={form} change={change} />
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}

function Who({ name, form, change }: Omit<WhoProps, 'names' | 'fault'> & { readonly name: string }) {
  const isLeft = form.left.includes(name);
  return (
    <li>
      <span>{name}</span>
      <label className="tick">
        <input
          type="checkbox"
          checked={isLeft}
          aria-label={`${name} is left-handed`}
          onChange={() =>
            change({ left: isLeft ? form.left.filter((n) => n !== name) : [...form.left, name] })
          }
        />
        left-handed
      </label>
      <select
        className="pick"
        aria-label={`Age of ${name}`}
        value={form.ages[name] ?? 'adult'}
        onChange={(e) => change({ ages: { ...form.ages, [name]: e.target.value as AgeBand } })}
      >
        {Object.entries(AGES).map(([band, words]) => (
          <option key={band} value={band}>
            {words}
          </option>
        ))}
      </select>
    </li>
  );
}
