import type { PlaneMesh } from '../../geometry/mesh-plane.ts';
import {
  curveHct,
  type HctGeometry,
  type LayerStiffness,
  makeHctElement,
  makeHctGeometry,
  massHct,
  shapeHct,
  stiffenHct,
} from './hct-element.ts';

/**
 * The triangles around a corner of a held rim, taken as one element: inside, rings of triangles go on for ever, each
 * half as large as the one before. All rings are alike, so the stiffness of the whole is found by adding one ring after
 * another until nothing changes; no unknown lies inside. So the movement may go with any power of the distance.
 */
export interface CornerFan {
  readonly vertex: number;
  /** From the rim to the rim, counter-clockwise seen from the corner. */
  readonly ring: readonly number[];
  /** The edge between each pair of them. */
  readonly ringEdges: readonly number[];
  /** The edges from the corner to each of them. */
  readonly spokes: readonly number[];
  readonly triangles: readonly number[];
}

/**
 * The triangles around a vertex of the rim, in order.
 *
 * @param mesh    the mesh
 * @param vertex  on a rim
 * @returns       the fan; undefined when the triangles do not make one fan from rim to rim
 * @source        plane-geometry
 */
export function fanAround(mesh: PlaneMesh, vertex: number): CornerFan | undefined {
  const after = new Map<number, { readonly to: number; readonly t: number; readonly corner: number }>();
  for (let t = 0; t < mesh.triangle.length / 3; t++)
    for (let corner = 0; corner < 3; corner++) {
      if (mesh.triangle[3 * t + corner] !== vertex) continue;
      const from = mesh.triangle[3 * t + ((corner + 1) % 3)]!;
      after.set(from, { to: mesh.triangle[3 * t + ((corner + 2) % 3)]!, t, corner });
    }
  const ends = new Set([...after.values()].map(({ to }) => to));
  const first = [...after.keys()].filter((from) => !ends.has(from));
  if (first.length !== 1) return undefined;
  const ring = [first[0]!];
  const [ringEdges, spokes, triangles]: [number[], number[], number[]] = [[], [], []];
  for (let step = after.get(first[0]!); step; step = after.get(step.to)) {
    const { t, corner } = step;
    ring.push(step.to);
    triangles.push(t);
    ringEdges.push(mesh.edgeOf[3 * t + corner]!);
    // the edge opposite the next vertex leads from the corner to the one before it
    if (spokes.length === 0) spokes.push(mesh.edgeOf[3 * t + ((corner + 2) % 3)]!);
    spokes.push(mesh.edgeOf[3 * t + ((corner + 1) % 3)]!);
  }
  return ring.length === after.size + 1 ? { vertex, ring, ringEdges, spokes, triangles } : undefined;
}

/** What a corner has to know of the model. */
export interface CornerPlace {
  readonly mesh: PlaneMesh;
  readonly fan: CornerFan;
  readonly frameCos: Float64Array;
  readonly frameSin: Float64Array;
  /** Which of the unknowns of the ring are held: deflection and two slopes of each vertex, then the slope of each edge. */
  readonly isHeld: readonly boolean[];
  /** Whether the slope across the two rims is held as well. */
  readonly isClamped: boolean;
}

/** Each ring is this much smaller than the one before. */
const ringRatio = 0.6;
/** 2 to this power are the rings counted; what lies inside the last is held. */
const ringDoublings = 8;
/** Rings are cut into twice as many sectors, one inside the other, until there are as many as this. */
const wantedSectors = 12;

/**
 * Stiffness and mass of a corner for the unknowns of its ring (three of each vertex, then one of each edge).
 *
 * @param place        the fan and how its ring is held
 * @param d            moment per curvature, N mm
 * @param massPerArea  tonnes/mm2
 * @returns            square matrices, row by row; rows of held unknowns are 0
 * @assumes            the two rims are straight across the fan; the plate is the same all over it
 * @source             clough-tocher
 */
