import { boundsOfPoints } from './bounds.ts';
import { measuredText } from './dimension-text.ts';
import type {
  BoundsMm,
  DimensionEntity,
  Drawing,
  Entity,
  PathSegment,
  PointMm,
  TextEntity,
} from './model.ts';
import { readable, SWAPPED_X } from './readable.ts';

/**
 * A move of the plane that keeps shapes: first mirrored in the y axis when asked, then scaled, turned and shifted.
 * Lengths of text and arrow sizes are never scaled: they belong to the paper, not to the part.
 */
export interface Similarity {
  readonly isMirrored: boolean;
  readonly scaleRatio: number;
  readonly turnRad: number;
  readonly shift: PointMm;
}

const STILL: Similarity = { isMirrored: false, scaleRatio: 1, turnRad: 0, shift: { x: 0, y: 0 } };

/**
 * Mirrors entities in the y axis (x to -x), the way an inside view is drawn. Words stay readable.
 *
 * @source plane-geometry
 */
export function mirrorX(entities: readonly Entity[]): readonly Entity[] {
  return transform(entities, { ...STILL, isMirrored: true });
}

/** Shifts entities. @source plane-geometry */
export function translate(entities: readonly Entity[], shift: PointMm): readonly Entity[] {
  return transform(entities, { ...STILL, shift });
}

/**
 * Turns entities about a point. Words stay readable.
 *
 * @param turnRad  positive: clockwise on the screen
 * @source plane-geometry
 */
export function rotate(
  entities: readonly Entity[],
  turnRad: number,
  about: PointMm = { x: 0, y: 0 },
): readonly Entity[] {
  const turned = movePoint(about, { ...STILL, turnRad });
  return transform(entities, {
    ...STILL,
    turnRad,
    shift: { x: about.x - turned.x, y: about.y - turned.y },
  });
}

/**
 * Scales entities about the origin, for the small pictures on cards. Text, arrows and hatch pitch keep their size,
 * and dimensions keep the number of the full-size part.
 *
 * @param scaleRatio  > 0, e.g. 0.2 for 1 : 5
 * @throws RangeError when it is not above 0
 * @source plane-geometry
 */
export function scale(entities: readonly Entity[], scaleRatio: number): readonly Entity[] {
  if (!(scaleRatio > 0)) throw new RangeError(`scale: ratio ${scaleRatio} must be above 0`);
  return transform(entities, { ...STILL, scaleRatio });
}

/** Applies one similarity to each entity. @source plane-geometry */
export function transform(entities: readonly Entity[], by: Similarity): readonly Entity[] {
  return entities.map((entity) => moveEntity(entity, by));
}

/** A drawing mirrored as a whole: entities, frame and the words that say from where it is seen. @source plane-geometry */
export function mirrorDrawing(drawing: Drawing, seenFrom: string): Drawing {
  const { minX, maxX, minY, maxY } = drawing.frame;
  const frame: BoundsMm = { minX: -maxX, maxX: -minX, minY, maxY };
  return { ...drawing, seenFrom, frame, entities: mirrorX(drawing.entities) };
}

/** Where a point goes. @source plane-geometry */
function movePoint(point: PointMm, by: Similarity): PointMm {
  const x = (by.isMirrored ? -point.x : point.x) * by.scaleRatio;
  const y = point.y * by.scaleRatio;
  const cos = Math.cos(by.turnRad);
  const sin = Math.sin(by.turnRad);
  return { x: x * cos - y * sin + by.shift.x, y: x * sin + y * cos + by.shift.y };
}

/** Where a direction goes. @source plane-geometry */
function moveAngle(angleRad: number, by: Similarity): number {
  return (by.isMirrored ? Math.PI - angleRad : angleRad) + by.turnRad;
}

/** Bounds of a box after a move (exact for quarter turns, otherwise the box around the turned box). @source plane-geometry */
export function moveBounds(at: BoundsMm, by: Similarity): BoundsMm {
  const corners = [
    { x: at.minX, y: at.minY },
    { x: at.maxX, y: at.minY },
    { x: at.maxX, y: at.maxY },
    { x: at.minX, y: at.maxY },
  ];
  return boundsOfPoints(corners.map((corner) => movePoint(corner, by)));
}

