import { givenInputs } from '../figures/inputs.ts';
import { patternCatalogue } from '../figures/pattern-sheet.ts';
import { evaluate, numberOf, type Override, type Sheet } from '../graph/sheet.ts';
import { mean } from '../numeric/statistics.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { type FigureNumber, limitsOf, type ReadingLimits } from '../route/limits.ts';
import { readingOf } from '../route/reading-of.ts';
import type { InstrumentId, Reading, Route } from '../route/route-types.ts';
import type { BuildFacts, ReadingFact } from './build-facts.ts';
import { judgeNumber, type ShownVerdict } from './reading-verdict.ts';

/**
 * One number of a reading taken at several spots: the last value of each spot, put together as the reading says.
 *
 * @param reading  of the route
 * @param facts    its values, oldest first
 * @returns        in the unit of the reading; undefined when nothing was read
 * @source         common practice, no published source
 */
export function readingNumber(reading: Reading, facts: readonly ReadingFact[]): number | undefined {
  const bySpot = new Map<string, number>();
  for (const f of facts) if (f.value !== undefined) bySpot.set(f.spot ?? '', f.value);
  const all = [...bySpot];
  if (all.length === 0) return undefined;
  const values = all.map(([, v]) => v);
  switch (reading.combine) {
    case 'mean':
      return mean(values);
    case 'least':
      return Math.min(...values);
    case 'least at bridge': {
      const bridge = all.filter(([spot]) => spot.startsWith('bridge')).map(([, v]) => v);
      return Math.min(...(bridge.length > 0 ? bridge : values));
    }
    default:
      return facts.findLast((f) => f.value !== undefined)?.value;
  }
}

/**
 * What a build puts in place of drawn figures: its own targets, its choices, its readings; what was read stands above
 * what was aimed at.
 *
 * @param route        of the course
 * @param facts        of the build
 * @param butReadings  readings of this figure are left out: a reading is not judged against itself
 * @source             arithmetic
 */
export function overridesOf(
  route: Route,
  facts: BuildFacts,
  butReadings?: string,
): ReadonlyMap<string, Override> {
  const overrides = new Map<string, Override>();
  for (const [choice, c] of facts.choices)
    if (c.number !== undefined && patternCatalogue.byId.has(choice))
      overrides.set(choice, { value: c.number, by: 'own choice' });
  if (facts.setUp && patternCatalogue.byId.has('handed'))
    overrides.set('handed', { value: facts.setUp.handed, by: 'this build' });
  for (const [figure, f] of facts.ownFigures)
    if (patternCatalogue.byId.has(figure)) overrides.set(figure, { value: f.value, by: f.reason });
  for (const { reading, list } of replacingReadings(route, facts)) {
    const figure = reading.replaces as string;
    const value = readingNumber(reading, list);
    if (value === undefined || figure === butReadings || !patternCatalogue.byId.has(figure)) continue;
    overrides.set(figure, { value, by: `measured, ${reading.tool}` });
  }
  return overrides;
}

/** Readings that stand in for a figure, the latest last. */
function replacingReadings(
  route: Route,
  facts: BuildFacts,
): readonly { readonly reading: Reading; readonly list: readonly ReadingFact[] }[] {
  return [...facts.readings]
    .flatMap(([id, list]) => {
      const reading = readingOf(route, id);
      return reading?.replaces === undefined ? [] : [{ reading, list }];
    })
    .sort((a, b) => (a.list.at(-1)?.atMs ?? 0) - (b.list.at(-1)?.atMs ?? 0));
}

/**
 * The sheet of one build as it was made so far.
 *
 * @param route        of the course
 * @param pattern      revision the build follows
 * @param facts        of the build
 * @param butReadings  a figure whose own readings are left out
 * @param previous     an earlier sheet; only what changed is computed anew
 * @source             arithmetic
 */
export function sheetOfBuild(
  route: Route,
  pattern: Pattern,
  facts: BuildFacts,
  butReadings?: string,
  previous?: Sheet,
): Sheet {
  const given = { inputs: givenInputs(pattern), overrides: overridesOf(route, facts, butReadings) };
  return evaluate(patternCatalogue, given, previous);
}

/** How many builds of a pattern the shop needs before its own mean counts. */
export const ownMeanCount = 5;

