import { clipToConvex } from '../../geometry/clip-convex.ts';
import {
  bernstein,
  bernsteinSlope,
  type HctElement,
  makeHctElement,
  makeHctGeometry,
  shapeHct,
  thirdRows,
} from './hct-element.ts';
import { bendingSlots, fillGeometry, triangleNodes } from './plate-assembly.ts';
import type { PlateLayout } from './plate-layout.ts';
import type { PlateModel } from './plate-model.ts';
import type { CouplePatch, PlateLoad, PlateProblem } from './plate-problem.ts';
import { swellingForce } from './plate-swelling.ts';

/** A load as forces on the unknowns, and what to read of the answer: dot products with the unknowns. */
export interface LoadVectors {
  readonly force: Float64Array;
  readonly readDeflection: Float64Array;
  readonly readSlope?: Float64Array;
}

/**
 * Forces and readings of a load.
 *
 * @param problem  the problem
 * @param layout   its unknowns
 * @param load     one of its loads
 * @returns      forces in N (and N mm) on the unknowns; readings in mm and rad
 * @throws RangeError when a place lies outside the mesh (the checks of the problem come first)
 * @source       arithmetic
 */
export function loadVectors(problem: PlateProblem, layout: PlateLayout, load: PlateLoad): LoadVectors {
  const { model } = layout;
  const size = model.pattern.size;
  if (load.kind === 'force') {
    const readDeflection = new Float64Array(size);
    addValueAt(model, load.atMm[0], load.atMm[1], readDeflection);
    const sense = Math.sign(load.newtons) || 1;
    // the deflection is counted along the force: a force the other way moves the plate the other way
    return {
      force: readDeflection.map((v) => v * Math.abs(load.newtons) * sense),
      readDeflection: readDeflection.map((v) => v * sense),
    };
  }
  if (load.kind === 'pressure') {
    const readDeflection = new Float64Array(size);
    addValueAt(model, load.atMm[0], load.atMm[1], readDeflection);
    const force = new Float64Array(size);
    integrateOverPatch(model, wholePlate(model), (_x, value, _gradient, weight) => {
      value(force, load.pascals * 1e-6 * weight);
    });
    return { force, readDeflection };
  }
  if (load.kind === 'swelling') {
    const toward = new Float64Array(size);
    addValueAt(model, load.atMm[0], load.atMm[1], toward);
    return { force: swellingForce(problem, layout, load), readDeflection: toward.map((v) => -v) };
  }
  const { centreMm, alongMm, acrossMm } = load.patchMm;
  const force = new Float64Array(size);
  const readSlope = new Float64Array(size);
  const readDeflection = new Float64Array(size);
  addValueAt(model, centreMm[0], centreMm[1], readDeflection);
  const slope = (12 * load.newtonMetres * 1000) / (alongMm ** 3 * acrossMm);
  integrateOverPatch(model, load.patchMm, (x, value, gradient, weight) => {
    value(force, slope * (x - centreMm[0]) * weight);
    gradient(readSlope, weight / (alongMm * acrossMm));
  });
  return { force, readDeflection, readSlope };
}

function wholePlate(model: PlateModel): CouplePatch {
  const { x, y } = model.mesh;
  const reach = 2 * Math.max(...x.map(Math.abs), ...y.map(Math.abs)) + 1;
  return { centreMm: [0, 0], alongMm: 2 * reach, acrossMm: 2 * reach };
}

/** Adds the weights of the unknowns for the deflection at a place. */
export function addValueAt(model: PlateModel, x: number, y: number, out: Float64Array): void {
  const { mesh } = model;
  let best = { t: -1, k: 0, l: [0, 0, 0] as readonly number[], least: -Number.MAX_VALUE };
  const element = makeHctElement();
  for (let t = 0; t < mesh.triangle.length / 3; t++) {
    const l = barycentric(model, t, x, y);
    const least = Math.min(l[0]!, l[1]!, l[2]!);
    if (least > best.least) {
      const k = l.indexOf(least);
      // in the third opposite corner k: its own coordinates
      const inner = [l[(k + 1) % 3]! - l[k]!, l[(k + 2) % 3]! - l[k]!, 3 * l[k]!];
      best = { t, k, l: inner, least };
    }
    if (least >= 0) break;
  }
  if (best.least < -0.2) throw new RangeError(`addValueAt: ${x}, ${y} lies outside the mesh`);
  const geometry = makeHctGeometry();
  fillGeometry(model, best.t, geometry);
  shapeHct(element, geometry);
  addWeights(model, best.t, best.k, element, bernstein(best.l[0]!, best.l[1]!, best.l[2]!), 1, out);
}

