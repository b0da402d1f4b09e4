/** Nodes on -1..1 and weights of a Gauss-Legendre rule. */
export interface QuadratureRule {
  readonly nodes: Float64Array;
  readonly weights: Float64Array;
}

/**
 * Gauss-Legendre rule: exact for polynomials of degree 2 n - 1 on -1..1.
 *
 * @param pointCount   number of points n; 1..64
 * @returns            nodes in rising order with their weights
 * @throws RangeError  on a count outside 1..64
 * @source             arithmetic
 */
export function gaussLegendre(pointCount: number): QuadratureRule {
  if (!(Number.isInteger(pointCount) && pointCount >= 1 && pointCount <= 64))
    throw new RangeError(`gaussLegendre: ${pointCount} points, needs a whole number from 1 to 64`);
  const nodes = new Float64Array(pointCount);
  const weights = new Float64Array(pointCount);
  for (let i = 0; i < pointCount; i++) {
    let x = -Math.cos((Math.PI * (i + 0.75)) / (pointCount + 0.5));
    let slope = 1;
    for (let turn = 0; turn < 20; turn++) {
      let before = 1;
      let value = x;
      for (let k = 2; k <= pointCount; k++) {
        const next = ((2 * k - 1) * x * value - (k - 1) * before) / k;
        before = value;
        value = next;
      }
      slope = (pointCount * (x * value - before)) / (x * x - 1);
      const step = value / slope;
      x -= step;
      if (Math.abs(step) < 1e-15) break;
    }
    nodes[i] = x;
    weights[i] = 2 / ((1 - x * x) * slope * slope);
  }
  return { nodes, weights };
}
