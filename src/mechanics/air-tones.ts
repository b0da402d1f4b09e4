/** Speed of sound in dry air, m/s. @source helmholtz-resonator */
export function soundSpeedMPerS(tempC: number): number {
  return 331.3 * Math.sqrt(1 + tempC / 273.15);
}

/** Density of air at 20 C, kg/m3. */
export const AIR_KG_PER_M3 = 1.204;

/** A box with one round hole. */
export interface AirBox {
  readonly volumeLitre: number;
  readonly holeRadiusMm: number;
  /** Thickness of the top at the hole. */
  readonly topMm: number;
  readonly tempC: number;
}

/** The top as one piston. */
export interface Piston {
  readonly areaCm2: number;
  readonly massG: number;
  /** Tone of the top alone, without the air behind it. */
  readonly bareHz: number;
}

/** Length of the air plug in the hole with what moves outside it: thickness + 1.7 radii (two flanged ends), mm. @source helmholtz-resonator */
export function plugLengthMm(topMm: number, holeRadiusMm: number): number {
  return topMm + 1.7 * holeRadiusMm;
}

/**
 * Air tone of a box whose walls do not move.
 *
 * @param box  volume, hole, top thickness, temperature; all > 0
 * @returns    Hz
 * @assumes    walls rigid, hole round; the exact thin hole is 4 % higher
 * @source     helmholtz-resonator
 */
export function rigidAirHz(box: AirBox): number {
  const areaM2 = Math.PI * (box.holeRadiusMm / 1000) ** 2;
  const lengthM = plugLengthMm(box.topMm, box.holeRadiusMm) / 1000;
  return (
    (soundSpeedMPerS(box.tempC) / (2 * Math.PI)) * Math.sqrt(areaM2 / ((box.volumeLitre / 1000) * lengthM))
  );
}

/** Tones of air and top together, Hz. */
export interface CoupledTones {
  readonly lowHz: number;
  readonly highHz: number;
  /** Top with the hole stopped: it works against the closed air. */
  readonly stoppedHz: number;
}

/**
 * Tones of the air in the hole and one top mode together.
 *
 * @param box     the box
 * @param piston  the top
 * @returns       the two coupled tones and the top with the hole stopped
 * @assumes       back and sides do not move, no damping: real boxes read 8 to 15 % lower in the low one
 * @source        christensen-vistisen-1980
 */
export function coupledTones(box: AirBox, piston: Piston): CoupledTones {
  const c = soundSpeedMPerS(box.tempC);
  const holeM2 = Math.PI * (box.holeRadiusMm / 1000) ** 2;
  const pistonM2 = piston.areaCm2 / 1e4;
  const massKg = piston.massG / 1000;
  const plugKg = (AIR_KG_PER_M3 * holeM2 * plugLengthMm(box.topMm, box.holeRadiusMm)) / 1000;
  const k = (AIR_KG_PER_M3 * c * c) / (box.volumeLitre / 1000); // pressure for each m3 pushed in, Pa/m3
  const top2 = (2 * Math.PI * piston.bareHz) ** 2 + (k * pistonM2 ** 2) / massKg;
  const hole2 = (k * holeM2 ** 2) / plugKg;
  const middle = (top2 + hole2) / 2;
  const apart = Math.sqrt(((top2 - hole2) / 2) ** 2 + (k * pistonM2 * holeM2) ** 2 / (massKg * plugKg));
  const hz = (w2: number): number => Math.sqrt(w2) / (2 * Math.PI);
  // the lower root as product over sum: no difference of two nearly equal numbers
  const product = top2 * hole2 - (k * pistonM2 * holeM2) ** 2 / (massKg * plugKg);
  return { lowHz: hz(product / (middle + apart)), highHz: hz(middle + apart), stoppedHz: hz(top2) };
}
