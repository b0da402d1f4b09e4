import { mean } from '../numeric/statistics.ts';
import { readingOf } from '../route/reading-of.ts';
import type { Route } from '../route/route-types.ts';
import { type BuildFacts, push } from './build-facts.ts';
import { sayIn, shown } from './rescue.ts';
import type { ShopFacts } from './shop-facts.ts';

/** One reading that judges a jig: how far off, and its limits as they were shown. */
export interface JigReading {
  readonly build: string;
  readonly reading: string;
  readonly atMs: number;
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** What it should have been. */
  readonly aim: number;
}

/** A jig whose readings lean to one side. */
export interface JigNotice {
  readonly jig: string;
  readonly reading: string;
  readonly meanOff: number;
  readonly count: number;
  readonly outside: readonly string[];
  readonly text: string;
}

/** The last readings that count, and how many are needed before their mean says something. */
const lastCount = 10;
const leastCount = 6;
/** Share of the tolerance on one side that a mean may use up. */
const shareOfTolerance = 0.5;

/**
 * Whether the last readings of one jig lean to one side: their mean by more than half the tolerance of that side, or two
 * learners outside on the same side.
 *
 * @param jig       id
 * @param name      for the words
 * @param readings  of one kind, oldest first, since the jig was last proved
 * @param say       how a difference of that kind is said, with its unit
 * @returns         a notice, or undefined when the jig is right
 * @source          common practice, no published source
 */
export function jigBias(
  jig: string,
  name: string,
  readings: readonly JigReading[],
  say: (off: number) => string = (off) => shown(off, 3),
): JigNotice | undefined {
  const last = readings.slice(-lastCount);
  if (last.length === 0) return undefined;
  const meanOff = mean(last.map((r) => r.value - r.aim));
  const tolerance = mean(last.map((r) => (meanOff > 0 ? r.high - r.aim : r.aim - r.low)));
  const above = new Set(last.filter((r) => r.value > r.high + 1e-9).map((r) => r.build));
  const below = new Set(last.filter((r) => r.value < r.low - 1e-9).map((r) => r.build));
  const outside = above.size >= 2 ? above : below.size >= 2 ? below : undefined;
  const leans =
    last.length >= leastCount && tolerance > 0 && Math.abs(meanOff) > shareOfTolerance * tolerance;
  if (!outside && !leans) return undefined;
  const side = (outside ? outside === above : meanOff > 0) ? 'above' : 'below';
  const why = outside
    ? `${outside.size} builds lie outside the limit ${side} it`
    : `the last ${last.length} readings lie ${say(Math.abs(meanOff))} ${side} on average, half the tolerance is ${say(shareOfTolerance * tolerance)}`;
  return {
    jig,
    reading: (last[0] as JigReading).reading,
    meanOff,
    count: last.length,
    outside: [...(outside ?? [])],
    text: `Stop the line at "${name}": ${why}. Prove it before the next piece.`,
  };
}

/** A difference between readings, in words. */
function sayOff(unit: string, lengthUnit: 'mm' | 'in'): (off: number) => string {
  if (unit === 'mm') return (off) => sayIn(lengthUnit)(off, 3);
  return (off) => (unit === '-' || unit === '' ? shown(off, 3) : `${shown(off, 3)} ${unit}`);
}

/**
 * Notices for all jigs of the shop, from the readings of all builds; only those made since the jig was last proved count.
 *
 * @param route   of the course
 * @param builds  all builds of the shop
 * @param shop    knows when jigs were proved
 * @param lengthUnit  in which lengths are said
 * @source        common practice, no published source
 */
export function jigNotices(
  route: Route,
  builds: ReadonlyMap<string, BuildFacts>,
  shop: ShopFacts,
  lengthUnit: 'mm' | 'in' = 'mm',
): readonly JigNotice[] {
  const groups = new Map<string, readonly JigReading[]>();
  for (const [build, facts] of builds)
    for (const list of facts.readings.values()) {
      const r = list.at(-1);
      const v = r?.verdict;
      if (!r || r.jig === undefined || r.value === undefined || v?.low === undefined || v.high === undefined)
        continue;
      if (r.atMs <= (shop.jigs.get(r.jig)?.provedMs ?? 0)) continue;
      const aim = v.aim ?? (v.low + v.high) / 2;
      const entry = {
        build,
        reading: r.reading,
        atMs: r.atMs,
        value: r.value,
        low: v.low,
        high: v.high,
        aim,
      };
      push(groups, `${r.jig}/${r.reading}`, entry);
    }
  return [...groups].flatMap(([key, list]) => {
    const jig = key.slice(0, key.indexOf('/'));
    const name = route.jigs.find((j) => j.id === jig)?.name ?? jig;
    return (
      jigBias(
        jig,
        name,
        list.toSorted((a, b) => a.atMs - b.atMs),
        sayOff(readingOf(route, list[0]?.reading ?? '')?.unit ?? '', lengthUnit),
      ) ?? []
    );
  });
}
