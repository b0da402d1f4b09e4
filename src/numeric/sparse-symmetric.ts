import type { Graph } from './nested-dissection.ts';

/**
 * The pattern of a sparse symmetric matrix made of small dense blocks, one per pair of neighbouring nodes, numbered
 * in elimination order. Only the lower triangle is kept, column by column, rows ascending, the diagonal first.
 */
export interface BlockPattern {
  readonly nodeCount: number;
  readonly size: number;
  /** First unknown of each node; one entry more than nodes. */
  readonly first: Int32Array;
  /** Later neighbours of each node, ascending, in compressed rows. */
  readonly adjStart: Int32Array;
  readonly adj: Int32Array;
  /** How many rows of the column lie between the node's own block and this neighbour's block. */
  readonly adjRow: Int32Array;
  readonly columnStart: Int32Array;
  readonly row: Int32Array;
}

/**
 * The pattern of the matrix whose blocks are the edges of a graph, in a given elimination order.
 *
 * @param graph  symmetric adjacency without self loops
 * @param order  order[k] = node eliminated as number k
 * @param dofs   unknowns of each node (in the numbering of the graph); > 0
 * @returns      the lower triangle's pattern
 * @source       arithmetic
 */
export function blockPattern(graph: Graph, order: Int32Array, dofs: Int32Array): BlockPattern {
  const nodeCount = order.length;
  const place = new Int32Array(nodeCount);
  for (let k = 0; k < nodeCount; k++) place[order[k]!] = k;
  const first = new Int32Array(nodeCount + 1);
  for (let k = 0; k < nodeCount; k++) first[k + 1] = first[k]! + dofs[order[k]!]!;
  const adjStart = new Int32Array(nodeCount + 1);
  const adj = new Int32Array(graph.neighbour.length >> 1);
  const adjRow = new Int32Array(adj.length);
  let fill = 0;
  for (let k = 0; k < nodeCount; k++) {
    const node = order[k]!;
    for (let e = graph.start[node]!; e < graph.start[node + 1]!; e++) {
      const other = place[graph.neighbour[e]!]!;
      if (other > k) adj[fill++] = other;
    }
    adj.subarray(adjStart[k]!, fill).sort();
    let rows = 0;
    for (let e = adjStart[k]!; e < fill; e++) {
      adjRow[e] = rows;
      rows += first[adj[e]! + 1]! - first[adj[e]!]!;
    }
    adjStart[k + 1] = fill;
  }
  const size = first[nodeCount]!;
  return {
    nodeCount,
    size,
    first,
    adjStart,
    adj,
    adjRow,
    ...expandColumns(nodeCount, size, first, adjStart, adj),
  };
}

function expandColumns(
  nodeCount: number,
  size: number,
  first: Int32Array,
  adjStart: Int32Array,
  adj: Int32Array,
): { columnStart: Int32Array; row: Int32Array } {
  const columnStart = new Int32Array(size + 1);
  for (let k = 0; k < nodeCount; k++) {
    let below = 0;
    for (let e = adjStart[k]!; e < adjStart[k + 1]!; e++) below += first[adj[e]! + 1]! - first[adj[e]!]!;
    for (let c = first[k]!; c < first[k + 1]!; c++)
      columnStart[c + 1] = columnStart[c]! + (first[k + 1]! - c) + below;
  }
  const row = new Int32Array(columnStart[size]!);
  let at = 0;
  for (let k = 0; k < nodeCount; k++)
    for (let c = first[k]!; c < first[k + 1]!; c++) {
      for (let r = c; r < first[k + 1]!; r++) row[at++] = r;
      for (let e = adjStart[k]!; e < adjStart[k + 1]!; e++)
        for (let r = first[adj[e]!]!; r < first[adj[e]! + 1]!; r++) row[at++] = r;
    }
  return { columnStart, row };
}

/**
 * Where the block of two nodes starts below the own block of the earlier one.
 *
 * @param earlier  elimination number of the earlier node
 * @param later    elimination number of a later neighbour
 * @returns        rows between the own block and this block
 * @throws RangeError when the two are no neighbours
 * @source         arithmetic
 */
export function blockRow(pattern: BlockPattern, earlier: number, later: number): number {
  let lo = pattern.adjStart[earlier]!;
  let hi = pattern.adjStart[earlier + 1]! - 1;
  while (lo <= hi) {
    const mid = (lo + hi) >> 1;
    const got = pattern.adj[mid]!;
    if (got === later) return pattern.adjRow[mid]!;
    if (got < later) lo = mid + 1;
    else hi = mid - 1;
  }
  throw new RangeError(`blockRow: nodes ${earlier} and ${later} are not neighbours in the pattern`);
}

/**
 * The product of the symmetric matrix with a vector.
 *
 * @param values  lower triangle in the order of the pattern
 * @param x       the vector
 * @param out     gets the product; must not be x
 * @source        arithmetic
 */
export function multiplySymmetric(
  pattern: BlockPattern,
  values: Float64Array,
  x: Float64Array,
  out: Float64Array,
): void {
  const { columnStart, row, size } = pattern;
  out.fill(0);
  for (let c = 0; c < size; c++) {
    const xc = x[c]!;
    let at = columnStart[c]!;
    const end = columnStart[c + 1]!;
    let sum = values[at]! * xc;
    for (at++; at < end; at++) {
      const r = row[at]!;
      const a = values[at]!;
      out[r]! += a * xc;
      sum += a * x[r]!;
    }
    out[c]! += sum;
  }
}
