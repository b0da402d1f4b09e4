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
      { seed: 20, numRuns: 100 },
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

describe('particular meshes', () => {
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
