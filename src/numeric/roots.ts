/** A place where a function changes its sign. */
export interface RootLimits {
  /** Lower end; the function has another sign here than at `high`. */
  readonly low: number;
  readonly high: number;
  /** Width of the last bracket; > 0. Default 1e-12 of the larger end, at least 1e-14. */
  readonly tolerance?: number;
  readonly stepsMost?: number;
}

/**
 * The root of a continuous function between two ends of opposite sign, by inverse quadratic and secant steps that fall
 * back to halving (Brent's method).
 *
 * @param f       continuous function
 * @param limits  ends of the bracket and how near is near enough, unit of the argument
 * @returns       the root; undefined when both ends have the same sign or a value is not a number
 * @assumes       one root in the bracket; with several, one of them is found
 * @source        brent-1973
 * @example       findRoot((x) => x * x - 2, { low: 0, high: 2 })
 */
export function findRoot(f: (x: number) => number, limits: RootLimits): number | undefined {
  let a = limits.low;
  let b = limits.high;
  let fa = f(a);
  let fb = f(b);
  if (!Number.isFinite(fa) || !Number.isFinite(fb)) return undefined;
  if (fa === 0) return a;
  if (fb === 0) return b;
  if (fa > 0 === fb > 0) return undefined;
  let c = a;
  let fc = fa;
  let step = b - a;
  let stepBefore = step;
  for (let i = 0; i < (limits.stepsMost ?? 100); i++) {
    if (Math.abs(fc) < Math.abs(fb)) {
      [a, b, c] = [b, c, b];
      [fa, fb, fc] = [fb, fc, fb];
    }
    const tol = limits.tolerance ?? Math.max(1e-14, 1e-12 * Math.abs(b));
    const half = (c - b) / 2;
    if (fb === 0 || Math.abs(half) <= tol / 2) return b;
    const proposed = interpolated({ a, b, c, fa, fb, fc });
    const isGood =
      proposed !== undefined &&
      proposed * half > 0 &&
      Math.abs(proposed) < Math.min(1.5 * Math.abs(half) - tol / 4, Math.abs(stepBefore) / 2);
    stepBefore = isGood ? step : half;
    step = isGood ? proposed : half;
    a = b;
    fa = fb;
    b += Math.abs(step) > tol / 2 ? step : (Math.sign(half) * tol) / 2;
    fb = f(b);
    if (!Number.isFinite(fb)) return undefined;
    if (fb > 0 === fc > 0) {
      c = a;
      fc = fa;
      step = b - a;
      stepBefore = step;
    }
  }
  return b;
}

interface ThreePoints {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly fa: number;
  readonly fb: number;
  readonly fc: number;
}

/** Step from b by the secant (two points) or the inverse parabola (three); undefined where it is flat. */
function interpolated({ a, b, c, fa, fb, fc }: ThreePoints): number | undefined {
  if (Math.abs(fa) <= Math.abs(fb)) return undefined;
  const s = fb / fa;
  let p: number;
  let q: number;
  if (a === c) {
    p = (c - b) * s;
    q = 1 - s;
  } else {
    const t = fa / fc;
    const r = fb / fc;
    p = s * ((c - b) * t * (t - r) - (b - a) * (r - 1));
    q = (t - 1) * (r - 1) * (s - 1);
    q = -q;
  }
  const step = p / q;
  return Number.isFinite(step) ? step : undefined;
}
