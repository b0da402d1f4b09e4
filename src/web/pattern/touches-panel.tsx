import { memo, useMemo, useState } from 'react';
import type { ChangedNumber, ChangedRule } from '../../graph/compare.ts';
import type { FigureUnit } from '../../graph/figure.ts';
import type { SettingChange } from '../../settings/settings-of.ts';
import { LargeNumber } from '../parts/amount.tsx';
import { stateWords } from '../parts/gate.tsx';

export interface TouchesProps {
  readonly name: string;
  readonly beforeName: string;
  readonly changes: readonly ChangedNumber[];
  readonly rules: readonly ChangedRule[];
  /** Jigs and machines that have to be set anew. */
  readonly settings: readonly SettingChange[];
  readonly onOpenFigure: (id: string) => void;
}

const FEW = 8;

const plural = (count: number, word: string): string => `${count} ${word}${count === 1 ? '' : 's'}`;

/** What the draft changes against the last revision: typed numbers, figures, settings, verdicts. */
export const TouchesPanel = memo(function TouchesPanel(props: TouchesProps) {
  const { changes, rules } = props;
  const groups = useMemo(() => {
    const typed = changes.filter((c) => c.isInput);
    const figures = changes.filter((c) => !c.isInput);
    return { typed, figures };
  }, [changes]);
  return (
    <section className="touches" aria-label={`What ${props.name} touches`}>
      <h2 className="hd">What {props.name} touches</h2>
      {changes.length === 0 ? (
        <p className="q">Nothing is typed since {props.beforeName}.</p>
      ) : (
        <>
          <p className="tsum">
            {plural(changes.length, 'number')} {changes.length === 1 ? 'changes' : 'change'},{' '}
            {groups.typed.length === 0 ? 'none' : groups.typed.length} of them typed.
          </p>
          <ChangeList title="Typed" list={groups.typed} {...props} />
          {rules.length > 0 && (
            <div className="tgroup">
              <h3>Verdicts</h3>
              <ul>
                {rules.map((r) => (
                  <li key={r.id} className="vline">
                    <span>{r.label}</span>
                    <span className="n">
                      <span className="gh">{stateWords[r.from]}</span> to <b>{stateWords[r.to]}</b>
                    </span>
                  </li>
                ))}
              </ul>
            </div>
          )}
          <SettingList settings={props.settings} />
          <ChangeList title="Figures" list={groups.figures} {...props} />
        </>
      )}
    </section>
  );
});

function ChangeList({
  title,
  list,
  onOpenFigure,
}: TouchesProps & { readonly title: string; readonly list: readonly ChangedNumber[] }) {
  const [isAll, setAll] = useState(false);
  if (list.length === 0) return null;
  const shown = isAll ? list : list.slice(0, FEW);
  return (
    <div className="tgroup">
      <h3>
        {title} <span className="q">{list.length}</span>
      </h3>
      <ul>
        {shown.map((c) => (
          <li key={c.id}>
            <button type="button" className="plain vline" onClick={() => onOpenFigure(c.id)}>
              <span>{c.label}</span>
              <span className="n">
                <span className="gh">
                  <OneValue value={c.from} unit={c.unit as FigureUnit} />
                </span>{' '}
                to{' '}
                <b>
                  <OneValue value={c.to} unit={c.unit as FigureUnit} />
                </b>
              </span>
            </button>
          </li>
        ))}
      </ul>
      {list.length > FEW && (
        <button type="button" className="link more" aria-expanded={isAll} onClick={() => setAll(!isAll)}>
          {isAll ? 'Show fewer' : `${list.length - FEW} more`}
        </button>
      )}
    </div>
  );
}

function SettingList({ settings }: { readonly settings: readonly SettingChange[] }) {
  const [isAll, setAll] = useState(false);
  if (settings.length === 0) return null;
  const shown = isAll ? settings : settings.slice(0, FEW);
  return (
    <div className="tgroup">
      <h3>
        Set anew <span className="q">{settings.length}</span>
      </h3>
      <ul>
        {shown.map((s) => (
          <li key={s.id} className="vline" data-setting={s.id}>
            <span>{s.label}</span>
            <span className="n">
              <span className="gh">{s.from ?? 'none'}</span> to <b>{s.to ?? 'none'}</b>
            </span>
          </li>
        ))}
      </ul>
      {settings.length > FEW && (
        <button type="button" className="link more" aria-expanded={isAll} onClick={() => setAll(!isAll)}>
          {isAll ? 'Show fewer' : `${settings.length - FEW} more`}
        </button>
      )}
    </div>
  );
}

function OneValue({
  value,
  unit,
}: {
  readonly value: number | string | undefined;
  readonly unit: FigureUnit;
}) {
  if (value === undefined) return 'no value';
  return typeof value === 'string' ? value : <LargeNumber value={value} unit={unit} />;
}
