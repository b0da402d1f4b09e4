import { dimensionRow } from './dimension-row.ts';
import { type DimensionStyle, PRINT_DIMENSION_STYLE } from './dimension-style.ts';
import type {
  AngleDimension,
  ArcEntity,
  DiameterDimension,
  DimensionEntity,
  LeaderDimension,
  LinearDimension,
  LineEntity,
  PathEntity,
  PlainEntity,
  PointMm,
  RadiusDimension,
} from './model.ts';
import { alongMm, pointOnCircle } from './path-walk.ts';
import { readableAngle } from './readable.ts';

/**
 * Breaks a dimension into the lines, arcs, arrows and words that draw it. Every sink uses this and nothing else.
 *
 * @param style  sizes of text, arrows and gaps; on paper the print style
 * @returns      plain entities on the dimension's layer (the number before a change on the ghost layer)
 * @source       from memory
 */
export function dimensionGeometry(
  dimension: DimensionEntity,
  style: DimensionStyle = PRINT_DIMENSION_STYLE,
): readonly PlainEntity[] {
  switch (dimension.measure) {
    case 'linear':
      return linearGeometry(dimension, style);
    case 'diameter':
      return diameterGeometry(dimension, style);
    case 'radius':
      return radiusGeometry(dimension, style);
    case 'angle':
      return angleGeometry(dimension, style);
    case 'leader':
      return leaderGeometry(dimension, style);
  }
}

function step(from: PointMm, directionRad: number, lengthMm: number): PointMm {
  return pointOnCircle(from, lengthMm, directionRad);
}

/** Members that each part takes over from its dimension. */
function inherited({ layer, key, handle, widthMm, ink }: DimensionEntity) {
  return {
    layer,
    ...(key !== undefined && { key }),
    ...(handle !== undefined && { handle }),
    ...(widthMm !== undefined && { widthMm }),
    ...(ink !== undefined && { ink }),
  };
}

function lineOf(dimension: DimensionEntity, from: PointMm, to: PointMm): LineEntity {
  return { kind: 'line', ...inherited(dimension), from, to };
}

/** A closed, filled arrow with its tip at `tip`, pointing in a direction. */
function arrow(
  dimension: DimensionEntity,
  tip: PointMm,
  directionRad: number,
  style: DimensionStyle,
): PathEntity {
  const base = step(tip, directionRad, -style.arrowLengthMm);
  const half = style.arrowWidthMm / 2;
  const left = step(base, directionRad + Math.PI / 2, half);
  const right = step(base, directionRad - Math.PI / 2, half);
  return {
    kind: 'path',
    ...inherited(dimension),
    start: tip,
    segments: [
      { kind: 'line', to: left },
      { kind: 'line', to: right },
    ],
    isClosed: true,
    fill: dimension.ink ?? 'black',
    isStroked: false,
  };
}

function linearGeometry(dimension: LinearDimension, style: DimensionStyle): readonly PlainEntity[] {
  const { directionRad, from, to, through } = dimension;
  const across = directionRad + Math.PI / 2;
  const first = step(from, across, alongMm(across, from, through));
  const last = step(to, across, alongMm(across, to, through));
  return [
    ...extensionLine(dimension, from, first, style),
    ...extensionLine(dimension, to, last, style),
    ...spanGeometry(dimension, first, last, style),
  ];
}

/** From a gap at the object to a little past the dimension line; none where the object is on the line. */
function extensionLine(
  dimension: LinearDimension,
  object: PointMm,
  end: PointMm,
  style: DimensionStyle,
): readonly LineEntity[] {
  const reach = Math.hypot(end.x - object.x, end.y - object.y);
  if (reach < 2 * style.gapMm) return [];
  const way = Math.atan2(end.y - object.y, end.x - object.x);
  return [lineOf(dimension, step(object, way, style.gapMm), step(end, way, style.overshootMm))];
}

/** The dimension line between two points with its arrows and number; arrows or number go outside when there is no room. */
function spanGeometry(
  dimension: DimensionEntity,
  first: PointMm,
  last: PointMm,
  style: DimensionStyle,
): readonly PlainEntity[] {
  const length = Math.hypot(last.x - first.x, last.y - first.y);
  const way = length > 0 ? Math.atan2(last.y - first.y, last.x - first.x) : 0;
  const reading = readableAngle(way);
  const [start, end] = reading.isFlipped ? [last, first] : [first, last];
  const row = dimensionRow(dimension, style);
  const hasRoomForArrows = length >= 2.5 * style.arrowLengthMm;
  const hasRoomForText = length >= row.widthMm + 2 * style.textGapMm && length >= 1.5 * style.arrowLengthMm;
  const tail = hasRoomForArrows ? 0 : 2 * style.arrowLengthMm;
  const beyond = hasRoomForText ? tail : Math.max(tail, style.arrowLengthMm) + row.widthMm + style.textGapMm;
  const lineStart = step(start, reading.angleRad, -tail);
  const lineEnd = step(end, reading.angleRad, beyond);
  const textAlong = hasRoomForText
    ? length * (dimension.textAtFrac ?? 0.5)
    : length + beyond - row.widthMm / 2;
  const turned = hasRoomForArrows ? 0 : Math.PI;
  return [
    lineOf(dimension, lineStart, lineEnd),
    arrow(dimension, start, reading.angleRad + Math.PI + turned, style),
    arrow(dimension, end, reading.angleRad + turned, style),
    ...row.place(step(start, reading.angleRad, textAlong), reading.angleRad),
  ];
}

