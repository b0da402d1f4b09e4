import type { FineSpot } from '../../geometry/mesh-demand.ts';
import { distanceToLine, type MeshLine } from '../../geometry/mesh-line.ts';
import {
  cornerRad,
  ellipseLoop,
  type Loop,
  loopAreaMm2,
  makeLoop,
  nearestOnLoop,
  type Place,
  placeAlong,
  roundedLoop,
} from '../../geometry/mesh-loop.ts';
import { meshPlane, type PlaneMesh, planeAreaMm2 } from '../../geometry/mesh-plane.ts';
import type { BarPiece } from './bar-element.ts';
import { heightAlong } from './bar-section.ts';
import { cornerPower } from './corner-power.ts';
import type { PlateModel } from './plate-model.ts';
import {
  type CouplePatch,
  type PlateBar,
  type PlateHole,
  type PlateProblem,
  type PlateShape,
  stretches,
} from './plate-problem.ts';

/** The outline of a plate as a loop, counter-clockwise. */
export function outlineLoop(shape: PlateShape): Loop {
  if (shape.kind === 'ellipse') return ellipseLoop([0, 0], shape.semiAlongMm, shape.semiAcrossMm);
  if (shape.kind === 'rectangle') return makeLoop(boxAround([0, 0], shape.alongMm, shape.acrossMm));
  const loop = makeLoop(shape.pointsMm);
  return loopAreaMm2(loop) > 0 ? loop : makeLoop([...shape.pointsMm].reverse());
}

/** A hole as a loop. */
export function holeLoop(hole: PlateHole): Loop {
  if (hole.kind === 'circle') return ellipseLoop(hole.centreMm, hole.radiusMm, hole.radiusMm);
  if (hole.kind === 'ellipse') return ellipseLoop(hole.centreMm, hole.semiAlongMm, hole.semiAcrossMm);
  if (hole.kind === 'rectangle') return makeLoop(boxAround(hole.centreMm, hole.alongMm, hole.acrossMm));
  return makeLoop(hole.pointsMm);
}

function boxAround(centre: Place, alongMm: number, acrossMm: number): Place[] {
  const [hx, hy] = [alongMm / 2, acrossMm / 2];
  return [
    [centre[0] - hx, centre[1] - hy],
    [centre[0] + hx, centre[1] - hy],
    [centre[0] + hx, centre[1] + hy],
    [centre[0] - hx, centre[1] + hy],
  ];
}

/** Area of the plate without its holes, mm2. */
export function plateAreaMm2(problem: PlateProblem): number {
  return planeAreaMm2([outlineLoop(problem.plate.outline), ...problem.plate.holes.map(holeLoop)]);
}

/**
 * The edge length the engine picks by itself: a 23rd of the side of a square of the plate's area, finer for many
 * modes.
 *
 * @param problem  the problem
 * @returns        wanted edge length, mm, rounded to 0.1
 * @source         common practice, no published source
 */
export function defaultMeshMm(problem: PlateProblem): number {
  const many = Math.max(1, problem.modes / 12);
  return Math.round((10 * Math.sqrt(plateAreaMm2(problem))) / 23 / Math.sqrt(many)) / 10;
}

/** Roughly how many unknowns a mesh of this edge length has. */
export function expectedUnknowns(problem: PlateProblem, meshMm: number): number {
  const vertices = plateAreaMm2(problem) / (0.8 * meshMm * meshMm);
  return Math.round(vertices * (stretches(problem) ? 14 : 6));
}

export interface PlateMesh {
  readonly mesh: PlaneMesh;
  /** The vertices along each bar. */
  readonly barVertices: readonly Int32Array[];
  readonly bars: readonly PlateBar[];
}

/**
 * Meshes a plate: rims, bars, layers and patches become edges, load places vertices, where they do not lie so close to
 * something else that the triangles between would be slivers (loads are integrated exactly either way).
 *
 * @param problem  a checked problem
 * @param sizeMm   wanted edge length
 * @returns        the mesh, with the ends of the bars drawn onto the outline where they touch it
 * @source         from memory
 */
