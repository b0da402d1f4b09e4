/**
 * A constrained Delaunay triangulation under construction. Triangle t has the vertices v[3t], v[3t+1], v[3t+2]
 * counter-clockwise; n[3t+i] is the triangle across the edge opposite vertex i (-1 none) and c[3t+i] the mark of that
 * edge (0 = free to flip). Mutable on purpose: it lives only inside the mesher.
 */
export interface Triangulation {
  readonly x: number[];
  readonly y: number[];
  readonly v: number[];
  readonly n: number[];
  readonly c: number[];
  /** Whether the triangle belongs to the plate. */
  readonly inside: boolean[];
  /** One triangle at each vertex. */
  readonly at: number[];
  /** Length below which two places are the same. */
  readonly epsilonMm: number;
  last: number;
}

/** Twice the signed area of the triangle of three places. */
export function turn(ax: number, ay: number, bx: number, by: number, cx: number, cy: number): number {
  return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
}

/**
 * An empty triangulation: one large triangle around a box. Its three corners are the vertices 0, 1, 2.
 *
 * @param lowXMm   box
 * @param lowYMm   box
 * @param highXMm  box
 * @param highYMm  box
 * @returns        the triangulation
 * @source         plane-geometry
 */
export function emptyTriangulation(
  lowXMm: number,
  lowYMm: number,
  highXMm: number,
  highYMm: number,
): Triangulation {
  const size = Math.max(highXMm - lowXMm, highYMm - lowYMm);
  const [cx, cy] = [(lowXMm + highXMm) / 2, (lowYMm + highYMm) / 2];
  return {
    x: [cx - 20 * size, cx + 20 * size, cx],
    y: [cy - 20 * size, cy - 20 * size, cy + 20 * size],
    v: [0, 1, 2],
    n: [-1, -1, -1],
    c: [0, 0, 0],
    inside: [false],
    at: [0, 0, 0],
    epsilonMm: size * 1e-9,
    last: 0,
  };
}

/** Which corner (0, 1, 2) of triangle t vertex a is, or -1. */
export function cornerOf(m: Triangulation, t: number, a: number): number {
  return m.v[3 * t] === a ? 0 : m.v[3 * t + 1] === a ? 1 : m.v[3 * t + 2] === a ? 2 : -1;
}

/** The triangle that holds a place (on its border counts), walking from the last one used. */
export function locate(m: Triangulation, px: number, py: number): number {
  let t = m.last;
  for (let steps = 0; steps < 10000; steps++) {
    let next = -1;
    for (let k = 0; k < 3; k++) {
      const i = (k + steps) % 3;
      const a = m.v[3 * t + ((i + 1) % 3)]!;
      const b = m.v[3 * t + ((i + 2) % 3)]!;
      if (turn(m.x[a]!, m.y[a]!, m.x[b]!, m.y[b]!, px, py) < 0 && m.n[3 * t + i]! >= 0) {
        next = m.n[3 * t + i]!;
        break;
      }
    }
    if (next < 0) break;
    t = next;
  }
  m.last = t;
  return t;
}

/**
 * Adds a vertex and restores the Delaunay property around it.
 *
 * @param px  place, mm
 * @param py  place, mm
 * @param t   a triangle that holds the place
 * @returns   the vertex number; an existing one when the place is already taken
 * @source    plane-geometry
 */
export function addVertex(m: Triangulation, px: number, py: number, t = locate(m, px, py)): number {
  for (let i = 0; i < 3; i++) {
    const a = m.v[3 * t + i]!;
    if (Math.hypot(m.x[a]! - px, m.y[a]! - py) < m.epsilonMm) return a;
  }
  for (let i = 0; i < 3; i++) {
    const a = m.v[3 * t + ((i + 1) % 3)]!;
    const b = m.v[3 * t + ((i + 2) % 3)]!;
    const length = Math.hypot(m.x[b]! - m.x[a]!, m.y[b]! - m.y[a]!);
    if (m.n[3 * t + i]! >= 0 && turn(m.x[a]!, m.y[a]!, m.x[b]!, m.y[b]!, px, py) < m.epsilonMm * length)
      return splitEdge(m, t, i, px, py);
  }
  const vertex = newVertex(m, px, py);
  const [a, b, c] = [m.v[3 * t]!, m.v[3 * t + 1]!, m.v[3 * t + 2]!];
  const [na, nb, nc] = [m.n[3 * t]!, m.n[3 * t + 1]!, m.n[3 * t + 2]!];
  const [ca, cb, cc] = [m.c[3 * t]!, m.c[3 * t + 1]!, m.c[3 * t + 2]!];
  const t1 = m.inside.length;
  const t2 = t1 + 1;
  m.inside.push(m.inside[t]!, m.inside[t]!);
  setTriangle(m, t, a, b, vertex, t1, t2, nc, 0, 0, cc);
  setTriangle(m, t1, b, c, vertex, t2, t, na, 0, 0, ca);
  setTriangle(m, t2, c, a, vertex, t, t1, nb, 0, 0, cb);
  relink(m, na, t, t1);
  relink(m, nb, t, t2);
  legalise(m, [t, t1, t2], vertex);
  m.last = t;
  return vertex;
}

