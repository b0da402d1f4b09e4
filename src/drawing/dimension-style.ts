/** Sizes of what dimensions are drawn with. */
export interface DimensionStyle {
  /** Height of the number, mm. */
  readonly textHeightMm: number;
  /** Height of the second unit under the line, mm. */
  readonly secondHeightMm: number;
  readonly arrowLengthMm: number;
  readonly arrowWidthMm: number;
  /** Between the object and its extension line, mm. */
  readonly gapMm: number;
  /** Extension line past the dimension line, mm. */
  readonly overshootMm: number;
  /** Between the line and the number above it, mm. */
  readonly textGapMm: number;
}

/** On paper: closed arrow 2.6 x 1.1 mm. Arrangement in the spirit of ISO 129 (standard named from memory). */
export const PRINT_DIMENSION_STYLE: DimensionStyle = {
  textHeightMm: 3,
  secondHeightMm: 2.2,
  arrowLengthMm: 2.6,
  arrowWidthMm: 1.1,
  gapMm: 1,
  overshootMm: 1.6,
  textGapMm: 0.9,
};

/**
 * On a screen: arrow 9 x 4.6 px, number of 15 px, whatever the zoom.
 *
 * @param mmPerPx  how many mm of the part one CSS px shows; > 0
 * @source from memory
 */
export function screenDimensionStyle(mmPerPx: number): DimensionStyle {
  return {
    textHeightMm: 11 * mmPerPx,
    secondHeightMm: 8.9 * mmPerPx,
    arrowLengthMm: 9 * mmPerPx,
    arrowWidthMm: 4.6 * mmPerPx,
    gapMm: 4 * mmPerPx,
    overshootMm: 5 * mmPerPx,
    textGapMm: 3.5 * mmPerPx,
  };
}
