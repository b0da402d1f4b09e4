import type { LayerStiffness } from './hct-element.ts';

/**
 * Strains of the six-node triangle at its corners: rows xx, yy, xy (shear angle) of 12 numbers, the unknowns u, v at
 * the corners and then at the middles of the edges opposite corners 0, 1, 2.
 *
 * @param gx   gradients of the barycentric coordinates, 3 numbers
 * @param gy   the same along y
 * @param out  3 blocks of 3 rows of 12
 * @source     linear-strain-triangle
 */
export function strainMembrane(gx: Float64Array, gy: Float64Array, out: Float64Array): void {
  out.fill(0);
  for (let m = 0; m < 3; m++)
    for (let node = 0; node < 6; node++) {
      const [dx, dy] = node < 3 ? cornerSlope(gx, gy, node, m) : middleSlope(gx, gy, node - 3, m);
      const at = m * 36 + 2 * node;
      out[at] = dx;
      out[at + 13] = dy;
      out[at + 24] = dy;
      out[at + 25] = dx;
    }
}

function cornerSlope(gx: Float64Array, gy: Float64Array, i: number, m: number): [number, number] {
  const factor = m === i ? 3 : -1;
  return [factor * gx[i]!, factor * gy[i]!];
}

function middleSlope(gx: Float64Array, gy: Float64Array, k: number, m: number): [number, number] {
  if (m === k) return [0, 0];
  const other = 3 - k - m;
  return [4 * gx[other]!, 4 * gy[other]!];
}

/**
 * Adds the membrane stiffness, exact.
 *
 * @param strain   from `strainMembrane`
 * @param areaMm2  area of the triangle
 * @param c        force per length per strain, N/mm
 * @param out      12 x 12 lower triangle
 * @source         linear-strain-triangle
 */
export function stiffenMembrane(
  strain: Float64Array,
  areaMm2: number,
  c: LayerStiffness,
  out: Float64Array,
): void {
  const sum = scratch;
  for (let k = 0; k < 36; k++) sum[k] = strain[k]! + strain[36 + k]! + strain[72 + k]!;
  const weight = areaMm2 / 12;
  for (let m = 0; m < 4; m++) {
    const b = m < 3 ? strain : sum;
    const at = m < 3 ? m * 36 : 0;
    for (let r = 0; r < 12; r++) {
      const m0 = weight * (c.c11 * b[at + r]! + c.c12 * b[at + 12 + r]!);
      const m1 = weight * (c.c12 * b[at + r]! + c.c22 * b[at + 12 + r]!);
      const m2 = weight * c.c66 * b[at + 24 + r]!;
      for (let k = 0; k <= r; k++)
        out[r * 12 + k]! += m0 * b[at + k]! + m1 * b[at + 12 + k]! + m2 * b[at + 24 + k]!;
    }
  }
}

const scratch = new Float64Array(36);
