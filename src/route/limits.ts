import type { Band } from '../graph/rule.ts';
import type { InstrumentId, Limits, LimitValue, Reading } from './route-types.ts';

/** Looks up the number of a figure; undefined when there is none. */
export type FigureNumber = (figureId: string) => number | undefined;

/**
 * The number a limit stands for.
 *
 * @param value       a number, the id of a figure, or one number for each instrument
 * @param instrument  which instrument
 * @param figure      looks up figures
 * @returns           the number in the unit of the reading; undefined when there is none
 * @source            arithmetic
 */
export function limitNumber(
  value: LimitValue | undefined,
  instrument: InstrumentId,
  figure: FigureNumber,
): number | undefined {
  if (value === undefined || typeof value === 'number') return value;
  if (typeof value === 'string') return figure(value);
  return value[instrument];
}

/**
 * The band a reading must lie in.
 *
 * @param limits      as written in the route
 * @param instrument  which instrument
 * @param figure      looks up figures
 * @returns           low and high in the unit of the reading; empty when the figure it stands around is unknown
 * @source            arithmetic
 */
export function bandOf(limits: Limits, instrument: InstrumentId, figure: FigureNumber): Band {
  const at = (v: LimitValue | undefined): number | undefined => limitNumber(v, instrument, figure);
  if (limits.of === undefined) return band(at(limits.low), at(limits.high));
  const middle = at(limits.of);
  if (middle === undefined) return {};
  if (limits.minusPct !== undefined && limits.plusPct !== undefined)
    return band(middle * (1 - limits.minusPct / 100), middle * (1 + limits.plusPct / 100));
  const minus = at(limits.minus);
  const plus = at(limits.plus);
  return band(
    minus === undefined ? undefined : middle - minus,
    plus === undefined ? undefined : middle + plus,
  );
}

function band(low: number | undefined, high: number | undefined): Band {
  return { ...(low === undefined ? {} : { low }), ...(high === undefined ? {} : { high }) };
}

/** Everything a reading is judged against, as numbers. */
export interface ReadingLimits {
  readonly hard: Band;
  readonly soft?: Band;
  /** What it should be. */
  readonly nominal?: number;
  /** Beyond it the piece is not built on. */
  readonly scrapLimit?: number;
}

/**
 * The limits of a reading for one instrument.
 *
 * @param reading     the reading
 * @param instrument  which instrument
 * @param figure      looks up figures of the build
 * @returns           bands, nominal and scrap limit in the unit of the reading
 * @source            common practice, no published source
 */
export function limitsOf(reading: Reading, instrument: InstrumentId, figure: FigureNumber): ReadingLimits {
  const hard = reading.limits ? bandOf(reading.limits, instrument, figure) : {};
  const soft = reading.softLimits ? bandOf(reading.softLimits, instrument, figure) : undefined;
  const nominal = limitNumber(reading.nominal ?? reading.limits?.of, instrument, figure);
  const scrapLimit = limitNumber(reading.scrapLimit, instrument, figure);
  return {
    hard,
    ...(soft ? { soft } : {}),
    ...(nominal === undefined ? {} : { nominal }),
    ...(scrapLimit === undefined ? {} : { scrapLimit }),
  };
}
