import type { BarShares } from './plate/bar-shares.ts';
import type { PlateAnswer, PlateShapes } from './plate/plate-problem.ts';
import type { TopProblem } from './top-problem.ts';

/** One resonance of the top without the air behind it. */
export interface TopMode {
  readonly frequencyHz: number;
  /** Nodal lines crossed on the way along and across through the place that moves most. */
  readonly linesAlongCount: number;
  readonly linesAcrossCount: number;
  readonly name: string;
  /** Mass and area of the piston that moves like the mode's largest place. */
  readonly pistonMassKg: number;
  readonly pistonAreaM2: number;
}

/** What one brace does. */
export interface BraceShare {
  readonly id: string;
  /** Part of the strings' work stored in it, 0..1. */
  readonly energyFrac: number;
  /** Change of the bridge's tilt when it is carved lower by 1 mm over its length; + means more tilt. */
  readonly tiltPerMmDeg: number;
  /** Largest stress from the strings. */
  readonly stressMPa: number;
}

/** What the top does under its strings, in the frame of the pattern. */
export interface TopAnswer {
  /** Mean slope of the bridge's foot, front down, unstrung to strung. */
  readonly tiltDeg: number;
  readonly liftMm: number;
  readonly liftAtMm: readonly [number, number];
  /** How far the top sinks at its lowest, as a positive number. */
  readonly sinkMm: number;
  readonly sinkAtMm: readonly [number, number];
  readonly modes: readonly TopMode[];
  readonly braces: readonly BraceShare[];
  readonly estimatedErrorFrac?: number;
}

/** What the model leaves out, for the page to say beside the numbers. */
export const topModelLimits =
  'A flat, thin top on a rim that stands still: shear in the thickness (0 to 5 % in frequency, about 4 % in tilt), the dome, back and sides, the air and the scatter of the wood are left out.';

/**
 * Reads the answer of the plate engine as a top.
 *
 * @param top     the problem as made by `topProblem`
 * @param answer  of `analysePlate` with `withShapes`
 * @param shares  of `barShares` with 1 mm carved; undefined leaves the braces' shares out
 * @returns       tilt, lift, sink, modes with names, braces
 * @throws RangeError when the answer has no shapes
 * @source        arithmetic
 */
export function readTopAnswer(
  top: TopProblem,
  answer: PlateAnswer,
  shares: BarShares | undefined,
): TopAnswer {
  const { shapes } = answer;
  const load = answer.loads[0];
  if (!shapes || load?.rotationDeg === undefined)
    throw new RangeError('readTopAnswer: analyse with shapes and a couple');
  const moved = shapes.loadsMm[0]!;
  const highest = extreme(moved, 1);
  const lowest = extreme(moved, -1);
  const place = (i: number): [number, number] => [shapes.yMm[i]!, shapes.xMm[i]! + top.middleYMm];
  return {
    tiltDeg: load.rotationDeg,
    liftMm: Math.max(0, moved[highest]!),
    liftAtMm: place(highest),
    sinkMm: Math.max(0, -moved[lowest]!),
    sinkAtMm: place(lowest),
    modes: answer.frequenciesHz.map((frequencyHz, k) => readMode(shapes, k, frequencyHz)),
    braces: (shares?.bars ?? []).map((share, b) => ({
      id: top.barIds[b]!,
      energyFrac: share.energyFrac,
      tiltPerMmDeg: share.carvedReading - shares!.reading,
      stressMPa: shapes.barStressMPa[0]?.[b] ?? 0,
    })),
    ...(answer.estimatedErrorFrac === undefined ? {} : { estimatedErrorFrac: answer.estimatedErrorFrac }),
  };
}

function extreme(values: Float64Array, sign: number): number {
  let best = 0;
  for (let i = 1; i < values.length; i++) if (sign * values[i]! > sign * values[best]!) best = i;
  return best;
}

function readMode(shapes: PlateShapes, k: number, frequencyHz: number): TopMode {
  const shape = shapes.modes[k]!;
  const { linesAlongCount, linesAcrossCount } = countNodalLines(shapes, shape);
  return {
    frequencyHz,
    linesAlongCount,
    linesAcrossCount,
    name: modeName(linesAlongCount, linesAcrossCount),
    pistonMassKg: shapes.modalMassKg[k]!,
    pistonAreaM2: Math.abs(shapes.pistonAreaM2[k]!),
  };
}

