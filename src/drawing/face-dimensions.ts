import { braceScheme, input } from '../figures/inputs.ts';
import { outlineLandmarks } from '../figures/outline.ts';
import { bridgeBackY } from '../figures/saddle-place.ts';
import { figureValue, type Sheet } from '../graph/sheet.ts';
import { type DimensionWords, drawnNumber, numberWords } from './drawn-number.ts';
import {
  angleDimension,
  diameterDimension,
  type Entity,
  horizontalDimension,
  leader,
  verticalDimension,
} from './model.ts';

const FULL_WIDTH = 2;

/** Widths of bouts and waist, each dragged at its treble edge. @source plane-geometry */
export function widthDimensions(sheet: Sheet, words: DimensionWords): readonly Entity[] {
  const marks = figureValue(sheet, outlineLandmarks);
  const length = figureValue(sheet, input('body.length'));
  if (!marks || length === undefined) return [];
  const across = (
    id: string,
    at: { readonly yMm: number; readonly halfWidthMm: number },
    y: number,
    textAtFrac: number,
  ): Entity =>
    horizontalDimension({ x: -at.halfWidthMm, y: at.yMm }, { x: at.halfWidthMm, y: at.yMm }, y, {
      ...numberWords(sheet, id, words),
      key: id,
      handle: { inputId: id, axis: 'x', gainRatio: FULL_WIDTH },
      textAtFrac,
    });
  return [
    across('body.upper_bout.width', marks.upper, -16, 0.22),
    across('body.waist.width', marks.waist, marks.waist.yMm, 0.14),
    across('body.lower_bout.width', marks.lower, length + 17, 0.26),
  ];
}

/** Body length at the left, hole centre and crossing at the right, each dragged along the body. @source plane-geometry */
export function lengthDimensions(sheet: Sheet, words: DimensionWords): readonly Entity[] {
  const marks = figureValue(sheet, outlineLandmarks);
  const length = figureValue(sheet, input('body.length'));
  const hole = figureValue(sheet, input('hole.centre_y'));
  const outer = figureValue(sheet, input('rosette.outer_radius'));
  if (!marks || length === undefined || hole === undefined || outer === undefined) return [];
  const left = -marks.lower.halfWidthMm - 26;
  const right = Math.max(marks.upper.halfWidthMm + 22, marks.lower.halfWidthMm - 22);
  const crossing = figureValue(sheet, input('brace.x.crossing_y'));
  const along = (id: string, y: number, xMm: number, startX: number, endX: number): Entity =>
    verticalDimension({ x: startX, y: 0 }, { x: endX, y }, xMm, {
      ...numberWords(sheet, id, words),
      key: id,
      handle: { inputId: id, axis: 'y' },
    });
  const hasX = figureValue(sheet, braceScheme) === 'x' && crossing !== undefined;
  return [
    along('body.length', length, left, -44, 0),
    along('hole.centre_y', hole, right, marks.upper.halfWidthMm * 0.68, 0),
    ...(hasX ? [along('brace.x.crossing_y', crossing, right + 46, right - 2, 0)] : []),
  ];
}

/** Hole, ring, opening of the X and bridge. @source plane-geometry */
export function partDimensions(sheet: Sheet, words: DimensionWords): readonly Entity[] {
  return [...holeDimensions(sheet, words), ...xDimension(sheet, words), ...bridgeDimension(sheet, words)];
}

function holeDimensions(sheet: Sheet, words: DimensionWords): readonly Entity[] {
  const y = figureValue(sheet, input('hole.centre_y'));
  const radius = figureValue(sheet, input('hole.radius'));
  const inner = figureValue(sheet, input('rosette.inner_radius'));
  const outer = figureValue(sheet, input('rosette.outer_radius'));
  const marks = figureValue(sheet, outlineLandmarks);
  if (y === undefined || radius === undefined || inner === undefined || outer === undefined || !marks)
    return [];
  const centre = { x: 0, y };
  const ring = (valueMm: number): string => drawnNumber(valueMm, 'mm', words.lengthUnit);
  const middle = (inner + outer) / 2;
  const elbowX = -Math.max(marks.upper.halfWidthMm + 12, marks.lower.halfWidthMm - 14);
  return [
    diameterDimension(centre, radius, -0.9, {
      ...numberWords(sheet, 'hole.diameter', words),
      key: 'hole',
    }),
    leader(
      { x: -middle * Math.cos(0.36), y: y - middle * Math.sin(0.36) },
      { x: elbowX, y: y - middle * Math.sin(0.36) - 16 },
      `R ${ring(inner)} to ${ring(outer)}`,
      { key: 'rosette' },
    ),
  ];
}

const ANGLE_RADIUS_MM = 37;

function xDimension(sheet: Sheet, words: DimensionWords): readonly Entity[] {
  const crossing = figureValue(sheet, input('brace.x.crossing_y'));
  const opening = figureValue(sheet, input('brace.x.opening_angle'));
  if (figureValue(sheet, braceScheme) !== 'x' || crossing === undefined || opening === undefined) return [];
  const sweep = (opening * Math.PI) / 180;
  const about = { x: 0, y: crossing };
  return [
    angleDimension(about, ANGLE_RADIUS_MM, Math.PI / 2 - sweep / 2, sweep, {
      ...numberWords(sheet, 'brace.x.opening_angle', words),
      key: 'brace.x',
      handle: { inputId: 'brace.x.opening_angle', axis: 'angle', about, gainRatio: FULL_WIDTH },
    }),
  ];
}

function bridgeDimension(sheet: Sheet, words: DimensionWords): readonly Entity[] {
  const back = figureValue(sheet, bridgeBackY);
  const length = figureValue(sheet, input('bridge.length'));
  if (back === undefined || length === undefined) return [];
  const half = length / 2;
  return [
    horizontalDimension({ x: -half, y: back }, { x: half, y: back }, back + 26, {
      ...numberWords(sheet, 'bridge.length', words),
      key: 'bridge',
      handle: { inputId: 'bridge.length', axis: 'x', gainRatio: FULL_WIDTH },
      textAtFrac: 0.24,
    }),
  ];
}
