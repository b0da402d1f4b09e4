import { type BraceSegment, braceSegments } from '../figures/braces.ts';
import { input } from '../figures/inputs.ts';
import { boardEndY } from '../figures/join.ts';
import { outline, outlineLandmarks } from '../figures/outline.ts';
import { offsetOutline } from '../geometry/offset-outline.ts';
import { figureValue, type Sheet } from '../graph/sheet.ts';
import { drawingOf } from './assemble.ts';
import { wholeOutline } from './body-outline.ts';
import { type DimensionWords, PLAIN_WORDS } from './drawn-number.ts';
import { lengthDimensions, partDimensions, widthDimensions } from './face-dimensions.ts';
import { ruleMarks } from './face-marks.ts';
import {
  board,
  bodyOutline,
  braceKey,
  bridge,
  bridgePlate,
  centreLines,
  NECK_SHOWN_MM,
  ringChannel,
  soundHole,
  topBars,
  trebleSide,
} from './face-parts.ts';
import { closedPath, type Drawing, type Entity, type PointMm, text } from './model.ts';

const LABEL_MM = 3.2;
const MARK_MM = 4;
const MARGIN_MM = 6;

/**
 * The front of the body seen from the front, with the bars of the top behind the plate.
 *
 * @param words  unit of the dimensions, and the last revision to compare with
 * @returns      a drawing; parts whose figures cannot be had are left out
 * @source       plane-geometry
 */
export function frontFace(sheet: Sheet, words: DimensionWords = PLAIN_WORDS): Drawing {
  const entities = [
    ...bodyOutline(sheet),
    ...sawLine(sheet),
    ...bridgePlate(sheet, 'hidden'),
    ...topBars(sheet, 'hidden'),
    ...barNames(sheet),
    ...ringChannel(sheet),
    ...soundHole(sheet),
    ...board(sheet),
    ...bridge(sheet, 'visible'),
    ...centreLines(sheet),
    ...widthDimensions(sheet, words),
    ...lengthDimensions(sheet, words),
    ...partDimensions(sheet, words),
    ...sideMarks(sheet),
    ...ruleMarks(sheet),
  ];
  const parts = { id: 'front-face', title: 'Front face', seenFrom: 'the front', marginMm: MARGIN_MM };
  return drawingOf({ ...parts, entities });
}

/** The line the plate is sawn to, outside the outline by the saw allowance. */
function sawLine(sheet: Sheet): readonly Entity[] {
  const shape = figureValue(sheet, outline);
  const allowance = figureValue(sheet, input('allowance.saw'));
  const sawn = shape && allowance !== undefined ? offsetOutline(shape, allowance, 0.05) : undefined;
  if (!sawn) return [];
  const { start, segments } = wholeOutline(sawn);
  return [closedPath('dimension', start, segments, { key: 'outline.saw', widthMm: 0.18 })];
}

/** Each kind of bar named once, where the name stands clear of board, hole and ring; a bar without such a place has none. */
function barNames(sheet: Sheet): readonly Entity[] {
  const named = new Set<string>();
  return (figureValue(sheet, braceSegments) ?? []).flatMap((bar) => {
    const name = nameOf(bar.role);
    const at = named.has(name) ? undefined : namePlace(sheet, bar, name);
    if (!at) return [];
    named.add(name);
    return [text('hidden', at, name, LABEL_MM, { anchorX: 'middle', hasHalo: true, key: braceKey(bar) })];
  });
}

/** On a screen words stand about so much larger than on paper. */
const SCREEN_ROOM = 4.3;

function namePlace(sheet: Sheet, bar: BraceSegment, name: string): PointMm | undefined {
  const clearX = (figureValue(sheet, input('board.width.fret_12')) ?? 0) / 2;
  const endY = figureValue(sheet, boardEndY) ?? 0;
  const holeY = figureValue(sheet, input('hole.centre_y')) ?? 0;
  const ring = figureValue(sheet, input('rosette.outer_radius')) ?? 0;
  const half = (name.length * SCREEN_ROOM) / 2;
  const isClear = ({ x, y }: PointMm): boolean =>
    !(y < endY + 4 && Math.abs(x) < clearX + half) &&
    Math.hypot(Math.max(0, Math.abs(x) - half), y - holeY) > ring;
  const shares = bar.id.startsWith('X-') ? [0.86] : [0.5, 0.62, 0.74, 0.2];
  return shares
    .map((share) => ({
      x: bar.from.xMm + (bar.to.xMm - bar.from.xMm) * share,
      y: bar.from.yMm + (bar.to.yMm - bar.from.yMm) * share - 1.6 - bar.widthMm / 2,
    }))
    .find(isClear);
}

const nameOf = (role: string): string => (role.startsWith('X leg') ? 'X leg' : role);

/** NECK, BASS and TREBLE where they are. */
export function sideMarks(sheet: Sheet): readonly Entity[] {
  const marks = figureValue(sheet, outlineLandmarks);
  const length = figureValue(sheet, input('body.length'));
  if (!marks || length === undefined) return [];
  const treble = trebleSide(sheet);
  const x = marks.lower.halfWidthMm + 3;
  const y = length - 28;
  const style = { face: 'name', weight: 700, hasHalo: true } as const;
  const side = (sign: 1 | -1, word: string): Entity =>
    text('text', { x: sign * x, y }, word, MARK_MM, { ...style, anchorX: sign > 0 ? 'start' : 'end' });
  return [
    text('text', { x: 34, y: -NECK_SHOWN_MM + 4 }, 'NECK', MARK_MM, style),
    side(treble, 'TREBLE'),
    side(treble === 1 ? -1 : 1, 'BASS'),
  ];
}
