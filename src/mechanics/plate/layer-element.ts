import { clipToConvex, polygonAreaMm2 } from '../../geometry/clip-convex.ts';
import type { PlaneMesh } from '../../geometry/mesh-plane.ts';
import { type HctElement, type LayerStiffness, massHct, thirdRows } from './hct-element.ts';
import { planeStress, scaled } from './plane-stress.ts';
import type { PlateLayer, PlateProblem } from './plate-problem.ts';

/** How much of each third of a triangle a layer covers, 0..1. */
export interface LayerCover {
  readonly triangle: number;
  readonly layer: PlateLayer;
  readonly partFrac: readonly [number, number, number];
}

/**
 * Which triangles the layers cover, and how far.
 *
 * @param mesh    the mesh
 * @param layers  convex pieces
 * @returns       the covered triangles
 * @source        plane-geometry
 */
export function coverLayers(mesh: PlaneMesh, layers: readonly PlateLayer[]): LayerCover[] {
  const covers: LayerCover[] = [];
  for (const layer of layers)
    for (let t = 0; t < mesh.triangle.length / 3; t++) {
      const corner = [0, 1, 2].map((k): [number, number] => {
        const vertex = mesh.triangle[3 * t + k]!;
        return [mesh.x[vertex]!, mesh.y[vertex]!];
      });
      const middle: [number, number] = [
        (corner[0]![0] + corner[1]![0] + corner[2]![0]) / 3,
        (corner[0]![1] + corner[1]![1] + corner[2]![1]) / 3,
      ];
      const part = [0, 1, 2].map((k) => {
        const third = [corner[(k + 1) % 3]!, corner[(k + 2) % 3]!, middle];
        return Math.abs(polygonAreaMm2(clipToConvex(third, layer.pointsMm)) / polygonAreaMm2(third));
      });
      if (part.some((p) => p > 1e-9))
        covers.push({ triangle: t, layer, partFrac: [part[0]!, part[1]!, part[2]!] });
    }
  return covers;
}

/**
 * Adds a glued layer to a triangle: it bends with the plate and stretches with its own distance from the middle.
 *
 * @param element  the triangle, shaped and curved
 * @param strain   membrane strains at its corners
 * @param k24      24 x 24 lower triangle: 12 bending, then 12 membrane unknowns
 * @param m12      12 x 12 lower triangle of the mass
 * @source         clough-tocher
 */
export function addLayer(
  element: HctElement,
  strain: Float64Array,
  problem: PlateProblem,
  cover: LayerCover,
  k24: Float64Array,
  m12: Float64Array,
): void {
  const { layer } = cover;
  const q = planeStress(layer.material);
  const side = layer.face === 'bars' ? 1 : -1;
  const offset = (side * (problem.plate.thicknessMm + layer.thicknessMm)) / 2;
  const domePerMm = 1 / (problem.plate.domeRadiusMm ?? Number.POSITIVE_INFINITY);
  const stretch = scaled(q, layer.thicknessMm);
  const bend = scaled(q, layer.thicknessMm ** 3 / 12);
  const mean = (layer.material.densityKgPerM3 * 1e-12 * layer.thicknessMm * sum(cover.partFrac)) / 3;
  massHct(element, mean, m12);
  addSheet(element, strain, cover.partFrac, { offset, domePerMm, stretch, bend }, k24);
}

/** A thin sheet at a distance from the middle of the plate. */
interface Sheet {
  readonly offset: number;
  readonly domePerMm: number;
  readonly stretch: LayerStiffness;
  readonly bend: LayerStiffness;
}

function addSheet(
  element: HctElement,
  strain: Float64Array,
  partFrac: readonly [number, number, number],
  { offset, domePerMm, stretch, bend }: Sheet,
  k24: Float64Array,
): void {
  for (let k = 0; k < 3; k++) {
    const weight = (element.areaMm2 * partFrac[k]!) / 12;
    const at = [0, 1, 2].map((m) => sheetStates(element, strain, k, m, offset, domePerMm));
    const total = at[0]!.map((value, i) => value + at[1]![i]! + at[2]![i]!);
    for (const b of [...at, total]) {
      addQuadratic(k24, b, 0, stretch, weight);
      addQuadratic(k24, b, 72, bend, weight);
    }
  }
}

/**
 * Adds the stretching of a domed plate: moving toward the middle of the sphere shortens it.
 *
 * @param stretch    force per length per strain, N/mm
 * @param domePerMm  1 over the radius
 * @param k24        24 x 24 lower triangle
 * @source           timoshenko-plates
 */
export function addDome(
  element: HctElement,
  strain: Float64Array,
  stretch: LayerStiffness,
  domePerMm: number,
  k24: Float64Array,
): void {
  const bend = { c11: 0, c12: 0, c22: 0, c66: 0 };
  addSheet(element, strain, [1, 1, 1], { offset: 0, domePerMm, stretch, bend }, k24);
}

function sum(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0);
}

/** Rows of 24: strain of a sheet's middle (3 rows), then curvature (3 rows), at corner m of third k. */
export function sheetStates(
  element: HctElement,
  strain: Float64Array,
  k: number,
  m: number,
  offset: number,
  domePerMm: number,
): Float64Array {
  const out = new Float64Array(144);
  const deflection = thirdRows[k]![m]! * 12;
  const curve = (3 * k + m) * 36;
  const corners = m === 2 ? [0, 1, 2] : [thirdRows[k]![m]!];
  for (let row = 0; row < 3; row++)
    for (let c = 0; c < 12; c++) {
      const kappa = element.curvature[curve + row * 12 + c]!;
      const inward = row < 2 ? domePerMm * element.rows[deflection + c]! : 0;
      out[row * 24 + c] = -offset * kappa - inward;
      out[72 + row * 24 + c] = kappa;
      for (const corner of corners)
        out[row * 24 + 12 + c]! += strain[corner * 36 + row * 12 + c]! / corners.length;
    }
  return out;
}

function addQuadratic(
  out: Float64Array,
  b: Float64Array,
  at: number,
  c: LayerStiffness,
  weight: number,
): void {
  for (let r = 0; r < 24; r++) {
    const s0 = weight * (c.c11 * b[at + r]! + c.c12 * b[at + 24 + r]!);
    const s1 = weight * (c.c12 * b[at + r]! + c.c22 * b[at + 24 + r]!);
    const s2 = weight * c.c66 * b[at + 48 + r]!;
    for (let k = 0; k <= r; k++)
      out[r * 24 + k]! += s0 * b[at + k]! + s1 * b[at + 24 + k]! + s2 * b[at + 48 + k]!;
  }
}
