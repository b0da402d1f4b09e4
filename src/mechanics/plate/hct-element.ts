/**
 * The Clough-Tocher triangle: a cubic on each third of the triangle, continuous with its slopes, so the thin plate is
 * met without any trick. Unknowns in order: deflection and two slopes at each corner, then the slope across each edge
 * at its middle (the edge opposite corner 0, 1, 2). Everything is kept as Bezier coefficients of the thirds.
 */
export interface HctElement {
  /** 19 Bezier coefficients as rows of 12 numbers: how much each unknown gives to each. */
  readonly rows: Float64Array;
  /** Gradients of the barycentric coordinates of each third: gx then gy, 3 thirds of 3. */
  readonly gx: Float64Array;
  readonly gy: Float64Array;
  /** Area of each third, mm2. */
  areaMm2: number;
  /** Second derivatives xx, yy and twice xy at the three corners of each third: 9 blocks of 3 rows of 12. */
  readonly curvature: Float64Array;
}

export const hctUnknownCount = 12;

/** Which of the 19 coefficients are the ten of each third, in the order 300 030 003 210 120 201 021 111 102 012. */
export const thirdRows = [0, 1, 2].map((k) => {
  const [i, j] = [(k + 1) % 3, (k + 2) % 3];
  return Int32Array.from([i, j, 18, 3 + 2 * k, 4 + 2 * k, 9 + i, 9 + j, 12 + k, 15 + i, 15 + j]);
});

/** The coefficient with one more index m, a, b: `next[m * 9 + a * 3 + b]` among the ten. */
const tripleIndex = new Int32Array(27);
const tripleNames = ['000', '111', '222', '001', '011', '002', '112', '012', '022', '122'];
for (let m = 0; m < 3; m++)
  for (let a = 0; a < 3; a++)
    for (let b = 0; b < 3; b++)
      tripleIndex[m * 9 + a * 3 + b] = tripleNames.indexOf([m, a, b].sort((p, q) => p - q).join(''));

export function makeHctElement(): HctElement {
  return {
    rows: new Float64Array(19 * 12),
    gx: new Float64Array(9),
    gy: new Float64Array(9),
    areaMm2: 0,
    curvature: new Float64Array(9 * 36),
  };
}

/** Corner places, the direction of the first slope unknown at each corner, the normal at each edge. */
export interface HctGeometry {
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Cosine and sine of the direction of the first slope at each corner; the second stands left of it. */
  readonly frameCos: Float64Array;
  readonly frameSin: Float64Array;
  /** Unit normal used by the edge's slope, for the edge opposite each corner. */
  readonly normalX: Float64Array;
  readonly normalY: Float64Array;
}

export function makeHctGeometry(): HctGeometry {
  const three = () => new Float64Array(3);
  return { x: three(), y: three(), frameCos: three(), frameSin: three(), normalX: three(), normalY: three() };
}

/**
 * Fills an element for a triangle: coefficients, gradients, area. One unbroken algorithm.
 *
 * @param element   gets the numbers
 * @param geometry  corners counter-clockwise, mm
 * @source          clough-tocher
 */
