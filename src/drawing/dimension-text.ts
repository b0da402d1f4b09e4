import type { DimensionEntity } from './model.ts';
import { alongMm } from './path-walk.ts';

/**
 * What a dimension measures: mm, or radians for an angle; undefined for a leader.
 *
 * @source plane-geometry
 */
function measuredValue(dimension: DimensionEntity): number | undefined {
  switch (dimension.measure) {
    case 'linear':
      return Math.abs(alongMm(dimension.directionRad, dimension.from, dimension.to));
    case 'diameter':
      return 2 * dimension.radiusMm;
    case 'radius':
      return dimension.radiusMm;
    case 'angle':
      return Math.abs(dimension.sweepRad);
    case 'leader':
      return undefined;
  }
}

/**
 * The words of the number: the given ones, else what is measured (0.1 mm or 0.1 degree, no idle zero), with the
 * sign for diameter or radius.
 *
 * @source plane-geometry
 */
export function dimensionText(dimension: DimensionEntity): string {
  const words = measuredText(dimension);
  if (dimension.measure === 'diameter') return `\u00d8 ${words}`;
  return dimension.measure === 'radius' ? `R ${words}` : words;
}

/** The same without the sign. @source plane-geometry */
export function measuredText(dimension: DimensionEntity): string {
  if (dimension.text !== undefined) return dimension.text;
  const value = measuredValue(dimension) ?? 0;
  const shown = dimension.measure === 'angle' ? (value * 180) / Math.PI : value;
  return `${Number(shown.toFixed(1))}${dimension.measure === 'angle' ? '\u00b0' : ''}`;
}
