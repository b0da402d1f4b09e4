import { allRules } from '../figures/catalogue.ts';
import { type ChangedRule, compareRules, compareSheets } from '../graph/compare.ts';
import { judgeRule, type Verdict } from '../graph/rule.ts';
import { evaluate, numberOf, type Override, type Sheet } from '../graph/sheet.ts';
import { isFinding } from '../quantity/finding.ts';
import type { Reading } from '../route/route-types.ts';
import { boardOfBuild } from './build-board.ts';
import { type JudgeContext, judgeReading, limitsInBuild, readingNumber } from './build-sheet.ts';
import { repeatabilityOf, type ShownVerdict } from './reading-verdict.ts';

/** What a reading tells of. */
export type ReadingTopic = 'tones' | 'movement' | 'set-up' | 'moisture' | 'board' | 'sizes';

/** Readings of the set-up: relief, string heights, action, tones of the finished instrument. */
export const SET_UP_READINGS: ReadonlySet<string> = new Set([
  'U4.1',
  'U5.1',
  'U5.2',
  'U6.1',
  'U6.2',
  'U8.1',
  'U8.2',
  'U8.3',
]);

/** Readings of the board before it is an instrument: grain, mass, notes of halves and plate. */
const BOARD = /^(A3\.[23]|T1\.[345]|T5\.)/;

/** Whether a reading is the moisture of wood or room. @source arithmetic */
export const isMoisture = (r: Reading): boolean => r.room === true || /moisture|humidity/.test(r.name);

/** What a reading tells of. @source common practice, no published source */
export function topicOf(r: Reading): ReadingTopic {
  if (isMoisture(r)) return 'moisture';
  if (BOARD.test(r.id)) return 'board';
  if (r.unit === 'Hz') return 'tones';
  if (/deflection|tilt|top rise|bridge slope/.test(r.name)) return 'movement';
  return SET_UP_READINGS.has(r.id) ? 'set-up' : 'sizes';
}

/** One side of a pair: what was read, what was drawn, the verdict now. */
export interface PairSide {
  readonly value: number;
  /** What it should have been in this build. */
  readonly drawn?: number;
  readonly verdict?: ShownVerdict;
}

/** One number both builds have. */
export interface Pair {
  readonly id: string;
  readonly op: string;
  readonly name: string;
  readonly unit: string;
  readonly topic: ReadingTopic;
  readonly a: PairSide;
  readonly b: PairSide;
  /** Second less first, in the unit. */
  readonly difference: number;
  /** Size of the difference against the width between the limits. */
  readonly shareFrac?: number;
  /** What the difference means, where there is something to hold it against. */
  readonly state?: Verdict;
  readonly words: string;
}

/** Width between the limits of a side: both limits, or twice the way from what was drawn to the only one. */
function widthOf(side: PairSide): number | undefined {
  const { low, high, aim } = side.verdict ?? {};
  if (low !== undefined && high !== undefined) return high - low;
  const one = low ?? high;
  return one === undefined || aim === undefined || aim === one ? undefined : 2 * Math.abs(aim - one);
}

const show = (n: number): string => String(Number(n.toFixed(3)));
const percent = (frac: number): string => `${Math.round(frac * 100)} %`;

/**
 * What a difference means: met while it fills less than half of the width between the limits or is within what the
 * tool repeats; doubtful up to the whole width; broken beyond it, when both cannot lie inside.
 */
function judgeDifference(
  difference: number,
  widthMm: number | undefined,
  repeat: number,
): Pick<Pair, 'shareFrac' | 'state' | 'words'> {
  const size = Math.abs(difference);
  if (size === 0) return { shareFrac: 0, state: 'met', words: 'The same.' };
  const isSame = size <= repeat * Math.SQRT2;
  if (widthMm === undefined || widthMm <= 0)
    return isSame
      ? { state: 'met', words: 'No more than the tool can tell.' }
      : { words: 'No limits to hold the difference against.' };
  const shareFrac = size / widthMm;
  if (isSame) return { shareFrac, state: 'met', words: 'No more than the tool can tell.' };
  const fills = `${percent(shareFrac)} of the room between the limits`;
  if (shareFrac <= 0.5) return { shareFrac, state: 'met', words: `${fills}.` };
  if (shareFrac <= 1) return { shareFrac, state: 'doubtful', words: `${fills}: more than half.` };
  return { shareFrac, state: 'broken', words: `${fills}: both cannot lie inside.` };
}

