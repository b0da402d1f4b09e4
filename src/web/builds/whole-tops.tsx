import { useCallback, useEffect, useMemo, useState } from 'react';
import type { Cause } from '../../course/compare-builds.ts';
import { boxFactor } from '../../figures/structure.ts';
import { topInput } from '../../figures/top-input.ts';
import { figureValue, type Sheet } from '../../graph/sheet.ts';
import type { TopInput } from '../../mechanics/top-problem.ts';
import { useEngine } from '../structure/use-engine.ts';

interface Props {
  readonly names: readonly [string, string];
  readonly causes: readonly Cause[];
  readonly sheets: readonly [Sheet, Sheet];
}

/** One top to be computed whole. */
interface Asked {
  readonly name: string;
  readonly top: TopInput;
  /** What a finished box shows over the plate. */
  readonly factor: number;
}

/** Most causes computed one by one. */
const MOST_CAUSES = 3;

function askedOf(names: Props['names'], causes: Props['causes'], sheets: Props['sheets']): readonly Asked[] {
  const of = (name: string, sheet: Sheet): readonly Asked[] => {
    const top = figureValue(sheet, topInput);
    return top === undefined ? [] : [{ name, top, factor: figureValue(sheet, boxFactor) ?? 1 }];
  };
  const [first, second] = [of(names[0], sheets[0]), of(names[1], sheets[1])];
  if (first.length === 0 || second.length === 0) return [];
  const drawn = JSON.stringify(first[0]?.top);
  const moved = causes
    .flatMap((c) => of(`${names[0]}, but for: ${c.label}`, c.sheet))
    .filter((a) => JSON.stringify(a.top) !== drawn)
    .slice(0, MOST_CAUSES);
  return [...first, ...second, ...moved];
}

/** The tops of both builds computed as whole plates, and the first with each cause alone; only when asked for. */
export function WholeTops({ names, causes, sheets }: Props) {
  const asked = useMemo(() => askedOf(names, causes, sheets), [names, causes, sheets]);
  const [slopesDeg, setSlopes] = useState<readonly number[]>();
  const [refused, setRefused] = useState('');
  const { ask, cancel } = useEngine(
    useCallback((told) => {
      if (told.kind === 'refused') setRefused(told.sentence);
      if (told.kind === 'top') setSlopes((s) => [...(s ?? []), told.solved.answer.tiltDeg]);
    }, []),
  );
  const next = slopesDeg?.length;
  useEffect(() => {
    const one = next === undefined ? undefined : asked[next];
    if (one) ask({ kind: 'top', top: one.top, fineness: 'coarse' });
  }, [next, asked, ask]);
  if (asked.length === 0)
    return (
      <p className="q2">The whole tops cannot be computed: a pattern does not give enough of its top yet.</p>
    );
  const isDone = slopesDeg !== undefined && slopesDeg.length >= asked.length;
  const stop = () => {
    cancel();
    setSlopes(undefined);
  };
  return (
    <div className="whole-tops" data-state={slopesDeg === undefined ? 'idle' : isDone ? 'done' : 'working'}>
      {slopesDeg === undefined ? (
        <button type="button" className="btn" onClick={() => setSlopes([])}>
          Compute both tops as whole plates
        </button>
      ) : (
        <>
          <p className="q2" role="status">
            {refused ||
              (isDone
                ? 'Slope of the bridge under the strings, as expected on the finished box; coarse mesh, within about 5 %, and what both share cancels in the difference.'
                : `Computing ${slopesDeg.length + 1} of ${asked.length}.`)}{' '}
            {!isDone && (
              <button type="button" className="btn sm" onClick={stop}>
                Stop
              </button>
            )}
          </p>
          <ul className="changed">
            {asked.slice(0, slopesDeg.length).map((a, i) => (
              <TopLine
                key={a.name}
                asked={a}
                slopeDeg={slopesDeg[i] as number}
                from={slopeOf(asked, slopesDeg)}
              />
            ))}
          </ul>
        </>
      )}
    </div>
  );
}

/** Slope of the first top, as expected on the finished box, degrees. */
const slopeOf = (asked: readonly Asked[], slopesDeg: readonly number[]): number =>
  (slopesDeg[0] ?? 0) * (asked[0]?.factor ?? 1);

function TopLine(props: { readonly asked: Asked; readonly slopeDeg: number; readonly from: number }) {
  const slope = props.slopeDeg * props.asked.factor;
  const change = slope - props.from;
  return (
    <li>
      <span>{props.asked.name}</span>
      <span className="n">
        <strong>{slope.toFixed(2)}°</strong>
        {Math.abs(change) > 0.005 && ` (${change > 0 ? '+' : ''}${change.toFixed(2)}°)`}
      </span>
    </li>
  );
}
