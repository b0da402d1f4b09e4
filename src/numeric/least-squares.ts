/** A straight line through points. */
export interface FittedLine {
  /** Value at x = 0, unit of y. */
  readonly intercept: number;
  /** Unit of y per unit of x. */
  readonly slope: number;
  /** y less the line, in the order of the points. */
  readonly residuals: readonly number[];
}

/**
 * The straight line of least squares through points.
 *
 * @param points  at least one; with one point, or all at one x, the line is level
 * @returns       line and residuals
 * @throws RangeError without points
 * @source        least-squares
 */
export function fitLine(points: readonly { readonly x: number; readonly y: number }[]): FittedLine {
  if (points.length === 0) throw new RangeError('fitLine: no points given, at least one is needed');
  const meanX = points.reduce((s, p) => s + p.x, 0) / points.length;
  const meanY = points.reduce((s, p) => s + p.y, 0) / points.length;
  const sxx = points.reduce((s, p) => s + (p.x - meanX) ** 2, 0);
  const sxy = points.reduce((s, p) => s + (p.x - meanX) * (p.y - meanY), 0);
  const slope = sxx > 0 ? sxy / sxx : 0;
  const intercept = meanY - slope * meanX;
  return { intercept, slope, residuals: points.map((p) => p.y - intercept - slope * p.x) };
}

/**
 * The unknowns that bring a set of linear equations nearest to balance, by Householder reflections.
 *
 * @param rows    coefficients, one row an equation; at least as many rows as unknowns
 * @param wanted  right-hand sides
 * @returns       the unknowns; undefined when the equations do not fix them all
 * @source        least-squares
 */
export function solveLeastSquares(
  rows: readonly (readonly number[])[],
  wanted: readonly number[],
): readonly number[] | undefined {
  const m = rows.length;
  const n = rows[0]?.length ?? 0;
  if (n === 0 || m < n) return undefined;
  const a = rows.map((r) => Float64Array.from(r));
  const b = Float64Array.from(wanted);
  const at = (i: number, j: number): number => (a[i] as Float64Array)[j] as number;
  const sizes = Array.from({ length: n }, (_, j) => Math.hypot(...a.map((_row, i) => at(i, j))));
  for (let k = 0; k < n; k++) {
    let norm = 0;
    for (let i = k; i < m; i++) norm = Math.hypot(norm, at(i, k));
    if (norm <= 1e-12 * (sizes[k] as number)) return undefined;
    reflect(a, b, k, at(k, k) > 0 ? -norm : norm);
  }
  const x = new Array<number>(n).fill(0);
  for (let k = n - 1; k >= 0; k--) {
    let sum = b[k] as number;
    for (let j = k + 1; j < n; j++) sum -= at(k, j) * (x[j] as number);
    x[k] = sum / at(k, k);
  }
  return x;
}

/** Turns column k into (alpha, 0, 0, ...) below row k, and takes the other columns and the right-hand side along. */
function reflect(a: Float64Array[], b: Float64Array, k: number, alpha: number): void {
  const m = a.length;
  const v = new Float64Array(m);
  let vv = 0;
  for (let i = k; i < m; i++) {
    v[i] = ((a[i] as Float64Array)[k] as number) - (i === k ? alpha : 0);
    vv += (v[i] as number) ** 2;
  }
  if (vv === 0) return;
  const n = (a[0] as Float64Array).length;
  for (let j = k; j <= n; j++) {
    const get = (i: number): number => (j === n ? (b[i] as number) : ((a[i] as Float64Array)[j] as number));
    let dot = 0;
    for (let i = k; i < m; i++) dot += (v[i] as number) * get(i);
    const scale = (2 * dot) / vv;
    for (let i = k; i < m; i++) {
      const value = get(i) - scale * (v[i] as number);
      if (j === n) b[i] = value;
      else (a[i] as Float64Array)[j] = value;
    }
  }
}

