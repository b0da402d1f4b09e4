import type { PlaneMesh } from '../../geometry/mesh-plane.ts';
import { minimumDegree } from '../../numeric/minimum-degree.ts';
import { type Graph, nestedDissection } from '../../numeric/nested-dissection.ts';
import { type LdlPlan, planLdl, postOrder } from '../../numeric/sparse-ldl.ts';
import { type BlockPattern, blockPattern } from '../../numeric/sparse-symmetric.ts';
import type { CornerFan } from './corner-element.ts';
import { type PlateProblem, stretches } from './plate-problem.ts';

/**
 * Which unknowns there are and where they stand. Nodes are the vertices, then the edges of the mesh. A vertex has
 * deflection, two slopes (and u, v); an edge has the slope across it (and u, v).
 */
export interface PlateModel {
  readonly mesh: PlaneMesh;
  readonly hasMembrane: boolean;
  /** Direction of the first slope at each vertex. */
  readonly frameCos: Float64Array;
  readonly frameSin: Float64Array;
  /** Place of each unknown in the matrix, `dof[node * 5 + k]`, -1 when it is held. */
  readonly dof: Int32Array;
  /**
   * Elimination number of the bending part of each node, then of the in-plane part of each node; -1 when all its
   * unknowns are held. The two parts meet only where a bar or a layer joins them.
   */
  readonly place: Int32Array;
  readonly pattern: BlockPattern;
  readonly plan: LdlPlan;
  /** Corners that are elements of their own: their triangles bend by their rings. */
  readonly fans: readonly CornerFan[];
}

/** Slots of a node's unknowns. */
export const slotW = 0;
export const slotSlopeA = 1;
export const slotSlopeB = 2;
export const slotU = 3;
export const slotV = 4;

/**
 * Lays out the unknowns of a problem on a mesh and plans the elimination.
 *
 * @param problem  the problem (support and whether in-plane unknowns are needed)
 * @param mesh     its mesh
 * @param couplings  rows of nodes (vertices, then edges) whose bending and in-plane unknowns are joined by a bar or layer
 * @param fans     corners that are elements of their own
 * @returns        the model
 * @assumes        hinged: at a rim vertex the deflection and the slope along the true rim are held (at a corner both
 *                 slopes), never the slope along each chord, which would hold a curved rim like a clamp
 * @source         plane-geometry
 */
export function layOutPlate(
  problem: PlateProblem,
  mesh: PlaneMesh,
  couplings: readonly (readonly number[])[],
  fans: readonly CornerFan[],
): PlateModel {
  const hasMembrane = stretches(problem);
  const vertexCount = mesh.x.length;
  const edgeCount = mesh.edge.length / 2;
  const nodeCount = vertexCount + edgeCount;
  const held = new Uint8Array(nodeCount * 5);
  const frameCos = new Float64Array(vertexCount).fill(1);
  const frameSin = new Float64Array(vertexCount);
  for (let node = 0; node < nodeCount; node++) {
    if (node >= vertexCount) held[node * 5 + slotSlopeB] = held[node * 5 + slotSlopeA] = 1;
    if (!hasMembrane) held[node * 5 + slotU] = held[node * 5 + slotV] = 1;
  }
  holdRim(problem, mesh, held, frameCos, frameSin);
  for (const fan of fans) for (const spoke of fan.spokes) held[(vertexCount + spoke) * 5 + slotW] = 1;
  if (hasMembrane && problem.support.inPlane === 'free') holdRigidMotion(mesh, held);
  const count = new Int32Array(2 * nodeCount);
  for (let node = 0; node < nodeCount; node++)
    for (let k = 0; k < 5; k++) if (!held[node * 5 + k]) count[k < slotU ? node : nodeCount + node]!++;
  const { order, pattern } = orderNodes(mesh, count, couplings, fans);
  const place = new Int32Array(2 * nodeCount).fill(-1);
  for (let k = 0; k < order.length; k++) place[order[k]!] = k;
  const dof = new Int32Array(nodeCount * 5).fill(-1);
  for (let node = 0; node < nodeCount; node++) {
    let bending = pattern.first[Math.max(0, place[node]!)]!;
    let inPlane = pattern.first[Math.max(0, place[nodeCount + node]!)]!;
    for (let k = 0; k < 5; k++)
      if (!held[node * 5 + k]) dof[node * 5 + k] = k < slotU ? bending++ : inPlane++;
  }
  return { mesh, hasMembrane, frameCos, frameSin, dof, place, pattern, plan: planLdl(pattern), fans };
}

