import type { LayerStiffness } from './hct-element.ts';
import type { PlateMaterial } from './plate-problem.ts';

/**
 * Plane-stress constants of a material, MPa.
 *
 * @param material  orthotropic; the second Poisson ratio follows from reciprocity
 * @returns         stress per strain
 * @source          timoshenko-plates
 */
export function planeStress(material: PlateMaterial): LayerStiffness {
  const other = (material.poissonAlongAcross * material.eAcrossMPa) / material.eAlongMPa;
  const rest = 1 - material.poissonAlongAcross * other;
  return {
    c11: material.eAlongMPa / rest,
    c12: (material.poissonAlongAcross * material.eAcrossMPa) / rest,
    c22: material.eAcrossMPa / rest,
    c66: material.shearMPa,
  };
}

/** The constants times a factor (thickness for a membrane, thickness^3 / 12 for bending). */
export function scaled(c: LayerStiffness, factor: number): LayerStiffness {
  return { c11: c.c11 * factor, c12: c.c12 * factor, c22: c.c22 * factor, c66: c.c66 * factor };
}
