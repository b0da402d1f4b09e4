import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { makeRandom } from '../numeric/random.ts';
import { distanceToLine, type MeshLine } from './mesh-line.ts';
import { ellipseLoop, isInsideLoop, type Loop, makeLoop, nearestOnLoop, type Place } from './mesh-loop.ts';
import { meshAreaMm2, meshPlane, type PlaneMesh, planeAreaMm2, smallestAngleRad } from './mesh-plane.ts';

const degrees = Math.PI / 180;

/** A wavy closed line, soft everywhere. */
function wavy(sizeMm: number, a: number, b: number, phase: number): Loop {
  return makeLoop(
    Array.from({ length: 90 }, (_, i): Place => {
      const angle = (2 * Math.PI * i) / 90;
      const radius = sizeMm * (1 + a * Math.cos(2 * angle + phase) + b * Math.cos(3 * angle));
      return [radius * Math.cos(angle), 0.8 * radius * Math.sin(angle)];
    }),
  );
}

function angleBetween(p: MeshLine, q: MeshLine): number {
  const [ux, uy] = [p.to[0] - p.from[0], p.to[1] - p.from[1]];
  const [vx, vy] = [q.to[0] - q.from[0], q.to[1] - q.from[1]];
  return Math.asin(Math.min(1, Math.abs(ux * vy - uy * vx) / (Math.hypot(ux, uy) * Math.hypot(vx, vy))));
}

/** Edges that lie on each line, end to end. */
function expectLinesAreEdges(mesh: PlaneMesh, lines: readonly MeshLine[]): void {
  const edges = new Set<number>();
  for (let e = 0; e < mesh.edge.length; e += 2) edges.add(mesh.edge[e]! * mesh.x.length + mesh.edge[e + 1]!);
  lines.forEach((line, l) => {
    const row = mesh.lineVertices[l]!;
    expect(row.length).toBeGreaterThan(1);
    let length = 0;
    for (let k = 0; k + 1 < row.length; k++) {
      const [a, b] = [row[k]!, row[k + 1]!];
      expect(edges.has(Math.min(a, b) * mesh.x.length + Math.max(a, b))).toBe(true);
      length += Math.hypot(mesh.x[a]! - mesh.x[b]!, mesh.y[a]! - mesh.y[b]!);
    }
    expectClose(length, Math.hypot(line.to[0] - line.from[0], line.to[1] - line.from[1]), {
      tol: 1e-4,
      source: 'plane-geometry',
    });
  });
}

/** Everything random about one plate, from one number (evenly spread, not drawn to the ends of the ranges). */
const shape = fc.integer({ min: 1, max: 1_000_000 }).map((seed) => {
  const random = makeRandom(seed);
  const between = (low: number, high: number) => low + (high - low) * random.next();
  return {
    sizeMm: between(120, 260),
    a: between(-0.22, 0.22),
    b: between(-0.06, 0.06),
    phase: between(0, 6),
    hole: [between(-0.4, 0.4), between(0.08, 0.22)] as const,
    bars: Array.from(
      { length: 8 },
      () => [between(-0.6, 0.6), between(-0.45, 0.45), between(0, 3.1), between(0.15, 0.8)] as const,
    ),
    mesh: between(0.06, 0.14),
  };
});

describe('meshes of random outlines with holes and bars (seed 20)', () => {
  it('have no angle under 20 degrees, keep the area and keep bars as edges', () => {
    let barCount = 0;
    fc.assert(
      fc.property(shape, (s) => {
        const outer = wavy(s.sizeMm, s.a, s.b, s.phase);
        const hole = ellipseLoop([s.hole[0] * s.sizeMm, 0], s.hole[1] * s.sizeMm, s.hole[1] * s.sizeMm);
        const lines: MeshLine[] = [];
        for (const [cx, cy, angle, length] of s.bars) {
          const [dx, dy] = [
            (Math.cos(angle) * length * s.sizeMm) / 2,
            (Math.sin(angle) * length * s.sizeMm) / 2,
          ];
          const line: MeshLine = {
            from: [cx * s.sizeMm - dx, cy * s.sizeMm - dy],
            to: [cx * s.sizeMm + dx, cy * s.sizeMm + dy],
            stopsFrac: [],
          };
          if (fits(line, outer, hole, lines, s.mesh * s.sizeMm)) lines.push(line);
        }
        barCount += lines.length;
        const mesh = meshPlane({ loops: [outer, hole], lines, points: [], sizeMm: s.mesh * s.sizeMm });
        expect(smallestAngleRad(mesh) / degrees).toBeGreaterThan(20);
        const area = planeAreaMm2([outer, hole]);
        expectClose(meshAreaMm2(mesh), area, { tol: area * 2e-4, source: 'plane-geometry' });
        expectLinesAreEdges(mesh, lines);
      }),
      { seed: 20, numRuns: 50 },
    );
    expect(barCount).toBeGreaterThan(100);
  });
});

