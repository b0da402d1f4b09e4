import type { BlockPattern } from './sparse-symmetric.ts';

/** What is known of the factor before any number: which columns are eliminated together, and how. */
export interface LdlPlan {
  readonly size: number;
  /** Number of fronts (groups of columns eliminated together), children before parents. */
  readonly frontCount: number;
  /** First unknown eliminated in each front; one entry more than fronts. */
  readonly pivotStart: Int32Array;
  /** Rows of each front, ascending: first its own unknowns, then the later ones it touches. */
  readonly rowStart: Int32Array;
  readonly row: Int32Array;
  /** Where each front's columns lie in the factor. */
  readonly panelStart: Float64Array;
  readonly children: readonly (readonly number[])[];
  readonly maxRows: number;
  readonly entryCount: number;
}

/** A = L D L^T, L unit lower triangular (the diagonal of each panel holds D). */
export interface LdlFactor {
  readonly plan: LdlPlan;
  readonly panels: Float64Array;
  /** How many pivots are negative: the number of eigenvalues of A below zero (Sylvester's law of inertia). */
  readonly negativePivotCount: number;
}

interface NodeTree {
  readonly parent: Int32Array;
  readonly later: readonly Int32Array[];
}

/**
 * An elimination order in which every subtree of the elimination tree is contiguous. Fill and work stay the same.
 *
 * @param order    order[k] = node eliminated as number k
 * @param pattern  the pattern in that order
 * @returns        the rearranged order
 * @source         from memory
 */
export function postOrder(order: Int32Array, pattern: BlockPattern): Int32Array {
  const { parent } = eliminationTree(pattern);
  const count = order.length;
  const firstChild = new Int32Array(count).fill(-1);
  const nextChild = new Int32Array(count).fill(-1);
  for (let k = count - 1; k >= 0; k--)
    if (parent[k]! >= 0) {
      nextChild[k] = firstChild[parent[k]!]!;
      firstChild[parent[k]!] = k;
    }
  const result = new Int32Array(count);
  let fill = 0;
  const stack: number[] = [];
  for (let root = 0; root < count; root++) {
    if (parent[root]! >= 0) continue;
    stack.push(root);
    while (stack.length > 0) {
      const node = stack[stack.length - 1]!;
      const child = firstChild[node]!;
      if (child >= 0) {
        firstChild[node] = nextChild[child]!;
        stack.push(child);
      } else {
        result[fill++] = order[node]!;
        stack.pop();
      }
    }
  }
  return result;
}

function eliminationTree(pattern: BlockPattern): NodeTree {
  const { nodeCount, adjStart, adj } = pattern;
  const parent = new Int32Array(nodeCount).fill(-1);
  const later: Int32Array[] = new Array(nodeCount);
  const kids: number[][] = Array.from({ length: nodeCount }, () => []);
  const mark = new Int32Array(nodeCount).fill(-1);
  for (let k = 0; k < nodeCount; k++) {
    const list: number[] = [];
    const take = (node: number) => {
      if (node > k && mark[node] !== k) {
        mark[node] = k;
        list.push(node);
      }
    };
    for (let e = adjStart[k]!; e < adjStart[k + 1]!; e++) take(adj[e]!);
    for (const child of kids[k]!) for (const node of later[child]!) take(node);
    const sorted = Int32Array.from(list).sort();
    later[k] = sorted;
    if (sorted.length > 0) {
      parent[k] = sorted[0]!;
      kids[sorted[0]!]!.push(k);
    }
  }
  return { parent, later };
}

/**
 * Plans the factorisation: groups the columns into fronts and lists the rows of each.
 *
 * @param pattern  pattern in a post-ordered elimination order
 * @returns        the plan, good for every matrix of this pattern
 * @source         from memory
 */
export function planLdl(pattern: BlockPattern): LdlPlan {
  const { later } = eliminationTree(pattern);
  const groups = groupColumns(pattern, later);
  const frontCount = groups.length;
  const pivotStart = new Int32Array(frontCount + 1);
  const rowStart = new Int32Array(frontCount + 1);
  const panelStart = new Float64Array(frontCount + 1);
  const rows: number[] = [];
  let maxRows = 0;
  groups.forEach(({ firstNode, lastNode, after }, f) => {
    pivotStart[f] = pattern.first[firstNode]!;
    pivotStart[f + 1] = pattern.first[lastNode + 1]!;
    for (let r = pivotStart[f]!; r < pivotStart[f + 1]!; r++) rows.push(r);
    for (const node of after)
      for (let r = pattern.first[node]!; r < pattern.first[node + 1]!; r++) rows.push(r);
    rowStart[f + 1] = rows.length;
    const height = rows.length - rowStart[f]!;
    maxRows = Math.max(maxRows, height);
    panelStart[f + 1] = panelStart[f]! + height * (pivotStart[f + 1]! - pivotStart[f]!);
  });
  const frontOfNode = new Int32Array(pattern.nodeCount);
  groups.forEach(({ firstNode, lastNode }, f) => {
    frontOfNode.fill(f, firstNode, lastNode + 1);
  });
  const children: number[][] = groups.map(() => []);
  groups.forEach(({ after }, f) => {
    if (after.length > 0) children[frontOfNode[after[0]!]!]!.push(f);
  });
  return {
    size: pattern.size,
    frontCount,
    pivotStart,
    rowStart,
    row: Int32Array.from(rows),
    panelStart,
    children,
    maxRows,
    entryCount: panelStart[frontCount]!,
  };
}

