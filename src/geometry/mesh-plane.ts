import { loopDemand, type SizeRequest, spread, wantedSize } from './mesh-demand.ts';
import { distanceToLine, keysOfLines, type MeshLine } from './mesh-line.ts';
import {
  bulgeAreaMm2,
  cornerRad,
  isInsideLoop,
  type Loop,
  loopAreaMm2,
  loopLengthMm,
  nearestOnLoop,
  type Place,
  pieceAt,
  placeAlong,
} from './mesh-loop.ts';
import { refine, smooth } from './mesh-refine.ts';
import { addVertex, emptyTriangulation, forceEdge, type Triangulation, turn } from './mesh-triangulation.ts';

export interface MeshRequest extends SizeRequest {
  /** The outline first, then the holes. */
  readonly loops: readonly Loop[];
  /** Straight lines that have to be rows of edges; they end inside or on a loop. */
  readonly lines: readonly MeshLine[];
  /** Places that have to be vertices. */
  readonly points: readonly Place[];
  /** Loops (by number) whose vertices stay on the line instead of being moved to keep the area. */
  readonly exactLoops?: readonly number[];
}

/** One vertex row of a loop, in order along it. */
export interface RimRow {
  readonly vertex: Int32Array;
  /** Direction of the true line (not of the chords) at each vertex. */
  readonly tangent: readonly Place[];
  /** Turn of the line at each vertex where it is a corner, rad; 0 elsewhere. */
  readonly cornerTurnRad: Float64Array;
}

export interface PlaneMesh {
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Three vertices a triangle, counter-clockwise. */
  readonly triangle: Int32Array;
  /** The edge opposite each corner of each triangle. */
  readonly edgeOf: Int32Array;
  /** Two vertices an edge, the lower number first. */
  readonly edge: Int32Array;
  readonly rims: readonly RimRow[];
  /** The vertices along each line, from its start to its end. */
  readonly lineVertices: readonly Int32Array[];
  /** The vertex at each point. */
  readonly pointVertex: Int32Array;
}

/** What is remembered of the loops while vertices are added to them. */
interface RimMemory {
  readonly loopOf: number[];
  readonly alongMm: number[];
}

/**
 * Triangulates a plane piece with holes so that its rims and lines are edges.
 *
 * @param request  loops, lines, points, wanted edge length; the caller has checked that they fit together
 * @returns        the mesh; rim vertices of curves are moved outward by a part of the sagitta so that the area is kept
 * @assumes        angles between lines under 25 degrees stay as they are
 * @throws RangeError when lines cross where no vertex is (a fault of the caller)
 * @source         from memory
 */
export function meshPlane(request: MeshRequest): PlaneMesh {
  const { loops, sizeMm } = request;
  const outer = loops[0]!;
  const mesh = emptyTriangulation(
    Math.min(...outer.x),
    Math.min(...outer.y),
    Math.max(...outer.x),
    Math.max(...outer.y),
  );
  const memory: RimMemory = { loopOf: [-1, -1, -1], alongMm: [0, 0, 0] };
  const size: number[] = [sizeMm, sizeMm, sizeMm];
  const register = vertexRegister(mesh, memory, size);
  const keys = keysOfLines(request.lines, request.points, 0.1 * sizeMm);
  const rims = loops.map((loop, l) => addLoop(request, register, loop, l, rimKeys(loop, keys)));
  const lineRows = keys.map((row) => addLine(request, register, row));
  const pointVertex = Int32Array.from(request.points, ([px, py]) =>
    register(px, py, wantedSize(request, px, py), -1, 0),
  );
  rims.forEach((row, l) => {
    row.forEach((vertex, i) => {
      forceEdge(mesh, vertex, row[(i + 1) % row.length]!, 1 + l);
    });
  });
  lineRows.forEach((row, l) => {
    for (let i = 0; i + 1 < row.length; i++) forceEdge(mesh, row[i]!, row[i + 1]!, 1 + loops.length + l);
  });
  markInside(mesh, loops);
  setOwnSizes(mesh, size, request);
  const featureCount = mesh.x.length;
  seedInside(mesh, request, size, featureCount);
  const fixed: boolean[] = [];
  for (let i = 0; i < featureCount; i++) fixed[i] = true;
  refine({
    mesh,
    sizeMm: size,
    placeBetween: (mark, a, b) => placeBetween(mesh, loops, memory, mark, a, b),
    onSplit: (mark, a, b, vertex) => {
      fixed[vertex] = true;
      if (mark > loops.length) return;
      memory.loopOf[vertex] = mark - 1;
      memory.alongMm[vertex] = middleAlong(loops[mark - 1]!, memory, a, b);
    },
    floorMm: Math.min(
      sizeMm * 0.04,
      Math.max(leastMm, narrowestMm(loops, keys, sizeMm * 0.15) * 0.1),
      ...(request.fineSpots ?? []).map((spot) => spot.sizeMm * 0.3),
    ),
    maxVertices: 400_000,
  });
  smooth(mesh, (vertex) => fixed[vertex] === true, 4);
  return collect(mesh, request, memory, pointVertex);
}