/** Puts a vertex on the edge opposite corner i of triangle t; the mark of the edge goes to both halves. */
export function splitEdge(m: Triangulation, t: number, i: number, px: number, py: number): number {
  const u = m.n[3 * t + i]!;
  const vertex = newVertex(m, px, py);
  const [p, a, b] = [m.v[3 * t + i]!, m.v[3 * t + ((i + 1) % 3)]!, m.v[3 * t + ((i + 2) % 3)]!];
  const [nap, ncap] = [m.n[3 * t + ((i + 1) % 3)]!, m.c[3 * t + ((i + 1) % 3)]!]; // across b-p
  const [nbp, ncbp] = [m.n[3 * t + ((i + 2) % 3)]!, m.c[3 * t + ((i + 2) % 3)]!]; // across p-a
  const mark = m.c[3 * t + i]!;
  const j = [0, 1, 2].find((k) => m.n[3 * u + k] === t && m.v[3 * u + k] !== a && m.v[3 * u + k] !== b)!;
  const q = m.v[3 * u + j]!;
  // u is (q, b, a) from corner j on
  const [nqa, cqa] = [m.n[3 * u + ((j + 1) % 3)]!, m.c[3 * u + ((j + 1) % 3)]!]; // across a-q
  const [nqb, cqb] = [m.n[3 * u + ((j + 2) % 3)]!, m.c[3 * u + ((j + 2) % 3)]!]; // across q-b
  const t1 = m.inside.length;
  const u1 = t1 + 1;
  m.inside.push(m.inside[t]!, m.inside[u]!);
  // t: (p, a, x); t1: (p, x, b); u: (q, b, x); u1: (q, x, a)
  setTriangle(m, t, p, a, vertex, u1, t1, nbp, mark, 0, ncbp);
  setTriangle(m, t1, p, vertex, b, u, nap, t, mark, ncap, 0);
  setTriangle(m, u, q, b, vertex, t1, u1, nqb, mark, 0, cqb);
  setTriangle(m, u1, q, vertex, a, t, nqa, u, mark, cqa, 0);
  relink(m, nap, t, t1);
  relink(m, nqa, u, u1);
  legalise(m, [t, t1, u, u1], vertex);
  m.last = t;
  return vertex;
}

function newVertex(m: Triangulation, px: number, py: number): number {
  m.x.push(px);
  m.y.push(py);
  m.at.push(-1);
  return m.x.length - 1;
}

/** Writes one triangle: corners, neighbours and marks, each in the order of the corner they lie opposite to. */
function setTriangle(
  m: Triangulation,
  t: number,
  a: number,
  b: number,
  c: number,
  na: number,
  nb: number,
  nc: number,
  ca: number,
  cb: number,
  cc: number,
): void {
  m.v[3 * t] = a;
  m.v[3 * t + 1] = b;
  m.v[3 * t + 2] = c;
  m.n[3 * t] = na;
  m.n[3 * t + 1] = nb;
  m.n[3 * t + 2] = nc;
  m.c[3 * t] = ca;
  m.c[3 * t + 1] = cb;
  m.c[3 * t + 2] = cc;
  m.at[a] = t;
  m.at[b] = t;
  m.at[c] = t;
}

function relink(m: Triangulation, t: number, from: number, to: number): void {
  if (t < 0) return;
  for (let i = 0; i < 3; i++) if (m.n[3 * t + i] === from) m.n[3 * t + i] = to;
}

/** Flips the edges opposite a new vertex, and those this uncovers, until all are Delaunay. */
function legalise(m: Triangulation, triangles: number[], vertex: number): void {
  const stack = triangles;
  for (let t = stack.pop(); t !== undefined; t = stack.pop()) {
    const i = cornerOf(m, t, vertex);
    if (i < 0 || m.c[3 * t + i] !== 0 || m.n[3 * t + i]! < 0) continue;
    const u = m.n[3 * t + i]!;
    if (!isFlipWanted(m, t, i)) continue;
    flip(m, t, i);
    stack.push(t, u);
  }
}

