import type { PlateMaterial } from '../mechanics/plate/plate-problem.ts';
import { type BoardProperties, boardProperties } from './board.ts';
import { type BoardFile, usualPoissonAlongAcross } from './board-file.ts';
import {
  clampThickness,
  cubeRootThicknessMm,
  equalF11ThicknessMm,
  equalPitchThicknessMm,
  type ThicknessAnswer,
} from './board-thickness.ts';
import { ringAngleFrac, runoutFrac } from './grain.ts';

/** Everything said about one measured board without the whole top. */
export interface BoardAnswer {
  readonly properties: BoardProperties;
  readonly material: PlateMaterial;
  readonly thickness: readonly ThicknessAnswer[];
  /** How far the wanted thickness may be off by the uncertainty of E along (a third of it), mm. */
  readonly thicknessPlusMinusMm: number;
  /** What ring angle and runout leave of E across and E along, 0..1. */
  readonly ringAngleFrac: number;
  readonly runoutFrac: number;
}

/** The board as material of the plate engine. */
export function boardMaterial(properties: BoardProperties): PlateMaterial {
  return {
    eAlongMPa: properties.eAlongMPa.value,
    eAcrossMPa: properties.eAcrossMPa.value,
    shearMPa: properties.shearMPa.value,
    poissonAlongAcross: usualPoissonAlongAcross,
    densityKgPerM3: properties.densityKgPerM3.value,
  };
}

/**
 * Properties of a measured board and the thickness it wants by the plain rules.
 *
 * @param file  a read board file
 * @returns     properties with uncertainty, thickness by cube root, pitch and f11, clamped to the limits
 * @throws InputError when no wood could give the readings
 * @source      beam-theory
 */
export function answerBoard(file: BoardFile): BoardAnswer {
  const properties = boardProperties(file.readings);
  const material = boardMaterial(properties);
  const { reference, limits } = file;
  const f11 = equalF11ThicknessMm(reference, material);
  return {
    properties,
    material,
    thickness: [
      clampThickness('cube root', cubeRootThicknessMm(reference, material), limits),
      clampThickness('equal pitch', equalPitchThicknessMm(reference, material), limits),
      clampThickness('equal f11', f11, limits),
    ],
    thicknessPlusMinusMm: (f11 * properties.eAlongMPa.plusMinus) / properties.eAlongMPa.value / 3,
    ringAngleFrac: ringAngleFrac(file.ringAngleDeg),
    runoutFrac: runoutFrac(file.runoutDeg),
  };
}

/**
 * What the whole top wants of this board, put before the plain rules.
 *
 * @param file         a read board file
 * @param answer       what `answerBoard` said of it
 * @param thicknessMm  from `equalTiltThicknessMm`
 * @returns            the answer with equal tilt first
 * @source             arithmetic
 */
export function withEqualTilt(file: BoardFile, answer: BoardAnswer, thicknessMm: number): BoardAnswer {
  const byTop = clampThickness('equal tilt', thicknessMm, file.limits);
  return { ...answer, thickness: [byTop, ...answer.thickness] };
}
