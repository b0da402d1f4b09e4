import { type BarSection, barSection, heightAlong } from './bar-section.ts';
import type { PlateBar } from './plate-problem.ts';

/** One edge of the mesh that carries a piece of a bar. */
export interface BarPiece {
  readonly bar: PlateBar;
  /** Stretch of the bar covered, 0..1. */
  readonly fromFrac: number;
  readonly toFrac: number;
  /** The two ends, mm. */
  readonly ax: number;
  readonly ay: number;
  readonly bx: number;
  readonly by: number;
  /** Direction of the first slope at the two ends. */
  readonly frame: readonly [cosA: number, sinA: number, cosB: number, sinB: number];
  /** +1 when the edge's slope is counted to the left of the way from a to b, else -1. */
  readonly middleSign: number;
  readonly plateThicknessMm: number;
  /** 1 over the radius of the plate's dome, 0 for a flat one. */
  readonly domePerMm: number;
}

/** Unknowns of a piece: w, two slopes, u, v at a; the same at b; slope, u, v at the middle. */
export const barUnknownCount = 13;

/** Places and weights of four-point Gauss integration on 0..1. */
const gauss = [-1, 1].flatMap((sign) =>
  [
    [0.8611363115940526, 0.34785484513745385],
    [0.33998104358485626, 0.6521451548625461],
  ].map(([place, weight]) => [0.5 + (sign * place!) / 2, weight! / 2] as const),
);

/** What a bar feels at a place of a piece, each as weights of the 13 unknowns. */
export interface BarStates {
  readonly deflection: Float64Array;
  readonly curvature: Float64Array;
  readonly stretch: Float64Array;
  readonly twist: Float64Array;
}

/**
 * Deflection, curvature, stretch of the plate's middle and twist along a piece.
 *
 * @param part  place along the piece, 0..1
 * @source      beam-theory
 */
export function barStates(piece: BarPiece, part: number): BarStates {
  const make = () => new Float64Array(barUnknownCount);
  const [deflection, curvature, stretch, twist] = [make(), make(), make(), make()];
  const length = Math.hypot(piece.bx - piece.ax, piece.by - piece.ay);
  const tx = (piece.bx - piece.ax) / length;
  const ty = (piece.by - piece.ay) / length;
  const s = part;
  const hermite = [1 - 3 * s * s + 2 * s ** 3, (s - 2 * s * s + s ** 3) * length];
  const hermiteB = [3 * s * s - 2 * s ** 3, (s ** 3 - s * s) * length];
  const bend = [(-6 + 12 * s) / length ** 2, (-4 + 6 * s) / length];
  const bendB = [(6 - 12 * s) / length ** 2, (6 * s - 2) / length];
  const rate = [(4 * s - 3) / length, (4 * s - 1) / length, (4 - 8 * s) / length];
  for (let end = 0; end < 2; end++) {
    const [cos, sin] = [piece.frame[2 * end]!, piece.frame[2 * end + 1]!];
    const along = [cos * tx + sin * ty, -sin * tx + cos * ty];
    const across = [-cos * ty + sin * tx, sin * ty + cos * tx];
    const at = 5 * end;
    const value = end === 0 ? hermite : hermiteB;
    const second = end === 0 ? bend : bendB;
    deflection[at] = value[0]!;
    curvature[at] = second[0]!;
    for (let k = 0; k < 2; k++) {
      deflection[at + 1 + k] = value[1]! * along[k]!;
      curvature[at + 1 + k] = second[1]! * along[k]!;
      twist[at + 1 + k] = rate[end]! * across[k]!;
    }
    stretch[at + 3] = rate[end]! * tx;
    stretch[at + 4] = rate[end]! * ty;
  }
  twist[10] = rate[2]! * piece.middleSign;
  stretch[11] = rate[2]! * tx;
  stretch[12] = rate[2]! * ty;
  return { deflection, curvature, stretch, twist };
}

/**
 * Adds stiffness and mass of a piece of bar.
 *
 * @param piece      the edge and its bar
 * @param stiffness  13 x 13, lower triangle
 * @param mass       13 x 13, lower triangle
 * @assumes          Euler-Bernoulli about the bar's own axis, which lies (plate + height) / 2 off the plate's middle;
 *                   no bending in the plane of the plate; mass moves with the deflection only
 * @source           beam-theory
 */
export function addBarPiece(piece: BarPiece, stiffness: Float64Array, mass: Float64Array): void {
  const { bar } = piece;
  for (const { lengthMm, section, states, axial } of stationsOf(piece)) {
    addSquare(stiffness, axial, lengthMm * bar.eMPa * section.areaMm2);
    addSquare(stiffness, states.curvature, lengthMm * bar.eMPa * section.secondMomentMm4);
    addSquare(stiffness, states.twist, lengthMm * bar.shearMPa * section.torsionMm4);
    // kg/m3 * mm2 * mm to tonnes, so that N, mm, s go together
    addSquare(mass, states.deflection, lengthMm * bar.densityKgPerM3 * 1e-12 * section.areaMm2);
  }
}

/**
 * The forces on the unknowns of a piece whose bar wants to grow along its length.
 *
 * @param growFrac  free growth as a part of its length
 * @returns         13 forces, N and N mm
 * @source          beam-theory
 */
export function growBarPiece(piece: BarPiece, growFrac: number): Float64Array {
  const force = new Float64Array(barUnknownCount);
  for (const { lengthMm, section, axial } of stationsOf(piece))
    for (let k = 0; k < barUnknownCount; k++)
      force[k]! += growFrac * lengthMm * piece.bar.eMPa * section.areaMm2 * axial[k]!;
  return force;
}

/** A place of integration along a piece, with the length it stands for. */
interface Station {
  readonly lengthMm: number;
  readonly section: BarSection;
  readonly states: BarStates;
  /** Stretch of the bar's own axis. */
  readonly axial: Float64Array;
}

function stationsOf(piece: BarPiece): Station[] {
  const { bar, domePerMm } = piece;
  const length = Math.hypot(piece.bx - piece.ax, piece.by - piece.ay);
  return gauss.map(([part, weight]): Station => {
    const along = piece.fromFrac + part * (piece.toFrac - piece.fromFrac);
    const height = heightAlong(bar.heightMm, bar.heightsMm, along);
    const offset = (piece.plateThicknessMm + height) / 2;
    const states = barStates(piece, part);
    const axial = states.stretch.map(
      (value, k) => value - offset * states.curvature[k]! - domePerMm * states.deflection[k]!,
    );
    return { lengthMm: weight * length, section: barSection(bar.widthMm, height), states, axial };
  });
}

function addSquare(out: Float64Array, vector: Float64Array, weight: number): void {
  for (let r = 0; r < barUnknownCount; r++) {
    const value = weight * vector[r]!;
    if (value !== 0) for (let c = 0; c <= r; c++) out[r * barUnknownCount + c]! += value * vector[c]!;
  }
}
