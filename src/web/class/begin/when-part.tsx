import type { Dispatch } from 'react';
import type { BeginForm } from './begin-form.ts';

/** The first session, how long, how many, a week apart. */
export function WhenPart(props: { readonly form: BeginForm; readonly change: Dispatch<Partial<BeginForm>> }) {
  const { form, change } = props;
  return (
    <section className="begin-part">
      <h2 className="hd">
        Sessions <span className="q">a week apart</span>
      </h2>
      <div className="whens">
        <label>
          The next one
          <input
            className="fld"
            type="datetime-local"
            value={form.firstStart}
            onChange={(e) => change({ firstStart: e.target.value })}
          />
        </label>
        <label>
          Minutes
          <input
            className="fld"
            inputMode="numeric"
            value={form.minutes}
            onChange={(e) => change({ minutes: e.target.value })}
          />
        </label>
        <label>
          How many
          <input
            className="fld"
            inputMode="numeric"
            value={form.count}
            onChange={(e) => change({ count: e.target.value })}
          />
        </label>
      </div>
      <label className="tick">
        <input
          type="checkbox"
          checked={form.isPlain}
          onChange={(e) => change({ isPlain: e.target.checked })}
        />
        Plain first instrument: no binding, wipe-on finish
      </label>
    </section>
  );
}