interface ColumnGroup {
  readonly firstNode: number;
  readonly lastNode: number;
  readonly after: Int32Array;
}

/** Merges a node into the group before it while the zeros this stores stay few. */
function groupColumns(pattern: BlockPattern, later: readonly Int32Array[]): ColumnGroup[] {
  const dofsOf = (nodes: Int32Array) =>
    nodes.reduce((sum, n) => sum + pattern.first[n + 1]! - pattern.first[n]!, 0);
  const groups: (ColumnGroup & { readonly waste: number })[] = [];
  for (let k = 0; k < pattern.nodeCount; k++) {
    let group = { firstNode: k, lastNode: k, after: later[k]!, waste: 0 };
    for (let below = groups.at(-1); below; below = groups.at(-1)) {
      if (below.after.length === 0 || below.after[0]! > k || below.lastNode + 1 !== group.firstNode) break;
      const own = pattern.first[below.lastNode + 1]! - pattern.first[below.firstNode]!;
      const upper = pattern.first[k + 1]! - pattern.first[group.firstNode]!;
      const afterDofs = dofsOf(group.after);
      const waste = below.waste + group.waste + own * (upper + afterDofs - dofsOf(below.after));
      const total = own + upper;
      const stored = (total * (total + 1)) / 2 + total * afterDofs;
      if (waste > (total < 16 ? 0.5 : total < 48 ? 0.2 : 0.06) * stored) break;
      groups.pop();
      group = { firstNode: below.firstNode, lastNode: k, after: group.after, waste };
    }
    groups.push(group);
  }
  return groups;
}

/**
 * Factors a sparse symmetric matrix, multifrontal, without exchange of pivots (right for positive definite matrices;
 * for K - shift M the pivots are checked not to vanish).
 *
 * @param plan     plan of this pattern
 * @param pattern  the pattern
 * @param values   lower triangle in the order of the pattern
 * @returns        the factor, or undefined when a pivot vanishes (the matrix is singular)
 * @source         from memory
 */
export function factorLdl(plan: LdlPlan, pattern: BlockPattern, values: Float64Array): LdlFactor | undefined {
  const { frontCount, pivotStart, rowStart, row, panelStart, children } = plan;
  const panels = new Float64Array(plan.entryCount);
  const place = new Int32Array(plan.size);
  const updates: (Float64Array | undefined)[] = new Array(frontCount);
  let negativePivotCount = 0;
  for (let f = 0; f < frontCount; f++) {
    const from = rowStart[f]!;
    const height = rowStart[f + 1]! - from;
    const pivots = pivotStart[f + 1]! - pivotStart[f]!;
    const rest = height - pivots;
    const panel = panels.subarray(panelStart[f]!, panelStart[f + 1]!);
    const update = new Float64Array(rest * rest);
    for (let i = 0; i < height; i++) place[row[from + i]!] = i;
    for (let c = 0; c < pivots; c++) {
      const column = pivotStart[f]! + c;
      for (let at = pattern.columnStart[column]!; at < pattern.columnStart[column + 1]!; at++)
        panel[c * height + place[pattern.row[at]!]!] = values[at]!;
    }
    for (const child of children[f]!) {
      const childFrom = rowStart[child]! + pivotStart[child + 1]! - pivotStart[child]!;
      addUpdate(
        updates[child]!,
        row,
        childFrom,
        rowStart[child + 1]! - childFrom,
        place,
        panel,
        update,
        height,
        pivots,
      );
      updates[child] = undefined;
    }
    const negative = factorPanel(panel, height, pivots);
    if (negative === undefined) return undefined;
    negativePivotCount += negative;
    updateRest(panel, height, pivots, update, rest);
    updates[f] = update;
  }
  return { plan, panels, negativePivotCount };
}