/** Triangles with an angle under this (21 degrees) are not left by moving rims outward. */
const thinRad = (21 * Math.PI) / 180;

/** Edges are never cut shorter than this because of a narrow place, mm. */
const leastMm = 0.002;

/**
 * The narrowest way between two rims, two lines or a rim and a line that do not touch, mm; `mostMm` when all are wider.
 * Only ends, crossings and corners are looked at: where nothing crosses, one of them is nearest.
 */
function narrowestMm(loops: readonly Loop[], rows: readonly (readonly Place[])[], mostMm: number): number {
  const sides: (readonly [Place, Place])[] = [];
  for (const { x, y } of loops)
    for (let i = 0; i < x.length; i++) {
      const j = (i + 1) % x.length;
      sides.push([
        [x[i]!, y[i]!],
        [x[j]!, y[j]!],
      ]);
    }
  for (const row of rows) for (let k = 0; k + 1 < row.length; k++) sides.push([row[k]!, row[k + 1]!]);
  const corners = loops.flatMap((loop) => spacedCorners(loop, mostMm));
  let narrowest = mostMm;
  const look = ([px, py]: Place, [a, b]: readonly [Place, Place]): void => {
    if (px < Math.min(a[0], b[0]) - narrowest || px > Math.max(a[0], b[0]) + narrowest) return;
    if (py < Math.min(a[1], b[1]) - narrowest || py > Math.max(a[1], b[1]) + narrowest) return;
    const distance = distanceToLine(a, b, px, py);
    // places joined by a short way along one line are no narrow place
    const isNear =
      Math.min(Math.hypot(px - a[0], py - a[1]), Math.hypot(px - b[0], py - b[1])) < 2 * distance;
    if (distance > 1e-6 && distance < narrowest && !isNear) narrowest = distance;
  };
  for (const side of sides) {
    for (const row of rows) for (const place of row) look(place, side);
    for (const corner of corners) look(corner, side);
  }
  return narrowest;
}

/** The points of a loop: all corners, and of finely drawn curves only some. */
function spacedCorners(loop: Loop, stepMm: number): Place[] {
  let last = -stepMm;
  const kept: Place[] = [];
  for (let i = 0; i < loop.x.length; i++) {
    if (Math.abs(loop.turnRad[i]!) < cornerRad && loop.lengthMm[i]! - last < stepMm) continue;
    last = loop.lengthMm[i]!;
    kept.push([loop.x[i]!, loop.y[i]!]);
  }
  return kept;
}

type Register = (px: number, py: number, sizeMm: number, loop: number, alongMm: number) => number;

/** Adds a vertex once: a place within a millionth of a millimetre of an earlier one is the same. */
function vertexRegister(mesh: Triangulation, memory: RimMemory, size: number[]): Register {
  return (px, py, sizeMm, loop, alongMm) => {
    for (let i = 3; i < mesh.x.length; i++)
      if (Math.abs(mesh.x[i]! - px) < 1e-6 && Math.abs(mesh.y[i]! - py) < 1e-6) return i;
    const vertex = addVertex(mesh, px, py);
    memory.loopOf[vertex] = loop;
    memory.alongMm[vertex] = alongMm;
    size[vertex] = sizeMm;
    return vertex;
  };
}