/** What a curved least-squares search ended with. */
export interface LeastSquaresResult {
  readonly values: readonly number[];
  readonly residuals: readonly number[];
  /** Root of the mean square of the residuals. */
  readonly rms: number;
}

/**
 * The unknowns that make residuals small, for residuals that are not linear in them (damped Gauss-Newton after
 * Levenberg and Marquardt, derivatives by small steps).
 *
 * @param residualsOf  residuals of trial values; as many at every call, at least as many as unknowns; undefined where the values are impossible
 * @param start        first guess; residuals must be possible here
 * @param steps        a small step for each unknown, its own unit; > 0
 * @returns            the values found, with residuals and rms; undefined when the first guess is impossible
 * @assumes            a good first guess; finds the nearest valley, not the deepest
 * @source             least-squares
 */
export function minimiseSquares(
  residualsOf: (values: readonly number[]) => readonly number[] | undefined,
  start: readonly number[],
  steps: readonly number[],
  roundsMost = 40,
): LeastSquaresResult | undefined {
  let values = start;
  let residuals = residualsOf(values);
  if (!residuals) return undefined;
  let cost = sumOfSquares(residuals);
  let damping = 1e-8;
  for (let round = 0; round < roundsMost; round++) {
    const columns = steps.map((step, k) => {
      const moved = residualsOf(values.map((v, j) => (j === k ? v + step : v)));
      return moved?.map((r, i) => (r - (residuals as readonly number[])[i]!) / step);
    });
    if (columns.some((c) => c === undefined)) break;
    const jacobian = residuals.map((_, i) => columns.map((c) => (c as readonly number[])[i] as number));
    const better = dampedStep(residualsOf, { values, residuals, jacobian, cost, steps }, damping);
    if (!better) break;
    const moveShare = Math.max(
      ...better.values.map((v, k) => Math.abs(v - (values[k] as number)) / (steps[k] as number)),
    );
    damping = better.damping;
    values = better.values;
    residuals = better.residuals;
    cost = better.cost;
    if (moveShare < 1e-4) break;
  }
  return { values, residuals, rms: Math.sqrt(cost / residuals.length) };
}

interface Valley {
  readonly values: readonly number[];
  readonly residuals: readonly number[];
  readonly jacobian: readonly (readonly number[])[];
  readonly cost: number;
  readonly steps: readonly number[];
}

interface Better {
  readonly values: readonly number[];
  readonly residuals: readonly number[];
  readonly cost: number;
  readonly damping: number;
}

/** Tries steps with more and more damping until one makes the residuals smaller; undefined when the step is too small to matter. */
function dampedStep(
  residualsOf: (values: readonly number[]) => readonly number[] | undefined,
  { values, residuals, jacobian, cost, steps }: Valley,
  firstDamping: number,
): Better | undefined {
  const sizes = values.map((_, k) => Math.hypot(...jacobian.map((row) => row[k] as number)));
  const wanted = [...residuals.map((r) => -r), ...sizes.map(() => 0)];
  for (let damping = firstDamping; damping < 1e8; damping *= 10) {
    const extra = sizes.map((s, k) => sizes.map((_, j) => (j === k ? Math.sqrt(damping) * s : 0)));
    const move = solveLeastSquares([...jacobian, ...extra], wanted);
    if (!move?.some((m, k) => Math.abs(m) > 1e-4 * (steps[k] as number))) return undefined;
    const tried = values.map((v, k) => v + (move[k] as number));
    const now = residualsOf(tried);
    const nowCost = now ? sumOfSquares(now) : Number.POSITIVE_INFINITY;
    if (now && nowCost < cost)
      return { values: tried, residuals: now, cost: nowCost, damping: Math.max(damping / 10, 1e-12) };
  }
  return undefined;
}

const sumOfSquares = (r: readonly number[]): number => r.reduce((s, x) => s + x * x, 0);
