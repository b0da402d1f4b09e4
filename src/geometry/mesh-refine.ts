import {
  addVertex,
  cornerOf,
  restoreDelaunay,
  splitEdge,
  type Triangulation,
  trianglesAt,
  turn,
} from './mesh-triangulation.ts';

/** What the refinement has to know beside the triangulation. */
export interface RefineContext {
  readonly mesh: Triangulation;
  /** Wanted edge length at each vertex, mm; grows with the mesh. */
  readonly sizeMm: number[];
  /** Called for every vertex put on a marked edge between two vertices; gives its place. */
  readonly placeBetween: (mark: number, a: number, b: number) => readonly [number, number];
  /** Called when that vertex exists. */
  readonly onSplit: (mark: number, a: number, b: number, vertex: number) => void;
  /** Triangles whose shortest edge is shorter than this are left alone. */
  readonly floorMm: number;
  readonly maxVertices: number;
}

/** Cosine of the angle below which a triangle is improved (25 degrees). */
const wantedCos = Math.cos((25 * Math.PI) / 180);
/** A triangle is too large when its longest edge exceeds the wanted length this many times. */
const tooLongRatio = 1.5;

/**
 * Adds vertices until no triangle of the plate is too thin or too large: at the circumcentre of a bad triangle, or in
 * the middle of the marked edge that lies in the way.
 *
 * @source from memory
 */
export function refine(context: RefineContext): void {
  const { mesh } = context;
  const queue: number[] = [];
  for (let t = 0; t < mesh.inside.length; t++) if (mesh.inside[t]) queue.push(t);
  for (let head = 0; head < queue.length && mesh.x.length < context.maxVertices; head++) {
    const t = queue[head]!;
    if (!isBad(context, t)) continue;
    const vertex = improve(context, t);
    if (vertex === undefined) continue;
    for (const around of trianglesAt(mesh, vertex)) if (mesh.inside[around]) queue.push(around);
    // a vertex put on a marked edge farther away may not have touched this triangle
    if (cornerOf(mesh, t, vertex) < 0) queue.push(t);
  }
}

function edgeLength(m: Triangulation, t: number, i: number): number {
  const a = m.v[3 * t + ((i + 1) % 3)]!;
  const b = m.v[3 * t + ((i + 2) % 3)]!;
  return Math.hypot(m.x[a]! - m.x[b]!, m.y[a]! - m.y[b]!);
}

function isBad(context: RefineContext, t: number): boolean {
  const m = context.mesh;
  const l = [edgeLength(m, t, 0), edgeLength(m, t, 1), edgeLength(m, t, 2)];
  const longest = Math.max(l[0]!, l[1]!, l[2]!);
  const wanted =
    (context.sizeMm[m.v[3 * t]!]! + context.sizeMm[m.v[3 * t + 1]!]! + context.sizeMm[m.v[3 * t + 2]!]!) / 3;
  if (longest > tooLongRatio * wanted) return true;
  const k = l.indexOf(Math.min(l[0]!, l[1]!, l[2]!));
  if (l[k]! < context.floorMm) return false;
  const [p, q] = [l[(k + 1) % 3]!, l[(k + 2) % 3]!];
  const cos = (p * p + q * q - l[k]! * l[k]!) / (2 * p * q);
  if (cos <= wantedCos) return false;
  // an angle given by two marked edges cannot be improved
  return m.c[3 * t + ((k + 1) % 3)] === 0 || m.c[3 * t + ((k + 2) % 3)] === 0;
}

/** Adds one vertex for a bad triangle; undefined when nothing can be done. */
function improve(context: RefineContext, start: number): number | undefined {
  const m = context.mesh;
  const [cx, cy] = circumcentre(m, start);
  const [ox, oy] = centroid(m, start);
  let t = start;
  for (let steps = 0; steps < 500; steps++) {
    const i = wayOut(m, t, ox, oy, cx, cy);
    if (i < 0) break;
    if (m.c[3 * t + i] !== 0) return halve(context, t, i);
    t = m.n[3 * t + i]!;
  }
  for (let i = 0; i < 3; i++)
    if (m.c[3 * t + i] !== 0 && isTooNear(m, t, i, cx, cy)) return halve(context, t, i);
  const sizes = [0, 1, 2].map((i) => context.sizeMm[m.v[3 * t + i]!]!);
  const count = m.x.length;
  const vertex = addVertex(m, cx, cy, t);
  if (vertex < count) return undefined;
  context.sizeMm[vertex] = (sizes[0]! + sizes[1]! + sizes[2]!) / 3;
  return vertex;
}

function circumcentre(m: Triangulation, t: number): [number, number] {
  const [a, b, c] = [m.v[3 * t]!, m.v[3 * t + 1]!, m.v[3 * t + 2]!];
  const bx = m.x[b]! - m.x[a]!;
  const by = m.y[b]! - m.y[a]!;
  const cx = m.x[c]! - m.x[a]!;
  const cy = m.y[c]! - m.y[a]!;
  const d = 2 * (bx * cy - by * cx);
  const [b2, c2] = [bx * bx + by * by, cx * cx + cy * cy];
  return [m.x[a]! + (cy * b2 - by * c2) / d, m.y[a]! + (bx * c2 - cx * b2) / d];
}

function centroid(m: Triangulation, t: number): [number, number] {
  const [a, b, c] = [m.v[3 * t]!, m.v[3 * t + 1]!, m.v[3 * t + 2]!];
  return [(m.x[a]! + m.x[b]! + m.x[c]!) / 3, (m.y[a]! + m.y[b]! + m.y[c]!) / 3];
}

