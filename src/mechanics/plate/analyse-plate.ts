import { type EigenPair, shiftInvertLanczos } from '../../numeric/shift-invert-lanczos.ts';
import { factorLdl, type LdlFactor, solveLdl } from '../../numeric/sparse-ldl.ts';
import { multiplySymmetric } from '../../numeric/sparse-symmetric.ts';
import { InputError } from '../../quantity/input-error.ts';
import { assemblePlate, type PlateMatrices } from './plate-assembly.ts';
import { layOut, type PlateLayout } from './plate-layout.ts';
import { loadVectors } from './plate-loads.ts';
import { defaultMeshMm, expectedUnknowns, meshPlate, type PlateMesh } from './plate-mesh.ts';
import { type PlateModel, slotSlopeA, slotSlopeB, slotW } from './plate-model.ts';
import type { PlateAnswer, PlateElapsed, PlateLoadAnswer, PlateProblem } from './plate-problem.ts';
import { plateShapes } from './plate-shapes.ts';

/** Stages told to the caller, in order. */
export type PlateStage = 'mesh' | 'assemble' | 'factor' | 'static' | 'modes' | 'check';

export interface PlateOptions {
  /** Solve a coarser and a finer mesh as well and estimate the error. */
  readonly check?: boolean;
  /** Give the shapes for pictures. */
  readonly withShapes?: boolean;
  /** Asked between the stages; when it says aborted the analysis stops with an InputError `plate-cancelled`. */
  readonly signal?: { readonly aborted: boolean };
  readonly onStage?: (stage: PlateStage) => void;
  /** Milliseconds from any fixed moment; without it all times are 0. */
  readonly nowMs?: () => number;
}

/** More unknowns than this are refused: the factor would not fit into the memory of a small machine. */
export const maxUnknowns = 250_000;

/** How much coarser and finer the other meshes of a check are. */
const checkRatio = 1.5;

/**
 * Frequencies and movements of a thin plate with bars, by finite elements.
 *
 * @param problem  a problem from `checkPlateProblem`
 * @param options  check, shapes, cancelling, progress
 * @returns        the answer
 * @assumes        thin plate (Kirchhoff), small movements; no shear deformation: a solid model lies 0 to 5 % lower in
 *                 frequency and about 4 % higher in tilt
 * @throws InputError when the problem is too fine for memory, cannot carry its load or was cancelled
 * @source         clough-tocher
 */
export function analysePlate(problem: PlateProblem, options: PlateOptions = {}): PlateAnswer {
  const meshMm = problem.meshMm ?? defaultMeshMm(problem);
  const answer = analyseOnMesh(problem, meshMm, options);
  if (!options.check) return answer;
  options.onStage?.('check');
  const { withShapes: _, ...quiet } = options;
  const coarse = analyseOnMesh(problem, meshMm * checkRatio, quiet);
  const isRoomForFiner = expectedUnknowns(problem, meshMm / checkRatio) <= maxUnknowns;
  const fine = isRoomForFiner ? analyseOnMesh(problem, meshMm / checkRatio, quiet) : undefined;
  return { ...answer, estimatedErrorFrac: estimateError(answer, coarse, fine) };
}

/**
 * The error left in an answer, from how far it moves on a coarser and on a finer mesh, as if it fell only in proportion
 * to the edge length, and half as much again. It falls much faster where the plate is smooth; at bar ends and point
 * loads no more can be counted on, and what the coarser mesh does not show the finer one often does. Measured on the
 * awkward plates of the tests: covers the true error in all, and is at most four times as wide where it matters.
 */
function estimateError(answer: PlateAnswer, coarse: PlateAnswer, fine: PlateAnswer | undefined): number {
  const fromCoarse = largestChange(answer, coarse) / (checkRatio - 1);
  if (!fine) return 2 * fromCoarse;
  const fromFine = largestChange(answer, fine) / (1 - 1 / checkRatio);
  return 1.5 * Math.max(fromCoarse, (5 / 6) * fromFine);
}

/** The largest relative difference in the first six frequencies and in the readings of the loads. */
function largestChange(answer: PlateAnswer, other: PlateAnswer): number {
  const change = (a: number, b: number) => Math.abs(a - b) / Math.max(Math.abs(a), 1e-12);
  return Math.max(
    0,
    ...answer.frequenciesHz.slice(0, 6).map((f, k) => change(f, other.frequenciesHz[k] ?? f)),
    ...answer.loads.map((load, k) =>
      load.rotationDeg === undefined
        ? change(load.deflectionMm, other.loads[k]!.deflectionMm)
        : change(load.rotationDeg, other.loads[k]!.rotationDeg!),
    ),
  );
}

