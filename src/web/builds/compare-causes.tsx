import type { Cause, Effect } from '../../course/compare-builds.ts';
import type { FigureUnit } from '../../graph/figure.ts';
import type { Sheet } from '../../graph/sheet.ts';
import { usePreferences } from '../frame/preferences.ts';
import { spokenText } from '../parts/amount-text.ts';
import { stateWords } from '../parts/gate.tsx';
import { WholeTops } from './whole-tops.tsx';

const SHOWN = 4;
const EFFECTS = 4;

interface Props {
  readonly names: readonly [string, string];
  readonly causes: readonly Cause[];
  readonly sheets: readonly [Sheet, Sheet];
}

/** What the figures behind the differences say: each difference alone, put into the first build. */
export function Causes({ names, causes, sheets }: Props) {
  const item = (c: Cause) => <OneCause key={c.figure} names={names} cause={c} />;
  return (
    <section className="causes">
      <h2 className="hd">What the figures behind them say</h2>
      {causes.length === 0 ? (
        <p>Nothing that was read or chosen differently moves a figure of the instrument so far.</p>
      ) : (
        <>
          <p className="q2">
            Each difference alone, put into the sheet of {names[0]}: what {names[0]} would be with that one
            number of {names[1]}. Figures that move less than 0.3 % are left out.
          </p>
          <ul>{causes.slice(0, SHOWN).map(item)}</ul>
          {causes.length > SHOWN && (
            <details>
              <summary>{causes.length - SHOWN} more, weaker</summary>
              <ul>{causes.slice(SHOWN).map(item)}</ul>
            </details>
          )}
        </>
      )}
      <WholeTops names={names} causes={causes} sheets={sheets} />
    </section>
  );
}

function OneCause({ names, cause: c }: { readonly names: Props['names']; readonly cause: Cause }) {
  const { largeUnit } = usePreferences();
  const words = (n: number, unit: string): string => spokenText(n, unit as FigureUnit, largeUnit);
  const size = words(Math.abs(c.b - c.a), c.unit);
  return (
    <li data-cause={c.figure}>
      <h3>
        {c.label}: {size} {c.b > c.a ? 'more' : 'less'}{' '}
        <span className="q">
          in {names[1]} ({words(c.b, c.unit)} against {words(c.a, c.unit)})
        </span>
      </h3>
      <ul className="changed">
        {c.effects.slice(0, EFFECTS).map((e) => (
          <li key={e.id}>
            <span>{effectWords(e, words)}</span>
            <span className="n">
              <span className="gh">{words(e.from, e.unit)}</span> to <strong>{words(e.to, e.unit)}</strong>
            </span>
          </li>
        ))}
        {c.turned.map((t) => (
          <li key={t.id}>
            <span>{t.label}</span>
            <span>
              {stateWords[t.from].toLowerCase()} to <strong>{stateWords[t.to].toLowerCase()}</strong>
            </span>
          </li>
        ))}
      </ul>
    </li>
  );
}

function effectWords(e: Effect, words: (n: number, unit: string) => string): string {
  const change = e.to - e.from;
  return `${e.label}: ${words(Math.abs(change), e.unit)} ${change > 0 ? 'more' : 'less'}`;
}
