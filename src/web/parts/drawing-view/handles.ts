import type { Drawing, Entity, Handle, PointMm } from '../../../drawing/model.ts';
import { pointOnCircle } from '../../../drawing/path-walk.ts';

/** A place where a drawing can be taken hold of. */
export interface Grip {
  readonly handle: Handle;
  readonly at: PointMm;
}

/** A handle with where its entity can be taken hold of. */
function spotOf(entity: Entity): PointMm | undefined {
  switch (entity.kind) {
    case 'line':
      return { x: (entity.from.x + entity.to.x) / 2, y: (entity.from.y + entity.to.y) / 2 };
    case 'circle':
      return pointOnCircle(entity.centre, entity.radiusMm, -Math.PI / 4);
    case 'arc':
      return pointOnCircle(entity.centre, entity.radiusMm, entity.startRad + entity.sweepRad / 2);
    case 'path':
      return middleOf([entity.start, ...entity.segments.flatMap((s) => ('to' in s ? [s.to] : []))]);
    case 'text':
      return entity.at;
    case 'hatch':
      return entity.loops[0]?.start;
    case 'dimension':
      return spotOfDimension(entity);
  }
}

function middleOf(points: readonly PointMm[]): PointMm {
  const sum = points.reduce((a, p) => ({ x: a.x + p.x, y: a.y + p.y }), { x: 0, y: 0 });
  return { x: sum.x / points.length, y: sum.y / points.length };
}

function spotOfDimension(entity: Entity & { readonly kind: 'dimension' }): PointMm {
  switch (entity.measure) {
    case 'linear':
      return entity.to;
    case 'angle':
      return pointOnCircle(entity.centre, entity.radiusMm, entity.startRad + entity.sweepRad);
    case 'leader':
      return entity.tip;
    default:
      return pointOnCircle(entity.centre, entity.radiusMm, entity.angleRad);
  }
}

/** One grip for each input that can be dragged, the first entity with it wins. */
export function gripsOf(drawing: Drawing): readonly Grip[] {
  const grips = new Map<string, Grip>();
  for (const entity of drawing.entities) {
    const { handle } = entity;
    if (!handle || grips.has(handle.inputId)) continue;
    const at = spotOf(entity);
    if (at) grips.set(handle.inputId, { handle, at });
  }
  return [...grips.values()];
}

/** Turn between two directions seen from a centre, the short way, rad. */
function turnRad(about: PointMm, from: PointMm, to: PointMm): number {
  const turn = Math.atan2(to.y - about.y, to.x - about.x) - Math.atan2(from.y - about.y, from.x - about.x);
  return turn > Math.PI ? turn - 2 * Math.PI : turn < -Math.PI ? turn + 2 * Math.PI : turn;
}

/**
 * How much an input changes when its grip is moved from one point to another.
 *
 * @param isMirrored  the drawing is seen from inside: right and left change places
 * @returns           change in mm, or degrees for an angle
 */
export function inputChange(handle: Handle, from: PointMm, to: PointMm, isMirrored: boolean): number {
  const gain = handle.gainRatio ?? 1;
  const side = isMirrored ? -1 : 1;
  const about = handle.about ?? { x: 0, y: 0 };
  switch (handle.axis) {
    case 'x':
      return gain * side * (to.x - from.x);
    case 'y':
      return gain * (to.y - from.y);
    case 'radial':
      return (
        gain * (Math.hypot(to.x - about.x, to.y - about.y) - Math.hypot(from.x - about.x, from.y - about.y))
      );
    case 'angle':
      return (gain * side * turnRad(about, from, to) * 180) / Math.PI;
  }
}

/** What one press of an arrow key does: +1, -1, or undefined when the key does not move this grip. */
export function keyDirection(handle: Handle, key: string, isMirrored: boolean): 1 | -1 | undefined {
  const gain = Math.sign(handle.gainRatio ?? 1);
  const right = key === 'ArrowRight' ? 1 : key === 'ArrowLeft' ? -1 : 0;
  const down = key === 'ArrowDown' ? 1 : key === 'ArrowUp' ? -1 : 0;
  const moved =
    handle.axis === 'x'
      ? right * gain * (isMirrored ? -1 : 1)
      : handle.axis === 'y'
        ? down * gain
        : right === 0
          ? -down
          : right;
  return moved > 0 ? 1 : moved < 0 ? -1 : undefined;
}

/** A value on the nearest step within limits. */
export function snapped(value: number, step: number, low: number, high: number): number {
  const onStep = Number((Math.round(value / step) * step).toFixed(6));
  return Math.min(high, Math.max(low, onStep));
}

/** A point on the first entity with one of the keys, to point at; undefined when none of them is drawn. */
export function gripOfKey(drawing: Drawing, keys: ReadonlySet<string>): PointMm | undefined {
  const isKeyed = (e: Entity): boolean => e.key !== undefined && keys.has(e.key) && e.kind !== 'text';
  const found =
    drawing.entities.find((e) => isKeyed(e) && e.layer === 'accent') ??
    drawing.entities.find((e) => isKeyed(e) && e.kind !== 'dimension') ??
    drawing.entities.find(isKeyed);
  return found?.kind === 'path' ? found.start : found && spotOf(found);
}
