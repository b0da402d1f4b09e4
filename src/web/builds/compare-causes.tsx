import type { Cause, Effect } from '../../course/compare-builds.ts';
import type { FigureUnit } from '../../graph/figure.ts';
import type { Sheet } from '../../graph/sheet.ts';
import { usePreferences } from '../frame/preferences.ts';
import { apartTexts } from '../parts/amount-text.ts';
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
  const texts = (a: number, b: number, unit: string) => apartTexts(a, b, unit as FigureUnit, largeUnit);
  const own = texts(c.a, c.b, c.unit);
  return (
    <li data-cause={c.figure}>
      <h3>
        {c.label}: {own.apart} {c.b > c.a ? 'more' : 'less'}{' '}
        <span className="q">
          in {names[1]} ({own.to} against {own.from})
        </span>
      </h3>
      <ul className="changed">
        {c.effects.slice(0, EFFECTS).map((e) => (
          <OneEffect key={e.id} effect={e} texts={texts(e.from, e.to, e.unit)} />
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

function OneEffect({
  effect: e,
  texts,
}: {
  readonly effect: Effect;
  readonly texts: ReturnType<typeof apartTexts>;
}) {
  return (
    <li>
      <span>
        {e.label}: {texts.apart} {e.to > e.from ? 'more' : 'less'}
      </span>
      <span className="n">
        <span className="gh">{texts.from}</span> to <strong>{texts.to}</strong>
      </span>
    </li>
  );
}
