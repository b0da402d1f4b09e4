import type { Place } from '../../geometry/mesh-loop.ts';
import type { PlaneMesh } from '../../geometry/mesh-plane.ts';
import { type CornerFan, fanAround } from './corner-element.ts';
import { cornerPower } from './corner-power.ts';
import { coverLayers, type LayerCover } from './layer-element.ts';
import type { PlacedPiece } from './plate-assembly.ts';
import {
  type BarEdge,
  barEdges,
  barPieces,
  couplingsOf,
  harmlessPower,
  type PlateMesh,
} from './plate-mesh.ts';
import { layOutPlate, type PlateModel } from './plate-model.ts';
import type { PlateProblem } from './plate-problem.ts';

/** A meshed plate with its unknowns: what the matrices are made of. */
export interface PlateLayout {
  readonly covers: readonly LayerCover[];
  readonly model: PlateModel;
  readonly pieces: readonly (PlacedPiece & { readonly bar: number })[];
}

/**
 * Unknowns, bars and corners of a meshed plate.
 *
 * @param problem    the problem
 * @param plateMesh  its mesh
 * @returns          layers, unknowns, pieces of bars
 * @source           clough-tocher
 */
export function layOut(problem: PlateProblem, plateMesh: PlateMesh): PlateLayout {
  const { mesh } = plateMesh;
  const covers = coverLayers(mesh, problem.plate.layers ?? []);
  const edges = barEdges(plateMesh);
  const model = layOutPlate(
    problem,
    mesh,
    couplingsOf(mesh, edges, problem.plate.domeRadiusMm === undefined ? covers : everywhere(mesh)),
    cornerFans(problem, mesh, edges, covers),
  );
  return { covers, model, pieces: barPieces(problem, plateMesh, model, edges) };
}

/** In a dome bending and stretching are joined all over. */
function everywhere(mesh: PlaneMesh): { readonly triangle: number }[] {
  return Array.from({ length: mesh.triangle.length / 3 }, (_, triangle) => ({ triangle }));
}

/** Corners of a held rim that are elements of their own: sharp enough, straight, without bar, layer or load in them. */
function cornerFans(
  problem: PlateProblem,
  mesh: PlaneMesh,
  edges: readonly BarEdge[],
  covers: readonly LayerCover[],
): CornerFan[] {
  const { bending } = problem.support;
  if (bending === 'free' || problem.plate.domeRadiusMm !== undefined) return [];
  const rim = mesh.rims[0]!;
  const corners = new Set(Array.from(rim.vertex).filter((_, k) => rim.cornerTurnRad[k] !== 0));
  const withBar = new Set(edges.flatMap(({ nodes }) => nodes.slice(0, 2)));
  const covered = new Set(covers.map(({ triangle }) => triangle));
  const places = problem.loads.map((load) => (load.kind === 'couple' ? load.patchMm.centreMm : load.atMm));
  const fans: CornerFan[] = [];
  rim.vertex.forEach((vertex, k) => {
    if (rim.cornerTurnRad[k] === 0 || withBar.has(vertex)) return;
    const fan = fanAround(mesh, vertex);
    if (!fan) return;
    const [first, last] = [fan.ring[0]!, fan.ring.at(-1)!];
    if (corners.has(first) || corners.has(last)) return;
    const toward = (other: number): Place => [
      mesh.x[other]! - mesh.x[vertex]!,
      mesh.y[other]! - mesh.y[vertex]!,
    ];
    const power = cornerPower(toward(last), toward(first), problem.plate.material, bending === 'clamped');
    if (power > harmlessPower || fan.triangles.some((t) => covered.has(t))) return;
    if (places.some((at) => fan.triangles.some((t) => isIn(mesh, t, at)))) return;
    if (bending === 'hinged' && ![first, last].every((other) => isAlong(mesh, other, toward(other)))) return;
    fans.push(fan);
  });
  return fans;
}

/** Whether the true rim at a vertex runs along a direction (to a fiftieth). */
function isAlong(mesh: PlaneMesh, vertex: number, [dx, dy]: Place): boolean {
  const rim = mesh.rims[0]!;
  const [tx, ty] = rim.tangent[rim.vertex.indexOf(vertex)] ?? [0, 0];
  return Math.abs(tx * dy - ty * dx) < 0.02 * Math.hypot(dx, dy) && (tx !== 0 || ty !== 0);
}

function isIn(mesh: PlaneMesh, t: number, [px, py]: Place): boolean {
  return [0, 1, 2].every((k) => {
    const [a, b] = [mesh.triangle[3 * t + k]!, mesh.triangle[3 * t + ((k + 1) % 3)]!];
    const [ex, ey] = [mesh.x[b]! - mesh.x[a]!, mesh.y[b]! - mesh.y[a]!];
    return ex * (py - mesh.y[a]!) - ey * (px - mesh.x[a]!) >= -1e-9;
  });
}
