/** Section of a neck with its board, and the stiffness of its two woods along the grain. */
export interface NeckSection {
  /** Width where neck and board meet. */
  readonly widthMm: number;
  /** Depth of the neck wood under the board, a half ellipse. */
  readonly woodDepthMm: number;
  readonly boardThicknessMm: number;
  readonly woodModulusMPa: number;
  readonly boardModulusMPa: number;
}

/** Bending stiffness of a neck. */
export interface NeckStiffness {
  /** N mm2. */
  readonly stiffnessNmm2: number;
  /** Neutral axis below the face of the board, mm. */
  readonly neutralDepthMm: number;
}

/**
 * Bending stiffness of a half-elliptic neck with a rectangular board glued on.
 *
 * @param section  sizes and moduli, all > 0
 * @returns        stiffness and the depth of the neutral axis
 * @assumes        one glued body, the rod's channel and the board's radius left out (they take a few percent)
 * @source         beam-theory
 */
export function neckStiffness(section: NeckSection): NeckStiffness {
  const { widthMm, woodDepthMm, boardThicknessMm, woodModulusMPa, boardModulusMPa } = section;
  const a = widthMm / 2;
  const b = woodDepthMm;
  const woodArea = (Math.PI * a * b) / 2;
  const woodCentre = boardThicknessMm + (4 * b) / (3 * Math.PI);
  const woodInertia = a * b ** 3 * (Math.PI / 8 - 8 / (9 * Math.PI));
  const boardArea = widthMm * boardThicknessMm;
  const boardCentre = boardThicknessMm / 2;
  const boardInertia = (widthMm * boardThicknessMm ** 3) / 12;
  const ea = woodModulusMPa * woodArea + boardModulusMPa * boardArea;
  const neutralDepthMm =
    (woodModulusMPa * woodArea * woodCentre + boardModulusMPa * boardArea * boardCentre) / ea;
  const stiffnessNmm2 =
    woodModulusMPa * (woodInertia + woodArea * (woodCentre - neutralDepthMm) ** 2) +
    boardModulusMPa * (boardInertia + boardArea * (boardCentre - neutralDepthMm) ** 2);
  return { stiffnessNmm2, neutralDepthMm };
}

/**
 * Sag of a bar under the same moment all along.
 *
 * @param momentNmm      bending moment, N mm
 * @param lengthMm       length of the bar
 * @param stiffnessNmm2  E I, N mm2; > 0
 * @returns              largest distance from the straight line between the ends, mm
 * @source               beam-theory
 */
export function sagUnderMomentMm(momentNmm: number, lengthMm: number, stiffnessNmm2: number): number {
  return (momentNmm * lengthMm ** 2) / (8 * stiffnessNmm2);
}