export function cornerMatrices(
  place: CornerPlace,
  d: LayerStiffness,
  massPerArea: number,
): { readonly stiffness: Float64Array; readonly mass: Float64Array; readonly count: number } {
  const count = place.isHeld.length;
  const outer = outermost(place);
  const plate = { d, massPerArea, isClamped: place.isClamped };
  const { k, m, n } = insideOf(outer, plate);
  const free = Array.from({ length: count }, (_, i) => i).filter((i) => !place.isHeld[i]);
  const [stiffness, mass] = [new Float64Array(count * count), new Float64Array(count * count)];
  for (let r = 0; r < n; r++)
    for (let c = 0; c < n; c++) {
      stiffness[free[r]! * count + free[c]!] = k[r * n + c]!;
      mass[free[r]! * count + free[c]!] = m[r * n + c]!;
    }
  return { stiffness, mass, count };
}

/** A node of a ring: its place from the corner, its frame and which of its three unknowns are held. */
interface RingNode {
  readonly x: number;
  readonly y: number;
  readonly cos: number;
  readonly sin: number;
  readonly isHeld: readonly [boolean, boolean, boolean];
}

/** A row of nodes around the corner and the normals of the edges between them. */
interface Ring {
  readonly nodes: readonly RingNode[];
  readonly normals: readonly (readonly [number, number])[];
}

interface CornerPlate {
  readonly d: LayerStiffness;
  readonly massPerArea: number;
  readonly isClamped: boolean;
}

/** Full symmetric matrices of stiffness and mass, row by row. */
interface Pair {
  readonly k: Float64Array;
  readonly m: Float64Array;
}

function outermost({ mesh, fan, frameCos, frameSin, isHeld }: CornerPlace): Ring {
  return {
    nodes: fan.ring.map(
      (vertex, i): RingNode => ({
        x: mesh.x[vertex]! - mesh.x[fan.vertex]!,
        y: mesh.y[vertex]! - mesh.y[fan.vertex]!,
        cos: frameCos[vertex]!,
        sin: frameSin[vertex]!,
        isHeld: [isHeld[3 * i]!, isHeld[3 * i + 1]!, isHeld[3 * i + 2]!],
      }),
    ),
    // as the model counts them
    normals: fan.ringEdges.map((edge) => {
      const [a, b] = [mesh.edge[2 * edge]!, mesh.edge[2 * edge + 1]!];
      return unitNormal(mesh.x[b]! - mesh.x[a]!, mesh.y[b]! - mesh.y[a]!);
    }),
  };
}

/** The same ring with a node in the middle of each edge. */
function twiceAsFine({ nodes, normals }: Ring): Ring {
  const between = nodes.slice(1).map((q, i): RingNode => {
    const p = nodes[i]!;
    return { x: (p.x + q.x) / 2, y: (p.y + q.y) / 2, cos: 1, sin: 0, isHeld: [false, false, false] };
  });
  return {
    nodes: nodes.flatMap((node, i) => (between[i] ? [node, between[i]] : [node])),
    normals: normals.flatMap((normal) => [normal, normal]),
  };
}

/** All that lies inside a ring, for the unknowns of the ring. */
function insideOf(ring: Ring, plate: CornerPlate): Pair & { readonly n: number } {
  const n = freeCount(ring);
  if (ring.normals.length >= wantedSectors) return { ...allAlike(ring, plate), n };
  const fine = twiceAsFine(ring);
  const inside = insideOf(fine, plate);
  const layer = ringLayer(ring, fine, plate);
  const size = n + inside.n;
  for (let r = 0; r < inside.n; r++)
    for (let c = 0; c < inside.n; c++) {
      layer.k[(n + r) * size + n + c]! += inside.k[r * inside.n + c]! / ringRatio ** 2;
      layer.m[(n + r) * size + n + c]! += inside.m[r * inside.n + c]! * ringRatio ** 2;
    }
  return { ...condense(layer, size, n), n };
}

