import type { ClassState } from '../../course/class-state.ts';
import type { Pair, PairSide } from '../../course/compare-builds.ts';
import { capital } from '../../quantity/words.ts';
import { operationName } from '../class/class-names.ts';
import { bandOf, Gate, GateMark, stateWords } from '../parts/gate.tsx';

const SHOWN = 8;

interface ListProps {
  readonly state: ClassState;
  readonly names: readonly [string, string];
  readonly pairs: readonly Pair[];
}

/** Numbers of two builds, the differences that matter most first. */
export function PairList({ state, names, pairs }: ListProps) {
  const item = (p: Pair) => (
    <li key={p.id}>
      <OnePair state={state} names={names} pair={p} />
    </li>
  );
  return (
    <>
      <ul className="pairs">{pairs.slice(0, SHOWN).map(item)}</ul>
      {pairs.length > SHOWN && (
        <details>
          <summary>{pairs.length - SHOWN} more, less apart</summary>
          <ul className="pairs">{pairs.slice(SHOWN).map(item)}</ul>
        </details>
      )}
    </>
  );
}

const plain = (n: number): string => String(Number(n.toFixed(3)));
const unitOf = (p: Pair): string => (p.unit === '-' || p.unit === 'count' ? '' : ` ${p.unit}`);

function drawnWords({ a, b, ...p }: Pair): string {
  if (a.drawn === undefined && b.drawn === undefined) return 'nothing drawn';
  const unit = unitOf({ a, b, ...p });
  if (a.drawn === b.drawn) return `drawn ${plain(a.drawn as number)}${unit}`;
  const said = (d: number | undefined) => (d === undefined ? 'nothing' : plain(d));
  return `drawn ${said(a.drawn)} and ${said(b.drawn)}${unit}`;
}

function OnePair({ state, names, pair }: Omit<ListProps, 'pairs'> & { readonly pair: Pair }) {
  const unit = unitOf(pair);
  const more = pair.difference > 0 ? '+' : '';
  return (
    <>
      <h3>
        {capital(pair.name)} <span className="q">{operationName(state, pair.op)}</span>
      </h3>
      <dl>
        <Side name={names[0]} side={pair.a} unit={unit} />
        <Side name={names[1]} side={pair.b} unit={unit} />
      </dl>
      <p className="apart">
        {pair.state && (
          <>
            <GateMark state={pair.state} />{' '}
          </>
        )}
        <strong className="n">
          {pair.difference === 0 ? '0' : `${more}${plain(pair.difference)}`}
          {unit}
        </strong>{' '}
        {pair.state ? `${stateWords[pair.state].toLowerCase()}: ` : ''}
        {pair.words} <span className="q">{capital(drawnWords(pair))}.</span>
      </p>
    </>
  );
}

function Side(props: { readonly name: string; readonly side: PairSide; readonly unit: string }) {
  const { name, side, unit } = props;
  const v = side.verdict;
  return (
    <div>
      <dt>{name}</dt>
      <dd>
        <strong className="n">
          {plain(side.value)}
          {unit}
        </strong>
        {v && (
          <Gate
            value={side.value}
            hard={bandOf(v.low, v.high)}
            soft={bandOf(v.softLow, v.softHigh)}
            state={v.state}
            label={`${name}: ${v.words}`}
          />
        )}
      </dd>
    </div>
  );
}
