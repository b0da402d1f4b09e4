import type { BoundsMm } from '../drawing/model.ts';
import type { SizeMm } from './paper.ts';
import { planTiles, spareMm, TILE_OVERLAP_MM, type TilePlan } from './tiles.ts';

/** Shifts tried each way, as parts of the spare paper. The middle comes first and wins a tie. */
const SHIFTS_FRAC = [0, 0.1, -0.1, 0.2, -0.2, 0.3, -0.3, 0.4, -0.4, 0.5, -0.5];

/** A seam on the centre line of the drawing is as bad as one through this many words. */
const CENTRE_LINE_COST = 3;
const CENTRE_LINE_REACH_MM = 8;

/**
 * Tiles whose seams stay clear of words, and of the centre line x = 0, as far as the spare paper allows.
 *
 * @param wordsAt  boxes of the words in the drawing
 * @source         arithmetic
 */
export function planAroundWords(frame: BoundsMm, windowMm: SizeMm, wordsAt: readonly BoundsMm[]): TilePlan {
  const middle = planTiles(frame, windowMm);
  if (middle.tiles.length === 1) return middle;
  const spare = spareMm(frame, middle);
  const across = wordsAt.map(({ minX, maxX }): Span => [minX, maxX]);
  const down = wordsAt.map(({ minY, maxY }): Span => [minY, maxY]);
  const first = middle.tiles[0]!.window;
  const x = bestShift(seamsFrom(first.minX, windowMm.widthMm, middle.columnCount), spare.widthMm, (seam) => {
    const isOnCentre = seam[0] - CENTRE_LINE_REACH_MM < 0 && seam[1] + CENTRE_LINE_REACH_MM > 0;
    return countTouching(seam, across) + (isOnCentre ? CENTRE_LINE_COST : 0);
  });
  const y = bestShift(seamsFrom(first.minY, windowMm.heightMm, middle.rowCount), spare.heightMm, (seam) =>
    countTouching(seam, down),
  );
  return planTiles(frame, windowMm, TILE_OVERLAP_MM, { x, y });
}

type Span = readonly [number, number];

/** What each pair of neighbours both show along one direction. */
function seamsFrom(startMm: number, windowMm: number, count: number): readonly Span[] {
  return Array.from({ length: count - 1 }, (_, index) => {
    const low = startMm + (index + 1) * (windowMm - TILE_OVERLAP_MM);
    return [low, low + TILE_OVERLAP_MM] as const;
  });
}

function bestShift(seams: readonly Span[], spareMm: number, cost: (seam: Span) => number): number {
  let best = { shiftMm: 0, cost: Number.POSITIVE_INFINITY };
  for (const share of SHIFTS_FRAC) {
    const shiftMm = share * spareMm;
    const sum = seams.reduce((total, [low, high]) => total + cost([low + shiftMm, high + shiftMm]), 0);
    if (sum < best.cost) best = { shiftMm, cost: sum };
  }
  return best.shiftMm;
}

function countTouching([low, high]: Span, spans: readonly Span[]): number {
  return spans.filter(([from, to]) => from < high && to > low).length;
}
