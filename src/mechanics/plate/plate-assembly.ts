import { blockRow } from '../../numeric/sparse-symmetric.ts';
import { addBarPiece, type BarPiece, barUnknownCount } from './bar-element.ts';
import { cornerMatrices } from './corner-element.ts';
import {
  curveHct,
  gradients,
  type HctElement,
  type HctGeometry,
  type LayerStiffness,
  makeHctElement,
  makeHctGeometry,
  massHct,
  shapeHct,
  stiffenHct,
} from './hct-element.ts';
import { addDome, addLayer, type LayerCover } from './layer-element.ts';
import { stiffenMembrane, strainMembrane } from './membrane-element.ts';
import { planeStress, scaled } from './plane-stress.ts';
import { type PlateModel, slotSlopeA, slotSlopeB, slotU, slotW } from './plate-model.ts';
import type { PlateProblem } from './plate-problem.ts';

/** Stiffness (N/mm) and mass (tonnes) in the pattern of the model. */
export interface PlateMatrices {
  readonly stiffness: Float64Array;
  readonly mass: Float64Array;
}

/** Where the six nodes of a triangle are: corners, then the edges opposite them. */
export function triangleNodes(model: PlateModel, t: number, out: Int32Array): void {
  for (let k = 0; k < 3; k++) {
    out[k] = model.mesh.triangle[3 * t + k]!;
    out[3 + k] = model.mesh.x.length + model.mesh.edgeOf[3 * t + k]!;
  }
}

/** Fills the geometry of a triangle with the frames and normals of the model. */
export function fillGeometry(model: PlateModel, t: number, geometry: HctGeometry): void {
  const { mesh } = model;
  for (let k = 0; k < 3; k++) {
    const vertex = mesh.triangle[3 * t + k]!;
    geometry.x[k] = mesh.x[vertex]!;
    geometry.y[k] = mesh.y[vertex]!;
    geometry.frameCos[k] = model.frameCos[vertex]!;
    geometry.frameSin[k] = model.frameSin[vertex]!;
    const edge = mesh.edgeOf[3 * t + k]!;
    const [a, b] = [mesh.edge[2 * edge]!, mesh.edge[2 * edge + 1]!];
    const dx = mesh.x[b]! - mesh.x[a]!;
    const dy = mesh.y[b]! - mesh.y[a]!;
    const length = Math.hypot(dx, dy);
    geometry.normalX[k] = -dy / length;
    geometry.normalY[k] = dx / length;
  }
}

/** Slot of each of the 12 bending and 12 membrane unknowns: node among the six * 5 + slot. */
export const bendingSlots = Int32Array.from([0, 1, 2, 5, 6, 7, 10, 11, 12, 15, 20, 25]);
export const membraneSlots = Int32Array.from([3, 4, 8, 9, 13, 14, 18, 19, 23, 24, 28, 29]);
export const bothSlots = Int32Array.from([...bendingSlots, ...membraneSlots]);

/**
 * Stiffness and mass of plate, layers and bars.
 *
 * @param problem  the problem
 * @param model    its unknowns
 * @param covers   how far each layer covers each triangle
 * @param pieces   the bars as edges, with their three nodes
 * @returns        the matrices, N, mm, s, tonnes
 * @source         clough-tocher
 */
export function assemblePlate(
  problem: PlateProblem,
  model: PlateModel,
  covers: readonly LayerCover[],
  pieces: readonly PlacedPiece[],
): PlateMatrices {
  const nnz = model.pattern.row.length;
  const stiffness = new Float64Array(nnz);
  const mass = new Float64Array(nnz);
  const { thicknessMm, material, domeRadiusMm } = problem.plate;
  const q = planeStress(material);
  const bending = scaled(q, thicknessMm ** 3 / 12);
  const membrane = scaled(q, thicknessMm);
  const massPerArea = material.densityKgPerM3 * 1e-12 * thicknessMm;
  const element = makeHctElement();
  const geometry = makeHctGeometry();
  const nodes = new Int32Array(6);
  const k12 = new Float64Array(144);
  const m12 = new Float64Array(144);
  const strain = new Float64Array(108);
  const gx = new Float64Array(3);
  const gy = new Float64Array(3);
  const add = makeScatter(model);
  const inFan = new Set(model.fans.flatMap(({ triangles }) => triangles));
  const coverAt = coversByTriangle(covers, model.mesh.triangle.length / 3);
  for (let t = 0; t < model.mesh.triangle.length / 3; t++) {
    triangleNodes(model, t, nodes);
    fillGeometry(model, t, geometry);
    shapeHct(element, geometry);
    curveHct(element);
    if (!inFan.has(t)) {
      k12.fill(0);
      m12.fill(0);
      stiffenHct(element, bending, k12);
      massHct(element, massPerArea, m12);
      add(stiffness, nodes, bendingSlots, k12, 12);
      add(mass, nodes, bendingSlots, m12, 12);
    }
    if (!model.hasMembrane) continue;
    const { x, y } = geometry;
    gradients(x[0]!, y[0]!, x[1]!, y[1]!, x[2]!, y[2]!, gx, gy, 0);
    strainMembrane(gx, gy, strain);
    if (domeRadiusMm !== undefined) {
      const k24 = new Float64Array(576);
      addDome(element, strain, membrane, 1 / domeRadiusMm, k24);
      add(stiffness, nodes, bothSlots, k24, 24);
    } else {
      k12.fill(0);
      stiffenMembrane(strain, 3 * element.areaMm2, membrane, k12);
      add(stiffness, nodes, membraneSlots, k12, 12);
    }
    for (const cover of coverAt[t] ?? [])
      addCovered(add, stiffness, mass, nodes, element, strain, problem, cover);
  }
  const matrices = { stiffness, mass };
  addCorners(problem, model, matrices, bending, massPerArea);
  addBars(model, matrices, pieces);
  return matrices;
}