function holdRim(
  problem: PlateProblem,
  mesh: PlaneMesh,
  held: Uint8Array,
  frameCos: Float64Array,
  frameSin: Float64Array,
): void {
  const { bending, inPlane } = problem.support;
  const rim = mesh.rims[0]!;
  const onRim = rimEdges(mesh, rim.vertex);
  rim.vertex.forEach((vertex, k) => {
    if (inPlane === 'pinned') held[vertex * 5 + slotU] = held[vertex * 5 + slotV] = 1;
    if (bending === 'free') return;
    held[vertex * 5 + slotW] = held[vertex * 5 + slotSlopeA] = 1;
    if (bending === 'clamped') {
      held[vertex * 5 + slotSlopeB] = 1;
      return;
    }
    if (rim.cornerTurnRad[k] !== 0) held[vertex * 5 + slotSlopeB] = 1;
    frameCos[vertex] = rim.tangent[k]![0];
    frameSin[vertex] = rim.tangent[k]![1];
  });
  for (const edge of onRim) {
    const node = mesh.x.length + edge;
    if (bending === 'clamped') held[node * 5 + slotW] = 1;
    if (inPlane === 'pinned') held[node * 5 + slotU] = held[node * 5 + slotV] = 1;
  }
}

function rimEdges(mesh: PlaneMesh, row: Int32Array): number[] {
  const uses = new Uint8Array(mesh.edge.length / 2);
  for (const e of mesh.edgeOf) uses[e]!++;
  const isRim = new Uint8Array(mesh.x.length);
  for (const vertex of row) isRim[vertex] = 1;
  const list: number[] = [];
  uses.forEach((count, e) => {
    if (count === 1 && isRim[mesh.edge[2 * e]!] && isRim[mesh.edge[2 * e + 1]!]) list.push(e);
  });
  return list;
}

/** A rim that is free in its plane: three unknowns are held so that the whole cannot drift; they carry no force. */
function holdRigidMotion(mesh: PlaneMesh, held: Uint8Array): void {
  let [low, high] = [0, 0];
  mesh.x.forEach((x, i) => {
    if (x < mesh.x[low]!) low = i;
    if (x > mesh.x[high]!) high = i;
  });
  held[low * 5 + slotU] = held[low * 5 + slotV] = held[high * 5 + slotV] = 1;
}

function orderNodes(
  mesh: PlaneMesh,
  count: Int32Array,
  couplings: readonly (readonly number[])[],
  fans: readonly CornerFan[],
): { order: Int32Array; pattern: BlockPattern } {
  const used: number[] = [];
  const number = new Int32Array(count.length).fill(-1);
  count.forEach((c, node) => {
    if (c > 0) {
      number[node] = used.length;
      used.push(node);
    }
  });
  const graph = nodeGraph(mesh, used, number, couplings, fans);
  const dofs = Int32Array.from(used, (node) => count[node]!);
  // measured: where bending and in-plane parts are joined along bars only, minimum degree leaves a third less
  const isJoined = couplings.length > 0;
  const reduced = isJoined ? minimumDegree(graph, dofs) : dissectMesh(mesh, count, number);
  const local = postOrder(reduced, blockPattern(graph, reduced, dofs));
  return { order: local.map((k) => used[k]!), pattern: blockPattern(graph, local, dofs) };
}

/**
 * Vertices by nested dissection, every edge just before the earlier one of its two vertices: so a cut is a path of
 * vertices and the edges between them, nothing more. The in-plane part of a node follows its bending part.
 */
