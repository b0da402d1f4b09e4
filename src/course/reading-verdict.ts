import { judge, type Verdict } from '../graph/rule.ts';
import { formatInches } from '../quantity/print-length.ts';
import type { ReadingLimits } from '../route/limits.ts';
import type { MeasuringTool } from '../route/route-types.ts';

/** A verdict as it is shown and kept: the numbers it rests on and one sentence. */
export interface ShownVerdict {
  readonly state: Verdict;
  readonly words: string;
  readonly value: number;
  readonly low?: number;
  readonly high?: number;
  readonly softLow?: number;
  readonly softHigh?: number;
  /** What it should have been. */
  readonly aim?: number;
}

/**
 * How far two readings of the same thing with one tool lie apart.
 *
 * @param tool   the tool; undefined when none is named
 * @param unit   unit of the reading
 * @param value  the reading, for tools that repeat to a share
 * @returns      in the unit of the reading; 0 when the tool or its unit is another
 * @source       from memory
 */
export function repeatabilityOf(tool: MeasuringTool | undefined, unit: string, value: number): number {
  if (!tool) return 0;
  if (tool.repeatabilityPct !== undefined) return (Math.abs(value) * tool.repeatabilityPct) / 100;
  if (tool.repeatability === undefined) return 0;
  if (tool.unit === unit) return tool.repeatability;
  return tool.unit === 'g' && unit === 'kg' ? tool.repeatability / 1000 : 0;
}

/**
 * Judges one reading: met inside both limits; doubtful between soft and hard, or nearer to the hard limit than the tool
 * repeats; broken beyond it.
 *
 * @param name    what was read, e.g. "thickness"
 * @param unit    unit of value and limits
 * @param value   what was read
 * @param limits  of the build
 * @param tool    it was read with
 * @param lengthUnit  in which the words say a length; the numbers stay in the unit of the reading
 * @returns       the verdict with its numbers; undefined when there is no limit to judge by
 * @source        common practice, no published source
 */
export function judgeNumber(
  name: string,
  unit: string,
  value: number,
  limits: ReadingLimits,
  tool: MeasuringTool | undefined,
  lengthUnit: 'mm' | 'in' = 'mm',
): ShownVerdict | undefined {
  const { hard, soft } = limits;
  if (hard.low === undefined && hard.high === undefined) return undefined;
  const margins = marginsOf(repeatabilityOf(tool, unit, value), limits);
  const plain = judge(value, hard, soft);
  const isNear = plain !== 'broken' && isNearLimit(value, limits, margins);
  const state: Verdict = plain === 'met' && isNear ? 'doubtful' : plain;
  return {
    state,
    words: words(name, saying(unit, lengthUnit), value, limits, state, isNear),
    value,
    ...(hard.low === undefined ? {} : { low: hard.low }),
    ...(hard.high === undefined ? {} : { high: hard.high }),
    ...(soft?.low === undefined ? {} : { softLow: soft.low }),
    ...(soft?.high === undefined ? {} : { softHigh: soft.high }),
    ...(limits.nominal === undefined ? {} : { aim: limits.nominal }),
  };
}

interface Margins {
  readonly low: number;
  readonly high: number;
}

/**
 * How near to each hard limit a reading says nothing certain. A tool coarser than the room beside the nominal would make
 * the right value doubtful too: there the margin ends at the nominal.
 */
function marginsOf(repeat: number, limits: ReadingLimits): Margins {
  const { low, high } = limits.hard;
  const middle = limits.nominal ?? (low !== undefined && high !== undefined ? (low + high) / 2 : undefined);
  const side = (room: number | undefined): number =>
    room === undefined ? repeat : Math.max(0, Math.min(repeat, room));
  return {
    low: side(middle === undefined || low === undefined ? undefined : middle - low),
    high: side(middle === undefined || high === undefined ? undefined : high - middle),
  };
}

function isNearLimit(value: number, limits: ReadingLimits, margins: Margins): boolean {
  const { low, high } = limits.hard;
  const isLow = low !== undefined && value - low < margins.low - 1e-9;
  return isLow || (high !== undefined && high - value < margins.high - 1e-9);
}

interface Saying {
  readonly unit: string;
  readonly show: (value: number) => string;
}

/** How a number of a unit is said: lengths in the unit of the class. */
function saying(unit: string, lengthUnit: 'mm' | 'in'): Saying {
  if (unit === 'mm' && lengthUnit === 'in') return { unit: ' in', show: formatInches };
  return { unit: unit === '-' ? '' : ` ${unit}`, show };
}

function words(
  name: string,
  { unit: u, show }: Saying,
  value: number,
  limits: ReadingLimits,
  state: Verdict,
  isNear: boolean,
): string {
  const { low, high } = limits.hard;
  const band =
    low === undefined
      ? `at most ${show(high as number)}${u}`
      : high === undefined
        ? `at least ${show(low)}${u}`
        : `between ${show(low)} and ${show(high)}${u}`;
  const said = `${name} ${show(value)}${u}, wanted ${band}`;
  if (state === 'met') return `${said}: met.`;
  if (state === 'broken') {
    const off = low !== undefined && value < low ? low - value : value - (high as number);
    const scrap =
      limits.scrapLimit !== undefined && value < limits.scrapLimit
        ? `; under the scrap limit ${show(limits.scrapLimit)}${u}`
        : '';
    return `${said}: broken by ${show(off)}${u}${scrap}.`;
  }
  if (isNear) return `${said}: doubtful, nearer to the limit than the tool repeats; read it again.`;
  const s = limits.soft;
  return `${said}: doubtful, better between ${s?.low === undefined ? '-' : show(s.low)} and ${s?.high === undefined ? '-' : show(s.high)}${u}.`;
}

function show(value: number): string {
  return String(Number(value.toFixed(3)));
}