function barycentric(model: PlateModel, t: number, px: number, py: number): [number, number, number] {
  const { x, y, triangle } = model.mesh;
  const [a, b, c] = [triangle[3 * t]!, triangle[3 * t + 1]!, triangle[3 * t + 2]!];
  const det = (x[b]! - x[a]!) * (y[c]! - y[a]!) - (x[c]! - x[a]!) * (y[b]! - y[a]!);
  const l1 = ((px - x[a]!) * (y[c]! - y[a]!) - (x[c]! - x[a]!) * (py - y[a]!)) / det;
  const l2 = ((x[b]! - x[a]!) * (py - y[a]!) - (px - x[a]!) * (y[b]! - y[a]!)) / det;
  return [1 - l1 - l2, l1, l2];
}

function addWeights(
  model: PlateModel,
  t: number,
  third: number,
  element: HctElement,
  weights: readonly number[],
  factor: number,
  out: Float64Array,
): void {
  const nodes = new Int32Array(6);
  triangleNodes(model, t, nodes);
  for (let c = 0; c < 12; c++) {
    const slot = bendingSlots[c]!;
    const dof = model.dof[nodes[Math.floor(slot / 5)]! * 5 + (slot % 5)]!;
    if (dof < 0) continue;
    let sum = 0;
    for (let a = 0; a < 10; a++) sum += weights[a]! * element.rows[thirdRows[third]![a]! * 12 + c]!;
    out[dof]! += factor * sum;
  }
}

/** Six-point rule, exact to degree 4: barycentric coordinates and weights of a triangle of area 1. */
const sixPoints: readonly (readonly [number, number, number, number])[] = [
  [0.445948490915965, 0.223381589678011],
  [0.091576213509771, 0.109951743655322],
].flatMap(([a, w]) => {
  const b = 1 - 2 * a!;
  return [
    [a!, a!, b, w!],
    [a!, b, a!, w!],
    [b, a!, a!, w!],
  ] as const;
});

type AddAt = (out: Float64Array, factor: number) => void;

/** Visits integration points over a patch (clipped by every third of every triangle). */
function integrateOverPatch(
  model: PlateModel,
  patch: CouplePatch,
  visit: (x: number, value: AddAt, gradientX: AddAt, weightMm2: number) => void,
): void {
  const [cx, cy] = patch.centreMm;
  const [hx, hy] = [patch.alongMm / 2, patch.acrossMm / 2];
  const box: [number, number][] = [
    [cx - hx, cy - hy],
    [cx + hx, cy - hy],
    [cx + hx, cy + hy],
    [cx - hx, cy + hy],
  ];
  const { mesh } = model;
  const element = makeHctElement();
  const geometry = makeHctGeometry();
  for (let t = 0; t < mesh.triangle.length / 3; t++) {
    fillGeometry(model, t, geometry);
    const { x, y } = geometry;
    if (
      Math.min(...x) > cx + hx ||
      Math.max(...x) < cx - hx ||
      Math.min(...y) > cy + hy ||
      Math.max(...y) < cy - hy
    )
      continue;
    shapeHct(element, geometry);
    const [mx, my] = [(x[0]! + x[1]! + x[2]!) / 3, (y[0]! + y[1]! + y[2]!) / 3];
    for (let k = 0; k < 3; k++) {
      const [i, j] = [(k + 1) % 3, (k + 2) % 3];
      const third: [number, number][] = [
        [x[i]!, y[i]!],
        [x[j]!, y[j]!],
        [mx, my],
      ];
      const common = clipToConvex(third, box);
      for (let p = 1; p + 1 < common.length; p++) {
        const [a, b, c] = [common[0]!, common[p]!, common[p + 1]!];
        const area = ((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])) / 2;
        if (area < 1e-9) continue;
        for (const [u, v, w, weight] of sixPoints) {
          const px = u * a[0] + v * b[0] + w * c[0];
          const py = u * a[1] + v * b[1] + w * c[1];
          const l = [0, 1, 2].map(
            (m) =>
              (m === 2 ? 1 : 0) + element.gx[3 * k + m]! * (px - mx) + element.gy[3 * k + m]! * (py - my),
          );
          const rates = [element.gx[3 * k]!, element.gx[3 * k + 1]!, element.gx[3 * k + 2]!];
          visit(
            px,
            (out, factor) => addWeights(model, t, k, element, bernstein(l[0]!, l[1]!, l[2]!), factor, out),
            (out, factor) => addWeights(model, t, k, element, bernsteinSlope(l, rates), factor, out),
            weight * area,
          );
        }
      }
    }
  }
}
