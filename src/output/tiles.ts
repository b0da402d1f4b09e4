import type { BoundsMm, PointMm } from '../drawing/model.ts';
import type { SizeMm } from './paper.ts';

/** One tile: the part of the drawing that it shows. */
export interface Tile {
  /** Row as a letter from the top, column as a number from the left: A1, A2, B1. */
  readonly name: string;
  readonly rowIndex: number;
  readonly columnIndex: number;
  /** What it shows, in the drawing's mm. Neighbours share a strip of the overlap. */
  readonly window: BoundsMm;
}

/** All tiles of one drawing. */
export interface TilePlan {
  readonly rowCount: number;
  readonly columnCount: number;
  readonly overlapMm: number;
  readonly tiles: readonly Tile[];
}

/** How much of the drawing two neighbours both show, mm. */
export const TILE_OVERLAP_MM = 10;

/**
 * Lays windows of one size over a frame, with overlap, centred on it but for a shift.
 *
 * @param frame     what has to be shown
 * @param windowMm  what one sheet can show; both sides larger than the overlap
 * @param shift     moves all windows; no farther than half of `spareMm` each way, or the frame is not covered
 * @returns         rows from the top, in each row columns from the left; one tile when the frame fits one window
 * @throws RangeError when a window is not larger than the overlap
 * @source          arithmetic
 */
export function planTiles(
  frame: BoundsMm,
  windowMm: SizeMm,
  overlapMm = TILE_OVERLAP_MM,
  shift: PointMm = { x: 0, y: 0 },
): TilePlan {
  const { widthMm, heightMm } = windowMm;
  if (!(Math.min(widthMm, heightMm) > overlapMm))
    throw new RangeError(`planTiles: window ${widthMm} x ${heightMm} mm, overlap ${overlapMm} mm`);
  const columns = stepsAlong(frame.minX, frame.maxX, widthMm, overlapMm).map((x) => x + shift.x);
  const rows = stepsAlong(frame.minY, frame.maxY, heightMm, overlapMm).map((y) => y + shift.y);
  const tiles = rows.flatMap((minY, rowIndex) =>
    columns.map((minX, columnIndex) => ({
      name: `${rowName(rowIndex)}${columnIndex + 1}`,
      rowIndex,
      columnIndex,
      window: { minX, minY, maxX: minX + widthMm, maxY: minY + heightMm },
    })),
  );
  return { rowCount: rows.length, columnCount: columns.length, overlapMm, tiles };
}

/** Where the windows begin along one direction; what is left over is shared by both ends. */
function stepsAlong(low: number, high: number, windowMm: number, overlapMm: number): readonly number[] {
  const tiny = 1e-9;
  const count = Math.max(1, Math.ceil((high - low - overlapMm) / (windowMm - overlapMm) - tiny));
  const coveredMm = count * (windowMm - overlapMm) + overlapMm;
  const first = (low + high - coveredMm) / 2;
  return Array.from({ length: count }, (_, index) => first + index * (windowMm - overlapMm));
}

/**
 * Paper left over each way: how much larger all windows together are than the frame.
 *
 * @source arithmetic
 */
export function spareMm(frame: BoundsMm, { tiles }: TilePlan): SizeMm {
  const [first, last] = [tiles[0]!.window, tiles.at(-1)!.window];
  return {
    widthMm: last.maxX - first.minX - (frame.maxX - frame.minX),
    heightMm: last.maxY - first.minY - (frame.maxY - frame.minY),
  };
}

/** A to Z, then AA, AB ... */
function rowName(index: number): string {
  const letter = String.fromCharCode(65 + (index % 26));
  return index < 26 ? letter : `${rowName(Math.floor(index / 26) - 1)}${letter}`;
}
