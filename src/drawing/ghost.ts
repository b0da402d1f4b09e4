import type { Drawing, Entity, PathGeometry, PointMm } from './model.ts';

const APART_MM = 0.02;

const isApart = (a: PointMm, b: PointMm): boolean => Math.hypot(a.x - b.x, a.y - b.y) > APART_MM;

const pointsOf = ({ start, segments }: PathGeometry): readonly PointMm[] => [
  start,
  ...segments.flatMap((s): PointMm[] =>
    s.kind === 'line'
      ? [s.to]
      : s.kind === 'arc'
        ? [s.centre, { x: s.sweepRad * 100, y: 0 }]
        : [s.control1, s.control2, s.to],
  ),
];

/** Points and lengths that say where an entity lies. */
function placeOf(entity: Entity): readonly PointMm[] | undefined {
  switch (entity.kind) {
    case 'line':
      return [entity.from, entity.to];
    case 'circle':
      return [entity.centre, { x: entity.radiusMm, y: 0 }];
    case 'path':
      return pointsOf(entity);
    default:
      return undefined;
  }
}

const isDrawn = ({ layer }: Entity): boolean => layer === 'cut' || layer === 'hidden' || layer === 'visible';

/** Entities that can be compared, in order, by kind and key. */
function comparable(drawing: Drawing): Map<string, Entity> {
  const found = new Map<string, Entity>();
  const counts = new Map<string, number>();
  for (const entity of drawing.entities) {
    if (!isDrawn(entity) || placeOf(entity) === undefined) continue;
    const name = `${entity.kind} ${entity.layer} ${entity.key ?? ''}`;
    const count = (counts.get(name) ?? 0) + 1;
    counts.set(name, count);
    found.set(`${name} ${count}`, entity);
  }
  return found;
}

function isMoved(before: Entity, now: Entity | undefined): boolean {
  if (!now) return true;
  const a = placeOf(before) ?? [];
  const b = placeOf(now) ?? [];
  return a.length !== b.length || a.some((point, i) => isApart(point, b[i] as PointMm));
}

/**
 * The lines of an earlier drawing that lie elsewhere now, as ghosts.
 *
 * @param before  the drawing of the last revision
 * @param now     the same drawing of the draft
 * @returns       entities on the layer `ghost`; empty when nothing moved
 * @source        plane-geometry
 */
export function ghostsOf(before: Drawing, now: Drawing): readonly Entity[] {
  const present = comparable(now);
  return [...comparable(before)].flatMap(([name, entity]) =>
    isMoved(entity, present.get(name)) ? [asGhost(entity)] : [],
  );
}

function asGhost(entity: Entity): Entity {
  const { handle: _handle, key: _key, widthMm: _width, ...plain } = entity;
  if (!('fill' in plain)) return { ...plain, layer: 'ghost' };
  const { fill, ...open } = plain;
  return fill === 'pale' || fill === 'grey'
    ? { ...open, layer: 'ghost', fill: 'pale' }
    : { ...open, layer: 'ghost' };
}
