import { distanceMm, mirrored, type Point } from '../geometry/point.ts';
import {
  convexGapMm,
  gapToPolygonMm,
  type Polygon,
  rectangleAbout,
  segmentCrossing,
} from '../geometry/polygon.ts';
import { type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import type { BarSpec } from '../pattern/pattern.ts';
import { type Finding, finding } from '../quantity/finding.ts';
import { backBarSpecs, braceScheme, byInstrument, handed, input, topBarSpecs } from './inputs.ts';
import { mend } from './rule-parts.ts';
import { saddleY } from './saddle-place.ts';

const practice = 'common practice, no published source';

/** One bar of the top or back as it lies on the plate, seen from the front. */
export interface BraceSegment {
  readonly id: string;
  readonly role: string;
  readonly from: Point;
  readonly to: Point;
  readonly widthMm: number;
  readonly heightMm: number;
  /** The foot of the bar: four square corners (`brace.feet` has them trimmed to the outline). */
  readonly polygon: Polygon;
  /** `lap`: it crosses another bar and both are notched; `butt`: at most its ends meet another bar. */
  readonly crossing: 'lap' | 'butt';
}

/** A place where the middles of two bars cross. */
export interface BraceCrossing {
  readonly first: string;
  readonly second: string;
  readonly at: Point;
  /** `lap` is planned (the X); `unplanned` is not. */
  readonly kind: 'lap' | 'unplanned';
}

/** Whether a bar is a leg of the X. @source arithmetic */
export const isXLeg = (s: { readonly id: string }): boolean => s.id === 'X-treble' || s.id === 'X-bass';

function segment(
  id: string,
  role: string,
  from: Point,
  to: Point,
  widthMm: number,
  heightMm: number,
): BraceSegment {
  const polygon = rectangleAbout(from, to, widthMm);
  return { id, role, from, to, widthMm, heightMm, polygon, crossing: 'butt' };
}

/**
 * The two legs of the X: x = +-(y - crossing) tan(half the opening angle), from the upper end through the crossing to
 * the lower end.
 *
 * @param openingRad  angle between the legs toward the tail
 * @returns           the treble leg (ending at the treble lower bout) and the bass leg
 * @source            common practice, no published source
 */
export function xLegs(x: {
  readonly crossingYMm: number;
  readonly openingRad: number;
  readonly upperEndYMm: number;
  readonly lowerEndYMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}): readonly [BraceSegment, BraceSegment] {
  const slope = Math.tan(x.openingRad / 2);
  const at = (side: number, yMm: number): Point => ({ xMm: side * (yMm - x.crossingYMm) * slope, yMm });
  const leg = (side: number, name: string): BraceSegment => ({
    ...segment(
      `X-${name}`,
      `X leg ending at the ${name} lower bout`,
      at(side, x.upperEndYMm),
      at(side, x.lowerEndYMm),
      x.widthMm,
      x.heightMm,
    ),
    crossing: 'lap',
  });
  return [leg(1, 'treble'), leg(-1, 'bass')];
}

/**
 * Place of a fan strut at y: x = spacing x index x (y - focus) / (saddle line - focus).
 *
 * @param indexCount  0 at the centre, + toward the treble
 * @returns           mm from the centre line
 * @source            common practice, no published source
 */
export function fanXMm(
  spacingMm: number,
  indexCount: number,
  yMm: number,
  focusYMm: number,
  saddleYMm: number,
): number {
  return (spacingMm * indexCount * (yMm - focusYMm)) / (saddleYMm - focusYMm);
}

const turned = (s: BraceSegment): BraceSegment => ({
  ...s,
  from: mirrored(s.from),
  to: mirrored(s.to),
  polygon: s.polygon.map(mirrored),
});

const lengthMembers = (segments: readonly BraceSegment[]) =>
  segments.map((s) => ({ key: s.id, label: `Length of ${s.id}`, value: distanceMm(s.from, s.to) }));

interface Fan {
  readonly focusYMm: number | undefined;
  readonly spacingMm: number | undefined;
  readonly saddleYMm: number;
}

function segmentOfSpec(bar: BarSpec, fan: Fan): BraceSegment | Finding {
  if (bar.kind === 'straight') return segment(bar.id, bar.role, bar.from, bar.to, bar.widthMm, bar.heightMm);
  const { focusYMm, spacingMm, saddleYMm } = fan;
  if (focusYMm === undefined || spacingMm === undefined)
    return finding({
      code: 'fan-without-focus',
      level: 'blocked',
      text: `Strut ${bar.id} lies on a ray of the fan, but the pattern gives no fan focus and spacing; give both or the two ends of the strut.`,
      source: practice,
    });
  const at = (yMm: number): Point => ({
    xMm: fanXMm(spacingMm, bar.index, yMm, focusYMm, saddleYMm),
    yMm,
  });
  return segment(bar.id, bar.role, at(bar.fromYMm), at(bar.toYMm), bar.widthMm, bar.heightMm);
}

/** All bars of the top as shapes. Left-handed patterns mirror them; the outline stays. */
export const braceSegments: Figure<readonly BraceSegment[]> = figure({
  id: 'brace.segments',
  unit: 'shape',
  label: 'Bars of the top',
  formula:
    'legs of the X from crossing and opening angle; fan struts on rays from the focus; other bars between their two ends; mirrored when left-handed',
  source: practice,
  from: { scheme: braceScheme, bars: topBarSpecs, saddleYMm: saddleY, hand: handed },
  maybe: {
    crossingYMm: input('brace.x.crossing_y'),
    openingDeg: input('brace.x.opening_angle'),
    upperEndYMm: input('brace.x.upper_end_y'),
    lowerEndYMm: input('brace.x.lower_end_y'),
    widthMm: input('brace.x.width'),
    heightMm: input('brace.x.height'),
    focusYMm: input('brace.fan.focus_y'),
    spacingMm: input('brace.fan.spacing'),
  },
  compute: (v) => {
    const out: BraceSegment[] = [];
    if (v.scheme === 'x') {
      const { crossingYMm, openingDeg, upperEndYMm, lowerEndYMm, widthMm, heightMm } = v;
      if (
        crossingYMm === undefined ||
        openingDeg === undefined ||
        upperEndYMm === undefined ||
        lowerEndYMm === undefined ||
        widthMm === undefined ||
        heightMm === undefined
      )
        return finding({
          code: 'x-incomplete',
          level: 'blocked',
          text: 'The X needs its crossing, opening angle, both ends, width and height; give the ones that are missing.',
          source: practice,
        });
      const openingRad = (openingDeg * Math.PI) / 180;
      out.push(...xLegs({ crossingYMm, openingRad, upperEndYMm, lowerEndYMm, widthMm, heightMm }));
    }
    for (const bar of v.bars) {
      const made = segmentOfSpec(bar, v);
      if ('code' in made) return made;
      out.push(made);
    }
    return v.hand === 'left' ? out.map(turned) : out;
  },
  members: lengthMembers,
});

/** All bars of the back as shapes. */
export const backSegments: Figure<readonly BraceSegment[]> = figure({
  id: 'back.segments',
  unit: 'shape',
  label: 'Bars of the back',
  formula: 'each bar between its two ends; mirrored when left-handed',
  source: practice,
  from: { bars: backBarSpecs, hand: handed },
  compute: ({ bars, hand }) => {
    const out: BraceSegment[] = [];
    for (const bar of bars) {
      if (bar.kind !== 'straight')
        return finding({
          code: 'back-bar-on-a-fan',
          level: 'blocked',
          text: `Back bar ${bar.id} is given as a fan strut; give its two ends.`,
          source: practice,
        });
      out.push(segment(bar.id, bar.role, bar.from, bar.to, bar.widthMm, bar.heightMm));
    }
    return hand === 'left' ? out.map(turned) : out;
  },
  members: lengthMembers,
});

/** Cut list lengths: each bar with the spare that is trimmed when it is fitted. */
export const braceCutLengths: Figure<readonly { readonly id: string; readonly lengthMm: number }[]> = figure({
  id: 'brace.cut_length',
  unit: 'mm',
  label: 'Length to cut, each bar',
  formula: 'distance between its ends + brace over length',
  source: practice,
  from: { top: braceSegments, back: backSegments, spareMm: input('allowance.brace_end') },
  compute: ({ top, back, spareMm }) =>
    [...top, ...back].map((s) => ({
      id: s.id,
      lengthMm: distanceMm(s.from, s.to) + spareMm,
    })),
  members: (cuts) => cuts.map((c) => ({ key: c.id, label: `Cut ${c.id} to`, value: c.lengthMm })),
});

/** Where the middles of two bars cross, and whether that is planned. */
export const braceCrossings: Figure<readonly BraceCrossing[]> = figure({
  id: 'brace.crossings',
  unit: 'shape',
  label: 'Crossings of bars',
  formula:
    'pairs of bars whose middle lines cross; the two legs of the X are a lap, any other crossing is not planned',
  source: practice,
  from: { segments: braceSegments },
  compute: ({ segments }) => {
    const found: BraceCrossing[] = [];
    for (let i = 0; i < segments.length; i++)
      for (let j = i + 1; j < segments.length; j++) {
        const a = segments[i]!;
        const b = segments[j]!;
        const hit = segmentCrossing(a.from, a.to, b.from, b.to);
        if (!hit) continue;
        const kind = isXLeg(a) && isXLeg(b) ? 'lap' : 'unplanned';
        found.push({ first: a.id, second: b.id, at: hit.point, kind });
      }
    return found;
  },
});

/**
 * Least gap between bars that are not meant to cross: minus the depth of the overlap where two bars overlap.
 *
 * @source common practice, no published source
 */
export function leastGapMm(segments: readonly BraceSegment[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < segments.length; i++)
    for (let j = i + 1; j < segments.length; j++) {
      const a = segments[i]!;
      const b = segments[j]!;
      if ((isXLeg(a) && isXLeg(b)) || farApart(a, b, least)) continue;
      least = Math.min(least, convexGapMm(a.polygon, b.polygon));
    }
  return least;
}

/** Whether two bars are farther apart than `mm` by their boxes alone. */
function farApart(a: BraceSegment, b: BraceSegment, mm: number): boolean {
  const pad = (a.widthMm + b.widthMm) / 2 + mm;
  return (
    Math.min(a.from.xMm, a.to.xMm) - Math.max(b.from.xMm, b.to.xMm) > pad ||
    Math.min(b.from.xMm, b.to.xMm) - Math.max(a.from.xMm, a.to.xMm) > pad ||
    Math.min(a.from.yMm, a.to.yMm) - Math.max(b.from.yMm, b.to.yMm) > pad ||
    Math.min(b.from.yMm, b.to.yMm) - Math.max(a.from.yMm, a.to.yMm) > pad
  );
}

/** Least gap between two bars of the top that do not cross by plan. */
export const braceGap: Figure<number> = figure({
  id: 'brace.gap.least',
  unit: 'mm',
  label: 'Least gap between two bars',
  formula:
    'distance between the feet of the nearest two bars, the lap of the X apart; minus the depth of an overlap',
  source: practice,
  from: { segments: braceSegments },
  compute: ({ segments }) =>
    segments.length < 2
      ? finding({
          code: 'too-few-bars',
          level: 'blocked',
          got: segments.length,
          limit: 2,
          text: 'The pattern has fewer than two bars on the top; give the brace plan.',
        })
      : leastGapMm(segments),
});

const holeAt = (yMm: number): Point => ({ xMm: 0, yMm });

/** Nearest bar side to the hole edge, the X apart. */
export const clearOfHole: Figure<number> = figure({
  id: 'brace.clear_of_hole',
  unit: 'mm',
  label: 'Hole edge to the nearest bar other than the X',
  formula: 'distance from the hole centre to the foot of each bar, less hole radius; the least of them',
  source: practice,
  from: { segments: braceSegments, centreMm: input('hole.centre_y'), radiusMm: input('hole.radius') },
  compute: ({ segments, centreMm, radiusMm }) => {
    let least = Number.POSITIVE_INFINITY;
    for (const s of segments)
      if (!isXLeg(s)) least = Math.min(least, gapToPolygonMm(s.polygon, holeAt(centreMm)) - radiusMm);
    return least;
  },
});

/** Least clearance of bars other than the X. */
export const clearOfHoleLeast: Figure<number> = byInstrument({
  id: 'brace.clear_of_hole.least',
  unit: 'mm',
  label: 'Least distance from hole edge to a bar',
  source: practice,
  values: { steel: 5, nylon: 6, uke: 5 },
});

/** One bar and a distance that belongs to it. */
export interface BarDistance {
  readonly id: string;
  readonly distanceMm: number;
}

/** Members of a list of distances. @source arithmetic */
export const barMembers = (what: string) => (list: readonly BarDistance[]) =>
  list.map((b) => ({ key: b.id, label: `${what}, ${b.id}`, value: b.distanceMm }));

/** Distance of each bar to the hole edge. */
export const barToHole: Figure<readonly BarDistance[]> = figure({
  id: 'brace.to_hole',
  unit: 'mm',
  label: 'Bar side to hole edge',
  formula: 'distance from the hole centre to the foot of the bar, less hole radius',
  source: practice,
  from: { segments: braceSegments, centreMm: input('hole.centre_y'), radiusMm: input('hole.radius') },
  compute: ({ segments, centreMm, radiusMm }) =>
    segments.map((s) => ({
      id: s.id,
      distanceMm: gapToPolygonMm(s.polygon, holeAt(centreMm)) - radiusMm,
    })),
  members: barMembers('Hole edge to bar'),
});

/** Whether a bar runs square across from one side of the body to the other. @source common practice, no published source */
export function spansTheBody(s: BraceSegment): boolean {
  return Math.abs(s.from.yMm - s.to.yMm) < 0.1 * Math.abs(s.from.xMm - s.to.xMm) && s.from.xMm * s.to.xMm < 0;
}

/** Figures of all bars. */
export const braceFigures: readonly Figure[] = [
  braceSegments,
  backSegments,
  braceCutLengths,
  braceCrossings,
  braceGap,
  clearOfHole,
  clearOfHoleLeast,
  barToHole,
];

/** Rules of all bars. */
export const braceRules: readonly Rule[] = [
  {
    id: 'brace-bars-apart',
    label: 'Bars do not overlap',
    subject: braceGap,
    hard: { low: 0 },
    why: 'Two bars cannot lie in the same place; only the X is lapped by plan.',
    remedies: [
      mend('brace.x.crossing_y', undefined, 0.5),
      mend('brace.x.opening_angle', undefined, 0.5),
      mend('brace.x.width', 'less', 0.5),
      mend('brace.fan.spacing', undefined, 0.5),
      mend('brace.fan.focus_y', undefined, 5),
      mend('scale.length', undefined, 1),
    ],
    source: practice,
    place: 'braces',
  },
  {
    id: 'brace-clear-of-hole',
    label: 'Bars clear of the hole',
    subject: clearOfHole,
    hard: { low: clearOfHoleLeast },
    why: 'A bar closer to the hole edge is hit by the hole cutter and shows through the hole.',
    remedies: [mend('hole.radius', 'less', 0.5), mend('hole.centre_y', undefined, 0.5)],
    source: practice,
    place: 'braces',
  },
];