/** Bars that a person would draw: inside, off the hole, crossing others at 40 degrees or more. */
function fits(line: MeshLine, outer: Loop, hole: Loop, others: readonly MeshLine[], sizeMm: number): boolean {
  for (let k = 0; k <= 20; k++) {
    const px = line.from[0] + ((line.to[0] - line.from[0]) * k) / 20;
    const py = line.from[1] + ((line.to[1] - line.from[1]) * k) / 20;
    if (!isInsideLoop(outer, px, py) || nearestOnLoop(outer, px, py).distanceMm < 0.3 * sizeMm) return false;
    if (isInsideLoop(hole, px, py) || nearestOnLoop(hole, px, py).distanceMm < 0.3 * sizeMm) return false;
  }
  return others.every((other) => {
    const ends = [
      distanceToLine(other.from, other.to, line.from[0], line.from[1]),
      distanceToLine(other.from, other.to, line.to[0], line.to[1]),
      distanceToLine(line.from, line.to, other.from[0], other.from[1]),
      distanceToLine(line.from, line.to, other.to[0], other.to[1]),
    ];
    return Math.min(...ends) > 0.2 * sizeMm && angleBetween(line, other) > 40 * degrees;
  });
}

/** Straight-sided outlines, inward corners and narrow necks among them. */
function cornered(random: () => number): Place[] {
  const size = 100 + 150 * random();
  const kind = Math.floor(3 * random());
  if (kind === 0) {
    const count = 3 + Math.floor(6 * random());
    return Array.from({ length: count }, (_, i): Place => {
      const angle = (2 * Math.PI * (i + 0.4 * random())) / count;
      return [1.2 * size * Math.cos(angle), size * Math.sin(angle)];
    });
  }
  const neck = 1 + 0.4 * size * random();
  const arm = size * (0.2 + 0.5 * random());
  if (kind === 1)
    return [
      [-size, -size],
      [size, -size],
      [size, neck - size],
      [arm - size, neck - size],
      [arm - size, size],
      [-size, size],
    ];
  // two fields joined by a neck
  return [
    [-size, -size],
    [-neck, -size],
    [-neck, -neck / 2],
    [neck, -neck / 2],
    [neck, -size],
    [size, -size],
    [size, size],
    [neck, size],
    [neck, neck / 2],
    [-neck, neck / 2],
    [-neck, size],
    [-size, size],
  ];
}

function cornersOf(loop: Loop): number[] {
  return Array.from(loop.turnRad, (turn) => 180 - Math.abs(turn) / degrees);
}

function fitsSharply(line: MeshLine, loops: readonly Loop[], others: readonly MeshLine[]): boolean {
  const places = Array.from(
    { length: 41 },
    (_, k): Place => [
      line.from[0] + ((line.to[0] - line.from[0]) * k) / 40,
      line.from[1] + ((line.to[1] - line.from[1]) * k) / 40,
    ],
  );
  return (
    places.every(([px, py]) =>
      loops.every(
        (loop, l) => isInsideLoop(loop, px, py) === (l === 0) && nearestOnLoop(loop, px, py).distanceMm > 0.2,
      ),
    ) && others.every((other) => angleBetween(line, other) > 30 * degrees)
  );
}