export function shapeHct(element: HctElement, geometry: HctGeometry): void {
  const { rows, gx, gy } = element;
  const { x, y } = geometry;
  rows.fill(0);
  const mx = (x[0]! + x[1]! + x[2]!) / 3;
  const my = (y[0]! + y[1]! + y[2]!) / 3;
  const slopeRow = (row: number, corner: number, vx: number, vy: number): void => {
    const at = row * 12 + corner * 3;
    rows[at] = 1;
    rows[at + 1] = (geometry.frameCos[corner]! * vx + geometry.frameSin[corner]! * vy) / 3;
    rows[at + 2] = (-geometry.frameSin[corner]! * vx + geometry.frameCos[corner]! * vy) / 3;
  };
  for (let i = 0; i < 3; i++) {
    rows[i * 12 + i * 3] = 1;
    slopeRow(9 + i, i, mx - x[i]!, my - y[i]!);
  }
  for (let k = 0; k < 3; k++) {
    const i = (k + 1) % 3;
    const j = (k + 2) % 3;
    slopeRow(3 + 2 * k, i, x[j]! - x[i]!, y[j]! - y[i]!);
    slopeRow(4 + 2 * k, j, x[i]! - x[j]!, y[i]! - y[j]!);
    gradients(x[i]!, y[i]!, x[j]!, y[j]!, mx, my, gx, gy, 3 * k);
    const nx = geometry.normalX[k]!;
    const ny = geometry.normalY[k]!;
    const a0 = gx[3 * k]! * nx + gy[3 * k]! * ny;
    const a1 = gx[3 * k + 1]! * nx + gy[3 * k + 1]! * ny;
    const a2 = gx[3 * k + 2]! * nx + gy[3 * k + 2]! * ny;
    // the slope across the edge at its middle, written with the coefficients, solved for the inner one
    const factor = 2 / a2;
    const inner = (12 + k) * 12;
    rows[inner + 9 + k] = factor / 3;
    const take = (row: number, part: number) => {
      for (let c = 0; c < 9; c++) rows[inner + c]! -= factor * part * rows[row * 12 + c]!;
    };
    take(i, 0.25 * a0);
    take(3 + 2 * k, 0.25 * a1 + 0.5 * a0);
    take(9 + i, 0.25 * a2);
    take(4 + 2 * k, 0.5 * a1 + 0.25 * a0);
    take(j, 0.25 * a1);
    take(9 + j, 0.25 * a2);
  }
  for (let i = 0; i < 3; i++)
    for (let c = 0; c < 12; c++) {
      const sum =
        rows[(9 + i) * 12 + c]! + rows[(12 + ((i + 1) % 3)) * 12 + c]! + rows[(12 + ((i + 2) % 3)) * 12 + c]!;
      rows[(15 + i) * 12 + c] = sum / 3;
      rows[18 * 12 + c]! += sum / 9;
    }
  element.areaMm2 = ((x[1]! - x[0]!) * (y[2]! - y[0]!) - (x[2]! - x[0]!) * (y[1]! - y[0]!)) / 6;
}

/** Gradients of the three barycentric coordinates of a triangle. */
export function gradients(
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  gx: Float64Array,
  gy: Float64Array,
  at: number,
): void {
  const det = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0);
  gx[at] = (y1 - y2) / det;
  gy[at] = (x2 - x1) / det;
  gx[at + 1] = (y2 - y0) / det;
  gy[at + 1] = (x0 - x2) / det;
  gx[at + 2] = (y0 - y1) / det;
  gy[at + 2] = (x1 - x0) / det;
}

/**
 * Fills the second derivatives at the corners of the thirds (they are linear in each third).
 *
 * @source clough-tocher
 */
export function curveHct(element: HctElement): void {
  const { rows, gx, gy, curvature } = element;
  curvature.fill(0);
  for (let k = 0; k < 3; k++) {
    const ids = thirdRows[k]!;
    for (let m = 0; m < 3; m++) {
      const out = (3 * k + m) * 36;
      for (let a = 0; a < 3; a++)
        for (let b = a; b < 3; b++) {
          const twice = a === b ? 6 : 12;
          const [xa, xb, ya, yb] = [gx[3 * k + a]!, gx[3 * k + b]!, gy[3 * k + a]!, gy[3 * k + b]!];
          const fx = twice * xa * xb;
          const fy = twice * ya * yb;
          const fxy = twice * (xa * yb + xb * ya);
          const row = ids[tripleIndex[m * 9 + a * 3 + b]!]! * 12;
          for (let c = 0; c < 12; c++) {
            const value = rows[row + c]!;
            curvature[out + c]! += fx * value;
            curvature[out + 12 + c]! += fy * value;
            curvature[out + 24 + c]! += fxy * value;
          }
        }
    }
  }
}

/** Elastic constants of a thin layer: the terms 11, 12, 22 and 66 of stress per strain, or of moment per curvature. */
export interface LayerStiffness {
  readonly c11: number;
  readonly c12: number;
  readonly c22: number;
  readonly c66: number;
}

/**
 * Adds the bending stiffness of the triangle: the integral of curvature times moment, exact.
 *
 * @param d    moment per curvature, N mm
 * @param out  12 x 12, only the lower triangle is written (row >= column at row * 12 + column)
 * @source     clough-tocher
 */
