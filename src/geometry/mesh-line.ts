import type { Place } from './mesh-loop.ts';

/**
 * A straight line the mesh has to keep as edges, with places on it that become vertices (0 = start, 1 = end) unless one
 * that has to be lies close by.
 */
export interface MeshLine {
  readonly from: Place;
  readonly to: Place;
  readonly stopsFrac: readonly number[];
}

/** Distance from a place to a straight line between two ends, mm. */
export function distanceToLine(a: Place, b: Place, px: number, py: number): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const part = Math.min(1, Math.max(0, ((px - a[0]) * dx + (py - a[1]) * dy) / (dx * dx + dy * dy)));
  return Math.hypot(a[0] + part * dx - px, a[1] + part * dy - py);
}

/**
 * The places on each line that have to be vertices: its ends and stops, where it crosses or touches another line, and
 * the points that lie on it, in order from its start.
 *
 * @param lines   the lines
 * @param points  places that have to be vertices anyway
 * @param roomMm  a stop nearer than this to another place is left out
 * @returns       one row of places a line; a place shared by two lines is the same place in both rows
 * @source        plane-geometry
 */
export function keysOfLines(lines: readonly MeshLine[], points: readonly Place[], roomMm: number): Place[][] {
  const rows = lines.map((line): Place[] => [line.from, line.to]);
  lines.forEach((line, i) => {
    for (const place of points) if (isOn(line, place)) rows[i]!.push(place);
    lines.forEach((other, j) => {
      if (i === j) return;
      for (const place of [other.from, other.to]) if (isOn(line, place)) rows[i]!.push(place);
      if (i < j) {
        const place = crossing(line, other);
        if (place) {
          rows[i]!.push(place);
          rows[j]!.push(place);
        }
      }
    });
  });
  return rows.map((row, i) => {
    const isRoomy = (stop: Place) => row.every((p) => Math.hypot(p[0] - stop[0], p[1] - stop[1]) > roomMm);
    return inOrder(lines[i]!, [...row, ...stopsOf(lines[i]!).filter(isRoomy)]);
  });
}

function stopsOf(line: MeshLine): Place[] {
  return line.stopsFrac.map((part) => [
    line.from[0] + part * (line.to[0] - line.from[0]),
    line.from[1] + part * (line.to[1] - line.from[1]),
  ]);
}

function isOn(line: MeshLine, place: Place): boolean {
  return distanceToLine(line.from, line.to, place[0], place[1]) < 1e-6;
}

/** Where two lines cross away from their ends; undefined for parallel ones and mere touches. */
export function crossing(one: MeshLine, two: MeshLine): Place | undefined {
  const [ux, uy] = [one.to[0] - one.from[0], one.to[1] - one.from[1]];
  const [vx, vy] = [two.to[0] - two.from[0], two.to[1] - two.from[1]];
  const det = ux * vy - uy * vx;
  if (Math.abs(det) < 1e-9 * Math.hypot(ux, uy) * Math.hypot(vx, vy)) return undefined;
  const [wx, wy] = [two.from[0] - one.from[0], two.from[1] - one.from[1]];
  const s = (wx * vy - wy * vx) / det;
  const t = (wx * uy - wy * ux) / det;
  if (s < 0 || s > 1 || t < 0 || t > 1) return undefined;
  const place: Place = [one.from[0] + s * ux, one.from[1] + s * uy];
  const isEnd = (end: Place) => Math.hypot(end[0] - place[0], end[1] - place[1]) < 1e-6;
  return [one.from, one.to, two.from, two.to].some(isEnd) ? undefined : place;
}

/** Sorted along the line, places nearer than a millionth of a millimetre taken once. */
function inOrder(line: MeshLine, row: readonly Place[]): Place[] {
  const [dx, dy] = [line.to[0] - line.from[0], line.to[1] - line.from[1]];
  const along = (p: Place) => (p[0] - line.from[0]) * dx + (p[1] - line.from[1]) * dy;
  const sorted = [...row].sort((p, q) => along(p) - along(q));
  return sorted.filter(
    (p, i) => i === 0 || Math.hypot(p[0] - sorted[i - 1]![0], p[1] - sorted[i - 1]![1]) > 1e-6,
  );
}