function diameterGeometry(dimension: DiameterDimension, style: DimensionStyle): readonly PlainEntity[] {
  const { centre, radiusMm, angleRad } = dimension;
  const reading = readableAngle(angleRad);
  const first = step(centre, reading.angleRad, -radiusMm);
  const last = step(centre, reading.angleRad, radiusMm);
  const row = dimensionRow(dimension, style);
  if (row.widthMm > 1.2 * radiusMm - style.arrowLengthMm) return spanGeometry(dimension, first, last, style);
  return [
    lineOf(dimension, first, last),
    arrow(dimension, first, reading.angleRad + Math.PI, style),
    arrow(dimension, last, reading.angleRad, style),
    ...row.place(step(centre, reading.angleRad, -radiusMm / 2), reading.angleRad),
  ];
}

function radiusGeometry(dimension: RadiusDimension, style: DimensionStyle): readonly PlainEntity[] {
  const { centre, radiusMm, angleRad } = dimension;
  const row = dimensionRow(dimension, style);
  const edge = step(centre, angleRad, radiusMm);
  const reading = readableAngle(angleRad);
  const isInside =
    dimension.outsideMm === undefined && radiusMm > row.widthMm + style.arrowLengthMm + 2 * style.textGapMm;
  if (isInside) {
    const middle = step(centre, angleRad, (radiusMm - style.arrowLengthMm) / 2);
    return [
      lineOf(dimension, centre, edge),
      arrow(dimension, edge, angleRad, style),
      ...row.place(middle, reading.angleRad),
    ];
  }
  const lead = Math.max(dimension.outsideMm ?? 0, 1.5 * style.arrowLengthMm);
  const far = step(edge, angleRad, lead + row.widthMm);
  return [
    lineOf(dimension, edge, far),
    arrow(dimension, edge, angleRad + Math.PI, style),
    ...row.place(step(edge, angleRad, lead + row.widthMm / 2), reading.angleRad),
  ];
}

function angleGeometry(dimension: AngleDimension, style: DimensionStyle): readonly PlainEntity[] {
  const { centre, radiusMm, startRad, sweepRad } = dimension;
  const sign = Math.sign(sweepRad) || 1;
  const lengthMm = Math.abs(sweepRad) * radiusMm;
  const isOutside = lengthMm < 2.5 * style.arrowLengthMm;
  const extra = isOutside ? (sign * 2 * style.arrowLengthMm) / radiusMm : 0;
  // the arrow is a chord of the arc: its direction is that of the chord, not of the tangent at the tip
  const lean = sign * Math.asin(Math.min(1, style.arrowLengthMm / (2 * radiusMm)));
  const quarter = sign * (Math.PI / 2);
  const atStart = isOutside ? startRad + quarter - lean : startRad - quarter + lean;
  const endRad = startRad + sweepRad;
  const atEnd = isOutside ? endRad - quarter + lean : endRad + quarter - lean;
  const curve: ArcEntity = {
    kind: 'arc',
    ...inherited(dimension),
    centre,
    radiusMm,
    startRad: startRad - extra,
    sweepRad: sweepRad + 2 * extra,
  };
  const middleRad = startRad + sweepRad / 2;
  const row = dimensionRow(dimension, style);
  const awayMm =
    radiusMm +
    style.textGapMm +
    (Math.abs(Math.cos(middleRad)) * row.widthMm) / 2 +
    (Math.abs(Math.sin(middleRad)) * style.textHeightMm) / 2;
  const middle = step(centre, middleRad, awayMm);
  return [
    curve,
    arrow(dimension, step(centre, startRad, radiusMm), atStart, style),
    arrow(dimension, step(centre, endRad, radiusMm), atEnd, style),
    ...row.place({ x: middle.x, y: middle.y + style.textHeightMm / 2 + style.textGapMm }, 0),
  ];
}

function leaderGeometry(dimension: LeaderDimension, style: DimensionStyle): readonly PlainEntity[] {
  const { tip, elbow } = dimension;
  const row = dimensionRow(dimension, style);
  const isToTheRight = elbow.x >= tip.x;
  const shelfMm = row.widthMm + style.textGapMm;
  const end = { x: elbow.x + (isToTheRight ? shelfMm : -shelfMm), y: elbow.y };
  const way = Math.atan2(tip.y - elbow.y, tip.x - elbow.x);
  const middle = { x: (elbow.x + end.x) / 2 + (isToTheRight ? 1 : -1) * (style.textGapMm / 2), y: elbow.y };
  return [
    lineOf(dimension, tip, elbow),
    lineOf(dimension, elbow, end),
    arrow(dimension, tip, way, style),
    ...row.place(middle, 0),
  ];
}