export function meshPlate(problem: PlateProblem, sizeMm: number): PlateMesh {
  const isHinged = problem.support.bending === 'hinged';
  const outer = outlineLoop(problem.plate.outline);
  const loops = [isHinged ? roundedLoop(outer, sizeMm / 2) : outer, ...problem.plate.holes.map(holeLoop)];
  const bars = problem.bars.map((bar) => ({
    ...bar,
    fromMm: ontoLoop(loops, bar.fromMm),
    toMm: ontoLoop(loops, bar.toMm),
  }));
  const lines: MeshLine[] = bars.map((bar) => ({
    from: bar.fromMm,
    to: bar.toMm,
    stopsFrac: (bar.heightsMm ?? []).map(([position]) => position),
  }));
  for (const line of wantedLines(problem)) if (isClearLine(line, lines, loops, sizeMm)) lines.push(line);
  const spots = readingSpots(problem, lines, loops, sizeMm);
  const mesh = meshPlane({
    loops,
    lines,
    points: spots.filter(({ isVertex }) => isVertex).map(({ at }) => at),
    sizeMm,
    fineSpots: [
      ...barEndSpots(bars, loops, sizeMm),
      ...cornerSpots(problem, bars, loops, sizeMm),
      ...spots.filter(({ sizeMm: own }) => own < sizeMm),
      ...problem.loads.flatMap((load) =>
        load.kind === 'couple'
          ? patchSpots(load.patchMm, edgesAlongPatch(problem, load.patchMm), sizeMm)
          : [],
      ),
    ],
    exactLoops: isHinged ? [0] : [],
  });
  return { mesh, barVertices: mesh.lineVertices.slice(0, bars.length), bars };
}

/**
 * A bar that ends inside the plate passes its force on at its end, where the stress has no bound: there the edges are
 * much shorter, less so for ends carved low and where there are many of them.
 */
function barEndSpots(bars: readonly PlateBar[], loops: readonly Loop[], sizeMm: number): FineSpot[] {
  const ends = bars.flatMap((bar) => {
    const tallest = Math.max(bar.heightMm, ...(bar.heightsMm ?? []).map(([, height]) => height));
    return [
      { at: bar.fromMm, partFrac: heightAlong(bar.heightMm, bar.heightsMm, 0) / tallest },
      { at: bar.toMm, partFrac: heightAlong(bar.heightMm, bar.heightsMm, 1) / tallest },
    ];
  });
  const inner = ends.filter(({ at }) =>
    loops.every((loop) => nearestOnLoop(loop, at[0], at[1]).distanceMm > 1e-6),
  );
  const crowd = Math.min(1, (4 / Math.max(1, inner.length)) ** 1.5);
  return inner.map(({ at, partFrac }) => ({
    at,
    sizeMm: sizeMm / Math.max(3, 80 * crowd * partFrac ** 1.5),
  }));
}

/** Corners where the plate moves with a higher power of the distance than this do no harm. */
export const harmlessPower = 1.95;
/** Edges at a corner that is an element of its own are this much shorter. */
const fanRatio = 24;
/** Where a bar, layer or force keeps a corner from being one, the edges are at most this much shorter. */
const mostRatio = 5000;

/**
 * Corners of the outline at which the movement goes with a power of the distance below 2 (blunt and inward ones of a
 * hinged rim, inward ones of a clamped rim) and inward corners of free edges.
 */
function cornerSpots(
  problem: PlateProblem,
  bars: readonly PlateBar[],
  loops: readonly Loop[],
  sizeMm: number,
): FineSpot[] {
  const { bending } = problem.support;
  return loops.flatMap((loop, l) => {
    const sense = Math.sign(loopAreaMm2(loop)) * (l === 0 ? 1 : -1);
    const n = loop.x.length;
    return Array.from(loop.turnRad).flatMap((turnRad, i): FineSpot[] => {
      const at: Place = [loop.x[i]!, loop.y[i]!];
      if (l > 0 || bending === 'free')
        return turnRad * sense < -sharpRad ? [{ at, sizeMm: sizeMm / freeCornerRatio }] : [];
      if (Math.abs(turnRad) <= cornerRad) return [];
      const toward = (j: number): Place => [loop.x[j]! - at[0], loop.y[j]! - at[1]];
      const isClamped = bending === 'clamped';
      const power = cornerPower(
        toward((i + n - 1) % n),
        toward((i + 1) % n),
        problem.plate.material,
        isClamped,
      );
      if (power > harmlessPower) return [];
      const isPlain = isPlainCorner(problem, bars, at, sizeMm / fanRatio);
      const needed = 40 ** (1 / (2 * (power - 1)));
      return [{ at, sizeMm: sizeMm / (isPlain ? fanRatio : Math.min(mostRatio, Math.max(8, needed))) }];
    });
  });
}

