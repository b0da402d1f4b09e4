import { type FormEvent, useState } from 'react';
import { type MaterialLine, materialLines } from '../../course/office/costs.ts';
import type { OfficeInput } from '../../course/office/office-table.ts';
import { shopStream } from '../class/acts.ts';
import { Says } from '../parts/says.tsx';
import { enter } from '../record/record.ts';

/** Largest price the record takes. */
const MOST = 1_000_000;

/** A price as people write it, with a point or a comma; undefined when it is none. */
export function readPrice(text: string): number | undefined {
  const trimmed = text.trim().replace(',', '.');
  if (!/^\d+(\.\d{1,2})?$/.test(trimmed)) return undefined;
  const price = Number(trimmed);
  return price <= MOST ? price : undefined;
}

/** One field for each kind of rough wood, kept one by one. */
export function PriceForms({ input, isDemo }: { readonly input: OfficeInput; readonly isDemo: boolean }) {
  const lines = materialLines(input);
  const last = [...input.state.shop.prices.values()].at(-1)?.currency ?? 'EUR';
  const [currency, setCurrency] = useState(last);
  const once = lines.filter((l, i) => lines.findIndex((x) => x.key === l.key) === i);
  const priced = once.filter((l) => l.price !== undefined).length;
  if (once.length === 0) return null;
  return (
    <details className="prices">
      <summary>
        Enter prices{' '}
        <span className="q">
          {priced} of {once.length} have one
        </span>
      </summary>
      <label className="currency">
        Currency
        <input
          className="fld"
          maxLength={12}
          value={currency}
          onChange={(e) => setCurrency(e.target.value)}
        />
      </label>
      <ul>
        {once.map((l) => (
          <OnePrice key={l.key} line={l} currency={currency.trim()} isDemo={isDemo} />
        ))}
      </ul>
    </details>
  );
}

function OnePrice(props: {
  readonly line: MaterialLine;
  readonly currency: string;
  readonly isDemo: boolean;
}) {
  const { line, currency, isDemo } = props;
  const [text, setText] = useState('');
  const [says, setSays] = useState('');
  const [isFault, setFault] = useState(false);
  const say = (words: string, fault: boolean) => {
    setSays(words);
    setFault(fault);
  };
  const keep = async (event: FormEvent) => {
    event.preventDefault();
    const price = readPrice(text);
    if (price === undefined) return say(`"${text}" is no price; write it as 12.50, at most ${MOST}.`, true);
    if (currency === '') return say('Write the currency first, for example EUR.', true);
    await enter([
      {
        stream: shopStream(isDemo),
        kind: 'price-entered',
        body: { part: line.spec.part, material: line.spec.material, price, currency },
      },
    ]);
    setText('');
    say('Kept.', false);
  };
  return (
    <li>
      <form className="one-price" onSubmit={keep}>
        <label>
          <span>
            One {line.spec.part} <span className="q">{line.spec.material}</span>
          </span>
          <input
            className="fld"
            inputMode="decimal"
            autoComplete="off"
            placeholder={line.price ? `${line.price.price.toFixed(2)} ${line.price.currency}` : 'no price'}
            value={text}
            onChange={(e) => {
              setText(e.target.value);
              say('', false);
            }}
          />
        </label>
        <button type="submit" className="btn" aria-label={`Keep the price of one ${line.spec.part}`}>
          Keep
        </button>
        <Says words={says} isFault={isFault} />
      </form>
    </li>
  );
}