function analyseOnMesh(problem: PlateProblem, meshMm: number, options: PlateOptions): PlateAnswer {
  const expected = expectedUnknowns(problem, meshMm);
  if (expected > maxUnknowns)
    throw new InputError(
      'plate-mesh-too-fine',
      `meshMm ${meshMm} would give about ${expected} unknowns, more than the ${maxUnknowns} that fit into memory; choose a larger meshMm.`,
      'meshMm',
    );
  const clock = stageClock(options);
  clock.begin('mesh');
  const plateMesh = meshOrRefuse(problem, meshMm);
  clock.begin('assemble');
  const layout = layOut(problem, plateMesh);
  const { covers, model, pieces } = layout;
  const matrices = assemblePlate(problem, model, covers, pieces);
  const solved = solvePlate(problem, layout, matrices, clock.begin);
  const elapsedMs = clock.end();
  return {
    frequenciesHz: solved.frequenciesHz,
    loads: solved.loads,
    unknowns: model.pattern.size,
    meshMm,
    elapsedMs,
    isCountProven: solved.isCountProven,
    ...(options.withShapes ? { shapes: plateShapes(model, solved.pairs, solved.moved, pieces) } : {}),
  };
}

/** What the equations of one mesh give. */
export interface SolvedPlate {
  readonly frequenciesHz: readonly number[];
  readonly loads: readonly PlateLoadAnswer[];
  readonly isCountProven: boolean;
  readonly pairs: readonly EigenPair[];
  /** The unknowns under each load. */
  readonly moved: readonly Float64Array[];
}

/**
 * Factors the matrices of a plate and solves its loads and modes.
 *
 * @param problem   the problem
 * @param layout    its unknowns
 * @param matrices  its matrices
 * @param begin     told each stage as it begins
 * @returns         frequencies, movements and the vectors behind them
 * @throws InputError when the plate is not held
 * @source          clough-tocher
 */
export function solvePlate(
  problem: PlateProblem,
  layout: PlateLayout,
  matrices: PlateMatrices,
  begin: (stage: 'factor' | 'static' | 'modes') => void = () => undefined,
): SolvedPlate {
  const { model } = layout;
  begin('factor');
  const shift =
    problem.support.bending === 'free' ? -0.05 * lowestGuess(problem, model.mesh.x, model.mesh.y) : 0;
  const factor = factorShifted(model, matrices, shift);
  if (!factor)
    throw new InputError(
      'plate-not-held',
      'support: the plate is not held, so it cannot be solved; hold its rim.',
      'support',
    );
  begin('static');
  const moved: Float64Array[] = [];
  const loads = problem.loads.map((load): PlateLoadAnswer => {
    const vectors = loadVectors(problem, layout, load);
    const x = vectors.force.slice();
    solveLdl(factor, x);
    moved.push(x);
    const deflectionMm = dot(x, vectors.readDeflection);
    if (!vectors.readSlope) return { deflectionMm };
    return { deflectionMm, rotationDeg: (Math.atan(dot(x, vectors.readSlope)) * 180) / Math.PI };
  });
  begin('modes');
  const { pairs, isCountProven } = lowestModes(problem, model, matrices, factor, shift);
  const frequenciesHz = pairs.map(({ value }) => Math.sqrt(Math.max(0, value)) / (2 * Math.PI));
  return { frequenciesHz, loads, isCountProven, pairs, moved };
}

/** What the mesher cannot do is the problem's fault: lines that nearly coincide. */
function meshOrRefuse(problem: PlateProblem, meshMm: number): PlateMesh {
  try {
    return meshPlate(problem, meshMm);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new InputError(
      'plate-mesh',
      `The plate cannot be cut into triangles of about ${meshMm} mm: two of its bars, holes or rims run so close together that nothing fits between them; move them apart, join bars that nearly lie on each other into one, or change meshMm.`,
      'meshMm',
    );
  }
}

function stageClock(options: PlateOptions): {
  begin: (stage: keyof PlateElapsed) => void;
  end: () => PlateElapsed;
} {
  const now = options.nowMs ?? (() => 0);
  const spent = { mesh: 0, assemble: 0, factor: 0, static: 0, modes: 0 };
  let current: keyof PlateElapsed | undefined;
  let since = now();
  const stop = () => {
    const t = now();
    if (current) spent[current] += t - since;
    since = t;
  };
  return {
    begin: (stage) => {
      stop();
      if (options.signal?.aborted) throw new InputError('plate-cancelled', 'The analysis was cancelled.');
      options.onStage?.(stage);
      current = stage;
    },
    end: () => {
      stop();
      return spent;
    },
  };
}

/** A rough square of the lowest elastic circular frequency of a free plate, 1/s2. */
function lowestGuess(problem: PlateProblem, x: Float64Array, y: Float64Array): number {
  const { material, thicknessMm } = problem.plate;
  const modulus = Math.sqrt(material.eAlongMPa * material.eAcrossMPa);
  const size = Math.max(...range(x), ...range(y));
  const perArea = material.densityKgPerM3 * 1e-12 * thicknessMm;
  return ((13 / size ** 2) ** 2 * modulus * thicknessMm ** 3) / 12 / perArea;
}