/** Adds the corners that are elements of their own. */
function addCorners(
  problem: PlateProblem,
  model: PlateModel,
  matrices: PlateMatrices,
  bending: LayerStiffness,
  massPerArea: number,
): void {
  const { mesh, dof, frameCos, frameSin } = model;
  const isClamped = problem.support.bending === 'clamped';
  for (const fan of model.fans) {
    const numbers = [
      ...fan.ring.flatMap((vertex) => [slotW, slotSlopeA, slotSlopeB].map((slot) => dof[vertex * 5 + slot]!)),
      ...fan.ringEdges.map((edge) => dof[(mesh.x.length + edge) * 5 + slotW]!),
    ];
    const isHeld = numbers.map((number) => number < 0);
    const corner = cornerMatrices({ mesh, fan, frameCos, frameSin, isHeld, isClamped }, bending, massPerArea);
    for (const [target, values] of [
      [matrices.stiffness, corner.stiffness],
      [matrices.mass, corner.mass],
    ] as const)
      addDense(model, target, numbers, values);
  }
}

/** Adds a full symmetric matrix at unknowns that are all neighbours in the pattern; those below 0 are left out. */
function addDense(
  model: PlateModel,
  target: Float64Array,
  numbers: readonly number[],
  values: Float64Array,
): void {
  const { columnStart, row } = model.pattern;
  numbers.forEach((column, c) => {
    if (column < 0) return;
    const rows = row.subarray(columnStart[column]!, columnStart[column + 1]!);
    numbers.forEach((wanted, r) => {
      if (wanted >= column)
        target[columnStart[column]! + rows.indexOf(wanted)]! += values[r * numbers.length + c]!;
    });
  });
}

function coversByTriangle(covers: readonly LayerCover[], count: number): (LayerCover[] | undefined)[] {
  const list: (LayerCover[] | undefined)[] = new Array(count);
  for (const cover of covers) (list[cover.triangle] ??= []).push(cover);
  return list;
}

function addCovered(
  add: Scatter,
  stiffness: Float64Array,
  mass: Float64Array,
  nodes: Int32Array,
  element: HctElement,
  strain: Float64Array,
  problem: PlateProblem,
  cover: LayerCover,
): void {
  const k24 = new Float64Array(576);
  const m12 = new Float64Array(144);
  addLayer(element, strain, problem, cover, k24, m12);
  add(stiffness, nodes, bothSlots, k24, 24);
  add(mass, nodes, bendingSlots, m12, 12);
}

/** A piece of bar and its three nodes. */
export interface PlacedPiece {
  readonly piece: BarPiece;
  readonly nodes: readonly [number, number, number];
}

/**
 * Adds bars to matrices that have none yet.
 *
 * @param model     the unknowns
 * @param matrices  changed in place
 * @param pieces    the bars as edges
 * @source          beam-theory
 */
export function addBars(model: PlateModel, matrices: PlateMatrices, pieces: readonly PlacedPiece[]): void {
  if (pieces.length === 0) return;
  const add = makeScatter(model);
  const slots = Int32Array.from([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 13, 14]);
  for (const { piece, nodes } of pieces) {
    const k = new Float64Array(barUnknownCount ** 2);
    const m = new Float64Array(barUnknownCount ** 2);
    addBarPiece(piece, k, m);
    const three = Int32Array.from(nodes);
    add(matrices.stiffness, three, slots, k, barUnknownCount);
    add(matrices.mass, three, slots, m, barUnknownCount);
  }
}

type Scatter = (
  target: Float64Array,
  nodes: Int32Array,
  slots: Int32Array,
  values: Float64Array,
  count: number,
) => void;

/** Adds small lower triangles into the matrix. */
function makeScatter(model: PlateModel): Scatter {
  const { pattern, dof, place } = model;
  const { first, columnStart } = pattern;
  const nodeCount = place.length / 2;
  const base = new Int32Array(144);
  const isUsed = new Uint8Array(12);
  const parts = new Int32Array(12);
  const global = new Int32Array(24);
  const owner = new Int32Array(24);
  return (target, nodes, slots, values, count) => {
    isUsed.fill(0);
    for (let i = 0; i < count; i++) {
      const node = Math.floor(slots[i]! / 5);
      const slot = slots[i]! % 5;
      const part = slot < slotU ? node : 6 + node;
      owner[i] = part;
      isUsed[part] = 1;
      parts[part] = place[slot < slotU ? nodes[node]! : nodeCount + nodes[node]!]!;
      global[i] = dof[nodes[node]! * 5 + slot]!;
    }
    for (let a = 0; a < 12; a++)
      for (let b = 0; b < 12; b++)
        if (isUsed[a] && isUsed[b] && parts[a]! >= 0 && parts[b]! > parts[a]!)
          base[a * 12 + b] = blockRow(pattern, parts[a]!, parts[b]!);
    for (let i = 0; i < count; i++) {
      const gi = global[i]!;
      if (gi < 0) continue;
      for (let j = 0; j <= i; j++) {
        const gj = global[j]!;
        if (gj < 0) continue;
        const isUpper = gi > gj;
        const column = isUpper ? gj : gi;
        const row = isUpper ? gi : gj;
        const a = owner[isUpper ? j : i]!;
        const b = owner[isUpper ? i : j]!;
        const offset =
          a === b
            ? row - column
            : first[parts[a]! + 1]! - column + base[a * 12 + b]! + row - first[parts[b]!]!;
        target[columnStart[column]! + offset]! += values[i * count + j]!;
      }
    }
  };
}
