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
  const height = style.textHeightMm;
  const spaceMm = height * 0.45;
  const look = { heightMm: height, face: 'sans', weight: NUMBER_WEIGHT } as const;
  const words = dimensionText(dimension);
  const wordsMm = textWidthMm(words, look);
  const wasMm =
    dimension.was === undefined ? 0 : spaceMm + textWidthMm(dimension.was, { ...look, weight: 400 });
  const markMm = dimension.revision === undefined ? 0 : spaceMm + triangleSideMm(height);
  const numberMm = wordsMm + wasMm + markMm;
  const secondMm =
    dimension.second === undefined
      ? 0
      : textWidthMm(dimension.second, { heightMm: style.secondHeightMm, face: 'sans', weight: 400 });
  return {
    widthMm: Math.max(numberMm, secondMm),
    place(onLine, rotationRad) {
      const at = frameAt(onLine, rotationRad);
      const above = -style.textGapMm;
      const base = { ...baseOf(dimension, rotationRad), heightMm: height };
      const placed: PlainEntity[] = [
        { ...base, text: words, weight: NUMBER_WEIGHT, at: at(-numberMm / 2, above), anchorY: 'baseline' },
      ];
      if (dimension.was !== undefined) {
        const wasAt = at(-numberMm / 2 + wordsMm + spaceMm, above);
        placed.push({ ...base, layer: 'ghost', text: dimension.was, at: wasAt, anchorY: 'baseline' });
      }
      if (dimension.revision !== undefined)
        placed.push(...revisionMark(base, dimension.revision, at, numberMm / 2, above));
      if (dimension.second !== undefined)
        placed.push({
          ...base,
          text: dimension.second,
          heightMm: style.secondHeightMm,
          at: at(0, style.textGapMm),
          anchorX: 'middle',
          anchorY: 'top',
        });
      return placed;
    },
  };
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
