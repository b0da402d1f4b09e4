import { depthInsideMm, type HalfOutline, isInsideOutline } from '../geometry/half-outline.ts';
import type { Polygon } from '../geometry/polygon.ts';
import { trimToOutline } from '../geometry/trim-to-outline.ts';
import { type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import {
  type BarDistance,
  type BraceSegment,
  backSegments,
  barMembers,
  braceSegments,
  isXLeg,
  spansTheBody,
} from './braces.ts';
import { input } from './inputs.ts';
import { outline } from './outline.ts';
import { mend } from './rule-parts.ts';

const practice = 'common practice, no published source';

/** Distance inside the outline of the nearer end of each bar (middle of the end). */
export const barEndInside: Figure<readonly BarDistance[]> = figure({
  id: 'brace.end_inside',
  unit: 'mm',
  label: 'Bar end inside the outline',
  formula: 'distance from the middle of the bar end that is nearer to the rim to the outline; minus outside',
  source: 'plane-geometry',
  from: { segments: braceSegments, shape: outline },
  compute: ({ segments, shape }) => segments.map((s) => endInside(shape, s)),
  members: barMembers('End inside the outline'),
});

function endInside(shape: HalfOutline, s: BraceSegment): BarDistance {
  return {
    id: s.id,
    distanceMm: Math.min(depthInsideMm(shape, s.from), depthInsideMm(shape, s.to)),
  };
}

const leastOf = (list: readonly BarDistance[]): number => Math.min(...list.map((b) => b.distanceMm));

/** Nearest bar end of the top to the outline. */
export const barEndInsideLeast: Figure<number> = figure({
  id: 'brace.end_inside.least',
  unit: 'mm',
  label: 'Bar end of the top nearest to the outline',
  formula: 'least of the bar ends inside the outline',
  source: practice,
  from: { list: barEndInside },
  compute: ({ list }) => leastOf(list),
});

/** Nearest bar end of the back to the outline. */
export const backEndInside: Figure<readonly BarDistance[]> = figure({
  id: 'back.end_inside',
  unit: 'mm',
  label: 'Back bar end inside the outline',
  formula: 'distance from the middle of the bar end that is nearer to the rim to the outline; minus outside',
  source: 'plane-geometry',
  from: { segments: backSegments, shape: outline },
  compute: ({ segments, shape }) => segments.map((s) => endInside(shape, s)),
  members: barMembers('End inside the outline'),
});

/** Nearest bar end of the back to the outline. */
export const backEndInsideLeast: Figure<number> = figure({
  id: 'back.end_inside.least',
  unit: 'mm',
  label: 'Bar end of the back nearest to the outline',
  formula: 'least of the bar ends inside the outline',
  source: practice,
  from: { list: backEndInside },
  compute: ({ list }) => leastOf(list),
});

/** How much of an end that reaches the rim the lining covers. */
export const barEndUnderLining: Figure<number> = figure({
  id: 'brace.end_under_lining',
  unit: 'mm',
  label: 'Bar ends that reach the rim, under the lining',
  formula:
    'side + lining width, less how far the end of the bar lies inside the outline; least of the X legs and of the bars that run from rim to rim',
  source: practice,
  from: {
    top: braceSegments,
    back: backSegments,
    shape: outline,
    sideMm: input('side.thickness.final'),
    liningMm: input('lining.width'),
  },
  compute: ({ top, back, shape, sideMm, liningMm }) => {
    let least = Number.POSITIVE_INFINITY;
    for (const s of [...top.filter((b) => isXLeg(b) || spansTheBody(b)), ...back])
      least = Math.min(
        least,
        sideMm + liningMm - Math.max(depthInsideMm(shape, s.from), depthInsideMm(shape, s.to)),
      );
    return least;
  },
});

/** The foot of one bar as it is glued. */
export interface BarFoot {
  readonly id: string;
  readonly polygon: Polygon;
}

const feetOf = (shape: HalfOutline, segments: readonly BraceSegment[]): readonly BarFoot[] =>
  segments.map((s) => ({ id: s.id, polygon: trimToOutline(shape, s.polygon) }));

const feet = (id: string, label: string, segments: Figure<readonly BraceSegment[]>) =>
  figure({
    id,
    unit: 'shape',
    label,
    formula: 'foot of each bar; where a corner sticks out of the outline it is trimmed to the curve',
    source: practice,
    from: { bars: segments, shape: outline },
    compute: ({ bars, shape }) => feetOf(shape, bars),
  });

/** Feet of the bars of the top, corners trimmed to the outline. */
export const braceFeet: Figure<readonly BarFoot[]> = feet(
  'brace.feet',
  'Feet of the top bars, trimmed',
  braceSegments,
);
/** Feet of the bars of the back, corners trimmed to the outline. */
export const backFeet: Figure<readonly BarFoot[]> = feet(
  'back.feet',
  'Feet of the back bars, trimmed',
  backSegments,
);

const cornerOutside = (id: string, label: string, segments: Figure<readonly BraceSegment[]>) =>
  figure({
    id,
    unit: 'mm',
    label,
    formula: 'distance of the corner of the foot farthest outside the outline; 0 when all lie inside',
    source: 'plane-geometry',
    from: { bars: segments, shape: outline },
    compute: ({ bars, shape }): readonly BarDistance[] =>
      bars.map((s) => ({
        id: s.id,
        distanceMm: Math.max(
          0,
          ...s.polygon.map((p) => (isInsideOutline(shape, p) ? 0 : -depthInsideMm(shape, p))),
        ),
      })),
    members: barMembers('Corner trimmed'),
  });

/** How much of a square corner of each top bar is trimmed. */
export const braceCornerOutside = cornerOutside(
  'brace.corner_trimmed',
  'Corner of a top bar outside the outline, trimmed',
  braceSegments,
);
/** How much of a square corner of each back bar is trimmed. */
export const backCornerOutside = cornerOutside(
  'back.corner_trimmed',
  'Corner of a back bar outside the outline, trimmed',
  backSegments,
);

/** Figures of the bar ends. */
export const braceEndFigures: readonly Figure[] = [
  barEndInside,
  barEndInsideLeast,
  backEndInside,
  backEndInsideLeast,
  barEndUnderLining,
  braceFeet,
  backFeet,
  braceCornerOutside,
  backCornerOutside,
];

/** Rules of the bar ends. */
export const braceEndRules: readonly Rule[] = [
  {
    id: 'brace-ends-inside',
    label: 'Bar ends of the top inside the outline',
    subject: barEndInsideLeast,
    hard: { low: 0 },
    soft: { low: 1 },
    why: 'A bar that reaches past the outline lies outside the rim.',
    remedies: [
      mend('body.upper_bout.width', 'more', 1),
      mend('body.waist.width', 'more', 1),
      mend('body.lower_bout.width', 'more', 1),
      mend('body.length', undefined, 1),
      mend('brace.x.lower_end_y', 'less', 0.5),
      mend('brace.x.upper_end_y', 'more', 0.5),
    ],
    source: practice,
    place: 'braces',
  },
  {
    id: 'back-ends-inside',
    label: 'Bar ends of the back inside the outline',
    subject: backEndInsideLeast,
    hard: { low: 0 },
    soft: { low: 1 },
    why: 'A bar that reaches past the outline lies outside the rim.',
    remedies: [
      mend('body.upper_bout.width', 'more', 1),
      mend('body.waist.width', 'more', 1),
      mend('body.lower_bout.width', 'more', 1),
      mend('body.length', undefined, 1),
    ],
    source: practice,
    place: 'braces',
  },
  {
    id: 'brace-ends-under-lining',
    label: 'Bar ends reach under the lining',
    subject: barEndUnderLining,
    hard: { low: 0 },
    soft: { low: 1 },
    why: 'An end that stops short of the lining leaves a soft spot beside the rim where the top lets go.',
    remedies: [
      mend('lining.width', 'more', 0.5),
      mend('body.lower_bout.width', 'less', 1),
      mend('body.upper_bout.width', 'less', 1),
      mend('body.waist.width', 'less', 1),
      mend('brace.x.lower_end_y', 'more', 0.5),
      mend('brace.x.upper_end_y', 'less', 0.5),
    ],
    source: practice,
    place: 'braces',
  },
];