/** Rings that are all alike: two are made one, then two of those, and so on; the last of all is held on its inside. */
function allAlike(ring: Ring, plate: CornerPlate): Pair {
  const n = freeCount(ring);
  let layer = ringLayer(ring, ring, plate);
  let ratio = ringRatio;
  for (let round = 0; round < ringDoublings; round++) {
    // order: outer side, inner side, the row between the two
    const size = 3 * n;
    const both: Pair = { k: new Float64Array(size * size), m: new Float64Array(size * size) };
    const put = (places: readonly [number, number], stiffer: number, heavier: number) => {
      for (let r = 0; r < 2 * n; r++)
        for (let c = 0; c < 2 * n; c++) {
          const row = places[r < n ? 0 : 1]! + (r % n);
          const to = row * size + places[c < n ? 0 : 1]! + (c % n);
          both.k[to]! += stiffer * layer.k[r * 2 * n + c]!;
          both.m[to]! += heavier * layer.m[r * 2 * n + c]!;
        }
    };
    put([0, 2 * n], 1, 1);
    put([2 * n, n], ratio ** -2, ratio ** 2);
    layer = condense(both, size, 2 * n);
    ratio *= ratio;
  }
  const [k, m] = [new Float64Array(n * n), new Float64Array(n * n)];
  for (let r = 0; r < n; r++)
    for (let c = 0; c < n; c++) {
      k[r * n + c] = layer.k[r * 2 * n + c]!;
      m[r * n + c] = layer.m[r * 2 * n + c]!;
    }
  return { k, m };
}

function freeCount({ nodes, normals }: Ring): number {
  return normals.length + nodes.reduce((sum, { isHeld }) => sum + isHeld.filter((held) => !held).length, 0);
}

/** A node with the numbers of its unknowns, -1 where held. */
interface NumberedNode extends RingNode {
  readonly numbers: readonly number[];
}

function numbered(
  ring: Ring,
  ratio: number,
  from: number,
): { readonly nodes: readonly NumberedNode[]; readonly edges: readonly EdgeSlope[] } {
  let next = from;
  const nodes = ring.nodes.map(
    (node): NumberedNode => ({
      ...node,
      x: ratio * node.x,
      y: ratio * node.y,
      numbers: node.isHeld.map((isHeld) => (isHeld ? -1 : next++)),
    }),
  );
  return { nodes, edges: ring.normals.map((normal): EdgeSlope => [next++, normal]) };
}

/**
 * The plate between a ring and the next one inside it, which has as many sectors or twice as many: unknowns of the outer
 * side, then of the inner side with slopes counted times the ratio, so that all rings look alike.
 */
function ringLayer(outerRing: Ring, innerRing: Ring, plate: CornerPlate): Pair {
  const [n, nIn] = [freeCount(outerRing), freeCount(innerRing)];
  const outer = numbered(outerRing, 1, 0);
  const inner = numbered(innerRing, ringRatio, n);
  const sectors = outerRing.normals.length;
  const times = innerRing.normals.length / sectors;
  let next = n + nIn;
  const radial = outer.nodes.map(
    (node, i): EdgeSlope => [
      plate.isClamped && (i === 0 || i === sectors) ? -1 : next++,
      unitNormal(node.x, node.y),
    ],
  );
  const slant = (p: RingNode, q: RingNode): EdgeSlope => [next++, unitNormal(q.x - p.x, q.y - p.y)];
  const triangles: (readonly [readonly NumberedNode[], readonly EdgeSlope[]])[] = [];
  for (let i = 0; i < sectors; i++) {
    const [p, q] = [outer.nodes[i]!, outer.nodes[i + 1]!];
    const [pIn, qIn] = [inner.nodes[times * i]!, inner.nodes[times * (i + 1)]!];
    if (times === 1) {
      const across = slant(p, qIn);
      triangles.push([
        [p, q, qIn],
        [radial[i + 1]!, across, outer.edges[i]!],
      ]);
      triangles.push([
        [p, qIn, pIn],
        [inner.edges[i]!, radial[i]!, across],
      ]);
      continue;
    }
    const middle = inner.nodes[2 * i + 1]!;
    const [one, two] = [slant(p, middle), slant(q, middle)];
    triangles.push([
      [p, q, middle],
      [two, one, outer.edges[i]!],
    ]);
    triangles.push([
      [p, middle, pIn],
      [inner.edges[2 * i]!, radial[i]!, one],
    ]);
    triangles.push([
      [q, qIn, middle],
      [inner.edges[2 * i + 1]!, two, radial[i + 1]!],
    ]);
  }
  const sum = sumOf(triangles, next, plate);
  const isSlope = slopesOf(innerRing);
  for (let r = 0; r < nIn; r++) if (isSlope[r]) scaleRow(sum, next, n + r, 1 / ringRatio);
  return condense(sum, next, n + nIn);
}

