import {
  arcAtPlaceMm,
  type HalfOutline,
  halfOutline,
  halfWidthAtMm,
  inflectionCount,
  type OutlinePlace,
  outlineAreaMm2,
  outlineEndYMm,
  outlineTurns,
  radiusAtPlaceMm,
  tightestBend,
} from '../geometry/half-outline.ts';
import {
  type OutlineHandles,
  type OutlineNumbers,
  outlineHandles,
  outlinePieces,
} from '../geometry/outline-from-numbers.ts';
import { absent, type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { type Finding, finding } from '../quantity/finding.ts';
import { input, ownOutline } from './inputs.ts';
import { ownShape } from './own-outline.ts';
import { mend } from './rule-parts.ts';

const ownConstruction = 'plane-geometry';
const practice = 'common practice, no published source';

/** The few numbers as typed. */
const outlineNumbers: Figure<OutlineNumbers> = figure({
  id: 'outline.numbers',
  unit: 'shape',
  label: 'Outline numbers',
  formula: 'the twelve typed numbers of the outline',
  source: 'arithmetic',
  from: {
    lengthMm: input('body.length'),
    upperWidthMm: input('body.upper_bout.width'),
    upperYMm: input('body.upper_bout.y'),
    upperRadiusMm: input('body.upper_bout.radius'),
    waistWidthMm: input('body.waist.width'),
    waistYMm: input('body.waist.y'),
    waistRadiusMm: input('body.waist.radius'),
    lowerWidthMm: input('body.lower_bout.width'),
    lowerYMm: input('body.lower_bout.y'),
    lowerRadiusMm: input('body.lower_bout.radius'),
    neckEndRadiusMm: input('body.neck_end.radius'),
    tailRadiusMm: input('body.tail.radius'),
  },
  maybe: { own: ownOutline },
  compute: ({ own, ...n }) =>
    own ? absent('the own outline takes the place of the few numbers') : (impossibleNumbers(n) ?? n),
});

/** Why these numbers draw no outline: places out of order or a waist wider than a bout; undefined when they may. @source plane-geometry */
export function impossibleNumbers(n: OutlineNumbers): Finding | undefined {
  const mm = (x: number): string => x.toFixed(1);
  const stations: readonly (readonly [string, number, string, number])[] = [
    ['The upper bout', n.upperYMm, 'the waist', n.waistYMm],
    ['The waist', n.waistYMm, 'the lower bout', n.lowerYMm],
    ['The lower bout', n.lowerYMm, 'the tail', n.lengthMm],
  ];
  for (const [a, ya, b, yb] of stations)
    if (!(ya < yb))
      return finding({
        code: 'outline-stations-out-of-order',
        level: 'blocked',
        got: ya,
        limit: yb,
        unit: 'mm',
        text: `${a} lies at ${mm(ya)} mm and ${b} at ${mm(yb)} mm from the neck end; move one so that ${b} comes after it.`,
        source: ownConstruction,
      });
  for (const [bout, widthMm] of [
    ['upper', n.upperWidthMm],
    ['lower', n.lowerWidthMm],
  ] as const)
    if (!(n.waistWidthMm < widthMm))
      return finding({
        code: 'outline-waist-too-wide',
        level: 'blocked',
        got: n.waistWidthMm,
        limit: widthMm,
        unit: 'mm',
        text: `The waist is ${mm(n.waistWidthMm)} mm wide and the ${bout} bout only ${mm(widthMm)} mm; make the waist narrower than the bout.`,
        source: ownConstruction,
      });
  return undefined;
}

/** Handles of the four pieces. */
export const outlineHandleLengths: Figure<OutlineHandles> = figure({
  id: 'outline.handles',
  unit: 'shape',
  label: 'Handles of the outline pieces',
  formula:
    'between stations root of 2/3 x radius x half-width difference; end pieces root of 2/3 x radius x what the other handle leaves, repeated until it settles',
  source: ownConstruction,
  from: { n: outlineNumbers },
  compute: ({ n }) => {
    const handles = outlineHandles(n);
    if (handles.isSettled) return handles;
    return finding({
      code: 'outline-end-does-not-settle',
      level: 'blocked',
      got: n.neckEndRadiusMm,
      unit: 'mm',
      text: `The end pieces of the outline find no shape with ${n.neckEndRadiusMm} mm at the neck end and ${n.tailRadiusMm} mm at the tail; make these radii or the radii of the bouts smaller.`,
      source: ownConstruction,
    });
  },
  members: (h) =>
    (['neckEnd', 'upper', 'lower', 'tail'] as const).flatMap((piece) => {
      const key = piece === 'neckEnd' ? 'neck_end' : piece;
      return [
        { key: `${key}_start`, label: `Handle at the start of the ${key} piece`, value: h[piece].startMm },
        { key: `${key}_end`, label: `Handle at the end of the ${key} piece`, value: h[piece].endMm },
      ];
    }),
});

/** Run left between the handles of the tightest piece, mm; below 0 they cross. @source plane-geometry */
export const handleRoomMm = (h: OutlineHandles): number =>
  Math.min(h.neckEnd.roomMm, h.upper.roomMm, h.lower.roomMm, h.tail.roomMm);

/** What the handles leave of each piece; below 0 they cross and there is no outline. */
export const outlineHandleRoom: Figure<number> = figure({
  id: 'outline.handle_room',
  unit: 'mm',
  label: 'Run left between the handles of the tightest piece',
  formula: 'least of: station spacing less both handles; end piece run less its handle',
  source: ownConstruction,
  from: { h: outlineHandleLengths },
  compute: ({ h }) => handleRoomMm(h),
});

/** The half outline that drives everything: from the few numbers, or the teacher's own curve when he keeps it. */
export const outline: Figure<HalfOutline> = figure({
  id: 'outline',
  unit: 'shape',
  label: 'Body outline',
  formula: 'four cubic pieces with the typed widths and radii; or a smooth curve through the measured points',
  source: ownConstruction,
  from: {},
  maybe: { own: ownShape, n: outlineNumbers, h: outlineHandleLengths },
  compute: ({ own, n, h }) => {
    if (own) return own;
    if (!n || !h)
      return finding({
        code: 'outline-numbers-missing',
        level: 'blocked',
        text: 'The outline needs its widths, places and radii or an own outline; give the numbers that are missing.',
      });
    return handleRoomMm(h) > 0 ? halfOutline(outlinePieces(n, h)) : handlesCross(n, h);
  },
});

function handlesCross(n: OutlineNumbers, h: OutlineHandles): Finding {
  const worst = (
    [
      ['neck end', h.neckEnd, n.upperYMm, 'the radius at the neck end or the upper bout'],
      ['waist, neck side', h.upper, n.waistYMm - n.upperYMm, 'the radius at the upper bout or the waist'],
      ['waist, tail side', h.lower, n.lowerYMm - n.waistYMm, 'the radius at the waist or the lower bout'],
      ['tail', h.tail, n.lengthMm - n.lowerYMm, 'the radius at the lower bout or the tail'],
    ] as const
  ).reduce((a, b) => (b[1].roomMm < a[1].roomMm ? b : a));
  return finding({
    code: 'outline-handles-cross',
    level: 'blocked',
    got: worst[1].roomMm,
    limit: 0,
    unit: 'mm',
    text: `The outline folds at the ${worst[0]}: its handles overlap by ${(-worst[1].roomMm).toFixed(1)} mm on a run of ${worst[2].toFixed(1)} mm; make ${worst[3]} smaller or the run longer.`,
    source: ownConstruction,
  });
}

/** Where the outline is widest and narrowest, read from the curve. */
export interface OutlineLandmarks {
  readonly upper: Landmark;
  readonly waist: Landmark;
  readonly lower: Landmark;
}

/** One of them. */
export interface Landmark {
  readonly place: OutlinePlace;
  readonly yMm: number;
  readonly halfWidthMm: number;
  readonly radiusMm: number;
  /** Arc length from the neck end. */
  readonly arcMm: number;
}

/** Bouts and waist read from the curve. */
export const outlineLandmarks: Figure<OutlineLandmarks> = figure({
  id: 'outline.landmarks',
  unit: 'shape',
  label: 'Bouts and waist',
  formula: 'places where the outline runs along the centre line',
  source: 'plane-geometry',
  from: { shape: outline },
  compute: ({ shape }) => landmarksOf(shape),
});

/** Bouts and waist of a half outline; a finding when it has none. @source plane-geometry */
export function landmarksOf(shape: HalfOutline): OutlineLandmarks | Finding {
  const turns = outlineTurns(shape);
  const narrowest = turns
    .filter((t) => t.kind === 'waist')
    .reduce<(typeof turns)[number] | undefined>(
      (a, b) => (a === undefined || b.point.xMm < a.point.xMm ? b : a),
      undefined,
    );
  const widest = (isBefore: boolean) =>
    turns
      .filter((t) => t.kind === 'bout' && narrowest && t.point.yMm < narrowest.point.yMm === isBefore)
      .reduce<(typeof turns)[number] | undefined>(
        (a, b) => (a === undefined || b.point.xMm > a.point.xMm ? b : a),
        undefined,
      );
  const upper = widest(true);
  const lower = widest(false);
  if (!narrowest || !upper || !lower)
    return finding({
      code: 'outline-has-no-waist',
      level: 'blocked',
      text: 'The outline has no waist between two bouts; check the half widths of the own outline, or take the few numbers.',
      source: practice,
    });
  const landmark = (turn: (typeof turns)[number]): Landmark => ({
    place: turn.place,
    yMm: turn.point.yMm,
    halfWidthMm: turn.point.xMm,
    radiusMm: radiusAtPlaceMm(shape, turn.place) ?? Number.NaN,
    arcMm: arcAtPlaceMm(shape, turn.place),
  });
  return { upper: landmark(upper), waist: landmark(narrowest), lower: landmark(lower) };
}

const fromLandmarks = (
  id: string,
  label: string,
  formula: string,
  compute: (l: OutlineLandmarks) => number,
): Figure<number> =>
  figure({
    id,
    unit: 'mm',
    label,
    formula,
    source: 'plane-geometry',
    from: { l: outlineLandmarks },
    compute: ({ l }) => compute(l),
  });

/** Widest of the upper bout, as drawn. */
export const upperWidth = fromLandmarks(
  'outline.upper_bout.width',
  'Upper bout, as drawn',
  'twice the largest half width on the neck side of the waist',
  (l) => 2 * l.upper.halfWidthMm,
);
/** Place of the upper bout. */
export const upperY = fromLandmarks(
  'outline.upper_bout.y',
  'Upper bout from the neck end, as drawn',
  'where that half width is',
  (l) => l.upper.yMm,
);
/** Radius at the upper bout. */
export const upperRadius = fromLandmarks(
  'outline.upper_bout.radius',
  'Radius at the upper bout, as drawn',
  'radius of curvature there',
  (l) => l.upper.radiusMm,
);
/** Narrowest width at the waist. */
export const waistWidth = fromLandmarks(
  'outline.waist.width',
  'Waist, as drawn',
  'twice the smallest half width between the bouts',
  (l) => 2 * l.waist.halfWidthMm,
);
/** Place of the waist. */
export const waistY = fromLandmarks(
  'outline.waist.y',
  'Waist from the neck end, as drawn',
  'where that half width is',
  (l) => l.waist.yMm,
);
/** Radius at the waist. */
export const waistRadius = fromLandmarks(
  'outline.waist.radius',
  'Radius at the waist, as drawn',
  'radius of curvature there',
  (l) => l.waist.radiusMm,
);
/** Widest of the lower bout. */
export const lowerWidth = fromLandmarks(
  'outline.lower_bout.width',
  'Lower bout, as drawn',
  'twice the largest half width on the tail side of the waist',
  (l) => 2 * l.lower.halfWidthMm,
);
/** Place of the lower bout. */
export const lowerY = fromLandmarks(
  'outline.lower_bout.y',
  'Lower bout from the neck end, as drawn',
  'where that half width is',
  (l) => l.lower.yMm,
);
/** Radius at the lower bout. */
export const lowerRadius = fromLandmarks(
  'outline.lower_bout.radius',
  'Radius at the lower bout, as drawn',
  'radius of curvature there',
  (l) => l.lower.radiusMm,
);

/** Arc length of half the outline, neck end to tail. */
export const halfPerimeter: Figure<number> = figure({
  id: 'outline.half_perimeter',
  unit: 'mm',
  label: 'Half perimeter',
  formula: 'arc length of the outer outline from the neck end to the tail',
  source: 'plane-geometry',
  from: { shape: outline },
  compute: ({ shape }) => shape.lengthMm,
});

/** Area inside the outline. */
export const outlineArea: Figure<number> = figure({
  id: 'outline.area',
  unit: 'cm2',
  label: 'Area of a plate',
  formula: 'twice the area between the half outline and the centre line',
  source: 'plane-geometry',
  from: { shape: outline },
  compute: ({ shape }) => outlineAreaMm2(shape) / 100,
});

/** Tightest radius anywhere. */
export const tightestRadius: Figure<number> = figure({
  id: 'outline.tightest_radius',
  unit: 'mm',
  label: 'Tightest bend of the outline',
  formula: 'smallest radius of curvature anywhere on the outline',
  source: 'plane-geometry',
  from: { shape: outline },
  compute: ({ shape }) => tightestBend(shape).radiusMm,
});

/** Changes from bulging to hollow and back. */
export const inflections: Figure<number> = figure({
  id: 'outline.inflections',
  unit: 'count',
  label: 'Changes of bend, one half',
  formula: 'how often the half outline changes from bulging to hollow or back; 2 for a body with one waist',
  source: 'plane-geometry',
  from: { shape: outline },
  compute: ({ shape }) => inflectionCount(shape),
});

/** One measured place of a template: half width at y. */
export interface OutlineStation {
  readonly yMm: number;
  readonly halfWidthMm: number;
}

/** Half widths at stations every 20 mm, from 10 mm on, and 5 mm before the tail. */
export const outlineStations: Figure<readonly OutlineStation[]> = figure({
  id: 'outline.half_width',
  unit: 'mm',
  label: 'Half width at stations',
  formula: 'half width of the outline at each place along the centre line',
  source: 'plane-geometry',
  from: { shape: outline },
  compute: ({ shape }) => {
    const endMm = outlineEndYMm(shape);
    const places: number[] = [];
    for (let y = 10; y < endMm - 5; y += 20) places.push(y);
    places.push(endMm - 5);
    return places.map((yMm) => ({ yMm, halfWidthMm: halfWidthAtMm(shape, yMm) ?? 0 }));
  },
  members: (stations) =>
    stations.map((s) => ({
      key: String(Math.round(s.yMm)),
      label: `Half width at ${Math.round(s.yMm)} mm from the neck end`,
      value: s.halfWidthMm,
    })),
});

/** Figures of the outline. */
export const outlineFigures: readonly Figure[] = [
  outlineNumbers,
  outlineHandleLengths,
  outlineHandleRoom,
  outline,
  outlineLandmarks,
  upperWidth,
  upperY,
  upperRadius,
  waistWidth,
  waistY,
  waistRadius,
  lowerWidth,
  lowerY,
  lowerRadius,
  halfPerimeter,
  outlineArea,
  tightestRadius,
  inflections,
  outlineStations,
];

/** Rules of the outline. */
export const outlineRules: readonly Rule[] = [
  {
    id: 'outline-handles-apart',
    label: 'Outline does not fold',
    subject: outlineHandleRoom,
    hard: { low: 0.5 },
    why: 'When the handles of a piece cross, the curve folds and no side can follow it.',
    remedies: [
      mend('body.waist.radius', 'less', 1),
      mend('body.lower_bout.radius', 'less', 1),
      mend('body.upper_bout.radius', 'less', 1),
      mend('body.neck_end.radius', 'less', 1),
      mend('body.tail.radius', 'less', 1),
    ],
    source: ownConstruction,
    place: 'outline',
  },
];