/** Distances along a loop where a vertex has to be: corners, points of coarse polygons, ends of lines. */
function rimKeys(loop: Loop, lines: readonly (readonly Place[])[]): { alongMm: number; place?: Place }[] {
  const keys: { alongMm: number; place?: Place }[] = [];
  for (const row of lines)
    for (const place of row) {
      const near = nearestOnLoop(loop, place[0], place[1]);
      if (near.distanceMm < 1e-6) keys.push({ alongMm: near.alongMm, place });
    }
  return keys;
}

function addLoop(
  request: MeshRequest,
  register: Register,
  loop: Loop,
  index: number,
  extra: readonly { alongMm: number; place?: Place }[],
): number[] {
  const { sizeMm } = request;
  const total = loopLengthMm(loop);
  const n = loop.x.length;
  const keys: { alongMm: number; place?: Place }[] = [...extra];
  for (let i = 0; i < n; i++) {
    const before = loop.lengthMm[((i + n - 1) % n) + 1]! - loop.lengthMm[(i + n - 1) % n]!;
    const after = loop.lengthMm[i + 1]! - loop.lengthMm[i]!;
    const isCoarse = Math.max(before, after) > 0.6 * sizeMm && Math.abs(loop.turnRad[i]!) > 1e-3;
    if (Math.abs(loop.turnRad[i]!) > cornerRad || isCoarse)
      keys.push({ alongMm: loop.lengthMm[i]!, place: [loop.x[i]!, loop.y[i]!] });
  }
  if (keys.length === 0) keys.push({ alongMm: 0 });
  keys.sort((a, b) => a.alongMm - b.alongMm);
  const demand = loopDemand(request, loop);
  const row: number[] = [];
  keys.forEach((key, k) => {
    const next = k + 1 < keys.length ? keys[k + 1]!.alongMm : keys[0]!.alongMm + total;
    if (next - key.alongMm < 1e-6) return;
    const places = spread(demand, key.alongMm, next, total, next - key.alongMm > total - 1e-6 ? 8 : 1);
    places.forEach((alongMm, i) => {
      const place = i === 0 && key.place ? key.place : placeAlong(loop, alongMm);
      row.push(register(place[0], place[1], sizeMm, index, alongMm % total));
    });
  });
  return row.filter((vertex, i) => vertex !== row[(i + 1) % row.length]);
}

/** Vertices along a line: between two keys the demand for short edges is shared evenly. */
function addLine(request: MeshRequest, register: Register, row: readonly Place[]): number[] {
  const vertices: number[] = [];
  for (let k = 0; k + 1 < row.length; k++) {
    const [a, b] = [row[k]!, row[k + 1]!];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const at = (part: number): Place => [a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part];
    const count = Math.min(4000, Math.max(8, Math.ceil(length / (request.sizeMm / 24))));
    const sum = new Float64Array(count + 1);
    for (let i = 0; i < count; i++) {
      const [px, py] = at((i + 0.5) / count);
      sum[i + 1] = sum[i]! + length / count / wantedSize(request, px, py);
    }
    const demand = { sum, stepMm: length / count };
    for (const along of spread(demand, 0, length, length, 1)) {
      const [px, py] = along === 0 ? a : at(along / length);
      vertices.push(register(px, py, request.sizeMm, -1, 0));
    }
  }
  const last = row[row.length - 1]!;
  vertices.push(register(last[0], last[1], request.sizeMm, -1, 0));
  return vertices;
}

/** Marks the triangles of the plate: pieces bounded by rims whose middle lies in the outline and in no hole. */
function markInside(m: Triangulation, loops: readonly Loop[]): void {
  const seen = new Uint8Array(m.inside.length);
  for (let start = 0; start < m.inside.length; start++) {
    if (seen[start]) continue;
    const piece = [start];
    seen[start] = 1;
    let widest = start;
    for (let head = 0; head < piece.length; head++) {
      const t = piece[head]!;
      if (doubleArea(m, t) > doubleArea(m, widest)) widest = t;
      for (let i = 0; i < 3; i++) {
        const u = m.n[3 * t + i]!;
        const mark = m.c[3 * t + i]!;
        if (u < 0 || seen[u] || (mark > 0 && mark <= loops.length)) continue;
        seen[u] = 1;
        piece.push(u);
      }
    }
    const [a, b, c] = [m.v[3 * widest]!, m.v[3 * widest + 1]!, m.v[3 * widest + 2]!];
    const px = (m.x[a]! + m.x[b]! + m.x[c]!) / 3;
    const py = (m.y[a]! + m.y[b]! + m.y[c]!) / 3;
    const isPlate =
      a > 2 && b > 2 && c > 2 && loops.every((loop, l) => isInsideLoop(loop, px, py) === (l === 0));
    for (const t of piece) m.inside[t] = isPlate;
  }
}

