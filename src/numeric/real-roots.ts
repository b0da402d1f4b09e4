/**
 * Real roots of c3 t^3 + c2 t^2 + c1 t + c0 in an interval, found by bracketing between the turning points.
 *
 * @param c     coefficients c0, c1, c2, c3
 * @param low   lower end of the interval
 * @param high  upper end, above `low`
 * @returns     roots in rising order; a double root is given once; empty when the polynomial is constant
 * @source      arithmetic
 */
export function cubicRoots(
  c: readonly [number, number, number, number],
  low: number,
  high: number,
): readonly number[] {
  const [c0, c1, c2, c3] = c;
  const at = (t: number): number => ((c3 * t + c2) * t + c1) * t + c0;
  const size = Math.max(Math.abs(c0), Math.abs(c1), Math.abs(c2), Math.abs(c3));
  if (size === 0) return [];
  const cuts = [low, ...quadraticRoots([c1, 2 * c2, 3 * c3], low, high), high];
  const near = 1e-13 * size;
  const roots: number[] = [];
  const add = (t: number): void => {
    const last = roots[roots.length - 1];
    if (last === undefined || t - last > 1e-12 * Math.max(1, high - low)) roots.push(t);
  };
  for (let i = 0; i + 1 < cuts.length; i++) {
    const a = cuts[i]!;
    const b = cuts[i + 1]!;
    if (Math.abs(at(a)) <= near) add(a);
    else if (Math.abs(at(b)) > near && at(a) > 0 !== at(b) > 0) add(bisect(at, a, b));
  }
  if (Math.abs(at(high)) <= near) add(high);
  return roots;
}

/**
 * Real roots of c2 t^2 + c1 t + c0 in an interval.
 *
 * @param c     coefficients c0, c1, c2
 * @param low   lower end of the interval
 * @param high  upper end
 * @returns     roots in rising order, ends included
 * @source      arithmetic
 */
export function quadraticRoots(
  c: readonly [number, number, number],
  low: number,
  high: number,
): readonly number[] {
  const [c0, c1, c2] = c;
  const within = (t: number): boolean => t >= low && t <= high;
  if (Math.abs(c2) <= 1e-14 * Math.max(Math.abs(c0), Math.abs(c1)))
    return c1 === 0 ? [] : [-c0 / c1].filter(within);
  const inner = c1 * c1 - 4 * c2 * c0;
  if (inner < 0) return [];
  const q = -0.5 * (c1 + (c1 < 0 ? -1 : 1) * Math.sqrt(inner));
  const first = q / c2;
  const second = q === 0 ? first : c0 / q;
  const both = first === second ? [first] : [Math.min(first, second), Math.max(first, second)];
  return both.filter(within);
}

function bisect(at: (t: number) => number, low: number, high: number): number {
  let a = low;
  let b = high;
  const isUp = at(b) > 0;
  for (let i = 0; i < 80 && b - a > 1e-16 * Math.max(1, Math.abs(a)); i++) {
    const middle = (a + b) / 2;
    if (middle === a || middle === b) break;
    if (at(middle) > 0 === isUp) b = middle;
    else a = middle;
  }
  return (a + b) / 2;
}
