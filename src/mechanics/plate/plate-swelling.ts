import { growBarPiece } from './bar-element.ts';
import {
  curveHct,
  gradients,
  type LayerStiffness,
  makeHctElement,
  makeHctGeometry,
  shapeHct,
} from './hct-element.ts';
import { sheetStates } from './layer-element.ts';
import { strainMembrane } from './membrane-element.ts';
import { planeStress, scaled } from './plane-stress.ts';
import { bothSlots, fillGeometry, triangleNodes } from './plate-assembly.ts';
import type { PlateLayout } from './plate-layout.ts';
import type { PlacePair, PlateProblem, PlateSwelling } from './plate-problem.ts';

/**
 * The forces of wood that wants to grow: growth that is held pushes with its stiffness times the free growth.
 *
 * @param problem   the problem
 * @param layout    its unknowns
 * @param swelling  free growth of plate, bars and layers
 * @returns         forces on the unknowns, N and N mm
 * @assumes         even moisture through the thickness, small movements, no creep
 * @source          timoshenko-bimetal
 */
export function swellingForce(
  problem: PlateProblem,
  layout: PlateLayout,
  swelling: PlateSwelling,
): Float64Array {
  const { model } = layout;
  const force = new Float64Array(model.pattern.size);
  if (!model.hasMembrane) return force;
  const { thicknessMm, material, domeRadiusMm } = problem.plate;
  const domePerMm = 1 / (domeRadiusMm ?? Number.POSITIVE_INFINITY);
  const plate = held(scaled(planeStress(material), thicknessMm), swelling.plateFrac);
  const covers = new Map<number, PlateLayout['covers'][number][]>();
  for (const cover of layout.covers)
    covers.set(cover.triangle, [...(covers.get(cover.triangle) ?? []), cover]);
  const element = makeHctElement();
  const geometry = makeHctGeometry();
  const nodes = new Int32Array(6);
  const strain = new Float64Array(108);
  const [gx, gy] = [new Float64Array(3), new Float64Array(3)];
  for (let t = 0; t < model.mesh.triangle.length / 3; t++) {
    triangleNodes(model, t, nodes);
    fillGeometry(model, t, geometry);
    shapeHct(element, geometry);
    curveHct(element);
    const { x, y } = geometry;
    gradients(x[0]!, y[0]!, x[1]!, y[1]!, x[2]!, y[2]!, gx, gy, 0);
    strainMembrane(gx, gy, strain);
    const small = new Float64Array(24);
    const add = (pull: PlacePair, partFrac: readonly number[], offset: number) => {
      for (let k = 0; k < 3; k++)
        for (let m = 0; m < 3; m++) {
          const states = sheetStates(element, strain, k, m, offset, domePerMm);
          const weight = (element.areaMm2 * partFrac[k]!) / 3;
          for (let c = 0; c < 24; c++)
            small[c]! += weight * (pull[0] * states[c]! + pull[1] * states[24 + c]!);
        }
    };
    add(plate, [1, 1, 1], 0);
    for (const { layer, partFrac } of covers.get(t) ?? []) {
      const side = layer.face === 'bars' ? 1 : -1;
      add(
        held(scaled(planeStress(layer.material), layer.thicknessMm), swelling.layersFrac),
        partFrac,
        (side * (thicknessMm + layer.thicknessMm)) / 2,
      );
    }
    for (let c = 0; c < 24; c++) {
      const slot = bothSlots[c]!;
      const d = model.dof[nodes[Math.floor(slot / 5)]! * 5 + (slot % 5)]!;
      if (d >= 0) force[d]! += small[c]!;
    }
  }
  for (const { piece, nodes: three } of layout.pieces)
    growBarPiece(piece, swelling.barsFrac).forEach((value, k) => {
      const d =
        model.dof[k < 10 ? three[Math.floor(k / 5)]! * 5 + (k % 5) : three[2] * 5 + [0, 3, 4][k - 10]!]!;
      if (d >= 0) force[d]! += value;
    });
  return force;
}

/** Force per length of a sheet whose growth is held, N/mm along x and y. */
function held(c: LayerStiffness, [alongFrac, acrossFrac]: PlacePair): PlacePair {
  return [c.c11 * alongFrac + c.c12 * acrossFrac, c.c12 * alongFrac + c.c22 * acrossFrac];
}