/** Adds a child's remainder into the parent's columns. */
function addUpdate(
  source: Float64Array,
  row: Int32Array,
  from: number,
  count: number,
  place: Int32Array,
  panel: Float64Array,
  update: Float64Array,
  height: number,
  pivots: number,
): void {
  const rest = height - pivots;
  const local = new Int32Array(count);
  for (let i = 0; i < count; i++) local[i] = place[row[from + i]!]!;
  for (let c = 0; c < count; c++) {
    const column = local[c]!;
    const inPanel = column < pivots;
    const target = inPanel ? panel : update;
    const base = inPanel ? column * height : (column - pivots) * rest - pivots;
    const own = c * count;
    for (let i = c; i < count; i++) target[base + local[i]!]! += source[own + i]!;
  }
}

/** LDL^T of the pivot columns, four at a time. One unbroken algorithm. */
function factorPanel(panel: Float64Array, height: number, pivots: number): number | undefined {
  let negative = 0;
  for (let k = 0; k < pivots; k += 4) {
    const end = Math.min(k + 4, pivots);
    for (let c = k; c < end; c++) {
      const col = c * height;
      for (let p = k; p < c; p++) {
        const a = panel[p * height + c]! * panel[p * height + p]!;
        const other = p * height;
        for (let i = c; i < height; i++) panel[col + i]! -= a * panel[other + i]!;
      }
      const d = panel[col + c]!;
      if (!(Math.abs(d) > 1e-290)) return undefined;
      if (d < 0) negative++;
      const inverse = 1 / d;
      for (let i = c + 1; i < height; i++) panel[col + i]! *= inverse;
    }
    if (end - k === 4) rankFour(panel, height, k, panel, height, 0, end, pivots);
  }
  return negative;
}

/** The remainder minus L D L^T of the pivot columns. */
function updateRest(
  panel: Float64Array,
  height: number,
  pivots: number,
  update: Float64Array,
  rest: number,
): void {
  let k = 0;
  for (; k + 4 <= pivots; k += 4) rankFour(panel, height, k, update, rest, pivots, pivots, height);
  for (; k < pivots; k++) {
    const col = k * height;
    const d = panel[col + k]!;
    for (let j = pivots; j < height; j++) {
      const a = panel[col + j]! * d;
      const base = (j - pivots) * rest - pivots;
      for (let i = j; i < height; i++) update[base + i]! -= a * panel[col + i]!;
    }
  }
}

/**
 * Subtracts the product of four pivot columns from columns `from` to `to` (rows from the diagonal down) of `target`,
 * whose columns are `stride` long and start `shift` rows further down. Two columns at a time. One unbroken algorithm.
 */
function rankFour(
  panel: Float64Array,
  height: number,
  k: number,
  target: Float64Array,
  stride: number,
  shift: number,
  from: number,
  to: number,
): void {
  const c0 = k * height;
  const c1 = c0 + height;
  const c2 = c1 + height;
  const c3 = c2 + height;
  const d0 = panel[c0 + k]!;
  const d1 = panel[c1 + k + 1]!;
  const d2 = panel[c2 + k + 2]!;
  const d3 = panel[c3 + k + 3]!;
  let j = from;
  for (; j + 1 < to; j += 2) {
    const a0 = panel[c0 + j]! * d0;
    const a1 = panel[c1 + j]! * d1;
    const a2 = panel[c2 + j]! * d2;
    const a3 = panel[c3 + j]! * d3;
    const b0 = panel[c0 + j + 1]! * d0;
    const b1 = panel[c1 + j + 1]! * d1;
    const b2 = panel[c2 + j + 1]! * d2;
    const b3 = panel[c3 + j + 1]! * d3;
    const one = (j - shift) * stride - shift;
    const two = one + stride;
    target[one + j]! -= a0 * panel[c0 + j]! + a1 * panel[c1 + j]! + a2 * panel[c2 + j]! + a3 * panel[c3 + j]!;
    for (let i = j + 1; i < height; i++) {
      const p0 = panel[c0 + i]!;
      const p1 = panel[c1 + i]!;
      const p2 = panel[c2 + i]!;
      const p3 = panel[c3 + i]!;
      target[one + i]! -= a0 * p0 + a1 * p1 + a2 * p2 + a3 * p3;
      target[two + i]! -= b0 * p0 + b1 * p1 + b2 * p2 + b3 * p3;
    }
  }
  if (j < to) {
    const a0 = panel[c0 + j]! * d0;
    const a1 = panel[c1 + j]! * d1;
    const a2 = panel[c2 + j]! * d2;
    const a3 = panel[c3 + j]! * d3;
    const one = (j - shift) * stride - shift;
    for (let i = j; i < height; i++)
      target[one + i]! -=
        a0 * panel[c0 + i]! + a1 * panel[c1 + i]! + a2 * panel[c2 + i]! + a3 * panel[c3 + i]!;
  }
}

