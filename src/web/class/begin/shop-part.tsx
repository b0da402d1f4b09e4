import { type Dispatch, useRef } from 'react';
import { JIG_KINDS, type JigKind } from '../../../shop/shop.ts';
import type { BeginForm } from './begin-form.ts';

const KIND_LIST = Object.keys(JIG_KINDS) as readonly JigKind[];

/** What the sander really gives, and jigs that give one size and nothing else. */
export function ShopPart(props: { readonly form: BeginForm; readonly change: Dispatch<Partial<BeginForm>> }) {
  const { form, change } = props;
  const isFresh = useRef(false);
  const prove = (index: number, part: Partial<BeginForm['proved'][number]>) =>
    change({ proved: form.proved.map((p, i) => (i === index ? { ...p, ...part } : p)) });
  const jig = (index: number, part: Partial<BeginForm['jigs'][number]>) =>
    change({ jigs: form.jigs.map((j, i) => (i === index ? { ...j, ...part } : j)) });
  return (
    <section className="begin-part">
      <h2 className="hd">
        Machines and fixed jigs <span className="q">may follow later</span>
      </h2>
      <table className="proofs">
        <caption>Thickness sander: what was typed, what came out, {form.units}</caption>
        <tbody>
          {(['typed', 'measured'] as const).map((what) => (
            <tr key={what}>
              <th scope="row">{what === 'typed' ? 'Typed' : 'Came out'}</th>
              {form.proved.map((p, i) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: always the same three strips
                <td key={i}>
                  <input
                    className="fld"
                    inputMode="decimal"
                    aria-label={`Strip ${i + 1}, ${what === 'typed' ? 'typed' : 'came out'}`}
                    value={p[what]}
                    onChange={(e) => prove(i, { [what]: e.target.value })}
                  />
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      <ul className="clamps">
        {form.jigs.map((j, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: rows have no other name and are only added at the end
          <li key={i}>
            <select
              className="pick"
              aria-label={`Jig ${i + 1}: kind`}
              ref={(el) => {
                // the row just added is where the keyboard goes on
                if (!el || !isFresh.current || i !== form.jigs.length - 1) return;
                isFresh.current = false;
                el.focus();
              }}
              value={j.kind}
              onChange={(e) => jig(i, { kind: e.target.value as JigKind })}
            >
              {KIND_LIST.map((kind) => (
                <option key={kind} value={kind}>
                  {JIG_KINDS[kind].label}: {JIG_KINDS[kind].sets}
                </option>
              ))}
            </select>
            <input
              className="fld"
              aria-label={`Jig ${i + 1}: the size it really gives`}
              placeholder={form.units}
              value={j.size}
              onChange={(e) => jig(i, { size: e.target.value })}
            />
            <button
              type="button"
              className="btn sm"
              onClick={() => change({ jigs: form.jigs.filter((_, k) => k !== i) })}
            >
              Take off
            </button>
          </li>
        ))}
      </ul>
      <button
        type="button"
        className="btn sm"
        onClick={() => {
          isFresh.current = true;
          change({ jigs: [...form.jigs, { kind: 'hole-cutter', size: '' }] });
        }}
      >
        Add a fixed jig
      </button>
    </section>
  );
}
