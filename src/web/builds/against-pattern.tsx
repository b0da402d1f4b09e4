import { useMemo } from 'react';
import { sheetOfPattern } from '../../figures/pattern-sheet.ts';
import { type ChangedNumber, compareSheets } from '../../graph/compare.ts';
import type { FigureUnit } from '../../graph/figure.ts';
import type { BuildComputed } from '../class/build-context.ts';
import { usePreferences } from '../frame/preferences.ts';
import { spokenText } from '../parts/amount-text.ts';

const SHOWN = 10;

/** What the sheet of a build says now against its pattern. */
export function AgainstPattern({ computed }: { readonly computed: BuildComputed }) {
  const changed = useMemo(() => compareSheets(sheetOfPattern(computed.pattern), computed.sheet), [computed]);
  const replaced = changed.filter((c) => computed.sheet.given.overrides?.has(c.id));
  const behind = changed.filter((c) => !replaced.includes(c));
  return (
    <section>
      <h2 className="hd">What its sheet says now, against the pattern</h2>
      {changed.length === 0 ? (
        <p>Nothing differs: no reading or choice has taken the place of a drawn number yet.</p>
      ) : (
        <>
          <p>
            {replaced.length} read, chosen or decided; {behind.length} more follow from them. What was drawn
            stands first, in blue.
          </p>
          <ChangedList changed={replaced} />
          {behind.length > 0 && (
            <details>
              <summary>What follows from them ({behind.length})</summary>
              <ChangedList changed={behind} />
            </details>
          )}
        </>
      )}
    </section>
  );
}

/** Numbers that differ, each as it was and as it is. */
export function ChangedList({ changed }: { readonly changed: readonly ChangedNumber[] }) {
  const { largeUnit } = usePreferences();
  const words = (value: ChangedNumber['from'], unit: string): string =>
    value === undefined
      ? 'no value'
      : typeof value === 'number'
        ? spokenText(value, unit as FigureUnit, largeUnit)
        : value;
  /** A difference smaller than the usual decimals gets two more. */
  const pair = (c: ChangedNumber): readonly [string, string] => {
    const said = [words(c.from, c.unit), words(c.to, c.unit)] as const;
    return said[0] === said[1] && typeof c.from === 'number' && typeof c.to === 'number'
      ? [`${c.from.toFixed(3)} ${c.unit}`, `${c.to.toFixed(3)} ${c.unit}`]
      : said;
  };
  const row = (c: ChangedNumber) => (
    <li key={c.id}>
      <span>{c.label}</span>
      <span className="n">
        <span className="gh">{pair(c)[0]}</span> to <strong>{pair(c)[1]}</strong>
      </span>
    </li>
  );
  return (
    <>
      <ul className="changed">{changed.slice(0, SHOWN).map(row)}</ul>
      {changed.length > SHOWN && (
        <details>
          <summary>{changed.length - SHOWN} more</summary>
          <ul className="changed">{changed.slice(SHOWN).map(row)}</ul>
        </details>
      )}
    </>
  );
}
