import { useCallback, useState } from 'react';
import { plateBarsRescue } from '../../course/plate-bars.ts';
import { type Rescue, sayIn, type ThinTop } from '../../course/rescue.ts';
import { useEngine } from '../structure/use-engine.ts';

/** Bar heights for a thin top, computed with the whole plate when asked for. */
export function PlateBars(props: {
  readonly thin: ThinTop;
  readonly lengthUnit: 'mm' | 'in';
  readonly onFound: (rescue: Rescue) => void;
}) {
  const { thin, lengthUnit, onFound } = props;
  const [refused, setRefused] = useState('');
  const { progress, ask, cancel } = useEngine(
    useCallback(
      (told) => {
        if (told.kind === 'refused') setRefused(told.sentence);
        if (told.kind === 'bars') onFound(plateBarsRescue(thin, told.bars, sayIn(lengthUnit)));
      },
      [thin, lengthUnit, onFound],
    ),
  );
  return (
    <p className="plate-bars">
      {progress ? (
        <>
          <span role="status">Computing: {progress.stage}. </span>
          <button type="button" className="btn sm" onClick={cancel}>
            Stop
          </button>
        </>
      ) : (
        <button type="button" className="btn sm" onClick={() => ask({ kind: 'bars', thin })}>
          {thin.barsAreCarved ? 'The bridge by the whole plate' : 'Bar heights by the whole plate'}
        </button>
      )}
      {refused !== '' && <span className="says bad"> {refused}</span>}
    </p>
  );
}