export function stiffenHct(element: HctElement, d: LayerStiffness, out: Float64Array): void {
  const { curvature } = element;
  const sum = scratchSum;
  for (let k = 0; k < 3; k++) {
    const at = 3 * k * 36;
    for (let c = 0; c < 36; c++)
      sum[c] = curvature[at + c]! + curvature[at + 36 + c]! + curvature[at + 72 + c]!;
    const weight = element.areaMm2 / 12;
    for (let m = 0; m < 3; m++) addProduct(curvature, at + m * 36, d, weight, out);
    addProduct(sum, 0, d, weight, out);
  }
}

const scratchSum = new Float64Array(36);

function addProduct(b: Float64Array, at: number, d: LayerStiffness, weight: number, out: Float64Array): void {
  for (let r = 0; r < 12; r++) {
    const m0 = weight * (d.c11 * b[at + r]! + d.c12 * b[at + 12 + r]!);
    const m1 = weight * (d.c12 * b[at + r]! + d.c22 * b[at + 12 + r]!);
    const m2 = weight * d.c66 * b[at + 24 + r]!;
    for (let c = 0; c <= r; c++)
      out[r * 12 + c]! += m0 * b[at + c]! + m1 * b[at + 12 + c]! + m2 * b[at + 24 + c]!;
  }
}

/** Integrals of products of the ten cubic Bernstein polynomials over a triangle of area 1. */
const gram = (() => {
  const index = ['300', '030', '003', '210', '120', '201', '021', '111', '102', '012'].map((name) =>
    [...name].map(Number),
  );
  const choose = (n: number, k: number): number => (k === 0 ? 1 : (choose(n - 1, k - 1) * n) / k);
  const g = new Float64Array(100);
  index.forEach((p, i) => {
    index.forEach((q, j) => {
      g[i * 10 + j] = p.reduce((product, pi, axis) => product * choose(pi + q[axis]!, pi), 1) / (20 * 28);
    });
  });
  return g;
})();

const scratchMass = new Float64Array(120);

/**
 * Adds the mass of the triangle: the integral of the product of deflections, exact.
 *
 * @param massPerAreaKgPerMm2  mass of the plate
 * @param out                  12 x 12 lower triangle
 * @source                     clough-tocher
 */
export function massHct(element: HctElement, massPerArea: number, out: Float64Array): void {
  const { rows } = element;
  for (let k = 0; k < 3; k++) {
    const ids = thirdRows[k]!;
    for (let a = 0; a < 10; a++)
      for (let c = 0; c < 12; c++) {
        let sum = 0;
        for (let b = 0; b < 10; b++) sum += gram[a * 10 + b]! * rows[ids[b]! * 12 + c]!;
        scratchMass[a * 12 + c] = sum;
      }
    const weight = massPerArea * element.areaMm2;
    for (let a = 0; a < 10; a++) {
      const row = ids[a]! * 12;
      for (let r = 0; r < 12; r++) {
        const value = weight * rows[row + r]!;
        if (value !== 0) for (let c = 0; c <= r; c++) out[r * 12 + c]! += value * scratchMass[a * 12 + c]!;
      }
    }
  }
}

/** Weights of the ten coefficients for the value at a place in a third, given by its barycentric coordinates. */
export function bernstein(l: number, m: number, n: number): number[] {
  return [
    l * l * l,
    m * m * m,
    n * n * n,
    3 * l * l * m,
    3 * l * m * m,
    3 * l * l * n,
    3 * m * m * n,
    6 * l * m * n,
    3 * l * n * n,
    3 * m * n * n,
  ];
}

/** Weights of the ten coefficients for the slope along a direction with the barycentric rates a. */
export function bernsteinSlope(l: readonly number[], a: readonly number[]): number[] {
  const weights = new Array<number>(10).fill(0);
  for (let p = 0; p < 3; p++)
    for (let q = 0; q < 3; q++)
      for (let r = 0; r < 3; r++) weights[tripleIndex[p * 9 + q * 3 + r]!]! += 3 * l[p]! * l[q]! * a[r]!;
  return weights;
}