function dissectMesh(mesh: PlaneMesh, count: Int32Array, number: Int32Array): Int32Array {
  const vertexCount = mesh.x.length;
  const nodeCount = count.length / 2;
  const weight = Int32Array.from(mesh.x, (_, i) => 1 + count[i]! + count[nodeCount + i]!);
  const order = nestedDissection(vertexGraph(mesh), mesh.x, mesh.y, weight);
  const place = new Int32Array(vertexCount);
  order.forEach((vertex, k) => {
    place[vertex] = k;
  });
  const edgesOf: number[][] = Array.from({ length: vertexCount }, () => []);
  for (let e = 0; e < mesh.edge.length / 2; e++) {
    const [a, b] = [mesh.edge[2 * e]!, mesh.edge[2 * e + 1]!];
    edgesOf[place[a]! < place[b]! ? a : b]!.push(vertexCount + e);
  }
  const all: number[] = [];
  for (const vertex of order) {
    for (const node of edgesOf[vertex]!) all.push(node);
    all.push(vertex);
    for (const node of edgesOf[vertex]!) all.push(nodeCount + node);
    all.push(nodeCount + vertex);
  }
  return Int32Array.from(
    all.filter((part) => count[part]! > 0),
    (part) => number[part]!,
  );
}

function vertexGraph(mesh: PlaneMesh): Graph {
  const start = new Int32Array(mesh.x.length + 1);
  for (const vertex of mesh.edge) start[vertex + 1]!++;
  for (let i = 0; i < mesh.x.length; i++) start[i + 1]! += start[i]!;
  const neighbour = new Int32Array(mesh.edge.length);
  const fill = start.slice();
  for (let e = 0; e < mesh.edge.length; e += 2) {
    const [a, b] = [mesh.edge[e]!, mesh.edge[e + 1]!];
    neighbour[fill[a]!++] = b;
    neighbour[fill[b]!++] = a;
  }
  return { start, neighbour };
}

/** Two parts are neighbours when they are of the same kind and share a triangle, or are joined by a coupling. */
function nodeGraph(
  mesh: PlaneMesh,
  used: readonly number[],
  number: Int32Array,
  couplings: readonly (readonly number[])[],
  fans: readonly CornerFan[],
): Graph {
  const vertexCount = mesh.x.length;
  const nodeCount = number.length / 2;
  const triangles = mesh.triangle.length / 3;
  const nodeOf = (t: number, k: number) =>
    k < 3 ? mesh.triangle[3 * t + k]! : vertexCount + mesh.edgeOf[3 * t + k - 3]!;
  const holds = new Int32Array(nodeCount + 1);
  for (let t = 0; t < triangles; t++) for (let k = 0; k < 6; k++) holds[nodeOf(t, k) + 1]!++;
  for (let i = 0; i < nodeCount; i++) holds[i + 1]! += holds[i]!;
  const list = new Int32Array(triangles * 6);
  const fill = holds.slice();
  for (let t = 0; t < triangles; t++) for (let k = 0; k < 6; k++) list[fill[nodeOf(t, k)]!++] = t;
  const joined = joinedNodes(nodeCount, couplings);
  const inFan = joinedNodes(
    nodeCount,
    fans.map((fan) => [...fan.ring, ...fan.ringEdges.map((edge) => vertexCount + edge)]),
  );
  const start = new Int32Array(used.length + 1);
  const neighbour: number[] = [];
  const seen = new Int32Array(used.length).fill(-1);
  used.forEach((part, i) => {
    const isInPlane = part >= nodeCount;
    const node = isInPlane ? part - nodeCount : part;
    const add = (other: number): void => {
      if (other < 0 || seen[other] === i) return;
      seen[other] = i;
      neighbour.push(other);
    };
    seen[i] = i;
    for (let h = holds[node]!; h < holds[node + 1]!; h++)
      for (let k = 0; k < 6; k++) add(number[nodeOf(list[h]!, k) + (isInPlane ? nodeCount : 0)]!);
    if (!isInPlane) for (const other of inFan[node] ?? []) add(number[other]!);
    for (const other of joined[node] ?? []) add(number[other + (isInPlane ? 0 : nodeCount)]!);
    start[i + 1] = neighbour.length;
  });
  return { start, neighbour: Int32Array.from(neighbour) };
}

function joinedNodes(nodeCount: number, couplings: readonly (readonly number[])[]): (number[] | undefined)[] {
  const joined: (number[] | undefined)[] = new Array(nodeCount);
  for (const nodes of couplings) for (const node of nodes) (joined[node] ??= []).push(...nodes);
  return joined;
}
