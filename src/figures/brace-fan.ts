import { absent, type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { type BraceSegment, braceSegments, spansTheBody } from './braces.ts';
import { braceScheme, input, topBarSpecs } from './inputs.ts';
import { mend } from './rule-parts.ts';
import { bridgeBackY, bridgeFrontY, saddleY } from './saddle-place.ts';

const practice = 'common practice, no published source';
const noFan = absent('this brace plan has no fan');

/** Number of struts of the fan. */
export const strutCount: Figure<number> = figure({
  id: 'brace.fan.strut_count',
  unit: 'count',
  label: 'Struts of the fan',
  formula: 'bars that lie on a ray of the fan',
  source: practice,
  from: { scheme: braceScheme, bars: topBarSpecs },
  compute: ({ scheme, bars }) => (scheme === 'fan' ? bars.filter((b) => b.kind === 'fan').length : noFan),
});

/** Spacing of the struts on the saddle line, where the plan is a fan. */
export const fanSpacing: Figure<number> = figure({
  id: 'brace.fan.spacing_drawn',
  unit: 'mm',
  label: 'Fan spacing on the saddle line, as drawn',
  formula: 'the typed spacing, where the plan is a fan',
  source: practice,
  from: { scheme: braceScheme, spacingMm: input('brace.fan.spacing') },
  compute: ({ scheme, spacingMm }) => (scheme === 'fan' ? spacingMm : noFan),
});

/** Where the struts point to, where the plan is a fan. */
export const fanFocus: Figure<number> = figure({
  id: 'brace.fan.focus_drawn',
  unit: 'mm',
  label: 'Fan focus from the neck end, as drawn',
  formula: 'the typed focus, where the plan is a fan; more negative: more parallel',
  source: practice,
  from: { scheme: braceScheme, focusMm: input('brace.fan.focus_y') },
  compute: ({ scheme, focusMm }) => (scheme === 'fan' ? focusMm : noFan),
});

/** Angle of the outermost strut to the centre line. */
export const fanSpread: Figure<number> = figure({
  id: 'brace.fan.outer_angle',
  unit: 'deg',
  label: 'Outer strut to the centre line',
  formula: 'angle whose tangent is spacing x outer index / (saddle place - focus)',
  source: 'plane-geometry',
  from: { spacingMm: fanSpacing, focusMm: fanFocus, saddleMm: saddleY, bars: topBarSpecs },
  compute: ({ spacingMm, focusMm, saddleMm, bars }) => {
    const outer = Math.max(0, ...bars.map((b) => (b.kind === 'fan' ? Math.abs(b.index) : 0)));
    return (Math.atan((spacingMm * outer) / (saddleMm - focusMm)) * 180) / Math.PI;
  },
});

/** Gap between the struts and the cross bar in front of them. */
export const strutTopGap: Figure<number> = figure({
  id: 'brace.fan.top_gap',
  unit: 'mm',
  label: 'Cross bar to the strut tops',
  formula: 'where the struts begin, less the tailward side of the last cross bar in front of them',
  source: practice,
  from: { scheme: braceScheme, bars: topBarSpecs, segments: braceSegments },
  compute: ({ scheme, bars, segments }) => {
    if (scheme !== 'fan') return noFan;
    const tops = bars.flatMap((b) => (b.kind === 'fan' ? [b.fromYMm] : []));
    const top = Math.min(...tops);
    const sides = segments
      .filter((s) => spansTheBody(s) && s.from.yMm < top)
      .map((s) => Math.max(s.from.yMm, s.to.yMm) + s.widthMm / 2);
    if (tops.length === 0 || sides.length === 0) return absent('no cross bar in front of struts');
    return top - Math.max(...sides);
  },
});

/** Gap between the bridge and the cross bar nearest to it; a bar wholly under the bridge is left out. */
export const crossBarToBridge: Figure<number> = figure({
  id: 'brace.cross_bar_to_bridge',
  unit: 'mm',
  label: 'Cross bar to the bridge',
  formula:
    'distance along the centre line from the bridge to the side of the nearest bar that runs from rim to rim; bars that lie wholly under the bridge are left out',
  source: practice,
  from: { segments: braceSegments, frontMm: bridgeFrontY, backMm: bridgeBackY },
  compute: ({ segments, frontMm, backMm }) => {
    const gaps = segments.filter(spansTheBody).flatMap((s) => barGapMm(s, frontMm, backMm));
    return gaps.length === 0 ? absent('no bar runs from rim to rim') : Math.min(...gaps);
  },
});

function barGapMm(s: BraceSegment, frontMm: number, backMm: number): readonly number[] {
  const low = Math.min(s.from.yMm, s.to.yMm) - s.widthMm / 2;
  const high = Math.max(s.from.yMm, s.to.yMm) + s.widthMm / 2;
  if (low >= frontMm && high <= backMm) return [];
  return [Math.max(frontMm - high, low - backMm)];
}

/** Figures of fan and cross bars. */
export const braceFanFigures: readonly Figure[] = [
  strutCount,
  fanSpacing,
  fanFocus,
  fanSpread,
  strutTopGap,
  crossBarToBridge,
];

/** Rules of fan and cross bars. */
export const braceFanRules: readonly Rule[] = [
  {
    id: 'brace-fan-spacing',
    label: 'Spacing of the fan',
    subject: fanSpacing,
    hard: { low: 15, high: 45 },
    soft: { low: 24, high: 32 },
    why: 'Struts too far apart leave soft panels between them, too near they make a plate of bars.',
    remedies: [mend('brace.fan.spacing', undefined, 0.5)],
    source: practice,
    place: 'brace.fan',
  },
  {
    id: 'brace-fan-focus',
    label: 'Focus of the fan',
    subject: fanFocus,
    hard: { low: -450, high: 100 },
    soft: { low: -200, high: 50 },
    why: 'The focus decides how parallel the struts lie and so how the lower bout is stiff along and across.',
    remedies: [mend('brace.fan.focus_y', undefined, 5)],
    source: practice,
    place: 'brace.fan',
  },
  {
    id: 'brace-cross-bar-to-bridge',
    label: 'Cross bars clear of the bridge',
    subject: crossBarToBridge,
    hard: { low: 5 },
    soft: { low: 10 },
    why: 'A cross bar that half meets the bridge makes a hard edge where the top folds and the bridge lets go.',
    remedies: [
      mend('scale.length', undefined, 1),
      mend('bridge.saddle_from_front', 'less'),
      mend('scale.join_fret', undefined, 1),
    ],
    source: practice,
    place: 'bridge',
  },
];
