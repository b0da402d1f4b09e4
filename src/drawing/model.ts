import type { InkName, LayerName, LineTypeName } from './line-types.ts';

/*
 * The one drawing model. Pure data, in mm at full scale; sinks (SVG, PDF, DXF) and the page read it.
 *
 * Frame, stated once: x runs across the instrument, + toward the treble side of a right-handed one seen from the
 * front, 0 on the centre line; y runs from the neck end toward the tail, so y points DOWN on the screen and on
 * paper. Angles are radians from +x toward +y, so they turn clockwise on the screen. Only the DXF sink turns y up.
 */

/** A point, mm. */
export interface PointMm {
  readonly x: number;
  readonly y: number;
}

/** A box along the axes, mm. */
export interface BoundsMm {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** What dragging an entity changes on the page. */
export interface Handle {
  /** Id of the pattern input that is dragged, e.g. `body.waist_width`. */
  readonly inputId: string;
  /** The way it moves: along x, along y, away from `about`, or turning about `about`. */
  readonly axis: 'x' | 'y' | 'radial' | 'angle';
  /** Change of the input (in its inner unit, mm or rad) for each mm or rad of movement; 2 for a full width dragged at one side. Default 1. */
  readonly gainRatio?: number;
  /** Centre for `radial` and `angle`. */
  readonly about?: PointMm;
}

/** Members every entity has. */
interface EntityBase {
  readonly layer: LayerName;
  /** Id of a figure or rule that this entity shows, so that the page can light it. */
  readonly key?: string;
  readonly handle?: Handle;
  /** Line width on paper, mm, where it differs from the layer's. */
  readonly widthMm?: number;
  /** Line type where it differs from the layer's. */
  readonly lineType?: LineTypeName;
  /** Ink on paper where it differs from the layer's. */
  readonly ink?: InkName;
}

/** Members of entities that enclose an area. */
interface Fillable {
  /** Ink of the area; left out: not filled. `white` hides what lies under it. */
  readonly fill?: InkName;
  /** false: the edge is not drawn. Default true. */
  readonly isStroked?: boolean;
}

export interface LineEntity extends EntityBase {
  readonly kind: 'line';
  readonly from: PointMm;
  readonly to: PointMm;
}

export interface CircleEntity extends EntityBase, Fillable {
  readonly kind: 'circle';
  readonly centre: PointMm;
  readonly radiusMm: number;
}

/** A part of a circle from `startRad`, turning by `sweepRad` (positive: clockwise on the screen; under a full turn). */
export interface ArcEntity extends EntityBase {
  readonly kind: 'arc';
  readonly centre: PointMm;
  readonly radiusMm: number;
  readonly startRad: number;
  readonly sweepRad: number;
}

export interface LineSegment {
  readonly kind: 'line';
  readonly to: PointMm;
}

/** Turns about `centre` by `sweepRad` from where the path stands; radius and end follow. */
export interface ArcSegment {
  readonly kind: 'arc';
  readonly centre: PointMm;
  readonly sweepRad: number;
}

/** A cubic Bezier from where the path stands. */
export interface CubicSegment {
  readonly kind: 'cubic';
  readonly control1: PointMm;
  readonly control2: PointMm;
  readonly to: PointMm;
}

export type PathSegment = LineSegment | ArcSegment | CubicSegment;

/** A run of lines, arcs and cubics. Closed: a last straight line runs back to the start when the run does not end there. */
export interface PathGeometry {
  readonly start: PointMm;
  readonly segments: readonly PathSegment[];
  readonly isClosed: boolean;
}

export interface PathEntity extends EntityBase, Fillable, PathGeometry {
  readonly kind: 'path';
}

/** Encode Sans for sentences and all numbers, National Park for names of things. */
export type FaceName = 'sans' | 'name';

/** National Park is printed in 700 whatever is asked. */
export type FontWeight = 400 | 600 | 700;

export type AnchorX = 'start' | 'middle' | 'end';
export type AnchorY = 'baseline' | 'middle' | 'top';

export interface TextEntity extends EntityBase {
  readonly kind: 'text';
  readonly at: PointMm;
  readonly text: string;
  /** Height of the capitals and digits, mm (not the font size). */
  readonly heightMm: number;
  /** Direction of reading, radians clockwise on the screen; 0 reads to the right, -pi/2 reads upward. */
  readonly rotationRad: number;
  readonly weight: FontWeight;
  readonly face: FaceName;
  readonly anchorX: AnchorX;
  readonly anchorY: AnchorY;
  /** true: a paper-coloured rim keeps lines away from the letters. */
  readonly hasHalo?: boolean;
}

/** Members every dimension has. */
interface DimensionBase extends EntityBase {
  readonly kind: 'dimension';
  /** The words of the number; left out: what is measured, 0.1 mm (degrees for an angle). Give it without the sign for diameter and radius. */
  readonly text?: string;
  /** A second line under the number, e.g. the inches. */
  readonly second?: string;
  /** The number before the change, shown as ghost beside the new one. */
  readonly was?: string;
  /** Revision in the triangle beside a changed number. */
  readonly revision?: string;
  /** Where the number of a distance stands along its line, 0 at the end read first, 1 at the other; default 0.5. */
  readonly textAtFrac?: number;
}

/** Distance of two points measured along `directionRad`; the dimension line runs through `through`. */
export interface LinearDimension extends DimensionBase {
  readonly measure: 'linear';
  readonly from: PointMm;
  readonly to: PointMm;
  readonly directionRad: number;
  readonly through: PointMm;
}

/** A line across the circle in direction `angleRad`, with arrows at both ends. */
export interface DiameterDimension extends DimensionBase {
  readonly measure: 'diameter';
  readonly centre: PointMm;
  readonly radiusMm: number;
  readonly angleRad: number;
}

/** An arrow to the edge at `angleRad`; the number stands inside, or outside at `outsideMm` beyond the edge. */
export interface RadiusDimension extends DimensionBase {
  readonly measure: 'radius';
  readonly centre: PointMm;
  readonly radiusMm: number;
  readonly angleRad: number;
  readonly outsideMm?: number;
}

/** An arc of `radiusMm` about `centre` from `startRad` by `sweepRad`, with arrows at both ends. */
export interface AngleDimension extends DimensionBase {
  readonly measure: 'angle';
  readonly centre: PointMm;
  readonly radiusMm: number;
  readonly startRad: number;
  readonly sweepRad: number;
}

/** An arrow at `tip`, a line to `elbow`, a level shelf under the words. */
export interface LeaderDimension extends DimensionBase {
  readonly measure: 'leader';
  readonly tip: PointMm;
  readonly elbow: PointMm;
  readonly text: string;
}

export type DimensionEntity =
  | LinearDimension
  | DiameterDimension
  | RadiusDimension
  | AngleDimension
  | LeaderDimension;

/** An area filled with parallel lines; inside is decided by the even-odd rule over all loops. The edge is not drawn. */
export interface HatchEntity extends EntityBase {
  readonly kind: 'hatch';
  readonly loops: readonly PathGeometry[];
  readonly angleRad: number;
  readonly pitchMm: number;
}

/** What is left when dimensions and hatches are broken up. */
export type PlainEntity = LineEntity | CircleEntity | ArcEntity | PathEntity | TextEntity;

export type Entity = PlainEntity | DimensionEntity | HatchEntity;

/** One drawing: what it is, how far it reaches, what stands on it. */
export interface Drawing {
  /** Short lasting id, e.g. `front-face`. */
  readonly id: string;
  /** The name in the title block, e.g. `Front face`. */
  readonly title: string;
  /** From where it is seen, in plain words, e.g. `the front`, `inside, mirrored`. */
  readonly seenFrom: string;
  /** What has to be on paper, mm; at least the bounds of everything printed. */
  readonly frame: BoundsMm;
  readonly entities: readonly Entity[];
}

/** Line width, line type, figure id, handle and ink that may be given with any entity. */
export type EntityExtras = Omit<EntityBase, 'layer'>;

/** The same for entities that enclose an area. */
export type FillExtras = EntityExtras & Fillable;

/** Makes a straight line. @source plane-geometry */
export function line(layer: LayerName, from: PointMm, to: PointMm, extras: EntityExtras = {}): LineEntity {
  return { kind: 'line', layer, from, to, ...extras };
}

/** Makes a circle. @source plane-geometry */
export function circle(
  layer: LayerName,
  centre: PointMm,
  radiusMm: number,
  extras: FillExtras = {},
): CircleEntity {
  return { kind: 'circle', layer, centre, radiusMm, ...extras };
}

/** Makes an arc from `startRad` turning by `sweepRad`. @source plane-geometry */
export function arc(
  layer: LayerName,
  centre: PointMm,
  radiusMm: number,
  startRad: number,
  sweepRad: number,
  extras: EntityExtras = {},
): ArcEntity {
  return { kind: 'arc', layer, centre, radiusMm, startRad, sweepRad, ...extras };
}

/** A straight piece of a path. @source plane-geometry */
export function lineTo(to: PointMm): LineSegment {
  return { kind: 'line', to };
}

/** A piece of a path that turns about a centre. @source plane-geometry */
export function arcAbout(centre: PointMm, sweepRad: number): ArcSegment {
  return { kind: 'arc', centre, sweepRad };
}

/** A cubic Bezier piece of a path. @source plane-geometry */
export function cubicTo(control1: PointMm, control2: PointMm, to: PointMm): CubicSegment {
  return { kind: 'cubic', control1, control2, to };
}

/** Makes an open path of lines, arcs and cubics. @source plane-geometry */
export function openPath(
  layer: LayerName,
  start: PointMm,
  segments: readonly PathSegment[],
  extras: FillExtras = {},
): PathEntity {
  return { kind: 'path', layer, start, segments, isClosed: false, ...extras };
}

/** Makes a closed path of lines, arcs and cubics. @source plane-geometry */
export function closedPath(
  layer: LayerName,
  start: PointMm,
  segments: readonly PathSegment[],
  extras: FillExtras = {},
): PathEntity {
  return { kind: 'path', layer, start, segments, isClosed: true, ...extras };
}

/**
 * Makes a run of straight lines.
 *
 * @param points  at least two
 * @throws RangeError with fewer than two points
 * @source plane-geometry
 */
export function polyline(
  layer: LayerName,
  points: readonly PointMm[],
  isClosed = false,
  extras: FillExtras = {},
): PathEntity {
  const [start, ...rest] = points;
  if (start === undefined || rest.length === 0)
    throw new RangeError(`polyline: ${points.length} points, at least 2 are needed`);
  return { kind: 'path', layer, start, segments: rest.map(lineTo), isClosed, ...extras };
}

/** Makes a closed box from its bounds. @source plane-geometry */
export function box(layer: LayerName, at: BoundsMm, extras: FillExtras = {}): PathEntity {
  const { minX, minY, maxX, maxY } = at;
  const corners = [
    { x: minX, y: minY },
    { x: maxX, y: minY },
    { x: maxX, y: maxY },
    { x: minX, y: maxY },
  ];
  return polyline(layer, corners, true, extras);
}

/** What may be said about a text beside its place, words and height. */
export type TextExtras = EntityExtras &
  Partial<Pick<TextEntity, 'rotationRad' | 'weight' | 'face' | 'anchorX' | 'anchorY' | 'hasHalo'>>;

/**
 * Makes a text: level, weight 400, Encode Sans, starting at `at` on its baseline unless told otherwise.
 *
 * @param heightMm  height of the capitals and digits, mm; > 0
 * @source plane-geometry
 */
export function text(
  layer: LayerName,
  at: PointMm,
  words: string,
  heightMm: number,
  extras: TextExtras = {},
): TextEntity {
  return {
    kind: 'text',
    layer,
    at,
    text: words,
    heightMm,
    rotationRad: 0,
    weight: 400,
    face: 'sans',
    anchorX: 'start',
    anchorY: 'baseline',
    ...extras,
  };
}

/** Makes a 45 degree hatch of the given pitch inside the loops. @source plane-geometry */
export function hatch(
  layer: LayerName,
  loops: readonly PathGeometry[],
  pitchMm: number,
  extras: EntityExtras & { readonly angleRad?: number } = {},
): HatchEntity {
  return { kind: 'hatch', layer, loops, pitchMm, angleRad: -Math.PI / 4, ...extras };
}

/** A full circle as a loop for a hatch or a path. @source plane-geometry */
export function circleLoop(centre: PointMm, radiusMm: number): PathGeometry {
  const half = arcAbout(centre, Math.PI);
  return { start: { x: centre.x + radiusMm, y: centre.y }, segments: [half, half], isClosed: true };
}

/** What may be said about a dimension beside its geometry. The layer is `dimension` unless told otherwise. */
export type DimensionExtras = EntityExtras &
  Partial<Pick<DimensionBase, 'layer' | 'text' | 'second' | 'was' | 'revision' | 'textAtFrac'>>;

function linearDimension(
  from: PointMm,
  to: PointMm,
  directionRad: number,
  through: PointMm,
  extras: DimensionExtras,
): LinearDimension {
  const kind = { kind: 'dimension', layer: 'dimension', measure: 'linear' } as const;
  return { ...kind, from, to, directionRad, through, ...extras };
}

/** Distance across (along x) of two points, dimension line at height `yMm`. @source plane-geometry */
export function horizontalDimension(
  from: PointMm,
  to: PointMm,
  yMm: number,
  extras: DimensionExtras = {},
): LinearDimension {
  const through = { x: from.x, y: yMm };
  return linearDimension(from, to, 0, through, extras);
}

/** Distance along y of two points, dimension line at `xMm`. @source plane-geometry */
export function verticalDimension(
  from: PointMm,
  to: PointMm,
  xMm: number,
  extras: DimensionExtras = {},
): LinearDimension {
  const through = { x: xMm, y: from.y };
  const directionRad = Math.PI / 2;
  return linearDimension(from, to, directionRad, through, extras);
}

/**
 * Distance of two points along their own line.
 *
 * @param offsetMm  from the two points to the dimension line, mm; positive to the right of the way from `from` to `to` as seen on the screen
 * @source plane-geometry
 */
export function alignedDimension(
  from: PointMm,
  to: PointMm,
  offsetMm: number,
  extras: DimensionExtras = {},
): LinearDimension {
  const directionRad = Math.atan2(to.y - from.y, to.x - from.x);
  const through = {
    x: from.x - Math.sin(directionRad) * offsetMm,
    y: from.y + Math.cos(directionRad) * offsetMm,
  };
  return linearDimension(from, to, directionRad, through, extras);
}

/** Diameter of a circle, drawn across it in direction `angleRad`. @source plane-geometry */
export function diameterDimension(
  centre: PointMm,
  radiusMm: number,
  angleRad: number,
  extras: DimensionExtras = {},
): DiameterDimension {
  return {
    kind: 'dimension',
    layer: 'dimension',
    measure: 'diameter',
    centre,
    radiusMm,
    angleRad,
    ...extras,
  };
}

/** Radius of a circle or arc, arrow on the edge at `angleRad`. @source plane-geometry */
export function radiusDimension(
  centre: PointMm,
  radiusMm: number,
  angleRad: number,
  extras: DimensionExtras & { readonly outsideMm?: number } = {},
): RadiusDimension {
  return { kind: 'dimension', layer: 'dimension', measure: 'radius', centre, radiusMm, angleRad, ...extras };
}

/** Angle between two directions, drawn as an arc of `radiusMm`. @source plane-geometry */
export function angleDimension(
  centre: PointMm,
  radiusMm: number,
  startRad: number,
  sweepRad: number,
  extras: DimensionExtras = {},
): AngleDimension {
  return {
    kind: 'dimension',
    layer: 'dimension',
    measure: 'angle',
    centre,
    radiusMm,
    startRad,
    sweepRad,
    ...extras,
  };
}

/** An arrow at `tip` with words on a level shelf at `elbow`. @source plane-geometry */
export function leader(
  tip: PointMm,
  elbow: PointMm,
  words: string,
  extras: Omit<DimensionExtras, 'text'> = {},
): LeaderDimension {
  return { kind: 'dimension', layer: 'dimension', measure: 'leader', tip, elbow, ...extras, text: words };
}