function doubleArea(m: Triangulation, t: number): number {
  const [a, b, c] = [m.v[3 * t]!, m.v[3 * t + 1]!, m.v[3 * t + 2]!];
  return turn(m.x[a]!, m.y[a]!, m.x[b]!, m.y[b]!, m.x[c]!, m.y[c]!);
}

/** The wanted length at a rim or line vertex is the mean of the marked edges there. */
function setOwnSizes(m: Triangulation, size: number[], request: MeshRequest): void {
  const sum = new Float64Array(m.x.length);
  const count = new Int32Array(m.x.length);
  for (let t = 0; t < m.inside.length; t++)
    for (let i = 0; i < 3; i++) {
      if (m.c[3 * t + i] === 0 || m.n[3 * t + i]! < t) continue;
      const a = m.v[3 * t + ((i + 1) % 3)]!;
      const b = m.v[3 * t + ((i + 2) % 3)]!;
      const length = Math.hypot(m.x[a]! - m.x[b]!, m.y[a]! - m.y[b]!);
      for (const vertex of [a, b]) {
        sum[vertex]! += length;
        count[vertex]!++;
      }
    }
  for (let i = 3; i < m.x.length; i++)
    size[i] = Math.min(
      wantedSize(request, m.x[i]!, m.y[i]!),
      count[i]! > 0 ? (1.15 * sum[i]!) / count[i]! : request.sizeMm,
    );
}

/** Puts a lattice of equal triangles where the plate is far enough from rims and lines. */
function seedInside(m: Triangulation, request: MeshRequest, size: number[], featureCount: number): void {
  const { loops, sizeMm } = request;
  const outer = loops[0]!;
  const [lowX, highX] = [Math.min(...outer.x), Math.max(...outer.x)];
  const [lowY, highY] = [Math.min(...outer.y), Math.max(...outer.y)];
  const marked = markedEdges(m);
  const rows = Math.floor((highY - lowY) / (sizeMm * 0.866));
  for (let r = 0; r <= rows; r++) {
    const py = lowY + (highY - lowY - rows * sizeMm * 0.866) / 2 + r * sizeMm * 0.866;
    for (let px = lowX + (r % 2) * 0.5 * sizeMm; px <= highX; px += sizeMm) {
      if (!loops.every((loop, l) => isInsideLoop(loop, px, py) === (l === 0))) continue;
      if (!isRoomy(m, marked, size, sizeMm, featureCount, px, py)) continue;
      size[addVertex(m, px, py)] = sizeMm;
    }
  }
}

function markedEdges(m: Triangulation): Float64Array {
  const list: number[] = [];
  for (let t = 0; t < m.inside.length; t++)
    for (let i = 0; i < 3; i++)
      if (m.c[3 * t + i] !== 0 && m.n[3 * t + i]! > t) {
        const a = m.v[3 * t + ((i + 1) % 3)]!;
        const b = m.v[3 * t + ((i + 2) % 3)]!;
        list.push(m.x[a]!, m.y[a]!, m.x[b]!, m.y[b]!);
      }
  return Float64Array.from(list);
}

function isRoomy(
  m: Triangulation,
  marked: Float64Array,
  size: readonly number[],
  sizeMm: number,
  featureCount: number,
  px: number,
  py: number,
): boolean {
  for (let i = 3; i < featureCount; i++) {
    const distance = Math.hypot(m.x[i]! - px, m.y[i]! - py);
    if (distance < 0.7 * sizeMm || size[i]! + 0.35 * distance < 0.8 * sizeMm) return false;
  }
  for (let k = 0; k < marked.length; k += 4)
    if (distanceToLine([marked[k]!, marked[k + 1]!], [marked[k + 2]!, marked[k + 3]!], px, py) < 0.6 * sizeMm)
      return false;
  return true;
}

