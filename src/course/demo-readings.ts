import type { Random } from '../numeric/random.ts';
import type { ReadingLimits } from '../route/limits.ts';

/** Names of the demo: invented, first names only. */
export const demoNames = [
  'Ada',
  'Bruno',
  'Clara',
  'Dario',
  'Emmy',
  'Falk',
  'Greta',
  'Hanno',
  'Ines',
  'Jonas',
  'Kaja',
  'Leon',
];

/** What the sander showed and what it made of three strips. */
export const sanderProof = {
  station: 'thickness-sander',
  unit: 'mm',
  points: [
    { typed: 3.2, measured: 3.28 },
    { typed: 3.6, measured: 3.67 },
    { typed: 4, measured: 4.06 },
  ],
};

/** Which of the jigs of an operation a reading judges, where it is not the first. */
export const jigOfReading: ReadonlyMap<string, string> = new Map([
  ['T7.1', 'ring-base'],
  ['T7.2', 'ring-base'],
]);

/** How far inside its limits a made-up reading stays, in sixths of the band. */
const insideSixths = 0.3;
/** How near to its limit a drifting jig comes. */
const driftStopsMm = 0.01;

/**
 * A reading as it might have come out: about what it should be, nearly always inside its limits.
 *
 * @param random  seeded chance
 * @param limits  of the reading
 * @param drift   how far a worn jig is off by now, unit of the reading; 0 for a right one
 * @returns       undefined when nothing says what it should be
 * @source        common practice, no published source
 */
export function madeUpNumber(random: Random, limits: ReadingLimits, drift: number): number | undefined {
  const { low, high } = limits.hard;
  const between = low !== undefined && high !== undefined ? (low + high) / 2 : (low ?? high);
  const middle = limits.nominal ?? between;
  if (middle === undefined) return undefined;
  const room = Math.min(high === undefined ? 1 : high - middle, low === undefined ? 1 : middle - low);
  const sixth = low !== undefined && high !== undefined ? (high - low) / 6 : Math.abs(middle) * 0.01;
  const scatter = room <= 0 ? Math.abs(random.normal()) * sixth : random.normal() * sixth * 0.6;
  const free = middle + drift + (drift === 0 ? scatter : scatter * 0.3);
  const top = (high ?? Number.POSITIVE_INFINITY) - (drift === 0 ? sixth * insideSixths : driftStopsMm);
  return Math.min(top, Math.max((low ?? Number.NEGATIVE_INFINITY) + sixth * insideSixths, free));
}

/**
 * A reading with as many places as its tool shows.
 *
 * @source common practice, no published source
 */
export function asRead(value: number, unit: string): number {
  const places = unit === 'mm' || unit === 'deg' ? 2 : unit === 'kg' ? 3 : unit === 'cents' ? 1 : 0;
  return Number(value.toFixed(places));
}