/** Figures that come from the record of the shop, and the reading each is the mean of. */
const shopReadings: ReadonlyMap<string, string> = new Map([
  ['shop.top_deflection', 'R9.2'],
  ['shop.braced_top_tone', 'R9.3'],
  ['shop.top_tone_with_rim', 'X4.2'],
]);
/** Readings judged by the shop's own mean once there are enough builds: -8/+8 %. */
const ownMeanPct: ReadonlyMap<string, number> = new Map([
  ['U8.2', 8],
  ['U8.3', 8],
]);

/**
 * The mean of a reading over the shop's own builds of one pattern.
 *
 * @param route    of the course
 * @param builds   all builds of the shop
 * @param reading  id of the reading
 * @param but      a build left out: the one that is judged
 * @returns        undefined until there are five
 * @source         common practice, no published source
 */
export function shopMean(
  route: Route,
  builds: Iterable<BuildFacts>,
  reading: string,
  but?: BuildFacts,
): number | undefined {
  const r = readingOf(route, reading);
  if (!r) return undefined;
  const values: number[] = [];
  for (const b of builds) {
    if (b === but || (but?.pattern !== undefined && b.pattern !== but.pattern)) continue;
    const value = readingNumber(r, b.readings.get(reading) ?? []);
    if (value !== undefined) values.push(value);
  }
  return values.length >= ownMeanCount ? mean(values) : undefined;
}

/** What a reading is judged with. */
export interface JudgeContext {
  readonly route: Route;
  readonly instrument: InstrumentId;
  readonly facts: BuildFacts;
  /** The build's sheet without the readings of one figure. */
  readonly sheetWithout: (figure: string | undefined) => Sheet;
  /** All builds of the shop, for its own means. */
  readonly builds: readonly BuildFacts[];
  /** In which lengths are said. */
  readonly lengthUnit: 'mm' | 'in';
}

/**
 * Gathers what readings of a build are judged with; the sheets are made when they are first asked for.
 *
 * @source arithmetic
 */
export function judgeContext(
  route: Route,
  pattern: Pattern,
  facts: BuildFacts,
  builds: readonly BuildFacts[],
  lengthUnit: 'mm' | 'in' = 'mm',
): JudgeContext {
  const made = new Map<string | undefined, Sheet>();
  let last: Sheet | undefined;
  const sheetWithout = (figure: string | undefined): Sheet => {
    const known = made.get(figure);
    if (known) return known;
    last = sheetOfBuild(route, pattern, facts, figure, last);
    made.set(figure, last);
    return last;
  };
  return { route, instrument: pattern.instrument, facts, sheetWithout, builds, lengthUnit };
}

/** Looks up figures of a build; `shop.` ones come from the record. */
function figureNumber(c: JudgeContext, sheet: Sheet): FigureNumber {
  return (id) => {
    const reading = shopReadings.get(id);
    return reading === undefined ? numberOf(sheet, id) : shopMean(c.route, c.builds, reading, c.facts);
  };
}

/**
 * The limits of a reading in this build: figures as drawn, with what was chosen, aimed at and measured before.
 *
 * @source common practice, no published source
 */
export function limitsInBuild(c: JudgeContext, reading: Reading): ReadingLimits {
  const limits = limitsOf(reading, c.instrument, figureNumber(c, c.sheetWithout(reading.replaces)));
  const pct = ownMeanPct.get(reading.id);
  const own = pct === undefined ? undefined : shopMean(c.route, c.builds, reading.id, c.facts);
  if (own === undefined || pct === undefined) return limits;
  return { ...limits, hard: { low: own * (1 - pct / 100), high: own * (1 + pct / 100) }, nominal: own };
}

/**
 * Judges a number that has just been read.
 *
 * @param c        of the build
 * @param reading  which reading
 * @param value    in its unit
 * @returns        the verdict to show and to keep; undefined when there is nothing to judge by
 * @source         common practice, no published source
 */
export function judgeReading(c: JudgeContext, reading: Reading, value: number): ShownVerdict | undefined {
  const tool = c.route.measuringTools.find((t) => t.id === reading.toolId);
  return judgeNumber(reading.name, reading.unit, value, limitsInBuild(c, reading), tool, c.lengthUnit);
}
