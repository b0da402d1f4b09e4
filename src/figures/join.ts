import { type Figure, figure } from '../graph/figure.ts';
import { fretPlaceMm } from '../mechanics/stiff-string.ts';
import { input } from './inputs.ts';

/** Nut face to the neck end of the body: the join fret on the theoretical scale. */
export const neckJoin: Figure<number> = figure({
  id: 'neck.join',
  unit: 'mm',
  label: 'Nut face to the body join',
  formula: 'scale length x (1 - 2^(-join fret / 12))',
  source: 'equal-temperament',
  from: { scaleMm: input('scale.length'), fret: input('scale.join_fret') },
  compute: ({ scaleMm, fret }) => fretPlaceMm(scaleMm, fret),
});

/** End of the board on the body, from the neck end. */
export const boardEndY: Figure<number> = figure({
  id: 'board.end_y',
  unit: 'mm',
  label: 'Board end from the neck end of the body',
  formula: 'board length from the nut face, less nut to join',
  source: 'plane-geometry',
  from: { boardMm: input('board.length'), joinMm: neckJoin },
  compute: ({ boardMm, joinMm }) => boardMm - joinMm,
});

/** Figures of the join. */
export const joinFigures: readonly Figure[] = [neckJoin, boardEndY];
