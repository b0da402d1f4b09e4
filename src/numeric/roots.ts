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
  // b: best place so far, c: the end on the other side of the root, a: the place before b
  let c = a;
  let fc = fa;
  let step = b - a;
  let stepBefore = step;
  for (let i = 0; i < (limits.stepsMost ?? 100); i++) {
    if (fb > 0 === fc > 0) {
      c = a;
      fc = fa;
      step = b - a;
      stepBefore = step;
    }
    if (Math.abs(fc) < Math.abs(fb)) {
      [a, b, c] = [b, c, b];
      [fa, fb, fc] = [fb, fc, fb];
    }
    const tol = (limits.tolerance ?? Math.max(1e-14, 1e-12 * Math.abs(b))) / 2;
    const half = (c - b) / 2;
    if (fb === 0 || Math.abs(half) <= tol) return b;
    const proposed = Math.abs(stepBefore) >= tol ? interpolated({ a, b, c, fa, fb, fc }) : undefined;
    const isGood =
      proposed !== undefined &&
      proposed * half > 0 &&
      2 * Math.abs(proposed) < Math.min(3 * Math.abs(half) - tol, Math.abs(stepBefore));
    stepBefore = isGood ? step : half;
    step = isGood ? proposed : half;
    a = b;
    fa = fb;
    b += Math.abs(step) > tol ? step : Math.sign(half) * tol;
    fb = f(b);
    if (!Number.isFinite(fb)) return undefined;
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
  if (a === c) return finite((-(c - b) * s) / (1 - s));
  const t = fa / fc;
  const r = fb / fc;
  const p = s * ((c - b) * t * (t - r) - (b - a) * (r - 1));
  return finite(-p / ((t - 1) * (r - 1) * (s - 1)));
}

const finite = (x: number): number | undefined => (Number.isFinite(x) ? x : undefined);