function range(values: Float64Array): number[] {
  let [low, high] = [values[0]!, values[0]!];
  for (const v of values) {
    low = Math.min(low, v);
    high = Math.max(high, v);
  }
  return [high - low];
}

function factorShifted(model: PlateModel, matrices: PlateMatrices, shift: number): LdlFactor | undefined {
  if (shift === 0) return factorLdl(model.plan, model.pattern, matrices.stiffness);
  const values = new Float64Array(matrices.stiffness.length);
  for (let i = 0; i < values.length; i++) values[i] = matrices.stiffness[i]! - shift * matrices.mass[i]!;
  return factorLdl(model.plan, model.pattern, values);
}

/** The lowest elastic modes; missed ones are looked for again until the count of negative pivots agrees. */
function lowestModes(
  problem: PlateProblem,
  model: PlateModel,
  matrices: PlateMatrices,
  factor: LdlFactor,
  shift: number,
): { pairs: EigenPair[]; isCountProven: boolean } {
  if (problem.modes === 0) return { pairs: [], isCountProven: true };
  const rigid = problem.support.bending === 'free' ? rigidModes(model, matrices) : [];
  const found: EigenPair[] = [];
  for (let round = 0; round < 6; round++) {
    const more = shiftInvertLanczos(
      {
        pattern: model.pattern,
        mass: matrices.mass,
        factor,
        shift,
        leftOut: [...rigid, ...found.map(({ vector }) => vector)],
      },
      {
        wantedCount: round === 0 ? problem.modes : 1,
        roughCount: 1,
        maxSteps: 8 * problem.modes + 80,
        residualFrac: 1e-5,
        seed: 4711 + round,
      },
    );
    found.push(...more);
    found.sort((a, b) => a.value - b.value);
    const cut = bestGap(found, problem.modes);
    if (!cut) break;
    const check = factorShifted(model, matrices, cut.value);
    if (check && check.negativePivotCount === cut.below + rigid.length)
      return { pairs: found.slice(0, problem.modes), isCountProven: true };
    if (more.length === 0) break;
  }
  return { pairs: found.slice(0, problem.modes), isCountProven: false };
}

/** A value in the widest gap at or above the last wanted mode, and how many found modes lie below it. */
function bestGap(found: readonly EigenPair[], modes: number): { value: number; below: number } | undefined {
  let best: { value: number; below: number; ratio: number } | undefined;
  for (let k = Math.min(modes, found.length - 1); k < found.length; k++) {
    if (k < 1) continue;
    const [low, high] = [found[k - 1]!.value, found[k]!.value];
    const ratio = high / low;
    if (!best || ratio > best.ratio) best = { value: Math.sqrt(low * high), below: k, ratio };
  }
  return best;
}

/** The three movements of a free plate without bending, M-orthonormal. */
function rigidModes(model: PlateModel, matrices: PlateMatrices): Float64Array[] {
  const { mesh, dof } = model;
  const fields = [
    { at: (_x: number, _y: number) => 1, gx: 0, gy: 0 },
    { at: (x: number, _y: number) => x, gx: 1, gy: 0 },
    { at: (_x: number, y: number) => y, gx: 0, gy: 1 },
  ];
  const modes: Float64Array[] = [];
  for (const { at, gx, gy } of fields) {
    const v = new Float64Array(model.pattern.size);
    const set = (node: number, slot: number, value: number) => {
      const d = dof[node * 5 + slot]!;
      if (d >= 0) v[d] = value;
    };
    for (let i = 0; i < mesh.x.length; i++) {
      const [c, s] = [model.frameCos[i]!, model.frameSin[i]!];
      set(i, slotW, at(mesh.x[i]!, mesh.y[i]!));
      set(i, slotSlopeA, c * gx + s * gy);
      set(i, slotSlopeB, -s * gx + c * gy);
    }
    for (let e = 0; e < mesh.edge.length / 2; e++) {
      const [a, b] = [mesh.edge[2 * e]!, mesh.edge[2 * e + 1]!];
      const [dx, dy] = [mesh.x[b]! - mesh.x[a]!, mesh.y[b]! - mesh.y[a]!];
      set(mesh.x.length + e, slotW, (-dy * gx + dx * gy) / Math.hypot(dx, dy));
    }
    for (let pass = 0; pass < 2; pass++)
      for (const other of modes) {
        const part = massProduct(model, matrices, other, v);
        for (let i = 0; i < v.length; i++) v[i]! -= part * other[i]!;
      }
    const norm = Math.sqrt(massProduct(model, matrices, v, v));
    modes.push(v.map((value) => value / norm));
  }
  return modes;
}

function massProduct(model: PlateModel, matrices: PlateMatrices, a: Float64Array, b: Float64Array): number {
  const out = new Float64Array(a.length);
  multiplySymmetric(model.pattern, matrices.mass, a, out);
  return dot(out, b);
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
