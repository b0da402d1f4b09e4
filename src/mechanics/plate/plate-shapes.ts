import type { EigenPair } from '../../numeric/shift-invert-lanczos.ts';
import { type BarPiece, barStates } from './bar-element.ts';
import { heightAlong } from './bar-section.ts';
import { type PlateModel, slotW } from './plate-model.ts';
import type { PlateShapes } from './plate-problem.ts';

/**
 * Shapes for pictures and for the air model, from the unknowns of modes and loads.
 *
 * @param model   the unknowns
 * @param pairs   modes, mass-normalised (tonnes)
 * @param moved   unknowns under each load
 * @param pieces  the bars as edges
 * @returns       deflections at the vertices, modal masses, moved areas, stresses of the bars
 * @source        arithmetic
 */
export function plateShapes(
  model: PlateModel,
  pairs: readonly EigenPair[],
  moved: readonly Float64Array[],
  pieces: readonly {
    readonly piece: BarPiece;
    readonly nodes: readonly [number, number, number];
    readonly bar: number;
  }[],
): PlateShapes {
  const { mesh } = model;
  const raw = pairs.map(({ vector }) => atVertices(model, vector));
  const peaks = raw.map(largest);
  return {
    xMm: mesh.x,
    yMm: mesh.y,
    triangle: mesh.triangle,
    modes: raw.map((shape, k) => shape.map((w) => w / peaks[k]!)),
    loadsMm: moved.map((x) => atVertices(model, x)),
    // the vectors have x' M x = 1 tonne mm2 / mm2
    modalMassKg: peaks.map((peak) => 1000 / (peak * peak)),
    pistonAreaM2: raw.map((shape, k) => (sweptMm3(model, shape) / peaks[k]!) * 1e-6),
    barStressMPa: moved.map((x) => barStresses(model, x, pieces)),
  };
}

function atVertices(model: PlateModel, x: Float64Array): Float64Array {
  return Float64Array.from(model.mesh.x, (_, i) => {
    const d = model.dof[i * 5 + slotW]!;
    return d < 0 ? 0 : x[d]!;
  });
}

/** The value of largest size, with its sign. */
function largest(shape: Float64Array): number {
  let best = 0;
  for (const w of shape) if (Math.abs(w) > Math.abs(best)) best = w;
  return best || 1;
}

function sweptMm3(model: PlateModel, shape: Float64Array): number {
  const { x, y, triangle } = model.mesh;
  let sum = 0;
  for (let t = 0; t < triangle.length; t += 3) {
    const [a, b, c] = [triangle[t]!, triangle[t + 1]!, triangle[t + 2]!];
    const area = ((x[b]! - x[a]!) * (y[c]! - y[a]!) - (x[c]! - x[a]!) * (y[b]! - y[a]!)) / 2;
    sum += (area * (shape[a]! + shape[b]! + shape[c]!)) / 3;
  }
  return sum;
}

/** The largest bending and stretching stress of each bar, at its free face and at the glue, from its two ends on. */
function barStresses(
  model: PlateModel,
  x: Float64Array,
  pieces: readonly {
    readonly piece: BarPiece;
    readonly nodes: readonly [number, number, number];
    readonly bar: number;
  }[],
): number[] {
  const stresses: number[] = [];
  for (const { piece, nodes, bar } of pieces) {
    const unknown = pieceUnknowns(model, x, nodes);
    const read = (weights: Float64Array) => weights.reduce((sum, w, k) => sum + w * unknown[k]!, 0);
    for (const part of [0.25, 0.75]) {
      const states = barStates(piece, part);
      const along = piece.fromFrac + part * (piece.toFrac - piece.fromFrac);
      const height = heightAlong(piece.bar.heightMm, piece.bar.heightsMm, along);
      const glue = piece.plateThicknessMm / 2;
      for (const face of [glue, glue + height]) {
        const stress = Math.abs(piece.bar.eMPa * (read(states.stretch) - face * read(states.curvature)));
        stresses[bar] = Math.max(stresses[bar] ?? 0, stress);
      }
    }
  }
  return stresses;
}

/** The 13 unknowns of a piece of bar. */
export function pieceUnknowns(
  model: PlateModel,
  x: Float64Array,
  nodes: readonly [number, number, number],
): number[] {
  return Array.from({ length: 13 }, (_, k) => {
    const [node, slot] = k < 10 ? [nodes[Math.floor(k / 5)]!, k % 5] : [nodes[2], [0, 3, 4][k - 10]!];
    const d = model.dof[node * 5 + slot]!;
    return d < 0 ? 0 : x[d]!;
  });
}