/** Edges at inward corners of free edges are this much shorter. */
const freeCornerRatio = 8;

/** Whether no bar begins at a corner, and no layer and no load is near it. */
function isPlainCorner(
  problem: PlateProblem,
  bars: readonly PlateBar[],
  at: Place,
  reachMm: number,
): boolean {
  const isFar = (a: Place, b: Place, mm: number) => distanceToLine(a, b, at[0], at[1]) > mm;
  return (
    bars.every((bar) => isFar(bar.fromMm, bar.toMm, 1e-6)) &&
    wantedLines(problem).every(({ from, to }) => isFar(from, to, 2 * reachMm)) &&
    problem.loads.every((load) => load.kind === 'couple' || between(load.atMm, at) > 2 * reachMm)
  );
}

/** A place where a force presses or something is read. */
interface ReadingSpot extends FineSpot {
  readonly isVertex: boolean;
}

/** Forces get shorter edges around them, the more so the nearer a rim or a bar is, and a vertex where one fits. */
function readingSpots(
  problem: PlateProblem,
  lines: readonly MeshLine[],
  loops: readonly Loop[],
  sizeMm: number,
): ReadingSpot[] {
  const spots: ReadingSpot[] = [];
  for (const load of problem.loads) {
    const at = load.kind === 'couple' ? load.patchMm.centreMm : load.atMm;
    if (spots.some((spot) => between(spot.at, at) < 1e-6)) continue;
    const roomMm = roomAround(at, lines, loops);
    if (load.kind !== 'force') {
      spots.push({ at, sizeMm, isVertex: roomMm > 0.3 * sizeMm });
      continue;
    }
    const rimMm = Math.min(...loops.map((loop) => nearestOnLoop(loop, at[0], at[1]).distanceMm));
    const own = Math.min(sizeMm / 6, Math.max(sizeMm / 200, Math.min(roomMm / 4, rimMm / 48)));
    spots.push(
      { at, sizeMm: own, isVertex: roomMm > 0.5 * own },
      ...rimSpots(at, loops, sizeMm),
      ...barSpots(at, problem.bars, sizeMm),
    );
  }
  return spots;
}

/** A force close to a rim hangs on how far away that rim is: there the rim follows its true line more closely. */
function rimSpots(at: Place, loops: readonly Loop[], sizeMm: number): ReadingSpot[] {
  return loops.flatMap((loop) => {
    const { distanceMm, alongMm } = nearestOnLoop(loop, at[0], at[1]);
    const own = Math.max(sizeMm / 60, distanceMm / 6);
    if (own >= sizeMm) return [];
    return [{ at: placeAlong(loop, alongMm), sizeMm: own, isVertex: false }];
  });
}

/** Between a force and a stiff bar beside it the plate bends in a short stretch: the bar is cut finely there. */
function barSpots(at: Place, bars: readonly PlateBar[], sizeMm: number): ReadingSpot[] {
  return bars.flatMap(({ fromMm, toMm }) => {
    const [dx, dy] = [toMm[0] - fromMm[0], toMm[1] - fromMm[1]];
    const along = ((at[0] - fromMm[0]) * dx + (at[1] - fromMm[1]) * dy) / (dx * dx + dy * dy);
    const part = Math.min(1, Math.max(0, along));
    const nearest: Place = [fromMm[0] + part * dx, fromMm[1] + part * dy];
    const own = between(nearest, at) / 3;
    if (own < sizeMm / 300 || own >= sizeMm) return [];
    return [{ at: nearest, sizeMm: Math.max(sizeMm / 60, own), isVertex: false }];
  });
}

/** Distance to the nearest rim, line or end of a line that does not pass through the place itself. */
function roomAround(at: Place, lines: readonly MeshLine[], loops: readonly Loop[]): number {
  const distances = [
    ...lines.map((line) => distanceToLine(line.from, line.to, at[0], at[1])).filter((d) => d > 1e-6),
    ...lines.flatMap((line) => [between(line.from, at), between(line.to, at)]).filter((d) => d > 1e-6),
    ...loops.map((loop) => nearestOnLoop(loop, at[0], at[1]).distanceMm),
  ];
  return Math.min(...distances);
}

