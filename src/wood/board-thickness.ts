import { analysePlate } from '../mechanics/plate/analyse-plate.ts';
import type { PlateMaterial } from '../mechanics/plate/plate-problem.ts';
import { type TopInput, topProblem } from '../mechanics/top-problem.ts';

/** A board (or the pattern's reference) as plate material with a thickness. */
export interface ThickMaterial {
  readonly material: PlateMaterial;
  readonly thicknessMm: number;
}

/** One rule's thickness before and after the pattern's limits. */
export interface ThicknessAnswer {
  readonly rule: 'cube root' | 'equal pitch' | 'equal f11' | 'equal tilt';
  readonly wantedMm: number;
  /** Clamped to the limits. */
  readonly usedMm: number;
  readonly reason: string;
}

export interface ThicknessLimits {
  /** The scrap limit. */
  readonly lowMm: number;
  readonly highMm: number;
}

/**
 * Thickness of equal static stiffness along the grain: t_ref (E_ref / E)^(1/3).
 *
 * @param reference  the pattern's board and its thickness
 * @param material   this board
 * @returns          mm
 * @source           beam-theory
 */
export function cubeRootThicknessMm(reference: ThickMaterial, material: PlateMaterial): number {
  return reference.thicknessMm * Math.cbrt(reference.material.eAlongMPa / material.eAlongMPa);
}

/**
 * Thickness of equal pitch of a strip along the grain: t_ref sqrt((rho / E) / (rho_ref / E_ref)).
 *
 * @source beam-theory
 */
export function equalPitchThicknessMm(reference: ThickMaterial, material: PlateMaterial): number {
  const ratio =
    material.densityKgPerM3 /
    material.eAlongMPa /
    (reference.material.densityKgPerM3 / reference.material.eAlongMPa);
  return reference.thicknessMm * Math.sqrt(ratio);
}

/** Sides of the rectangle by which boards are compared in all directions at once, mm: along and across. */
export const comparisonSidesMm = [400, 300] as const;

/**
 * First frequency of a simply supported rectangle of this wood, one number for both directions.
 *
 * @param board     material and thickness
 * @param alongMm   side along the grain
 * @param acrossMm  side across
 * @returns         Hz
 * @source          orthotropic-navier
 */
export function f11Hz({ material, thicknessMm }: ThickMaterial, alongMm: number, acrossMm: number): number {
  const { eAlongMPa, eAcrossMPa, shearMPa, poissonAlongAcross: v, densityKgPerM3 } = material;
  const rest = 1 - (v * v * eAcrossMPa) / eAlongMPa;
  const cube = thicknessMm ** 3 / 12;
  const dAlong = (eAlongMPa * cube) / rest;
  const dAcross = (eAcrossMPa * cube) / rest;
  const h = v * dAcross + 2 * shearMPa * cube;
  const stiffness = dAlong / alongMm ** 4 + (2 * h) / (alongMm * acrossMm) ** 2 + dAcross / acrossMm ** 4;
  return (Math.PI / 2) * Math.sqrt(stiffness / (densityKgPerM3 * 1e-12 * thicknessMm));
}

/** Thickness at which this board gives the reference's f11 (f11 is proportional to the thickness). */
export function equalF11ThicknessMm(reference: ThickMaterial, material: PlateMaterial): number {
  const [a, b] = comparisonSidesMm;
  return (reference.thicknessMm * f11Hz(reference, a, b)) / f11Hz({ ...reference, material }, a, b);
}

/**
 * Thickness at which a falling reading (tilt, deflection) meets a target, by the secant rule in the logarithms.
 *
 * @param reading    of a thickness in mm; > 0, falls with the thickness
 * @param target     reading wanted; > 0
 * @param startMm    first guess; > 0
 * @param leastMm    never tried below
 * @param mostMm     never tried above
 * @returns          mm, to 0.1 % of the reading; the nearer end when the target cannot be met between them
 * @source           arithmetic
 */
export function thicknessForReading(
  reading: (thicknessMm: number) => number,
  target: number,
  startMm: number,
  leastMm: number,
  mostMm: number,
): number {
  const inside = (mm: number) => Math.min(mostMm, Math.max(leastMm, mm));
  let last = { mm: inside(startMm), off: 0 };
  last.off = Math.log(reading(last.mm) / target);
  // a plate's stiffness goes with the cube, so this is the first step
  let slope = -3 / last.mm;
  for (let step = 0; step < 12 && Math.abs(last.off) > 1e-3; step++) {
    const mm = inside(last.mm - last.off / slope);
    if (Math.abs(mm - last.mm) < 1e-6) break;
    const off = Math.log(reading(mm) / target);
    const measured = (off - last.off) / (mm - last.mm);
    slope = measured < -0.05 / mm ? measured : -1 / mm;
    last = { mm, off };
  }
  return last.mm;
}

/**
 * Thickness at which this board, in the whole top, tilts the bridge as much as the pattern's reference board does.
 *
 * @param top        the top with its braces and strings; its own wood and thickness do not matter
 * @param reference  the pattern's board and thickness
 * @param material   this board
 * @returns          mm, between half and twice the reference
 * @assumes          as `topProblem`; braces stay as they are
 * @throws InputError when the top does not fit together
 * @source           clough-tocher
 */
export function equalTiltThicknessMm(
  top: TopInput,
  reference: ThickMaterial,
  material: PlateMaterial,
): number {
  const tilt = (wood: PlateMaterial, thicknessMm: number): number =>
    analysePlate(topProblem({ ...top, wood, thicknessMm, modes: 0 }).problem).loads[0]!.rotationDeg!;
  return thicknessForReading(
    (mm) => tilt(material, mm),
    tilt(reference.material, reference.thicknessMm),
    cubeRootThicknessMm(reference, material),
    reference.thicknessMm / 2,
    reference.thicknessMm * 2,
  );
}

/**
 * Puts a wanted thickness between the pattern's limits, with the reason.
 *
 * @param rule      which rule wants it
 * @param wantedMm  what it wants
 * @param limits    final_low (the scrap limit) and final_high of the pattern
 * @returns         what to use and why
 * @source          arithmetic
 */
export function clampThickness(
  rule: ThicknessAnswer['rule'],
  wantedMm: number,
  limits: ThicknessLimits,
): ThicknessAnswer {
  const usedMm = Math.min(limits.highMm, Math.max(limits.lowMm, wantedMm));
  const wanted = `${wantedMm.toFixed(2)} mm`;
  const reason =
    usedMm === wantedMm
      ? `${wanted} lies between the limits of ${limits.lowMm} and ${limits.highMm} mm.`
      : usedMm > wantedMm
        ? `This board would want ${wanted}, thinner than the scrap limit of ${limits.lowMm} mm: use ${limits.lowMm} mm and carve the braces lower.`
        : `This board would want ${wanted}, thicker than ${limits.highMm} mm: use ${limits.highMm} mm and leave the braces higher, or choose a stiffer board.`;
  return { rule, wantedMm, usedMm, reason };
}
