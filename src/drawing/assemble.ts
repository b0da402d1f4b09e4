import { bounds, growBounds } from './bounds.ts';
import { dimensionGeometry } from './dimension.ts';
import type { DimensionStyle } from './dimension-style.ts';
import { hatchLines } from './hatch-lines.ts';
import { LAYER_NAMES, LAYERS } from './line-types.ts';
import type { Drawing, Entity, PlainEntity } from './model.ts';

/** What a drawing is called and how much paper it wants around it. */
export interface DrawingParts {
  readonly id: string;
  readonly title: string;
  readonly seenFrom: string;
  /** Paper left free around what is printed, mm. */
  readonly marginMm: number;
  readonly entities: readonly Entity[];
}

/**
 * Makes a drawing whose frame holds everything that is printed.
 *
 * @throws RangeError when nothing is printed
 * @source plane-geometry
 */
export function drawingOf({ marginMm, ...parts }: DrawingParts): Drawing {
  const all = bounds(parts.entities.filter(isPrinted));
  if (all === undefined) throw new RangeError(`drawingOf: ${parts.id} has nothing that is printed`);
  return { ...parts, frame: growBounds(all, marginMm) };
}

/**
 * Whether an entity goes on paper: its layer is printed, and it is no mark that waits for its rule to be looked at
 * (on the layer `accent` with the key of the rule).
 *
 * @source arithmetic
 */
export function isPrinted({ layer, key }: Entity): boolean {
  return LAYERS[layer].printMm !== undefined && !(layer === 'accent' && key !== undefined);
}

/** Puts sets of entities into one, in order. @source plane-geometry */
export function merge(...sets: readonly (readonly Entity[])[]): readonly Entity[] {
  return sets.flat();
}

/**
 * Everything as plain lines, circles, arcs, paths and words, bottom layer first and words last in each layer: what a sink draws in one go.
 *
 * @param style  sizes for dimensions
 * @source plane-geometry
 */
export function explode(entities: readonly Entity[], style: DimensionStyle): readonly PlainEntity[] {
  const plain = entities.flatMap((entity): readonly PlainEntity[] => {
    if (entity.kind === 'dimension') return dimensionGeometry(entity, style);
    return entity.kind === 'hatch' ? hatchLines(entity) : [entity];
  });
  return LAYER_NAMES.flatMap((layer) => {
    const here = plain.filter((entity) => entity.layer === layer);
    return [
      ...here.filter((entity) => entity.kind !== 'text'),
      ...here.filter((entity) => entity.kind === 'text'),
    ];
  });
}
