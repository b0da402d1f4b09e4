import type { ArcEntity, PathGeometry, PointMm } from '../drawing/model.ts';
import { arcPiece, type PathPiece, pointOnCircle, walkPath } from '../drawing/path-walk.ts';
import { number3 } from './number-3.ts';

/**
 * The `d` of a path with true arcs (A) and cubics (C), mm, 3 decimals.
 *
 * @source plane-geometry
 */
export function pathData(path: PathGeometry): string {
  const pieces = walkPath(path).map(pieceData).join('');
  return `M${pair(path.start)}${pieces}${path.isClosed ? 'Z' : ''}`;
}

/** The `d` of a lone arc. @source plane-geometry */
export function arcData(arc: Omit<ArcEntity, 'kind' | 'layer'>): string {
  const piece = arcPiece(arc);
  return `M${pair(piece.from)}${pieceData(piece)}`;
}

function pieceData(piece: PathPiece): string {
  switch (piece.kind) {
    case 'line':
      return `L${pair(piece.to)}`;
    case 'arc':
      return arcPieceData(piece);
    case 'cubic':
      return `C${pair(piece.control1)} ${pair(piece.control2)} ${pair(piece.to)}`;
  }
}

/** Over half a turn in two A commands: an A command cannot say a full turn and is weak near it. */
function arcPieceData(piece: PathPiece & { kind: 'arc' }): string {
  const { centre, radiusMm, startRad, sweepRad, to } = piece;
  const ends =
    Math.abs(sweepRad) > Math.PI ? [pointOnCircle(centre, radiusMm, startRad + sweepRad / 2), to] : [to];
  const radius = number3(radiusMm);
  const turn = sweepRad > 0 ? 1 : 0;
  return ends.map((end) => `A${radius} ${radius} 0 0 ${turn} ${pair(end)}`).join('');
}

function pair({ x, y }: PointMm): string {
  return `${number3(x)} ${number3(y)}`;
}
