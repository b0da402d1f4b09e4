type Place = readonly [number, number];

/** Signed area of a polygon, mm2, positive when counter-clockwise. */
export function polygonAreaMm2(points: readonly Place[]): number {
  let sum = 0;
  points.forEach(([x, y], i) => {
    const [nx, ny] = points[(i + 1) % points.length]!;
    sum += x * ny - nx * y;
  });
  return sum / 2;
}

/**
 * The part of a polygon inside a convex one.
 *
 * @param subject  corners of the polygon, mm
 * @param convex   corners of the convex polygon, either way round, mm
 * @returns        corners of the common part; empty when there is none
 * @source         plane-geometry
 */
export function clipToConvex(subject: readonly Place[], convex: readonly Place[]): Place[] {
  const sense = Math.sign(polygonAreaMm2(convex));
  let points = [...subject];
  for (let i = 0; i < convex.length && points.length > 0; i++) {
    const [ax, ay] = convex[i]!;
    const [bx, by] = convex[(i + 1) % convex.length]!;
    const side = (p: Place) => sense * ((bx - ax) * (p[1] - ay) - (by - ay) * (p[0] - ax));
    const next: Place[] = [];
    points.forEach((p, k) => {
      const q = points[(k + 1) % points.length]!;
      const [sp, sq] = [side(p), side(q)];
      if (sp >= 0) next.push(p);
      if (sp >= 0 !== sq >= 0) {
        const part = sp / (sp - sq);
        next.push([p[0] + part * (q[0] - p[0]), p[1] + part * (q[1] - p[1])]);
      }
    });
    points = next;
  }
  return points;
}
