import { type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { boardWidthEnd } from './board.ts';
import { input } from './inputs.ts';
import { boardEndY } from './join.ts';
import { mend } from './rule-parts.ts';

const practice = 'common practice, no published source';
const innerRadius = input('rosette.inner_radius');
const outerRadius = input('rosette.outer_radius');
const depth = input('rosette.channel.depth');

/** A channel may come out this much deeper than set. */
const READ_DEEPER_MM = 0.05;

/** Width of the ring channel. */
export const channelWidth: Figure<number> = figure({
  id: 'rosette.channel.width',
  unit: 'mm',
  label: 'Ring channel width',
  formula: 'outer radius less inner radius',
  source: 'plane-geometry',
  from: { outerMm: outerRadius, innerMm: innerRadius },
  compute: ({ outerMm, innerMm }) => outerMm - innerMm,
});

/** Middle of the ring. */
export const midRadius: Figure<number> = figure({
  id: 'rosette.mid_radius',
  unit: 'mm',
  label: 'Middle radius of the ring',
  formula: 'mean of inner and outer radius',
  source: 'plane-geometry',
  from: { outerMm: outerRadius, innerMm: innerRadius },
  compute: ({ outerMm, innerMm }) => (outerMm + innerMm) / 2,
});

/** Length of a strip bent to the ring. */
export const stripLength: Figure<number> = figure({
  id: 'rosette.strip_length',
  unit: 'mm',
  label: 'Ring strip, once round',
  formula: 'pi x (inner radius + outer radius)',
  source: 'plane-geometry',
  from: { outerMm: outerRadius, innerMm: innerRadius },
  compute: ({ outerMm, innerMm }) => Math.PI * (outerMm + innerMm),
});

/** Wood between the hole edge and the ring. */
export const ringInsideHole: Figure<number> = figure({
  id: 'rosette.ring_inside_hole',
  unit: 'mm',
  label: 'Hole edge to ring',
  formula: 'inner radius of the channel less hole radius',
  source: 'plane-geometry',
  from: { innerMm: innerRadius, holeMm: input('hole.radius') },
  compute: ({ innerMm, holeMm }) => innerMm - holeMm,
});

/** How much the inlay stands above the face before it is levelled. */
export const inlayProud: Figure<number> = figure({
  id: 'rosette.inlay_proud',
  unit: 'mm',
  label: 'Inlay above the face before levelling',
  formula: 'inlay thickness less channel depth',
  source: practice,
  from: { inlayMm: input('rosette.inlay_thickness'), depthMm: depth },
  compute: ({ inlayMm, depthMm }) => inlayMm - depthMm,
});

/** How far the joint of the ring lies under the board. */
export const coverMargin: Figure<number> = figure({
  id: 'rosette.cover_margin',
  unit: 'mm',
  label: 'Ring joint under the board end',
  formula: 'board end, less (hole centre less inner radius)',
  source: 'plane-geometry',
  from: { endMm: boardEndY, centreMm: input('hole.centre_y'), innerMm: innerRadius },
  compute: ({ endMm, centreMm, innerMm }) => endMm - (centreMm - innerMm),
});

/**
 * Arc of a ring that the board hides.
 *
 * @param radiusMm      radius of the ring; > 0
 * @param boardWidthMm  board width at its end
 * @param toEndMm       hole centre to board end along the centre line
 * @returns             arc length hidden, mm; 0 when the ring does not reach the board
 * @source              plane-geometry
 */
export function hiddenArcMm(radiusMm: number, boardWidthMm: number, toEndMm: number): number {
  if (toEndMm >= radiusMm) return 0;
  const sideways = Math.asin(Math.min(1, boardWidthMm / 2 / radiusMm));
  const pastEnd = Math.acos(Math.max(-1, toEndMm / radiusMm));
  return 2 * radiusMm * Math.min(sideways, pastEnd);
}

/** One radius of the ring with the arc that is hidden there. */
export interface HiddenArc {
  readonly at: 'inner' | 'middle' | 'outer';
  readonly arcMm: number;
}

/** Arcs hidden by the board at the inner, middle and outer radius. */
export const hiddenArc: Figure<readonly HiddenArc[]> = figure({
  id: 'rosette.hidden_arc',
  unit: 'mm',
  label: 'Arc of the ring hidden by the board',
  formula:
    '2 x radius x the smaller angle of: half board width over radius; distance from hole centre to board end over radius',
  source: 'plane-geometry',
  from: {
    innerMm: innerRadius,
    outerMm: outerRadius,
    boardMm: boardWidthEnd,
    endMm: boardEndY,
    centreMm: input('hole.centre_y'),
  },
  compute: ({ innerMm, outerMm, boardMm, endMm, centreMm }) =>
    (
      [
        ['inner', innerMm],
        ['middle', (innerMm + outerMm) / 2],
        ['outer', outerMm],
      ] as const
    ).map(([at, radiusMm]) => ({ at, arcMm: hiddenArcMm(radiusMm, boardMm, centreMm - endMm) })),
  members: (arcs) =>
    arcs.map((a) => ({ key: a.at, label: `Arc hidden at the ${a.at} radius`, value: a.arcMm })),
});

const woodLeft = (
  which: 'scrap' | 'final' | 'most',
  label: string,
  thickness: Figure<number>,
): Figure<number> =>
  figure({
    id: `rosette.wood_left.${which}`,
    unit: 'mm',
    label: `Wood under the ring channel, ${label}`,
    formula: `top thickness (${label}) less channel depth`,
    source: practice,
    from: { topMm: thickness, depthMm: depth },
    compute: ({ topMm, depthMm }) => topMm - depthMm,
  });

/** Wood left under the channel when the top is as thin as it may be. */
export const woodLeftScrap = woodLeft('scrap', 'top at its scrap limit', input('top.thickness.scrap'));
/** Wood left under the channel of the finished top. */
export const woodLeftFinal = woodLeft('final', 'top finished', input('top.thickness.final'));
/** Wood left under the channel of the thickest top. */
export const woodLeftMost = woodLeft('most', 'top thickest', input('top.thickness.most'));

/** Least share of the top left under the channel over its thicknesses, channel 0.05 deeper than set. */
export const woodLeftShare: Figure<number> = figure({
  id: 'rosette.wood_left.share',
  unit: 'fraction',
  label: 'Share of the top left under the channel, cut 0.05 too deep',
  formula: 'least of (thickness - depth - 0.05) / thickness at scrap limit, final and thickest',
  source: practice,
  from: {
    scrapMm: input('top.thickness.scrap'),
    finalMm: input('top.thickness.final'),
    mostMm: input('top.thickness.most'),
    depthMm: depth,
  },
  compute: ({ scrapMm, finalMm, mostMm, depthMm }) =>
    1 - (depthMm + READ_DEEPER_MM) / Math.min(scrapMm, finalMm, mostMm),
});

/** Wood under the channel when it is cut. */
export const woodLeftAtCutting: Figure<number> = figure({
  id: 'rosette.wood_left.at_cutting',
  unit: 'mm',
  label: 'Wood under the channel when it is cut',
  formula: 'top when the channel is cut, less channel depth',
  source: practice,
  from: { topMm: input('top.thickness.before_rosette'), depthMm: depth },
  compute: ({ topMm, depthMm }) => topMm - depthMm,
});

/** Least wood under the channel when it is cut. */
export const woodLeftLeastAtCutting: Figure<number> = figure({
  id: 'rosette.wood_left.least_at_cutting',
  unit: 'mm',
  label: 'Least wood under the channel when it is cut',
  formula: 'larger of 1.0 and 45 % of the final top, plus what is still taken off the inside',
  source: practice,
  from: { beforeMm: input('top.thickness.before_rosette'), finalMm: input('top.thickness.final') },
  compute: ({ beforeMm, finalMm }) => Math.max(1, 0.45 * finalMm) + (beforeMm - finalMm),
});

/** Deepest channel this top allows. */
export const deepestChannel: Figure<number> = figure({
  id: 'rosette.channel.depth.most',
  unit: 'mm',
  label: 'Deepest channel this top allows',
  formula: 'scrap limit less the larger of 1.0 and 45 %, less 0.05 for a cut that comes out deep',
  source: practice,
  from: { scrapMm: input('top.thickness.scrap') },
  compute: ({ scrapMm }) => scrapMm - Math.max(1, 0.45 * scrapMm) - READ_DEEPER_MM,
});

/** Figures of the ring. */
export const rosetteFigures: readonly Figure[] = [
  channelWidth,
  midRadius,
  stripLength,
  ringInsideHole,
  inlayProud,
  coverMargin,
  hiddenArc,
  woodLeftScrap,
  woodLeftFinal,
  woodLeftMost,
  woodLeftShare,
  woodLeftAtCutting,
  woodLeftLeastAtCutting,
  deepestChannel,
];

const woodRule = (which: string, subject: Figure<number>, thickness: 'scrap' | 'final' | 'most'): Rule => ({
  id: `rosette-wood-left-${which}`,
  label: subject.label,
  subject,
  hard: { low: 1 },
  soft: { low: 1 + READ_DEEPER_MM },
  why: 'Under a millimetre of wood below the ring the top buckles at the hole.',
  remedies: [mend('rosette.channel.depth', 'less', 0.05), mend(`top.thickness.${thickness}`, 'more', 0.05)],
  source: practice,
  place: 'rosette',
});

/** Rules of the ring. */
export const rosetteRules: readonly Rule[] = [
  {
    id: 'rosette-joint-covered',
    label: 'Ring joint under the board',
    subject: coverMargin,
    hard: { low: 2 },
    why: 'The joint of the ring shows beside the board end when less than 2 mm of it is covered.',
    remedies: [
      mend('rosette.inner_radius', 'more'),
      mend('board.length', 'more'),
      mend('hole.centre_y', 'less'),
    ],
    source: practice,
    place: 'rosette',
  },
  woodRule('scrap', woodLeftScrap, 'scrap'),
  woodRule('final', woodLeftFinal, 'final'),
  woodRule('most', woodLeftMost, 'most'),
  {
    id: 'rosette-wood-left-share',
    label: 'Share of the top left under the ring',
    subject: woodLeftShare,
    hard: { low: 0.45 },
    why: 'With less than 45 % of the top left the bending stiffness around the hole is mostly the ring, which is not glued for that.',
    remedies: [mend('rosette.channel.depth', 'less', 0.05), mend('top.thickness.scrap', 'more', 0.05)],
    source: practice,
    place: 'rosette',
  },
  {
    id: 'rosette-wood-left-at-cutting',
    label: 'Wood under the channel when it is cut',
    subject: woodLeftAtCutting,
    hard: { low: woodLeftLeastAtCutting },
    why: 'The inside is sanded afterwards; what is missing at cutting is missing under the ring for ever.',
    remedies: [
      mend('rosette.channel.depth', 'less', 0.05),
      mend('top.thickness.before_rosette', 'more', 0.05),
    ],
    source: practice,
    place: 'rosette',
  },
  {
    id: 'rosette-inlay-proud',
    label: 'Inlay stands above the face',
    subject: inlayProud,
    hard: { low: 0.05, high: 0.6 },
    soft: { low: 0.1, high: 0.3 },
    why: 'A sunken ring asks for the whole face to be sanded down, a tall one is levelled by sanding the top thin beside it.',
    remedies: [
      mend('rosette.channel.depth', undefined, 0.05),
      mend('rosette.inlay_thickness', undefined, 0.05),
    ],
    source: practice,
    place: 'rosette',
  },
  {
    id: 'rosette-clear-of-hole',
    label: 'Wood between hole and ring',
    subject: ringInsideHole,
    hard: { low: 2 },
    soft: { low: 3 },
    why: 'A narrow strip between channel and hole breaks out when the hole is cut.',
    remedies: [mend('rosette.inner_radius', 'more'), mend('hole.radius', 'less')],
    source: practice,
    place: 'rosette',
  },
  {
    id: 'rosette-channel-width',
    label: 'Ring channel width',
    subject: channelWidth,
    hard: { low: 1, high: 30 },
    soft: { low: 2, high: 20 },
    why: 'A channel narrower than the smallest cutter cannot be cleared, a very wide one weakens the top all round the hole.',
    remedies: [mend('rosette.outer_radius'), mend('rosette.inner_radius')],
    source: practice,
    place: 'rosette',
  },
];
