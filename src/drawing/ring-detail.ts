import { boardWidthEnd } from '../figures/board.ts';
import { input } from '../figures/inputs.ts';
import { boardEndY } from '../figures/join.ts';
import { figureValue, type Sheet } from '../graph/sheet.ts';
import { mark, note, pageOf } from './drawing-page.ts';
import { type DimensionWords, PLAIN_WORDS } from './drawn-number.ts';
import { ringChannel } from './face-parts.ts';
import { HATCH_PITCH_MM } from './line-types.ts';
import {
  circle,
  type Drawing,
  type Entity,
  hatch,
  leader,
  line,
  type PointMm,
  polyline,
  radiusDimension,
  verticalDimension,
} from './model.ts';
import { allOf, figureWords, lengthWords, shownAs } from './shown-figure.ts';

/**
 * Hole and ring at full size, every radius from the pin, with the board end that covers the joint and a cut through
 * the channel.
 *
 * @param words  unit of the dimensions, and the last revision to compare with
 * @returns      a drawing; parts whose figures cannot be had are left out
 * @source       plane-geometry
 */
export function ringDetail(sheet: Sheet, words: DimensionWords = PLAIN_WORDS): Drawing {
  const entities = [
    ...ringChannel(sheet),
    ...holeAndPin(sheet),
    ...coveringBoard(sheet, words),
    ...radii(sheet, words),
    ...channelCut(sheet, words),
  ];
  return pageOf('ring-detail', 'Hole and ring', 'the front', entities);
}

function holeOf(sheet: Sheet) {
  return allOf(sheet, {
    y: input('hole.centre_y'),
    radiusMm: input('hole.radius'),
    pinMm: input('hole.pilot_diameter'),
  });
}

function holeAndPin(sheet: Sheet): readonly Entity[] {
  const v = holeOf(sheet);
  if (!v) return [];
  const centre = { x: 0, y: v.y };
  const reach = (figureValue(sheet, input('rosette.outer_radius')) ?? v.radiusMm) + 8;
  return [
    circle('cut', centre, v.radiusMm, { key: 'hole', widthMm: 0.35 }),
    circle('cut', centre, v.pinMm / 2, { key: 'hole.pilot_diameter', widthMm: 0.35 }),
    line('centre', { x: -reach, y: v.y }, { x: reach, y: v.y }),
    line('centre', { x: 0, y: v.y - reach }, { x: 0, y: v.y + reach }),
  ];
}

/** The end of the board and its edges, as they will cover the ring. */
function coveringBoard(sheet: Sheet, words: DimensionWords): readonly Entity[] {
  const v = allOf(sheet, {
    endY: boardEndY,
    endMm: boardWidthEnd,
    nutMm: input('board.width.nut'),
    lengthMm: input('board.length'),
    y: input('hole.centre_y'),
  });
  if (!v) return [];
  const outer = figureValue(sheet, input('rosette.outer_radius')) ?? 0;
  const half = v.endMm / 2;
  const topY = v.y - outer - 12;
  const slope = (v.endMm - v.nutMm) / 2 / v.lengthMm;
  const topHalf = half - slope * (v.endY - topY);
  const corners: readonly PointMm[] = [
    { x: -topHalf, y: topY },
    { x: -half, y: v.endY },
    { x: half, y: v.endY },
    { x: topHalf, y: topY },
  ];
  const x = -outer - 14;
  return [
    polyline('hidden', corners, false, { key: 'board' }),
    mark({ x: 0, y: topY - 5 }, 'NECK', { anchorX: 'middle' }),
    verticalDimension({ x: -half, y: v.endY }, { x: -outer, y: v.y }, x, {
      text: lengthWords(v.y - v.endY, words),
      key: 'board.end_y',
    }),
    leader({ x: half * 0.86, y: topY + 3 }, { x: half + 16, y: topY - 5 }, 'board end, dashed', {
      key: 'board',
    }),
  ];
}

/** Radii from the pin, each in its own direction. */
function radii(sheet: Sheet, words: DimensionWords): readonly Entity[] {
  const v = holeOf(sheet);
  if (!v) return [];
  const centre = { x: 0, y: v.y };
  const inner = figureValue(sheet, input('rosette.inner_radius'));
  const outer = figureValue(sheet, input('rosette.outer_radius'));
  const one = (id: string, radiusMm: number, angleRad: number): Entity =>
    radiusDimension(centre, radiusMm, angleRad, { ...shownAs(sheet, id, words) });
  const far = outer ?? v.radiusMm;
  const elbow = { x: -far - 12, y: v.y + far * 0.9 };
  return [
    one('hole.radius', v.radiusMm, 0.56),
    ...(inner === undefined ? [] : [one('rosette.inner_radius', inner, 1.08)]),
    ...(outer === undefined ? [] : [one('rosette.outer_radius', outer, 2.2)]),
    leader(
      { x: -(v.pinMm / 2) * Math.cos(0.5), y: v.y + (v.pinMm / 2) * Math.sin(0.5) },
      elbow,
      `pin \u00d8 ${lengthWords(v.pinMm, words)}`,
      { key: 'hole.pilot_diameter' },
    ),
  ];
}

/** A cut through the top from the hole edge outward, full size: plate when the channel is cut, channel, wood left. */
function channelCut(sheet: Sheet, words: DimensionWords): readonly Entity[] {
  const v = allOf(sheet, {
    y: input('hole.centre_y'),
    radiusMm: input('hole.radius'),
    innerMm: input('rosette.inner_radius'),
    outerMm: input('rosette.outer_radius'),
    depthMm: input('rosette.channel.depth'),
    thickMm: input('top.thickness.before_rosette'),
  });
  if (!v || v.depthMm >= v.thickMm) return [];
  const top = v.y + v.outerMm + 32;
  const end = v.outerMm + 14;
  const points: readonly PointMm[] = [
    { x: v.radiusMm, y: top },
    { x: v.innerMm, y: top },
    { x: v.innerMm, y: top + v.depthMm },
    { x: v.outerMm, y: top + v.depthMm },
    { x: v.outerMm, y: top },
    { x: end, y: top },
    { x: end, y: top + v.thickMm },
    { x: v.radiusMm, y: top + v.thickMm },
  ];
  const plate = polyline('visible', points, true, { key: 'rosette', widthMm: 0.25 });
  const left = figureWords(sheet, 'rosette.wood_left.final', words);
  const said = [
    `channel ${lengthWords(v.outerMm - v.innerMm, words)} wide, ${lengthWords(v.depthMm, words)} deep`,
    `top ${lengthWords(v.thickMm, words)} when it is cut`,
    ...(left === undefined ? [] : [`${left} left under it in the finished top`]),
  ];
  return [
    hatch('channel', [plate], HATCH_PITCH_MM, { key: 'rosette' }),
    plate,
    line('centre', { x: 0, y: top - 4 }, { x: 0, y: top + v.thickMm + 4 }),
    note({ x: -4, y: top + 3 }, 'pin', { anchorX: 'end' }),
    leader(
      { x: (v.innerMm + v.outerMm) / 2, y: top + v.depthMm },
      { x: v.radiusMm - 6, y: top - 9 },
      said[0] ?? '',
      { key: 'rosette.channel.depth' },
    ),
    ...said.slice(1).map((sentence, i) => note({ x: 4, y: top + v.thickMm + 8 + i * 4.5 }, sentence)),
  ];
}
