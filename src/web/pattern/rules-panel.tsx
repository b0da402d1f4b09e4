import { memo, useEffect, useRef, useState } from 'react';
import { inputLimits } from '../../figures/pattern-sheet.ts';
import { firstRemedy, type Mending } from '../../graph/remedy.ts';
import { type Judged, judgeRule, type Verdict } from '../../graph/rule.ts';
import type { Sheet } from '../../graph/sheet.ts';
import { inputSpec } from '../../pattern/pattern-file.ts';
import { usePreferences } from '../frame/preferences.ts';
import { Amount } from '../parts/amount.tsx';
import { spokenText } from '../parts/amount-text.ts';
import { Gate, GateMark, stateWords } from '../parts/gate.tsx';
import { limitText, shortLimits } from '../parts/limit-text.ts';

export interface RulesProps {
  readonly sheet: Sheet;
  readonly judged: readonly Judged[];
  /** Sheet of the last revision; undefined when there is nothing to compare with. */
  readonly before: Sheet | undefined;
  /** Remedies are computed when no drag is going on. */
  readonly isStill: boolean;
  readonly lookedAt: string | undefined;
  readonly onLook: (ruleId: string | undefined) => void;
  readonly onOpenFigure: (figureId: string) => void;
  readonly onMend: (mending: Mending) => void;
}

const isVerdict = (state: Judged['state']): state is Verdict =>
  state === 'met' || state === 'doubtful' || state === 'broken';
const needsHand = ({ state }: Judged): boolean =>
  state === 'broken' || state === 'doubtful' || state === 'blocked';

/** Met rules shown at once when nothing is wrong. */
const MET_SHOWN = 16;

/** "1 broken, 2 doubtful, 21 met" */
function countWords(judged: readonly Judged[]): string {
  const count = (state: Judged['state']) => judged.filter((j) => j.state === state).length;
  const parts = [
    [count('broken'), 'broken'],
    [count('blocked'), 'without a value'],
    [count('doubtful'), 'doubtful'],
    [count('met'), 'met'],
  ] as const;
  return parts
    .filter(([n, word]) => n > 0 || word === 'met')
    .map(([n, word]) => `${n} ${word}`)
    .join(', ');
}

/** Rules by how bad they are; each lights its place in the drawing and offers the number that mends it. */
export const RulesPanel = memo(function RulesPanel(props: RulesProps) {
  const { judged } = props;
  const [isAllShown, setAllShown] = useState(false);
  const worst = judged.filter(needsHand);
  const rest = judged.filter((j) => j.state === 'met' || j.state === 'pending');
  const absent = judged.filter((j) => j.state === 'absent');
  const shown = isAllShown ? rest : rest.slice(0, Math.max(4, MET_SHOWN - 4 * worst.length));
  const mendings = useMendings(props.sheet, worst, props.isStill);
  return (
    <div className="rules-panel">
      <h2 className="hd">
        Rules<span className="q">{countWords(judged)}</span>
      </h2>
      <ol className="rules">
        {worst.map((one) => (
          <FullRule key={one.rule.id} one={one} mending={mendings.get(one.rule.id)} {...props} />
        ))}
      </ol>
      <ul className="metlist">
        {shown.map((one) =>
          props.lookedAt === one.rule.id ? (
            <FullRule key={one.rule.id} one={one} mending={undefined} {...props} />
          ) : (
            <MetRule key={one.rule.id} one={one} {...props} />
          ),
        )}
      </ul>
      {(rest.length > shown.length || isAllShown) && (
        <button
          type="button"
          className="link more"
          aria-expanded={isAllShown}
          onClick={() => setAllShown(!isAllShown)}
        >
          {isAllShown ? 'Show fewer' : `${rest.length - shown.length} more rules, all met`}
        </button>
      )}
      {isAllShown && absent.length > 0 && (
        <p className="says q">Not for this instrument: {absent.map((j) => j.rule.label).join(', ')}.</p>
      )}
    </div>
  );
});