function sideOf(c: JudgeContext, r: Reading): PairSide | undefined {
  const value = readingNumber(r, c.facts.readings.get(r.id) ?? []);
  if (value === undefined) return undefined;
  const drawn = limitsInBuild(c, r).nominal;
  const verdict = judgeReading(c, r, value);
  return { value, ...(drawn === undefined ? {} : { drawn }), ...(verdict ? { verdict } : {}) };
}

const order: Readonly<Record<Verdict, number>> = { broken: 0, doubtful: 1, met: 2 };

/** Pairs with the differences that matter most first; those without limits come last, larger ones first. */
function sorted(pairs: readonly Pair[]): readonly Pair[] {
  const relative = (p: Pair): number =>
    Math.abs(p.difference) / Math.max(Math.abs(p.a.value), Math.abs(p.b.value), 1e-9);
  return pairs.toSorted(
    (x, y) =>
      (x.state ? order[x.state] : 3) - (y.state ? order[y.state] : 3) ||
      (y.shareFrac ?? -1) - (x.shareFrac ?? -1) ||
      relative(y) - relative(x),
  );
}

/**
 * The readings two builds have in common, the differences that matter most first. Builds of different patterns, even of
 * different instruments, are held against each other in what both have; each is judged by its own limits.
 *
 * @param a  the first build
 * @param b  the second build, of the same route
 * @returns  pairs of numbers; the difference is held against the narrower of the two rooms between limits
 * @source   common practice, no published source
 */
export function comparePairs(a: JudgeContext, b: JudgeContext): readonly Pair[] {
  // the induction's questions tell of a person, not of an instrument
  const made = a.route.operations.filter((o) => o.id !== 'A1');
  const pairs = made.flatMap((o) =>
    o.readings.flatMap((r): Pair[] => {
      if (r.kind === 'check') return [];
      const first = sideOf(a, r);
      const second = sideOf(b, r);
      if (!first || !second) return [];
      const tool = a.route.measuringTools.find((t) => t.id === r.toolId);
      const widths = [widthOf(first), widthOf(second)].filter((w) => w !== undefined);
      const width = widths.length === 0 ? undefined : Math.min(...widths);
      const difference = second.value - first.value;
      return [
        {
          id: r.id,
          op: o.id,
          name: r.name,
          unit: r.unit,
          topic: topicOf(r),
          a: first,
          b: second,
          difference,
          ...judgeDifference(difference, width, repeatabilityOf(tool, r.unit, first.value)),
        },
      ];
    }),
  );
  return sorted([...pairs, ...boardPairs(a, b)]);
}

/** Density and stiffness of the two top plates, where mass, size and note were read; held against their uncertainty. */
function boardPairs(a: JudgeContext, b: JudgeContext): readonly Pair[] {
  const first = boardOfBuild(a.facts);
  const second = boardOfBuild(b.facts);
  if (!first || !second || isFinding(first) || isFinding(second)) return [];
  const pair = (key: 'densityKgPerM3' | 'eAlongMPa', name: string, unit: string): Pair => {
    const [x, y] = [first[key], second[key]];
    const difference = y.value - x.value;
    const off = Math.hypot(x.plusMinus, y.plusMinus);
    const isSame = Math.abs(difference) <= 2 * off;
    return {
      id: `board.${key}`,
      op: 'T5',
      name,
      unit,
      topic: 'board',
      a: { value: x.value },
      b: { value: y.value },
      difference,
      ...(isSame ? { state: 'met' as const } : {}),
      words: isSame
        ? `No more than mass, size and note can tell (${show(Math.round(2 * off))} ${unit}).`
        : `More than mass, size and note can be off (${show(Math.round(2 * off))} ${unit}).`,
    };
  };
  return [
    pair('densityKgPerM3', 'density of the top plate', 'kg/m\u00b3'),
    pair('eAlongMPa', 'stiffness of the top plate along the grain', 'MPa'),
  ];
}

/** What a cause does to one figure of the first build. */
export interface Effect {
  readonly id: string;
  readonly label: string;
  readonly unit: string;
  readonly from: number;
  readonly to: number;
  /** Change against the room between the limits of its rule, where it has one. */
  readonly shareFrac?: number;
}

/** A figure in which the two builds differ, and what that one difference does. */
export interface Cause {
  readonly figure: string;
  readonly label: string;
  readonly unit: string;
  readonly a: number;
  readonly b: number;
  /** How the instrument answers first, each kind by its strength. */
  readonly effects: readonly Effect[];
  /** Rules whose verdict turns by it. */
  readonly turned: readonly ChangedRule[];
  /** The first build with this one number of the second. */
  readonly sheet: Sheet;
}

