import { arc, circle, type Entity, line, type PointMm, text } from '../drawing/model.ts';
import type { Tile, TilePlan } from './tiles.ts';

const CROSS_RADIUS_MM = 3;
const CROSS_ARM_MM = 4.6;
const CROP_MM = 6;
const MARK_WIDTH_MM = 0.1;
const WORDS_MM = 1.7;

/** A seam between two tiles, in the drawing's mm: the middle of what both show. */
interface Seam {
  readonly neighbour: string;
  readonly way: 'down' | 'across';
  /** Where the seam lies: x for one that runs down, y for one that runs across. */
  readonly atMm: number;
  readonly fromMm: number;
  readonly toMm: number;
  /** true: this tile is cut here and laid on the neighbour; false: the neighbour is laid on it. */
  readonly isCut: boolean;
}

/**
 * The two places along a seam where both neighbours print the same cross.
 *
 * @source arithmetic
 */
export function crossPlaces(fromMm: number, toMm: number): readonly [number, number] {
  const quarter = (toMm - fromMm) / 4;
  return [fromMm + quarter, toMm - quarter];
}

/**
 * Crop marks and registration crosses of one tile, in the drawing's mm.
 *
 * Each sheet is cut along its upper and left seam, which halves the crosses, and is laid on its neighbours so that the
 * halves close. Both sheets print every cross at the same place of the drawing.
 *
 * @source common practice, no published source
 */
export function tileMarks(tile: Tile, plan: TilePlan): readonly Entity[] {
  return seamsOf(tile, plan).flatMap((seam) => [
    ...crossPlaces(seam.fromMm, seam.toMm).flatMap((along) => cross(onSeam(seam, along))),
    ...cropTicks(seam),
    seamWords(seam),
  ]);
}

function seamsOf({ rowIndex, columnIndex, window }: Tile, plan: TilePlan): readonly Seam[] {
  const half = plan.overlapMm / 2;
  const nameAt = (row: number, column: number) =>
    plan.tiles.find((tile) => tile.rowIndex === row && tile.columnIndex === column)?.name;
  const down = { way: 'down', fromMm: window.minY, toMm: window.maxY } as const;
  const across = { way: 'across', fromMm: window.minX, toMm: window.maxX } as const;
  const wanted = [
    { ...down, neighbour: nameAt(rowIndex, columnIndex - 1), atMm: window.minX + half, isCut: true },
    { ...down, neighbour: nameAt(rowIndex, columnIndex + 1), atMm: window.maxX - half, isCut: false },
    { ...across, neighbour: nameAt(rowIndex - 1, columnIndex), atMm: window.minY + half, isCut: true },
    { ...across, neighbour: nameAt(rowIndex + 1, columnIndex), atMm: window.maxY - half, isCut: false },
  ];
  return wanted.flatMap(({ neighbour, ...seam }) =>
    neighbour === undefined ? [] : [{ ...seam, neighbour }],
  );
}

function onSeam(seam: Seam, alongMm: number, asideMm = 0): PointMm {
  return seam.way === 'down'
    ? { x: seam.atMm + asideMm, y: alongMm }
    : { x: alongMm, y: seam.atMm + asideMm };
}

/** A cross in a circle with two opposite quarters filled, so that closed halves are seen at once. */
function cross(at: PointMm): readonly Entity[] {
  const extras = { widthMm: MARK_WIDTH_MM };
  return [
    circle('text', at, CROSS_RADIUS_MM, extras),
    arc('text', at, CROSS_RADIUS_MM / 2, 0, Math.PI / 2, extras),
    arc('text', at, CROSS_RADIUS_MM / 2, Math.PI, Math.PI / 2, extras),
    line('text', { x: at.x - CROSS_ARM_MM, y: at.y }, { x: at.x + CROSS_ARM_MM, y: at.y }, extras),
    line('text', { x: at.x, y: at.y - CROSS_ARM_MM }, { x: at.x, y: at.y + CROSS_ARM_MM }, extras),
  ];
}

/** Short lines on the seam at both ends of the window: where a straightedge is laid for the cut. */
function cropTicks(seam: Seam): readonly Entity[] {
  const extras = { widthMm: MARK_WIDTH_MM };
  return [
    line('text', onSeam(seam, seam.fromMm), onSeam(seam, seam.fromMm + CROP_MM), extras),
    line('text', onSeam(seam, seam.toMm - CROP_MM), onSeam(seam, seam.toMm), extras),
  ];
}

/** Said beside the crop mark, on the strip that is cut off or covered, so that the joined print stays clean. */
function seamWords(seam: Seam): Entity {
  const words = seam.isCut ? `Cut here, lay on ${seam.neighbour}` : `${seam.neighbour} lies here`;
  const aside = seam.isCut ? -1.2 : 1.2;
  const isDown = seam.way === 'down';
  const start = onSeam(seam, seam.fromMm + CROP_MM + 1.5, aside);
  return text('text', start, words, WORDS_MM, {
    anchorX: isDown ? 'end' : 'start',
    anchorY: seam.isCut ? 'baseline' : 'top',
    rotationRad: isDown ? -Math.PI / 2 : 0,
    ink: 'grey',
  });
}
