import type { TextEntity } from './model.ts';

export const SWAPPED_X = { start: 'end', middle: 'middle', end: 'start' } as const;
const SWAPPED_Y = { baseline: 'top', middle: 'middle', top: 'baseline' } as const;

/**
 * A direction brought into -pi/2 (upward) .. just under pi/2, and whether it was turned half round for it: words read
 * from the bottom or from the right of the sheet.
 *
 * @source from memory
 */
export function readableAngle(angleRad: number): { readonly angleRad: number; readonly isFlipped: boolean } {
  const full = 2 * Math.PI;
  const tiny = 1e-9;
  const wrapped = (((angleRad + Math.PI / 2 + tiny) % full) + full) % full;
  const isFlipped = wrapped >= Math.PI;
  return { angleRad: wrapped - (isFlipped ? Math.PI : 0) - Math.PI / 2 - tiny, isFlipped };
}

/** The same text turned half round, on the same area, when it would stand on its head. @source from memory */
export function readable(entity: TextEntity): TextEntity {
  const turn = readableAngle(entity.rotationRad);
  if (!turn.isFlipped) return { ...entity, rotationRad: turn.angleRad };
  return {
    ...entity,
    rotationRad: turn.angleRad,
    anchorX: SWAPPED_X[entity.anchorX],
    anchorY: SWAPPED_Y[entity.anchorY],
  };
}