/** Whether the corner across the edge lies inside the circle of the triangle. */
export function isFlipWanted(m: Triangulation, t: number, i: number): boolean {
  const u = m.n[3 * t + i]!;
  const a = m.v[3 * t]!;
  const b = m.v[3 * t + 1]!;
  const c = m.v[3 * t + 2]!;
  const d = oppositeCorner(m, t, i, u);
  const dx = m.x[d]!;
  const dy = m.y[d]!;
  const ax = m.x[a]! - dx;
  const ay = m.y[a]! - dy;
  const bx = m.x[b]! - dx;
  const by = m.y[b]! - dy;
  const cx = m.x[c]! - dx;
  const cy = m.y[c]! - dy;
  const a2 = ax * ax + ay * ay;
  const b2 = bx * bx + by * by;
  const c2 = cx * cx + cy * cy;
  const det = a2 * (bx * cy - by * cx) - b2 * (ax * cy - ay * cx) + c2 * (ax * by - ay * bx);
  const big = Math.max(a2, b2, c2);
  return det > 1e-11 * big * big;
}

function oppositeCorner(m: Triangulation, t: number, i: number, u: number): number {
  const a = m.v[3 * t + ((i + 1) % 3)]!;
  const b = m.v[3 * t + ((i + 2) % 3)]!;
  for (let k = 0; k < 3; k++) {
    const vertex = m.v[3 * u + k]!;
    if (vertex !== a && vertex !== b) return vertex;
  }
  throw new RangeError('mesh: neighbouring triangles share all corners');
}

/** Exchanges the diagonal of the two triangles at the edge opposite corner i of t. */
export function flip(m: Triangulation, t: number, i: number): void {
  const u = m.n[3 * t + i]!;
  const p = m.v[3 * t + i]!;
  const a = m.v[3 * t + ((i + 1) % 3)]!;
  const b = m.v[3 * t + ((i + 2) % 3)]!;
  const q = oppositeCorner(m, t, i, u);
  const j = cornerOf(m, u, q);
  const [nbp, cbp] = [m.n[3 * t + ((i + 1) % 3)]!, m.c[3 * t + ((i + 1) % 3)]!];
  const [npa, cpa] = [m.n[3 * t + ((i + 2) % 3)]!, m.c[3 * t + ((i + 2) % 3)]!];
  const [naq, caq] = [m.n[3 * u + ((j + 1) % 3)]!, m.c[3 * u + ((j + 1) % 3)]!];
  const [nqb, cqb] = [m.n[3 * u + ((j + 2) % 3)]!, m.c[3 * u + ((j + 2) % 3)]!];
  setTriangle(m, t, p, a, q, naq, u, npa, caq, 0, cpa);
  setTriangle(m, u, q, b, p, nbp, t, nqb, cbp, 0, cqb);
  relink(m, naq, u, t);
  relink(m, nbp, t, u);
}

/** Flips every free edge of the plate that is not Delaunay. */
export function restoreDelaunay(m: Triangulation): void {
  for (let round = 0; round < 20; round++) {
    let isChanged = false;
    for (let t = 0; t < m.inside.length; t++)
      for (let i = 0; i < 3; i++)
        if (
          m.inside[t] &&
          m.c[3 * t + i] === 0 &&
          m.n[3 * t + i]! > t &&
          isFlipWanted(m, t, i) &&
          isConvex(m, t, i)
        ) {
          flip(m, t, i);
          isChanged = true;
        }
    if (!isChanged) return;
  }
}

/** Whether the two triangles at an edge make a strictly convex four-sided figure. */
function isConvex(m: Triangulation, t: number, i: number): boolean {
  const p = m.v[3 * t + i]!;
  const a = m.v[3 * t + ((i + 1) % 3)]!;
  const b = m.v[3 * t + ((i + 2) % 3)]!;
  const q = oppositeCorner(m, t, i, m.n[3 * t + i]!);
  const length = Math.hypot(m.x[p]! - m.x[q]!, m.y[p]! - m.y[q]!);
  const limit = m.epsilonMm * length;
  return (
    turn(m.x[p]!, m.y[p]!, m.x[a]!, m.y[a]!, m.x[q]!, m.y[q]!) > limit &&
    turn(m.x[q]!, m.y[q]!, m.x[b]!, m.y[b]!, m.x[p]!, m.y[p]!) > limit
  );
}

/**
 * Makes the straight way between two vertices a row of marked edges, by flipping what crosses it.
 *
 * @param mark  mark of the edge, not 0
 * @throws RangeError when the way cannot be freed because it crosses another marked edge
 * @source from memory
 */