function middleAlong(loop: Loop, memory: RimMemory, a: number, b: number): number {
  const total = loopLengthMm(loop);
  let [from, to] = [memory.alongMm[a]!, memory.alongMm[b]!];
  if (Math.abs(from - to) > total / 2) {
    if (from < to) from += total;
    else to += total;
  }
  return ((from + to) / 2) % total;
}

function placeBetween(
  m: Triangulation,
  loops: readonly Loop[],
  memory: RimMemory,
  mark: number,
  a: number,
  b: number,
): Place {
  if (mark <= loops.length) return placeAlong(loops[mark - 1]!, middleAlong(loops[mark - 1]!, memory, a, b));
  return [(m.x[a]! + m.x[b]!) / 2, (m.y[a]! + m.y[b]!) / 2];
}

/** Turns the triangulation into plain arrays of the plate alone. */
function collect(m: Triangulation, request: MeshRequest, memory: RimMemory, points: Int32Array): PlaneMesh {
  const number = new Int32Array(m.x.length).fill(-1);
  const triangles: number[] = [];
  const kept: number[] = [];
  for (let t = 0; t < m.inside.length; t++) {
    if (!m.inside[t]) continue;
    for (let i = 0; i < 3; i++) {
      const vertex = m.v[3 * t + i]!;
      if (number[vertex]! < 0) {
        number[vertex] = kept.length;
        kept.push(vertex);
      }
      triangles.push(number[vertex]!);
    }
  }
  const x = Float64Array.from(kept, (vertex) => m.x[vertex]!);
  const y = Float64Array.from(kept, (vertex) => m.y[vertex]!);
  const triangle = Int32Array.from(triangles);
  const lineVertices = request.lines.map((line) => verticesOnLine(line, x, y));
  const [drawnX, drawnY] = [x.slice(), y.slice()];
  const rims = request.loops.map((loop, l) =>
    rimRow(loop, l, kept, memory, x, y, !(request.exactLoops ?? []).includes(l)),
  );
  putBackSharpened(triangle, x, y, drawnX, drawnY);
  return {
    x,
    y,
    triangle,
    ...numberEdges(triangle, x.length),
    rims,
    lineVertices,
    pointVertex: points.map((vertex) => number[vertex]!),
  };
}

/** Where keeping the area made a thin triangle, its vertices go back to where they were. */
function putBackSharpened(
  triangle: Int32Array,
  x: Float64Array,
  y: Float64Array,
  drawnX: Float64Array,
  drawnY: Float64Array,
): void {
  for (let t = 0; t < triangle.length; t += 3) {
    const corners = triangle.subarray(t, t + 3);
    if (corners.every((i) => x[i] === drawnX[i] && y[i] === drawnY[i])) continue;
    if (smallestAngleRad({ x, y, triangle: corners }) > thinRad) continue;
    for (const i of corners) {
      x[i] = drawnX[i]!;
      y[i] = drawnY[i]!;
    }
  }
}

function verticesOnLine(line: MeshLine, x: Float64Array, y: Float64Array): Int32Array {
  const [ax, ay] = line.from;
  const [dx, dy] = [line.to[0] - ax, line.to[1] - ay];
  const length = Math.hypot(dx, dy);
  const found: [number, number][] = [];
  for (let i = 0; i < x.length; i++) {
    const along = ((x[i]! - ax) * dx + (y[i]! - ay) * dy) / length;
    const beside = ((y[i]! - ay) * dx - (x[i]! - ax) * dy) / length;
    if (Math.abs(beside) < 2e-6 && along > -2e-6 && along < length + 2e-6) found.push([along, i]);
  }
  found.sort((p, q) => p[0] - q[0]);
  return Int32Array.from(found, (p) => p[1]);
}