/** Bare wood held by bars tilts in short waves between them; a bridge or plate glued there evens them out. */
function edgesAlongPatch(problem: PlateProblem, patch: CouplePatch): number {
  if ((problem.plate.layers ?? []).length > 0) return 3;
  const corners = patchLines(patch);
  const isCrossed = problem.bars.some((bar) =>
    corners.some((line) => !crossesNot(line, { from: bar.fromMm, to: bar.toMm, stopsFrac: [] })),
  );
  return isCrossed ? 8 : 4;
}

/** The pressure of a couple changes quickly along its patch: a few edges have to fit into it. */
function patchSpots(patch: CouplePatch, edgeCount: number, sizeMm: number): FineSpot[] {
  const size = patch.alongMm / edgeCount;
  if (size > sizeMm) return [];
  const count = Math.max(1, Math.round(patch.acrossMm / Math.max(size, patch.alongMm / 2)));
  return [-0.5, 0, 0.5].flatMap((side) =>
    Array.from(
      { length: count + 1 },
      (_, i): FineSpot => ({
        at: [
          patch.centreMm[0] + side * patch.alongMm,
          patch.centreMm[1] + (i / count - 0.5) * patch.acrossMm,
        ],
        sizeMm: size,
      }),
    ),
  );
}

/** Inward corners sharper than this (30 degrees) get a finer mesh. */
const sharpRad = Math.PI / 6;

/** A bar's end within 0.01 mm of a rim (or of a rounded rim within the sagitta) is put on it. */
function ontoLoop(loops: readonly Loop[], place: Place): Place {
  for (const [l, loop] of loops.entries()) {
    const near = nearestOnLoop(loop, place[0], place[1]);
    if (near.distanceMm < (l === 0 ? 0.5 : 0.02)) return placeAlong(loop, near.alongMm);
  }
  return place;
}

function patchLines(patch: CouplePatch): MeshLine[] {
  const corners = boxAround(patch.centreMm, patch.alongMm, patch.acrossMm);
  return polygonLines(corners);
}

function polygonLines(corners: readonly Place[]): MeshLine[] {
  return corners.map((from, i) => ({ from, to: corners[(i + 1) % corners.length]!, stopsFrac: [] }));
}

function wantedLines(problem: PlateProblem): MeshLine[] {
  return [
    ...(problem.plate.layers ?? []).flatMap((layer) => polygonLines(layer.pointsMm)),
    ...problem.loads.flatMap((load) => (load.kind === 'couple' ? patchLines(load.patchMm) : [])),
  ];
}

/** Whether an optional line keeps clear of rims and of lines that run along it closely. */
function isClearLine(
  line: MeshLine,
  others: readonly MeshLine[],
  loops: readonly Loop[],
  sizeMm: number,
): boolean {
  const length = Math.hypot(line.to[0] - line.from[0], line.to[1] - line.from[1]);
  const samples = Math.max(4, Math.ceil((4 * length) / sizeMm));
  for (let k = 0; k <= samples; k++) {
    const px = line.from[0] + ((line.to[0] - line.from[0]) * k) / samples;
    const py = line.from[1] + ((line.to[1] - line.from[1]) * k) / samples;
    if (loops.some((loop) => nearestOnLoop(loop, px, py).distanceMm < 0.3 * sizeMm)) return false;
  }
  return others.every((other) => isClearPair(line, other, sizeMm));
}

function isClearPair(line: MeshLine, other: MeshLine, sizeMm: number): boolean {
  const [ux, uy] = [line.to[0] - line.from[0], line.to[1] - line.from[1]];
  const [vx, vy] = [other.to[0] - other.from[0], other.to[1] - other.from[1]];
  const sine = Math.abs(ux * vy - uy * vx) / (Math.hypot(ux, uy) * Math.hypot(vx, vy));
  const ends: readonly [Place, MeshLine][] = [
    [line.from, other],
    [line.to, other],
    [other.from, line],
    [other.to, line],
  ];
  const nearEnds = ends.map(([place, to]) => distanceToLine(to.from, to.to, place[0], place[1]));
  if (nearEnds.some((distance) => distance > 1e-6 && distance < 0.25 * sizeMm)) return false;
  if (sine > 0.5) return true;
  const isTouching = nearEnds.some((distance) => distance <= 1e-6);
  if (isTouching && sine < 1e-9) return true;
  return crossesNot(line, other) && !isTouching;
}

