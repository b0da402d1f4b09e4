import type { PointMm, TextEntity } from '../drawing/model.ts';

/** Where the baseline of a text begins, or has its middle or end, whatever its upright anchor. @source plane-geometry */
export function baselinePoint({ at, anchorY, heightMm, rotationRad }: TextEntity): PointMm {
  const down = heightMm * { baseline: 0, middle: 0.5, top: 1 }[anchorY];
  return { x: at.x - down * Math.sin(rotationRad), y: at.y + down * Math.cos(rotationRad) };
}