/**
 * Solves A x = b with the factor, in place.
 *
 * @param factor  factor of A
 * @param x       b on the way in, the solution on the way out
 * @source        arithmetic
 */
export function solveLdl(factor: LdlFactor, x: Float64Array): void {
  const { plan, panels } = factor;
  const { frontCount, pivotStart, rowStart, row, panelStart } = plan;
  const work = new Float64Array(plan.maxRows);
  for (let f = 0; f < frontCount; f++) {
    const from = rowStart[f]!;
    const height = rowStart[f + 1]! - from;
    const begin = pivotStart[f]!;
    const pivots = pivotStart[f + 1]! - begin;
    for (let i = 0; i < pivots; i++) work[i] = x[begin + i]!;
    work.fill(0, pivots, height);
    forwardPanel(panels, panelStart[f]!, height, pivots, work);
    for (let i = 0; i < pivots; i++) x[begin + i] = work[i]!;
    for (let i = pivots; i < height; i++) x[row[from + i]!]! += work[i]!;
  }
  for (let f = frontCount - 1; f >= 0; f--) {
    const from = rowStart[f]!;
    const height = rowStart[f + 1]! - from;
    const begin = pivotStart[f]!;
    const pivots = pivotStart[f + 1]! - begin;
    for (let i = 0; i < pivots; i++) work[i] = x[begin + i]!;
    for (let i = pivots; i < height; i++) work[i] = x[row[from + i]!]!;
    backwardPanel(panels, panelStart[f]!, height, pivots, work);
    for (let i = 0; i < pivots; i++) x[begin + i] = work[i]!;
  }
}

/** L^-1 on the rows of one front, four columns at a time. One unbroken algorithm. */
function forwardPanel(
  panels: Float64Array,
  start: number,
  height: number,
  pivots: number,
  work: Float64Array,
): void {
  let k = 0;
  for (; k + 4 <= pivots; k += 4) {
    const c0 = start + k * height;
    const c1 = c0 + height;
    const c2 = c1 + height;
    const c3 = c2 + height;
    const x0 = work[k]!;
    const x1 = work[k + 1]! - panels[c0 + k + 1]! * x0;
    const x2 = work[k + 2]! - panels[c0 + k + 2]! * x0 - panels[c1 + k + 2]! * x1;
    const x3 = work[k + 3]! - panels[c0 + k + 3]! * x0 - panels[c1 + k + 3]! * x1 - panels[c2 + k + 3]! * x2;
    work[k + 1] = x1;
    work[k + 2] = x2;
    work[k + 3] = x3;
    for (let i = k + 4; i < height; i++)
      work[i]! -= panels[c0 + i]! * x0 + panels[c1 + i]! * x1 + panels[c2 + i]! * x2 + panels[c3 + i]! * x3;
  }
  for (; k < pivots; k++) {
    const col = start + k * height;
    const xk = work[k]!;
    for (let i = k + 1; i < height; i++) work[i]! -= panels[col + i]! * xk;
  }
}

/** L^-T D^-1 on the rows of one front, four columns at a time. One unbroken algorithm. */
function backwardPanel(
  panels: Float64Array,
  start: number,
  height: number,
  pivots: number,
  work: Float64Array,
): void {
  let k = pivots;
  for (; k % 4 !== 0; k--) {
    const col = start + (k - 1) * height;
    let sum = work[k - 1]! / panels[col + k - 1]!;
    for (let i = k; i < height; i++) sum -= panels[col + i]! * work[i]!;
    work[k - 1] = sum;
  }
  for (k -= 4; k >= 0; k -= 4) {
    const c0 = start + k * height;
    const c1 = c0 + height;
    const c2 = c1 + height;
    const c3 = c2 + height;
    let s0 = work[k]! / panels[c0 + k]!;
    let s1 = work[k + 1]! / panels[c1 + k + 1]!;
    let s2 = work[k + 2]! / panels[c2 + k + 2]!;
    let s3 = work[k + 3]! / panels[c3 + k + 3]!;
    for (let i = k + 4; i < height; i++) {
      const w = work[i]!;
      s0 -= panels[c0 + i]! * w;
      s1 -= panels[c1 + i]! * w;
      s2 -= panels[c2 + i]! * w;
      s3 -= panels[c3 + i]! * w;
    }
    s2 -= panels[c2 + k + 3]! * s3;
    s1 -= panels[c1 + k + 3]! * s3 + panels[c1 + k + 2]! * s2;
    s0 -= panels[c0 + k + 3]! * s3 + panels[c0 + k + 2]! * s2 + panels[c0 + k + 1]! * s1;
    work[k + 3] = s3;
    work[k + 2] = s2;
    work[k + 1] = s1;
    work[k] = s0;
  }
}