/** The edge through which the straight way from o to c leaves the triangle, or -1 when c lies in it. */
function wayOut(m: Triangulation, t: number, ox: number, oy: number, cx: number, cy: number): number {
  let fallback = -1;
  for (let i = 0; i < 3; i++) {
    const a = m.v[3 * t + ((i + 1) % 3)]!;
    const b = m.v[3 * t + ((i + 2) % 3)]!;
    if (turn(m.x[a]!, m.y[a]!, m.x[b]!, m.y[b]!, cx, cy) >= -m.epsilonMm * edgeLength(m, t, i)) continue;
    fallback = i;
    const sideA = turn(ox, oy, cx, cy, m.x[a]!, m.y[a]!);
    const sideB = turn(ox, oy, cx, cy, m.x[b]!, m.y[b]!);
    if (sideA <= 0 && sideB >= 0) return i;
  }
  return fallback;
}

/** Whether a place would see the marked edge under more than 115 degrees. */
function isTooNear(m: Triangulation, t: number, i: number, px: number, py: number): boolean {
  const a = m.v[3 * t + ((i + 1) % 3)]!;
  const b = m.v[3 * t + ((i + 2) % 3)]!;
  const ax = m.x[a]! - px;
  const ay = m.y[a]! - py;
  const bx = m.x[b]! - px;
  const by = m.y[b]! - py;
  return ax * bx + ay * by < -0.42 * Math.hypot(ax, ay) * Math.hypot(bx, by);
}

function halve(context: RefineContext, t: number, i: number): number | undefined {
  const m = context.mesh;
  if (edgeLength(m, t, i) < 2 * context.floorMm) return undefined;
  const a = m.v[3 * t + ((i + 1) % 3)]!;
  const b = m.v[3 * t + ((i + 2) % 3)]!;
  const mark = m.c[3 * t + i]!;
  let [px, py] = context.placeBetween(mark, a, b);
  if (!isPlaceable(m, t, i, px, py)) {
    px = (m.x[a]! + m.x[b]!) / 2;
    py = (m.y[a]! + m.y[b]!) / 2;
  }
  const vertex = splitEdge(m, t, i, px, py);
  context.sizeMm[vertex] = (context.sizeMm[a]! + context.sizeMm[b]!) / 2;
  context.onSplit(mark, a, b, vertex);
  return vertex;
}

/** Whether the four triangles made by splitting at this place all stand the right way round. */
function isPlaceable(m: Triangulation, t: number, i: number, px: number, py: number): boolean {
  const a = m.v[3 * t + ((i + 1) % 3)]!;
  const b = m.v[3 * t + ((i + 2) % 3)]!;
  const p = m.v[3 * t + i]!;
  const u = m.n[3 * t + i]!;
  const j = [0, 1, 2].find((k) => m.v[3 * u + k] !== a && m.v[3 * u + k] !== b)!;
  const q = m.v[3 * u + j]!;
  const area = (r: number, s: number) => turn(m.x[r]!, m.y[r]!, m.x[s]!, m.y[s]!, px, py);
  return area(p, a) > 0 && area(b, p) > 0 && area(q, b) > 0 && area(a, q) > 0;
}

/**
 * Moves free vertices towards the middle of their neighbours where that widens the smallest angle around them.
 *
 * @param isFixed  whether a vertex has to stay
 * @param rounds   how often all vertices are visited
 * @source         from memory
 */
export function smooth(m: Triangulation, isFixed: (vertex: number) => boolean, rounds: number): void {
  for (let round = 0; round < rounds; round++) {
    for (let vertex = 3; vertex < m.x.length; vertex++) if (!isFixed(vertex)) moveToMiddle(m, vertex);
    restoreDelaunay(m);
  }
}

function moveToMiddle(m: Triangulation, vertex: number): void {
  const around = trianglesAt(m, vertex);
  let [sx, sy] = [0, 0];
  for (const t of around) {
    const next = m.v[3 * t + ((cornerOf(m, t, vertex) + 1) % 3)]!;
    sx += m.x[next]!;
    sy += m.y[next]!;
  }
  const [oldX, oldY] = [m.x[vertex]!, m.y[vertex]!];
  const before = worstAngleCos(m, around);
  m.x[vertex] = sx / around.length;
  m.y[vertex] = sy / around.length;
  const after = worstAngleCos(m, around);
  if (after < before || after < Math.cos((35 * Math.PI) / 180)) return;
  m.x[vertex] = oldX;
  m.y[vertex] = oldY;
}

/** Cosine of the smallest angle in some triangles; 2 when one of them is turned over. */
function worstAngleCos(m: Triangulation, triangles: readonly number[]): number {
  let worst = -1;
  for (const t of triangles) {
    const [a, b, c] = [m.v[3 * t]!, m.v[3 * t + 1]!, m.v[3 * t + 2]!];
    if (turn(m.x[a]!, m.y[a]!, m.x[b]!, m.y[b]!, m.x[c]!, m.y[c]!) <= 0) return 2;
    const l0 = edgeLength(m, t, 0);
    const l1 = edgeLength(m, t, 1);
    const l2 = edgeLength(m, t, 2);
    worst = Math.max(
      worst,
      (l1 * l1 + l2 * l2 - l0 * l0) / (2 * l1 * l2),
      (l0 * l0 + l2 * l2 - l1 * l1) / (2 * l0 * l2),
      (l0 * l0 + l1 * l1 - l2 * l2) / (2 * l0 * l1),
    );
  }
  return worst;
}
