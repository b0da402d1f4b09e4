import { factorLdl, solveLdl } from '../../numeric/sparse-ldl.ts';
import { InputError } from '../../quantity/input-error.ts';
import { addBarPiece, type BarPiece, barUnknownCount } from './bar-element.ts';
import { addBars, assemblePlate, type PlacedPiece } from './plate-assembly.ts';
import { layOut } from './plate-layout.ts';
import { type LoadVectors, loadVectors } from './plate-loads.ts';
import { defaultMeshMm, meshPlate } from './plate-mesh.ts';
import type { PlateModel } from './plate-model.ts';
import type { PlateBar, PlateProblem } from './plate-problem.ts';
import { pieceUnknowns } from './plate-shapes.ts';

/** What one bar does for the plate under its first load. */
export interface BarShare {
  /** Part of the work of the load that is stored in the bar, 0..1. */
  readonly energyFrac: number;
  /** Reading of the load (tilt in degrees for a couple, movement in mm for a force) with this bar carved lower. */
  readonly carvedReading: number;
}

export interface BarShares {
  /** Reading with all bars as they are. */
  readonly reading: number;
  readonly bars: readonly BarShare[];
}

/**
 * The share of each bar in carrying the first load, and what carving each one lower by the same depth would do.
 *
 * @param problem   a checked problem with at least one load
 * @param carvedMm  depth taken off the whole length of one bar at a time; never more than the bar has
 * @param signal    stops between bars when it says aborted
 * @returns         the shares, in the order of the bars
 * @assumes         one mesh for all, so the differences are free of its error
 * @throws InputError when there is no load, the plate is not held, or it was cancelled
 * @source          clough-tocher
 */
export function barShares(
  problem: PlateProblem,
  carvedMm: number,
  signal?: { readonly aborted: boolean },
): BarShares {
  const load = problem.loads[0];
  if (!load)
    throw new InputError('plate-no-load', 'loads is empty; the share of a bar needs a load.', 'loads');
  const plateMesh = meshPlate(problem, problem.meshMm ?? defaultMeshMm(problem));
  const layout = layOut(problem, plateMesh);
  const { covers, model, pieces } = layout;
  const bare = assemblePlate(problem, model, covers, []);
  const vectors = loadVectors(problem, layout, load);
  const solve = (placed: readonly PlacedPiece[]): Float64Array => {
    if (signal?.aborted) throw new InputError('plate-cancelled', 'The analysis was cancelled.');
    const matrices = { stiffness: bare.stiffness.slice(), mass: bare.mass };
    addBars(model, { stiffness: matrices.stiffness, mass: new Float64Array(bare.mass.length) }, placed);
    const factor = factorLdl(model.plan, model.pattern, matrices.stiffness);
    if (!factor)
      throw new InputError('plate-not-held', 'support: the plate is not held; hold its rim.', 'support');
    const x = vectors.force.slice();
    solveLdl(factor, x);
    return x;
  };
  const whole = solve(pieces);
  const work = dot(whole, vectors.force);
  const bars = plateMesh.bars.map((bar, b): BarShare => {
    const lower = carve(bar, carvedMm);
    const changed = pieces.map((p) => (p.bar === b ? { ...p, piece: { ...p.piece, bar: lower } } : p));
    return {
      energyFrac:
        barWork(
          model,
          whole,
          pieces.filter((p) => p.bar === b),
        ) / work,
      carvedReading: reading(vectors, solve(changed)),
    };
  });
  return { reading: reading(vectors, whole), bars };
}

function reading(vectors: LoadVectors, x: Float64Array): number {
  if (vectors.readSlope) return (Math.atan(dot(x, vectors.readSlope)) * 180) / Math.PI;
  return dot(x, vectors.readDeflection);
}

function carve(bar: PlateBar, carvedMm: number): PlateBar {
  const lower = (height: number) => Math.max(0, height - carvedMm);
  return {
    ...bar,
    heightMm: lower(bar.heightMm),
    ...(bar.heightsMm
      ? { heightsMm: bar.heightsMm.map(([position, height]) => [position, lower(height)] as const) }
      : {}),
  };
}

/** Twice the energy stored in the pieces. */
function barWork(
  model: PlateModel,
  x: Float64Array,
  pieces: readonly { readonly piece: BarPiece; readonly nodes: readonly [number, number, number] }[],
): number {
  let sum = 0;
  for (const { piece, nodes } of pieces) {
    const k = new Float64Array(barUnknownCount ** 2);
    addBarPiece(piece, k, new Float64Array(barUnknownCount ** 2));
    const u = pieceUnknowns(model, x, nodes);
    for (let r = 0; r < barUnknownCount; r++)
      for (let c = 0; c <= r; c++) sum += (r === c ? 1 : 2) * k[r * barUnknownCount + c]! * u[r]! * u[c]!;
  }
  return sum;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
