import { HOLE_RADIUS, RING_CENTRE, type RingSegment, ringPaths, TONGUE } from '../../drawing/ring-shape.ts';
import './ring.css';

/** What a ring shows. */
export interface RingProps {
  readonly segments: readonly RingSegment[];
  readonly number?: number;
  readonly name: string;
  /** Two short lines in the hole. */
  readonly lines?: readonly string[];
  readonly isAway?: boolean;
  /** Minutes since help was asked for. */
  readonly helpMin?: number;
  /** The second line needs a hand. */
  readonly isUrgent?: boolean;
  readonly size?: 'wall' | 'small';
}

/** The words a screen reader says for a ring. */
function spoken({ number, name, lines = [], isAway }: RingProps): string {
  return [number === undefined ? '' : `${number}`, name, isAway ? 'away' : '', ...lines]
    .filter((w) => w !== '')
    .join(', ');
}

/** A build as a ring around a sound hole. */
export function Ring(props: RingProps) {
  const {
    segments,
    number,
    name,
    lines = [],
    isAway = false,
    helpMin,
    isUrgent = false,
    size = 'wall',
  } = props;
  const isWall = size === 'wall';
  const shown = isWall ? segments : segments.map((s) => ({ ...s, holdAhead: false }));
  return (
    <svg
      className={`ring ${size}${isAway ? ' away' : ''}`}
      viewBox="0 0 200 200"
      role="img"
      aria-label={spoken(props)}
    >
      <defs>
        <pattern
          id="ring-rest"
          width="5"
          height="5"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <line className="hatch" x1="0" y1="0" x2="0" y2="5" />
        </pattern>
      </defs>
      <circle className="hole" cx={RING_CENTRE.x} cy={RING_CENTRE.y} r={HOLE_RADIUS} />
      {ringPaths(shown).map((p, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: the paths of a ring have no identity but their order
        <path key={i} className={p.look} d={p.d} />
      ))}
      {isWall && (
        <>
          <path
            className="tongue"
            d={`M${TONGUE.x} ${TONGUE.y}V${TONGUE.y + TONGUE.height}H${TONGUE.x + TONGUE.width}V${TONGUE.y}`}
          />
          <text className="number" x="100" y="32">
            {number}
          </text>
          {helpMin !== undefined && (
            <g className="help">
              <path d={`M${TONGUE.x + TONGUE.width} ${TONGUE.y + 2}h22v12h-22z`} />
              <text x={TONGUE.x + TONGUE.width + 11} y={TONGUE.y + 11.5}>
                {Math.round(helpMin)}
              </text>
            </g>
          )}
          <text className="name" x="100" y="98">
            {name}
          </text>
          {lines.slice(0, 2).map((line, i) => (
            <text
              key={line}
              className={`line${isUrgent && i === 1 ? ' urgent' : ''}`}
              x="100"
              y={116 + i * 16}
            >
              {line}
            </text>
          ))}
        </>
      )}
    </svg>
  );
}