/** Which of the free unknowns of a ring are slopes. */
function slopesOf({ nodes, normals }: Ring): boolean[] {
  return [
    ...nodes.flatMap(({ isHeld }) => isHeld.flatMap((held, k) => (held ? [] : [k > 0]))),
    ...normals.map(() => true),
  ];
}

function unitNormal(dx: number, dy: number): readonly [number, number] {
  const length = Math.hypot(dx, dy);
  return [-dy / length, dx / length];
}

/** The number of the slope across an edge (-1 held) and the direction it is counted in. */
type EdgeSlope = readonly [number: number, normal: readonly [number, number]];

/** Adds up triangles: corners counter-clockwise and the slopes across the edges opposite them. */
function sumOf(
  triangles: readonly (readonly [readonly NumberedNode[], readonly EdgeSlope[]])[],
  size: number,
  { d, massPerArea }: CornerPlate,
): Pair {
  const sum: Pair = { k: new Float64Array(size * size), m: new Float64Array(size * size) };
  const element = makeHctElement();
  const geometry: HctGeometry = makeHctGeometry();
  const [k12, m12] = [new Float64Array(144), new Float64Array(144)];
  for (const [nodes, edges] of triangles) {
    nodes.forEach((node, i) => {
      geometry.x[i] = node.x;
      geometry.y[i] = node.y;
      geometry.frameCos[i] = node.cos;
      geometry.frameSin[i] = node.sin;
    });
    edges.forEach(([, normal], i) => {
      geometry.normalX[i] = normal[0];
      geometry.normalY[i] = normal[1];
    });
    shapeHct(element, geometry);
    curveHct(element);
    k12.fill(0);
    m12.fill(0);
    stiffenHct(element, d, k12);
    massHct(element, massPerArea, m12);
    const numbers = [...nodes.flatMap((node) => node.numbers), ...edges.map(([number]) => number)];
    for (let r = 0; r < 12; r++)
      for (let c = 0; c < 12; c++) {
        const [i, j] = [numbers[r]!, numbers[c]!];
        if (i < 0 || j < 0) continue;
        const lower = Math.max(r, c) * 12 + Math.min(r, c);
        sum.k[i * size + j]! += k12[lower]!;
        sum.m[i * size + j]! += m12[lower]!;
      }
  }
  return sum;
}

function scaleRow({ k, m }: Pair, size: number, row: number, factor: number): void {
  for (let c = 0; c < size; c++) {
    for (const a of [k, m]) {
      a[row * size + c]! *= factor;
      a[c * size + row]! *= factor;
    }
  }
}

/**
 * Removes the last unknowns of a stiffness so that no force is left on them; the mass follows the same movement.
 *
 * @param pair  square, symmetric, stiffness positive on the removed unknowns; changed
 * @param size  its side
 * @param kept  how many unknowns stay
 * @source      arithmetic
 */
function condense({ k, m }: Pair, size: number, kept: number): Pair {
  const share = new Float64Array(size);
  for (let p = size - 1; p >= kept; p--) {
    const own = m[p * size + p]!;
    for (let j = 0; j < p; j++) share[j] = k[p * size + j]! / k[p * size + p]!;
    for (let i = 0; i < p; i++)
      for (let j = 0; j < p; j++) {
        k[i * size + j]! -= share[i]! * k[p * size + j]!;
        m[i * size + j]! +=
          share[i]! * share[j]! * own - share[i]! * m[p * size + j]! - share[j]! * m[i * size + p]!;
      }
  }
  const [outK, outM] = [new Float64Array(kept * kept), new Float64Array(kept * kept)];
  for (let r = 0; r < kept; r++)
    for (let c = 0; c < kept; c++) {
      outK[r * kept + c] = k[r * size + c]!;
      outM[r * kept + c] = m[r * size + c]!;
    }
  return { k: outK, m: outM };
}