function FullRule({
  one,
  mending,
  before,
  lookedAt,
  onLook,
  onOpenFigure,
  onMend,
}: RulesProps & { readonly one: Judged; readonly mending: Mending | undefined }) {
  const { largeUnit } = usePreferences();
  const { rule, state, value, hard, soft } = one;
  const { unit } = rule.subject;
  const isLooked = lookedAt === rule.id;
  const was = before ? judgeRule(before, rule).value : undefined;
  const differs = was !== undefined && value !== undefined && Math.abs(was - value) > 1e-6;
  const limits = limitText(hard, unit, largeUnit);
  const better = soft && state === 'doubtful' ? `, better ${limitText(soft, unit, largeUnit)}` : '';
  const label = value === undefined ? '' : `${spokenText(value, unit, largeUnit)}, ${limits}`;
  return (
    <li className={`rule is-${state}${isLooked ? ' looked' : ''}`} data-rule={rule.id} data-verdict={state}>
      <button
        type="button"
        className="plain rh"
        aria-pressed={isLooked}
        onClick={() => onLook(isLooked ? undefined : rule.id)}
      >
        <GateMark state={state} />
        <b className="nm">{rule.label}</b>
        <span className="st">{stateWords[state]}</span>
      </button>
      {value !== undefined && isVerdict(state) && (
        <div className="rg">
          <Gate
            value={value}
            hard={hard}
            soft={soft}
            was={differs ? was : undefined}
            state={state}
            label={label}
          />
          <button type="button" className="plain n" onClick={() => onOpenFigure(rule.subject.id)}>
            <b>
              <Amount value={value} unit={unit} />
            </b>{' '}
            {limits}
            {better}
          </button>
        </div>
      )}
      <p>
        {one.reason ? `${one.reason} ` : ''}
        {rule.why}
      </p>
      {mending && <MendButton mending={mending} onMend={onMend} />}
      {!mending && state !== 'met' && rule.remedies.length > 0 && (
        <p className="q">Change {rule.remedies.map((r) => r.input.label).join(', or ')}.</p>
      )}
      <p className="q src">
        {rule.source}
        <a className="todrawing" href="#drawing">
          Show it in the drawing
        </a>
      </p>
    </li>
  );
}

function MendButton({
  mending,
  onMend,
}: {
  readonly mending: Mending;
  readonly onMend: (mending: Mending) => void;
}) {
  const { largeUnit } = usePreferences();
  const spec = inputSpec(mending.inputId);
  if (!spec) return null;
  return (
    <button type="button" className="btn sm" data-mend={mending.inputId} onClick={() => onMend(mending)}>
      Put {spec.label} at {spokenText(mending.to, spec.unit, largeUnit)}
    </button>
  );
}

function MetRule({ one, lookedAt, onLook }: RulesProps & { readonly one: Judged }) {
  const { largeUnit } = usePreferences();
  const { rule, value, hard, state } = one;
  const { unit } = rule.subject;
  return (
    <li data-rule={rule.id} data-verdict={state}>
      <button
        type="button"
        className="plain metrule"
        aria-pressed={lookedAt === rule.id}
        onClick={() => onLook(rule.id)}
      >
        <GateMark state={state} />
        <span className="vh">{stateWords[state]}: </span>
        <span className="mname">{rule.label}</span>
        {value !== undefined && <span className="n">{shortLimits(value, hard, unit, largeUnit)}</span>}
      </button>
    </li>
  );
}

/** The number that mends each rule, computed one rule at a time while nothing is dragged. */
function useMendings(sheet: Sheet, worst: readonly Judged[], isStill: boolean): ReadonlyMap<string, Mending> {
  const [found, setFound] = useState<{
    readonly sheet: Sheet;
    readonly mendings: ReadonlyMap<string, Mending>;
  }>();
  const wanted = useRef(worst);
  wanted.current = worst;
  useEffect(() => {
    if (!isStill) return;
    const waiting = [...wanted.current];
    const mendings = new Map<string, Mending>();
    let timer = 0;
    const next = () => {
      const one = waiting.shift();
      if (!one) return setFound({ sheet, mendings: new Map(mendings) });
      const mending = one.state === 'blocked' ? undefined : firstRemedy(sheet, one.rule, inputLimits);
      if (mending) mendings.set(one.rule.id, mending);
      timer = window.setTimeout(next, 0);
    };
    timer = window.setTimeout(next, 60);
    return () => window.clearTimeout(timer);
  }, [sheet, isStill]);
  return found?.sheet === sheet ? found.mendings : new Map();
}