export function forceEdge(m: Triangulation, from: number, to: number, mark: number): void {
  if (from === to) return;
  const crossing: [number, number][] = [];
  const found = edgesAcross(m, from, to, crossing);
  if (found.kind === 'edge') {
    markEdge(m, from, to, mark);
    return;
  }
  if (found.kind === 'through') {
    forceEdge(m, from, found.vertex, mark);
    forceEdge(m, found.vertex, to, mark);
    return;
  }
  for (let tries = 0; crossing.length > 0; tries++) {
    if (tries > 10000) throw new RangeError('mesh: an edge cannot be freed');
    const [a, b] = crossing.shift()!;
    const [t, i] = findEdge(m, a, b)!;
    if (m.c[3 * t + i] !== 0) throw new RangeError('mesh: two lines cross where no vertex is');
    if (!isConvex(m, t, i)) {
      crossing.push([a, b]);
      continue;
    }
    const p = m.v[3 * t + i]!;
    const q = oppositeCorner(m, t, i, m.n[3 * t + i]!);
    flip(m, t, i);
    if (p !== from && p !== to && q !== from && q !== to && isCrossing(m, p, q, from, to))
      crossing.push([p, q]);
  }
  markEdge(m, from, to, mark);
}

function isCrossing(m: Triangulation, a: number, b: number, from: number, to: number): boolean {
  const side = (k: number) => turn(m.x[from]!, m.y[from]!, m.x[to]!, m.y[to]!, m.x[k]!, m.y[k]!);
  return side(a) > 0 !== side(b) > 0;
}

type Across = { readonly kind: 'edge' | 'crossed' } | { readonly kind: 'through'; readonly vertex: number };

function edgesAcross(m: Triangulation, from: number, to: number, list: [number, number][]): Across {
  const length = Math.hypot(m.x[to]! - m.x[from]!, m.y[to]! - m.y[from]!);
  const side = (k: number) => turn(m.x[from]!, m.y[from]!, m.x[to]!, m.y[to]!, m.x[k]!, m.y[k]!) / length;
  const ahead = (k: number) =>
    (m.x[k]! - m.x[from]!) * (m.x[to]! - m.x[from]!) + (m.y[k]! - m.y[from]!) * (m.y[to]! - m.y[from]!);
  const near = 100 * m.epsilonMm;
  let t = -1;
  let i = -1;
  for (const candidate of trianglesAt(m, from)) {
    const k = cornerOf(m, candidate, from);
    const a = m.v[3 * candidate + ((k + 1) % 3)]!;
    const b = m.v[3 * candidate + ((k + 2) % 3)]!;
    if (a === to || b === to) return { kind: 'edge' };
    for (const end of [a, b])
      if (Math.abs(side(end)) < near && ahead(end) > 0) return { kind: 'through', vertex: end };
    if (side(a) < 0 && side(b) > 0 && ahead(a) + ahead(b) > 0) {
      t = candidate;
      i = k;
    }
  }
  if (t < 0) throw new RangeError('mesh: no triangle looks along the line');
  for (;;) {
    const a = m.v[3 * t + ((i + 1) % 3)]!;
    const b = m.v[3 * t + ((i + 2) % 3)]!;
    list.push([a, b]);
    const u = m.n[3 * t + i]!;
    const q = oppositeCorner(m, t, i, u);
    if (q === to) return { kind: 'crossed' };
    if (Math.abs(side(q)) < near) {
      list.length = 0;
      return { kind: 'through', vertex: q };
    }
    t = u;
    i = cornerOf(m, u, side(q) > 0 ? b : a);
  }
}

/** The triangles around a vertex. */
export function trianglesAt(m: Triangulation, vertex: number): number[] {
  const start = m.at[vertex]!;
  const list = [start];
  for (let t = start; ; ) {
    const i = cornerOf(m, t, vertex);
    t = m.n[3 * t + ((i + 1) % 3)]!;
    if (t === start) return list;
    if (t < 0) break;
    list.push(t);
  }
  for (let t = start; ; ) {
    const i = cornerOf(m, t, vertex);
    t = m.n[3 * t + ((i + 2) % 3)]!;
    if (t < 0) return list;
    list.push(t);
  }
}

/** The triangle and its corner opposite to the edge between two vertices, or undefined. */
export function findEdge(m: Triangulation, a: number, b: number): [number, number] | undefined {
  for (const t of trianglesAt(m, a)) {
    const k = cornerOf(m, t, b);
    if (k >= 0) return [t, 3 - k - cornerOf(m, t, a)];
  }
  return undefined;
}

function markEdge(m: Triangulation, a: number, b: number, mark: number): void {
  const [t, i] = findEdge(m, a, b)!;
  const u = m.n[3 * t + i]!;
  // a rim's mark (the lower number) is never overwritten by a line's
  const value = m.c[3 * t + i] === 0 ? mark : Math.min(mark, m.c[3 * t + i]!);
  m.c[3 * t + i] = value;
  if (u < 0) return;
  m.c[3 * u + cornerOf(m, u, oppositeCorner(m, t, i, u))] = value;
}