/** Figures that say how an instrument answers, beside those a rule stands over. */
const ANSWERS = /^(structure\.tilt\.by_beam|tone\.(?!air\.off_note)|load\.|brace\.stiffness_on_plate\.)/;
/** Rough wood, jigs and the order of steps say nothing of the finished instrument. */
const NOT_ANSWERS =
  /^(stock\.|allowance\.|former\.|mould\.|jig\.|tone\.air\.off_note|top\.thickness\.least_step)/;
/** Smaller changes than this part of a number are not worth a line. */
const LEAST_FRAC = 0.003;

const rulesBySubject: ReadonlyMap<string, (typeof allRules)[number]> = new Map(
  allRules.map((r) => [r.subject.id, r]),
);

function shareOfRule(sheet: Sheet, id: string, change: number): number | undefined {
  const rule = rulesBySubject.get(id);
  if (!rule) return undefined;
  const { low, high } = judgeRule(sheet, rule).hard;
  return low === undefined || high === undefined || high <= low ? undefined : Math.abs(change) / (high - low);
}

const weightOf = (e: Effect): number =>
  e.shareFrac ?? Math.abs(e.to - e.from) / Math.max(Math.abs(e.from), 1e-6) / 4;

/** What differs in the answers of two sheets; of a family, such as the braces, the one that moves most. */
function effectsOf(from: Sheet, to: Sheet, cause: string): readonly Effect[] {
  const effects = compareSheets(from, to).flatMap((c): Effect[] => {
    if (c.isInput || c.id === cause || typeof c.from !== 'number' || typeof c.to !== 'number') return [];
    if (NOT_ANSWERS.test(c.id) || !(ANSWERS.test(c.id) || rulesBySubject.has(c.id))) return [];
    const change = c.to - c.from;
    if (Math.abs(change) < LEAST_FRAC * Math.abs(c.from)) return [];
    const shareFrac = shareOfRule(from, c.id, change);
    return [
      {
        id: c.id,
        label: c.label,
        unit: c.unit,
        from: c.from,
        to: c.to,
        ...(shareFrac === undefined ? {} : { shareFrac }),
      },
    ];
  });
  const byFamily = new Map<string, Effect>();
  for (const e of effects) {
    const family = ANSWERS.test(e.id)
      ? e.id.replace(/^(brace\.stiffness_on_plate|tone\.air)\..*$/, '$1')
      : e.id;
    const known = byFamily.get(family);
    if (!known || Math.abs(e.to - e.from) > Math.abs(known.to - known.from)) byFamily.set(family, e);
  }
  const isAnswer = (e: Effect): number => (ANSWERS.test(e.id) ? 0 : 1);
  return [...byFamily.values()].sort((x, y) => isAnswer(x) - isAnswer(y) || weightOf(y) - weightOf(x));
}

/**
 * Why one build is other than its neighbour: each figure that was read or chosen differently, put alone into the first
 * build's sheet, and what it does there.
 *
 * @param a  the first build
 * @param b  the second build; figures only one of them has are left out
 * @returns  causes with at least one effect, the strongest first
 * @source   arithmetic
 */
export function compareCauses(a: JudgeContext, b: JudgeContext): readonly Cause[] {
  const first = a.sheetWithout(undefined);
  const second = b.sheetWithout(undefined);
  const ids = new Set([...overridesIn(first).keys(), ...overridesIn(second).keys()]);
  const causes = [...ids].flatMap((id): Cause[] => {
    const from = numberOf(first, id);
    const to = numberOf(second, id);
    const known = first.catalogue.byId.get(id);
    if (!known || from === undefined || to === undefined || Math.abs(from - to) < 1e-9) return [];
    const overrides = new Map(overridesIn(first)).set(id, { value: to, by: 'the other build' });
    const sheet = evaluate(first.catalogue, { ...first.given, overrides }, first);
    const effects = effectsOf(first, sheet, id);
    const turned = compareRules(first, sheet, allRules);
    return [{ figure: id, label: known.label, unit: known.unit, a: from, b: to, effects, turned, sheet }];
  });
  const strength = (c: Cause): number => Math.max(0, ...c.effects.map(weightOf));
  return causes
    .filter((c) => c.effects.length > 0)
    .sort((x, y) => y.turned.length - x.turned.length || strength(y) - strength(x));
}

const overridesIn = (sheet: Sheet): ReadonlyMap<string, Override> => sheet.given.overrides ?? new Map();
