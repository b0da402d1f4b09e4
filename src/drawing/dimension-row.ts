import type { DimensionStyle } from './dimension-style.ts';
import { dimensionText } from './dimension-text.ts';
import type { DimensionEntity, FontWeight, PlainEntity, PointMm, TextEntity } from './model.ts';
import { textWidthMm } from './text-size.ts';

/** The number of a dimension with all that stands beside and under it, ready to be placed. */
export interface DimensionRow {
  readonly widthMm: number;
  /**
   * @param onLine       point of the dimension line under (over) which the row is centred
   * @param rotationRad  direction of reading
   */
  place(onLine: PointMm, rotationRad: number): readonly PlainEntity[];
}

const NUMBER_WEIGHT: FontWeight = 600;

/**
 * Sets the row of a dimension: the number; when it was changed the old one as ghost and a triangle with the revision;
 * under the line the second unit.
 *
 * @source from memory
 */
export function dimensionRow(dimension: DimensionEntity, style: DimensionStyle): DimensionRow {
  const sizes = rowSizes(dimension, style);
  return {
    widthMm: Math.max(sizes.numberMm, sizes.secondMm),
    place: (onLine, rotationRad) => placeRow(dimension, style, sizes, onLine, rotationRad),
  };
}

/** Widths of the parts of a row, mm; a part that is not there has none. */
interface RowSizes {
  readonly wordsMm: number;
  /** Number, old number and revision mark together. */
  readonly numberMm: number;
  readonly secondMm: number;
}

function rowSizes(dimension: DimensionEntity, style: DimensionStyle): RowSizes {
  const heightMm = style.textHeightMm;
  const look = { heightMm, face: 'sans', weight: NUMBER_WEIGHT } as const;
  const plain = { heightMm, face: 'sans', weight: 400 } as const;
  const { was, revision, second } = dimension;
  const wordsMm = textWidthMm(dimensionText(dimension), look);
  const wasMm = was === undefined ? 0 : spaceMm(heightMm) + textWidthMm(was, plain);
  const markMm = revision === undefined ? 0 : spaceMm(heightMm) + triangleSideMm(heightMm);
  const secondMm =
    second === undefined ? 0 : textWidthMm(second, { ...plain, heightMm: style.secondHeightMm });
  return { wordsMm, numberMm: wordsMm + wasMm + markMm, secondMm };
}

/** Between the number, the old number and the mark. */
function spaceMm(heightMm: number): number {
  return heightMm * 0.45;
}

function placeRow(
  dimension: DimensionEntity,
  style: DimensionStyle,
  { wordsMm, numberMm }: RowSizes,
  onLine: PointMm,
  rotationRad: number,
): readonly PlainEntity[] {
  const at = frameAt(onLine, rotationRad);
  const above = -style.textGapMm;
  const left = -numberMm / 2;
  const base = { ...baseOf(dimension, rotationRad), heightMm: style.textHeightMm };
  const { was, revision, second } = dimension;
  const placed: PlainEntity[] = [
    { ...base, text: dimensionText(dimension), weight: NUMBER_WEIGHT, at: at(left, above) },
  ];
  if (was !== undefined) {
    const wasAt = at(left + wordsMm + spaceMm(style.textHeightMm), above);
    placed.push({ ...base, layer: 'ghost', text: was, at: wasAt });
  }
  if (revision !== undefined) placed.push(...revisionMark(base, revision, at, numberMm / 2, above));
  if (second !== undefined) {
    const place = { at: at(0, style.textGapMm), anchorX: 'middle', anchorY: 'top' } as const;
    placed.push({ ...base, text: second, heightMm: style.secondHeightMm, ...place });
  }
  return placed;
}

function baseOf({ layer, key, handle, ink }: DimensionEntity, rotationRad: number): TextEntity {
  return {
    kind: 'text',
    layer,
    ...(key !== undefined && { key }),
    ...(handle !== undefined && { handle }),
    ...(ink !== undefined && { ink }),
    at: { x: 0, y: 0 },
    text: '',
    heightMm: 1,
    rotationRad,
    weight: 400,
    face: 'sans',
    anchorX: 'start',
    anchorY: 'baseline',
    hasHalo: true,
  };
}

type Frame = (alongMm: number, downMm: number) => PointMm;

function frameAt(origin: PointMm, rotationRad: number): Frame {
  const cos = Math.cos(rotationRad);
  const sin = Math.sin(rotationRad);
  return (alongMm, downMm) => ({
    x: origin.x + alongMm * cos - downMm * sin,
    y: origin.y + alongMm * sin + downMm * cos,
  });
}

function triangleSideMm(heightMm: number): number {
  return heightMm * 1.75;
}

/** An upright triangle ending at `rightMm` with the revision in it. */
function revisionMark(
  base: TextEntity,
  revision: string,
  at: Frame,
  rightMm: number,
  above: number,
): readonly PlainEntity[] {
  const side = triangleSideMm(base.heightMm);
  const rise = (side * Math.sqrt(3)) / 2;
  const middle = rightMm - side / 2;
  const bottom = above + base.heightMm * 0.2;
  const { layer: _layer, ...look } = base;
  return [
    {
      kind: 'path',
      layer: 'ghost',
      lineType: 'CONTINUOUS',
      start: at(middle - side / 2, bottom),
      segments: [
        { kind: 'line', to: at(middle, bottom - rise) },
        { kind: 'line', to: at(middle + side / 2, bottom) },
      ],
      isClosed: true,
    },
    {
      ...look,
      layer: 'ghost',
      text: revision,
      weight: 700,
      heightMm: rise * 0.42,
      at: at(middle, bottom - rise * 0.1),
      anchorX: 'middle',
      hasHalo: false,
    },
  ];
}