function crossesNot(line: MeshLine, other: MeshLine): boolean {
  const side = (a: Place, b: Place, p: Place) =>
    (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
  return !(
    side(line.from, line.to, other.from) * side(line.from, line.to, other.to) < 0 &&
    side(other.from, other.to, line.from) * side(other.from, other.to, line.to) < 0
  );
}

function between(a: Place, b: Place): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

/** A piece of a bar on an edge of the mesh: its bar, its two vertices and the node of its edge. */
export interface BarEdge {
  readonly bar: number;
  readonly nodes: readonly [from: number, to: number, edge: number];
}

/** The bars cut into edges of the mesh. */
export function barEdges(plateMesh: PlateMesh): BarEdge[] {
  const { mesh } = plateMesh;
  const edgeNumber = new Map<number, number>();
  if (plateMesh.bars.length > 0)
    for (let e = 0; e < mesh.edge.length / 2; e++)
      edgeNumber.set(mesh.edge[2 * e]! * mesh.x.length + mesh.edge[2 * e + 1]!, e);
  return plateMesh.bars.flatMap((_, bar) => {
    const row = plateMesh.barVertices[bar]!;
    return Array.from(row.subarray(1), (to, k): BarEdge => {
      const from = row[k]!;
      const edge = edgeNumber.get(Math.min(from, to) * mesh.x.length + Math.max(from, to));
      if (edge === undefined) throw new RangeError(`barEdges: bar ${bar + 1} is no row of edges`);
      return { bar, nodes: [from, to, mesh.x.length + edge] };
    });
  });
}

/** The nodes whose bending and in-plane unknowns are joined: along bars, and in triangles under layers. */
export function couplingsOf(
  mesh: PlaneMesh,
  edges: readonly BarEdge[],
  covers: readonly { readonly triangle: number }[],
): (readonly number[])[] {
  return [
    ...edges.map(({ nodes }) => nodes),
    ...covers.map(({ triangle }) =>
      [0, 1, 2].flatMap((k) => [
        mesh.triangle[3 * triangle + k]!,
        mesh.x.length + mesh.edgeOf[3 * triangle + k]!,
      ]),
    ),
  ];
}

/** The pieces of the bars with the frames of their ends. */
export function barPieces(
  problem: PlateProblem,
  plateMesh: PlateMesh,
  model: PlateModel,
  edges: readonly BarEdge[],
): { piece: BarPiece; nodes: readonly [number, number, number]; bar: number }[] {
  const { mesh } = plateMesh;
  return edges.map(({ bar: b, nodes }) => {
    const bar = plateMesh.bars[b]!;
    const [from, to] = nodes;
    const piece: BarPiece = {
      bar,
      fromFrac: partAlong(bar, mesh.x[from]!, mesh.y[from]!),
      toFrac: partAlong(bar, mesh.x[to]!, mesh.y[to]!),
      ax: mesh.x[from]!,
      ay: mesh.y[from]!,
      bx: mesh.x[to]!,
      by: mesh.y[to]!,
      frame: [model.frameCos[from]!, model.frameSin[from]!, model.frameCos[to]!, model.frameSin[to]!],
      middleSign: from < to ? 1 : -1,
      plateThicknessMm: problem.plate.thicknessMm,
      domePerMm: 1 / (problem.plate.domeRadiusMm ?? Number.POSITIVE_INFINITY),
    };
    return { piece, nodes, bar: b };
  });
}

function partAlong(bar: PlateBar, x: number, y: number): number {
  const [dx, dy] = [bar.toMm[0] - bar.fromMm[0], bar.toMm[1] - bar.fromMm[1]];
  const part = ((x - bar.fromMm[0]) * dx + (y - bar.fromMm[1]) * dy) / (dx * dx + dy * dy);
  return Math.min(1, Math.max(0, part));
}
