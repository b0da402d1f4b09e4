import type { Band, Judged, Verdict } from '../../graph/rule.ts';
import { gatePlaces } from './gate-geometry.ts';
import './gate.css';

/** The three words as they stand on the page, and those for a rule without a verdict. */
export const stateWords: Readonly<Record<Judged['state'], string>> = {
  met: 'Met',
  doubtful: 'Doubtful',
  broken: 'Broken',
  absent: 'Not for this one',
  blocked: 'No value',
  pending: 'Computing',
};

const BOX = { width: 300, height: 22 };

/** A band of two sides, each of which may be open. */
export const bandOf = (low: number | undefined, high: number | undefined): Band => ({
  ...(low === undefined ? {} : { low }),
  ...(high === undefined ? {} : { high }),
});

/** A number as a dot between its two limits; the words of it are the label. */
export function Gate(props: {
  readonly value: number;
  readonly hard: Band;
  readonly soft?: Band | undefined;
  readonly was?: number | undefined;
  readonly state: Verdict;
  readonly label: string;
}) {
  const places = gatePlaces(props.value, props.hard, props.soft, props.was, BOX.width);
  if (!places) return null;
  return (
    <svg className={`gate is-${props.state}`} viewBox={`0 0 ${BOX.width} ${BOX.height}`} role="img">
      <title>{props.label}</title>
      <path className="trk" d={`M4 11H${BOX.width - 4}`} />
      <path className="in" d={`M${places.inside[0]} 11H${places.inside[1]}`} />
      {places.bars.map((x) => (
        <path key={x} className="bar" d={`M${x} 2V20`} />
      ))}
      {places.softBars.map((x) => (
        <path key={x} className="softbar" d={`M${x} 4V18`} />
      ))}
      {places.was !== undefined && (
        <>
          <path className="wasgap" d={`M${places.was} 3V19`} />
          <path className="was" d={`M${places.was} 3V19`} />
        </>
      )}
      <circle className="dot" cx={places.dot} cy="11" r="5.2" />
    </svg>
  );
}

/** The small mark: two bars and a dot between them, on the bar, or outside. It stands beside its word. */
export function GateMark({ state }: { readonly state: Judged['state'] }) {
  return (
    <svg className={`gm is-${state}`} width="22" height="16" viewBox="0 0 22 16" aria-hidden="true">
      <path className="bars" d="M3.5 1.5V14.5M14 1.5V14.5" />
      {state === 'met' && <circle className="dot" cx="8.75" cy="8" r="2.7" />}
      {state === 'doubtful' && <circle className="dot" cx="14" cy="8" r="3.3" />}
      {state === 'broken' && <circle className="dot" cx="19.2" cy="8" r="2.9" />}
      {state === 'blocked' && <path className="cross" d="M6 5.2L11.6 10.8M11.6 5.2L6 10.8" />}
    </svg>
  );
}