function moveEntity(entity: Entity, by: Similarity): Entity {
  const moved = moveShape(entity, by);
  const about = entity.handle?.about;
  if (moved.handle === undefined || about === undefined) return moved;
  return { ...moved, handle: { ...moved.handle, about: movePoint(about, by) } };
}

function moveShape(entity: Entity, by: Similarity): Entity {
  const at = (point: PointMm) => movePoint(point, by);
  const turnSign = by.isMirrored ? -1 : 1;
  switch (entity.kind) {
    case 'line':
      return { ...entity, from: at(entity.from), to: at(entity.to) };
    case 'circle':
      return { ...entity, centre: at(entity.centre), radiusMm: entity.radiusMm * by.scaleRatio };
    case 'arc':
      return {
        ...entity,
        centre: at(entity.centre),
        radiusMm: entity.radiusMm * by.scaleRatio,
        startRad: moveAngle(entity.startRad, by),
        sweepRad: entity.sweepRad * turnSign,
      };
    case 'path':
      return { ...entity, ...movePath(entity, by) };
    case 'hatch':
      return {
        ...entity,
        loops: entity.loops.map((loop) => ({ isClosed: loop.isClosed, ...movePath(loop, by) })),
        angleRad: moveAngle(entity.angleRad, by),
      };
    case 'text':
      return moveText(entity, by);
    case 'dimension':
      return moveDimension(keepNumber(entity, by), by);
  }
}

function movePath(
  path: { readonly start: PointMm; readonly segments: readonly PathSegment[] },
  by: Similarity,
): { readonly start: PointMm; readonly segments: readonly PathSegment[] } {
  return {
    start: movePoint(path.start, by),
    segments: path.segments.map((segment) => moveSegment(segment, by)),
  };
}

function moveSegment(segment: PathSegment, by: Similarity): PathSegment {
  const at = (point: PointMm) => movePoint(point, by);
  switch (segment.kind) {
    case 'line':
      return { kind: 'line', to: at(segment.to) };
    case 'arc':
      return {
        kind: 'arc',
        centre: at(segment.centre),
        sweepRad: by.isMirrored ? -segment.sweepRad : segment.sweepRad,
      };
    case 'cubic':
      return {
        kind: 'cubic',
        control1: at(segment.control1),
        control2: at(segment.control2),
        to: at(segment.to),
      };
  }
}

/** Mirrored words would read backwards: they run the other way instead and stay on the same area. */
function moveText(entity: TextEntity, by: Similarity): TextEntity {
  const at = movePoint(entity.at, by);
  if (!by.isMirrored) return readable({ ...entity, at, rotationRad: entity.rotationRad + by.turnRad });
  const run = { ...entity, at, rotationRad: -entity.rotationRad + by.turnRad };
  return readable({ ...run, anchorX: SWAPPED_X[entity.anchorX] });
}

function keepNumber(entity: DimensionEntity, by: Similarity): DimensionEntity {
  if (by.scaleRatio === 1 || entity.text !== undefined) return entity;
  return { ...entity, text: measuredText(entity) };
}

function moveDimension(entity: DimensionEntity, by: Similarity): DimensionEntity {
  const at = (point: PointMm) => movePoint(point, by);
  switch (entity.measure) {
    case 'linear':
      return {
        ...entity,
        from: at(entity.from),
        to: at(entity.to),
        through: at(entity.through),
        directionRad: moveAngle(entity.directionRad, by),
      };
    case 'diameter':
    case 'radius':
      return {
        ...entity,
        centre: at(entity.centre),
        radiusMm: entity.radiusMm * by.scaleRatio,
        angleRad: moveAngle(entity.angleRad, by),
      };
    case 'angle':
      return {
        ...entity,
        centre: at(entity.centre),
        radiusMm: entity.radiusMm * by.scaleRatio,
        startRad: moveAngle(entity.startRad, by),
        sweepRad: by.isMirrored ? -entity.sweepRad : entity.sweepRad,
      };
    case 'leader':
      return { ...entity, tip: at(entity.tip), elbow: at(entity.elbow) };
  }
}