/**
 * Plain words for a mode: how many fields swing against each other along and across.
 *
 * @param linesAlongCount   nodal lines crossed on the way along
 * @param linesAcrossCount  nodal lines crossed on the way across
 * @returns                 e.g. `one field`, `two fields across`, `2 x 3 fields`
 * @source                  arithmetic
 */
export function modeName(linesAlongCount: number, linesAcrossCount: number): string {
  const words = ['one', 'two', 'three', 'four', 'five', 'six'];
  const [along, across] = [linesAlongCount + 1, linesAcrossCount + 1];
  if (along === 1 && across === 1) return 'one field';
  if (across === 1) return `${words[along - 1] ?? along} fields along`;
  if (along === 1) return `${words[across - 1] ?? across} fields across`;
  return `${along} x ${across} fields`;
}

/** Movements smaller than this part of the largest do not count as a side of a nodal line. */
const stillFrac = 0.15;

/**
 * Nodal lines of a mode, counted on the straight lines along and across that cross the most of them.
 *
 * @param shapes  mesh
 * @param shape   deflection at the vertices, largest size 1
 * @returns       sign changes along (x of the plate) and across (y of the plate)
 * @assumes       nine lines each way; a nodal line that none of them crosses is not seen
 * @source        arithmetic
 */
export function countNodalLines(
  shapes: PlateShapes,
  shape: Float64Array,
): { linesAlongCount: number; linesAcrossCount: number } {
  const grid = sampleGrid(shapes, shape, 64);
  const lines = (isAlong: boolean): number => {
    const counts = Array.from({ length: 64 }, (_, line) =>
      changes(Array.from({ length: 64 }, (_, i) => (isAlong ? grid[line * 64 + i]! : grid[i * 64 + line]!))),
    );
    return weightedTypical(counts);
  };
  return { linesAlongCount: lines(true), linesAcrossCount: lines(false) };
}

/** Sign changes and how much moves on the line. */
function changes(values: readonly number[]): { count: number; weight: number } {
  let [count, weight, last] = [0, 0, 0];
  for (const v of values) {
    weight += v * v;
    if (Math.abs(v) < stillFrac) continue;
    if (last !== 0 && Math.sign(v) !== last) count++;
    last = Math.sign(v);
  }
  return { count, weight };
}

/** The number of changes that carries the most movement. */
function weightedTypical(lines: readonly { readonly count: number; readonly weight: number }[]): number {
  const sums: number[] = [];
  for (const { count, weight } of lines) sums[count] = (sums[count] ?? 0) + weight;
  let best = 0;
  sums.forEach((sum, count) => {
    if (sum > (sums[best] ?? 0)) best = count;
  });
  return best;
}

/** Values on a square grid over the plate's box, row by row along x; 0 where there is no wood. */
function sampleGrid(shapes: PlateShapes, shape: Float64Array, count: number): Float64Array {
  const { xMm, yMm, triangle } = shapes;
  const [x0, x1] = [Math.min(...xMm), Math.max(...xMm)];
  const [y0, y1] = [Math.min(...yMm), Math.max(...yMm)];
  const grid = new Float64Array(count * count);
  const column = (x: number) => ((x - x0) / (x1 - x0)) * count - 0.5;
  const line = (y: number) => ((y - y0) / (y1 - y0)) * count - 0.5;
  for (let t = 0; t < triangle.length; t += 3) {
    const v = [triangle[t]!, triangle[t + 1]!, triangle[t + 2]!] as const;
    const px = v.map((i) => column(xMm[i]!));
    const py = v.map((i) => line(yMm[i]!));
    const det = (px[1]! - px[0]!) * (py[2]! - py[0]!) - (px[2]! - px[0]!) * (py[1]! - py[0]!);
    for (let r = Math.ceil(Math.min(...py)); r <= Math.min(count - 1, Math.max(...py)); r++)
      for (let c = Math.ceil(Math.min(...px)); c <= Math.min(count - 1, Math.max(...px)); c++) {
        if (r < 0 || c < 0) continue;
        const l1 = ((c - px[0]!) * (py[2]! - py[0]!) - (px[2]! - px[0]!) * (r - py[0]!)) / det;
        const l2 = ((px[1]! - px[0]!) * (r - py[0]!) - (c - px[0]!) * (py[1]! - py[0]!)) / det;
        if (l1 < -1e-9 || l2 < -1e-9 || l1 + l2 > 1 + 1e-9) continue;
        grid[r * count + c] = (1 - l1 - l2) * shape[v[0]]! + l1 * shape[v[1]]! + l2 * shape[v[2]]!;
      }
  }
  return grid;
}
