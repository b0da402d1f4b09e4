import { type Dispatch, useRef } from 'react';
import type { PlannedRoute } from '../../../route/planned-route.ts';
import { localMinute } from '../clock-words.ts';
import type { BeginForm } from './begin-form.ts';

/** What rests in clamps now, and since when. */
export function ClampsPart(props: {
  readonly form: BeginForm;
  readonly names: readonly string[];
  readonly plan: PlannedRoute;
  readonly nowMs: number;
  readonly change: Dispatch<Partial<BeginForm>>;
}) {
  const { form, names, plan, nowMs, change } = props;
  const rests = plan.operations.filter((p) => p.parts.some((part) => part.holds.length > 0)).map((p) => p.op);
  const put = (index: number, part: Partial<BeginForm['clamps'][number]>) =>
    change({ clamps: form.clamps.map((c, i) => (i === index ? { ...c, ...part } : c)) });
  const isFresh = useRef(false);
  const add = () => {
    isFresh.current = true;
    change({
      clamps: [...form.clamps, { name: names[0] ?? '', op: rests[0]?.id ?? '', since: localMinute(nowMs) }],
    });
  };
  return (
    <section className="begin-part">
      <h2 className="hd">In clamps now</h2>
      <ul className="clamps">
        {form.clamps.map((clamp, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: rows have no other name and are only added at the end
          <li key={i}>
            <select
              className="pick"
              aria-label={`In clamps ${i + 1}: whose`}
              ref={(el) => {
                // the row just added is where the keyboard goes on
                if (!el || !isFresh.current || i !== form.clamps.length - 1) return;
                isFresh.current = false;
                el.focus();
              }}
              value={clamp.name}
              onChange={(e) => put(i, { name: e.target.value })}
            >
              {names.map((n) => (
                <option key={n}>{n}</option>
              ))}
            </select>
            <select
              className="pick"
              aria-label={`In clamps ${i + 1}: what`}
              value={clamp.op}
              onChange={(e) => put(i, { op: e.target.value })}
            >
              {rests.map((op) => (
                <option key={op.id} value={op.id}>
                  {op.name}
                </option>
              ))}
            </select>
            <input
              className="fld"
              type="datetime-local"
              aria-label={`In clamps ${i + 1}: since`}
              value={clamp.since}
              onChange={(e) => put(i, { since: e.target.value })}
            />
            <button
              type="button"
              className="btn sm"
              onClick={() => change({ clamps: form.clamps.filter((_, k) => k !== i) })}
            >
              Take off
            </button>
          </li>
        ))}
      </ul>
      <button type="button" className="btn sm" disabled={names.length === 0} onClick={add}>
        Add what is in clamps
      </button>
    </section>
  );
}
