import type { Band } from '../../graph/rule.ts';

/** Where everything of a gate stands, px from the left of its box. */
export interface GatePlaces {
  readonly bars: readonly number[];
  readonly softBars: readonly number[];
  /** The allowed stretch. */
  readonly inside: readonly [number, number];
  readonly dot: number;
  /** The number of the last revision. */
  readonly was: number | undefined;
}

const EDGE_PX = 4;
/** A single limit stands at about a third of the width; two limits at three and eight tenths. */
const ONE_LOW_SHARE = 0.34;
const TWO_SHARES = [0.3, 0.78] as const;
/** Numbers keep this share of the width away from the ends. */
const ROOM_SHARE = 0.05;

interface Scale {
  readonly zero: number;
  readonly perUnit: number;
}

function scaleOf(band: Band, points: readonly number[], widthPx: number): Scale {
  const span = widthPx - 2 * EDGE_PX;
  const { low, high } = band;
  const [firstShare, firstValue, lastShare, lastValue] =
    low !== undefined && high !== undefined
      ? [TWO_SHARES[0], low, TWO_SHARES[1], high]
      : low !== undefined
        ? [ONE_LOW_SHARE, low, ONE_LOW_SHARE, low]
        : [1 - ONE_LOW_SHARE, high ?? 0, 1 - ONE_LOW_SHARE, high ?? 0];
  const bandPerShare = lastShare > firstShare ? (lastValue - firstValue) / (lastShare - firstShare) : 0;
  const idle = Math.max(Math.abs(firstValue), Math.abs(lastValue), 1e-6) * 0.6;
  const needed = points.flatMap((value) => [
    value < firstValue ? (firstValue - value) / (firstShare - ROOM_SHARE) : 0,
    value > lastValue ? (value - lastValue) / (1 - ROOM_SHARE - lastShare) : 0,
  ]);
  const wanted = Math.max(bandPerShare, ...needed);
  const perShare = wanted > 1e-9 ? wanted : idle;
  const middleShare = (firstShare + lastShare) / 2;
  const middle = (firstValue + lastValue) / 2;
  const perUnit = span / perShare;
  return { zero: EDGE_PX + middleShare * span - middle * perUnit, perUnit };
}

/**
 * Places a number between its limits.
 *
 * @param widthPx  width of the box
 * @param was      the number of the last revision, if it differs
 * @returns        px; undefined when there is no limit at all
 */
export function gatePlaces(
  value: number,
  hard: Band,
  soft: Band | undefined,
  was: number | undefined,
  widthPx: number,
): GatePlaces | undefined {
  if (hard.low === undefined && hard.high === undefined) return undefined;
  const points = [value, was, soft?.low, soft?.high].filter((v): v is number => v !== undefined);
  const { zero, perUnit } = scaleOf(hard, points, widthPx);
  const at = (v: number) => Math.round((zero + v * perUnit) * 100) / 100;
  const places = (band: Band | undefined) =>
    [band?.low, band?.high].filter((v): v is number => v !== undefined).map(at);
  return {
    bars: places(hard),
    softBars: places(soft),
    inside: [
      hard.low === undefined ? EDGE_PX : at(hard.low),
      hard.high === undefined ? widthPx - EDGE_PX : at(hard.high),
    ],
    dot: at(value),
    was: was === undefined ? undefined : at(was),
  };
}