describe('meshes of cornered outlines with necks, two holes and bars that nearly touch (seed 21)', () => {
  it('have no angle under 20 degrees where no corner is sharper than 25', () => {
    let [barCount, meshCount] = [0, 0];
    for (let seed = 1; seed <= 100; seed++) {
      const random = makeRandom(2100 + seed);
      const outer = makeLoop(cornered(() => random.next()));
      if (Math.min(...cornersOf(outer)) < 25) continue;
      const [lowX, highX] = [Math.min(...outer.x), Math.max(...outer.x)];
      const [lowY, highY] = [Math.min(...outer.y), Math.max(...outer.y)];
      const place = (): Place => [
        lowX + (highX - lowX) * random.next(),
        lowY + (highY - lowY) * random.next(),
      ];
      const loops = [outer];
      for (let k = 0; k < 12 && loops.length < 3; k++) {
        const hole = ellipseLoop(place(), 5 + 25 * random.next(), 5 + 25 * random.next());
        const isClear = Array.from(hole.x, (x, i) => [x, hole.y[i]!] as const).every(([x, y]) =>
          loops.every(
            (loop, l) => isInsideLoop(loop, x, y) === (l === 0) && nearestOnLoop(loop, x, y).distanceMm > 1,
          ),
        );
        if (isClear) loops.push(hole);
      }
      const lines: MeshLine[] = [];
      for (let k = 0; k < 10; k++) {
        const line: MeshLine = { from: place(), to: place(), stopsFrac: [0.3, 0.7] };
        if (Math.hypot(line.from[0] - line.to[0], line.from[1] - line.to[1]) < 15) continue;
        if (fitsSharply(line, loops, lines)) lines.push(line);
      }
      barCount += lines.length;
      meshCount++;
      const mesh = meshPlane({ loops, lines, points: [], sizeMm: 8 + 8 * random.next() });
      expect(smallestAngleRad(mesh) / degrees, `seed ${seed}`).toBeGreaterThan(20);
      expectLinesAreEdges(mesh, lines);
    }
    expect(meshCount).toBeGreaterThan(60);
    expect(barCount).toBeGreaterThan(100);
  });
});

describe('particular meshes', () => {
  it('a corner of 12 degrees stays the sharpest angle: it is the outline itself', () => {
    const tip = Math.tan(12 * degrees);
    const loop = makeLoop([
      [0, 0],
      [200, 0],
      [200, 200 * tip],
    ]);
    const mesh = meshPlane({ loops: [loop], lines: [], points: [], sizeMm: 12 });
    expect(smallestAngleRad(mesh) / degrees).toBeGreaterThan(11.99);
  });

  it('a height given 0.06 mm from where another line crosses makes no sliver', () => {
    const loop = ellipseLoop([0, 0], 200, 150);
    const lines: MeshLine[] = [
      { from: [-100, 0], to: [100, 0], stopsFrac: [0.3] },
      { from: [-39.94, -60], to: [-39.94, 60], stopsFrac: [] },
    ];
    const mesh = meshPlane({ loops: [loop], lines, points: [], sizeMm: 12 });
    expect(smallestAngleRad(mesh) / degrees).toBeGreaterThan(20);
  });

  it('a polygon whose soft part starts and ends symmetrically keeps its shape (key in the middle of a lap)', () => {
    const loop = makeLoop(
      Array.from(
        { length: 100 },
        (_, i): Place => [250 * Math.cos((Math.PI * i) / 50), 200 * Math.sin((Math.PI * i) / 50)],
      ),
    );
    const mesh = meshPlane({ loops: [loop], lines: [], points: [], sizeMm: 25.8 });
    const area = planeAreaMm2([loop]);
    expectClose(meshAreaMm2(mesh), area, { tol: area * 1e-4, source: 'plane-geometry' });
  });

  it('points become vertices', () => {
    const loop = makeLoop([
      [-100, -80],
      [100, -80],
      [100, 80],
      [-100, 80],
    ]);
    const mesh = meshPlane({ loops: [loop], lines: [], points: [[12.3, -4.5]], sizeMm: 20 });
    const vertex = mesh.pointVertex[0]!;
    expectClose(mesh.x[vertex], 12.3, { tol: 1e-9, source: 'plane-geometry' });
    expectClose(mesh.y[vertex], -4.5, { tol: 1e-9, source: 'plane-geometry' });
  });
});