/** Orders the vertices of a loop, takes the true tangent at each and moves them so that the area is kept. */
function rimRow(
  loop: Loop,
  index: number,
  kept: readonly number[],
  memory: RimMemory,
  x: Float64Array,
  y: Float64Array,
  keepsArea: boolean,
): RimRow {
  const row = kept
    .map((vertex, i) => ({ i, vertex }))
    .filter(({ vertex }) => memory.loopOf[vertex] === index)
    .sort((p, q) => memory.alongMm[p.vertex]! - memory.alongMm[q.vertex]!);
  const n = row.length;
  const total = loopLengthMm(loop);
  const along = row.map(({ vertex }) => memory.alongMm[vertex]!);
  const gap = row.map((_, k) => (k + 1 < n ? along[k + 1]! - along[k]! : along[0]! + total - along[k]!));
  const cornerTurnRad = new Float64Array(n);
  const tangent: Place[] = row.map((_, k) => {
    const { index: piece, wrappedMm } = pieceAt(loop, along[k]! + 1e-7);
    if (
      Math.abs(wrappedMm - 1e-7 - loop.lengthMm[piece]!) < 1e-6 &&
      Math.abs(loop.turnRad[piece]!) > cornerRad
    )
      cornerTurnRad[k] = loop.turnRad[piece]!;
    const reach = 0.45 * Math.min(gap[k]!, gap[(k + n - 1) % n]!);
    const [p, q] = [placeAlong(loop, along[k]! - reach), placeAlong(loop, along[k]! + reach)];
    const length = Math.hypot(q[0] - p[0], q[1] - p[1]);
    return [(q[0] - p[0]) / length, (q[1] - p[1]) / length];
  });
  const lift = row.map((_, k) => bulgeAreaMm2(loop, along[k]!, along[k]! + gap[k]!) / gap[k]!);
  row.forEach(({ i }, k) => {
    if (!keepsArea || cornerTurnRad[k] !== 0) return;
    const move = (lift[k]! + lift[(k + n - 1) % n]!) / 2;
    x[i]! += move * tangent[k]![1];
    y[i]! -= move * tangent[k]![0];
  });
  return { vertex: Int32Array.from(row, ({ i }) => i), tangent, cornerTurnRad };
}

function numberEdges(triangle: Int32Array, vertexCount: number): { edgeOf: Int32Array; edge: Int32Array } {
  const edgeOf = new Int32Array(triangle.length);
  const edge: number[] = [];
  const first = new Int32Array(vertexCount).fill(-1);
  const next: number[] = [];
  for (let k = 0; k < triangle.length; k++) {
    const t = k - (k % 3);
    const p = triangle[t + ((k + 1) % 3)]!;
    const q = triangle[t + ((k + 2) % 3)]!;
    const [a, b] = [Math.min(p, q), Math.max(p, q)];
    let e = first[a]!;
    while (e >= 0 && edge[2 * e + 1] !== b) e = next[e]!;
    if (e < 0) {
      e = edge.length / 2;
      edge.push(a, b);
      next.push(first[a]!);
      first[a] = e;
    }
    edgeOf[k] = e;
  }
  return { edgeOf, edge: Int32Array.from(edge) };
}

/** The area of a mesh, mm2. */
export function meshAreaMm2(mesh: PlaneMesh): number {
  let sum = 0;
  for (let t = 0; t < mesh.triangle.length; t += 3) {
    const [a, b, c] = [mesh.triangle[t]!, mesh.triangle[t + 1]!, mesh.triangle[t + 2]!];
    sum += turn(mesh.x[a]!, mesh.y[a]!, mesh.x[b]!, mesh.y[b]!, mesh.x[c]!, mesh.y[c]!) / 2;
  }
  return sum;
}

/** The area between the outline and the holes, mm2. */
export function planeAreaMm2(loops: readonly Loop[]): number {
  return loops.reduce((sum, loop, l) => sum + (l === 0 ? 1 : -1) * Math.abs(loopAreaMm2(loop)), 0);
}

/** The smallest angle of a mesh, rad. */
export function smallestAngleRad(mesh: Pick<PlaneMesh, 'x' | 'y' | 'triangle'>): number {
  let smallest = Math.PI;
  for (let k = 0; k < mesh.triangle.length; k++) {
    const t = k - (k % 3);
    const [p, a, b] = [
      mesh.triangle[k]!,
      mesh.triangle[t + ((k + 1) % 3)]!,
      mesh.triangle[t + ((k + 2) % 3)]!,
    ];
    const [ux, uy] = [mesh.x[a]! - mesh.x[p]!, mesh.y[a]! - mesh.y[p]!];
    const [vx, vy] = [mesh.x[b]! - mesh.x[p]!, mesh.y[b]! - mesh.y[p]!];
    smallest = Math.min(smallest, Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy));
  }
  return smallest;
}
