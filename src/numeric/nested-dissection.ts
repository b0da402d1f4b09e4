/** An undirected graph in compressed rows: the neighbours of node i are `neighbour[start[i] .. start[i + 1])`. */
export interface Graph {
  readonly start: Int32Array;
  readonly neighbour: Int32Array;
}

/** Pieces of at most this many nodes are not cut any further. */
const leafSizeCount = 8;

/**
 * A fill-reducing elimination order for a graph whose nodes have places in the plane: cut the longer way in the
 * middle, put the nodes that touch the other side last, go on in both halves.
 *
 * @param graph   symmetric adjacency without self loops
 * @param x       first coordinate of each node, any unit
 * @param y       second coordinate of each node, same unit
 * @param weight  how many unknowns each node carries; > 0
 * @returns       order[k] = the node eliminated as number k
 * @source        from memory
 */
export function nestedDissection(
  graph: Graph,
  x: Float64Array,
  y: Float64Array,
  weight: Int32Array,
): Int32Array {
  const order = new Int32Array(weight.length);
  const nodes = Int32Array.from(weight, (_, i) => i);
  // 0 = not in the piece at hand; every piece gets two numbers of its own, for its lower and upper half
  const side = new Int32Array(weight.length);
  let nextSide = 1;
  const cut = (piece: Int32Array, from: number): void => {
    if (piece.length <= leafSizeCount) {
      order.set(piece, from);
      return;
    }
    const best = [x, y]
      .map((key) => splitAtMedian(graph, piece, key, weight, side, (nextSide += 2) - 2))
      .reduce((a, b) => (b.cost < a.cost ? b : a));
    if (best.low.length === 0 && best.high.length === 0) {
      order.set(piece, from);
      return;
    }
    cut(best.low, from);
    cut(best.high, from + best.low.length);
    order.set(best.between, from + best.low.length + best.high.length);
  };
  cut(nodes, 0);
  return order;
}

interface Split {
  readonly low: Int32Array;
  readonly high: Int32Array;
  readonly between: Int32Array;
  readonly cost: number;
}

function splitAtMedian(
  graph: Graph,
  piece: Int32Array,
  key: Float64Array,
  weight: Int32Array,
  side: Int32Array,
  mark: number,
): Split {
  const sorted = piece.slice();
  const half = sorted.length >> 1;
  selectNth(sorted, key, half);
  for (let i = 0; i < sorted.length; i++) side[sorted[i]!] = i < half ? mark : mark + 1;
  const fromHigh = touching(graph, sorted.subarray(half), side, mark);
  const fromLow = touching(graph, sorted.subarray(0, half), side, mark + 1);
  const heavy = (list: Int32Array) => list.reduce((sum, i) => sum + weight[i]!, 0);
  const [highCost, lowCost] = [heavy(fromHigh), heavy(fromLow)];
  const between = highCost <= lowCost ? fromHigh : fromLow;
  for (const node of between) side[node] = -1;
  const low = sorted.subarray(0, half).filter((i) => side[i] === mark);
  const high = sorted.subarray(half).filter((i) => side[i] === mark + 1);
  return { low, high, between, cost: Math.min(highCost, lowCost) };
}

function touching(graph: Graph, nodes: Int32Array, side: Int32Array, other: number): Int32Array {
  return nodes.filter((i) => {
    for (let k = graph.start[i]!; k < graph.start[i + 1]!; k++)
      if (side[graph.neighbour[k]!] === other) return true;
    return false;
  });
}

/** Rearranges `list` so that its first `n` members have the smallest keys (ties by node number). */
function selectNth(list: Int32Array, key: Float64Array, n: number): void {
  const before = (a: number, b: number) => key[a]! < key[b]! || (key[a] === key[b] && a < b);
  let [lo, hi] = [0, list.length - 1];
  while (lo < hi) {
    const pivot = list[(lo + hi) >> 1]!;
    let [i, j] = [lo, hi];
    while (i <= j) {
      while (before(list[i]!, pivot)) i++;
      while (before(pivot, list[j]!)) j--;
      if (i <= j) {
        const swap = list[i]!;
        list[i++] = list[j]!;
        list[j--] = swap;
      }
    }
    if (n <= j) hi = j;
    else if (n >= i) lo = i;
    else return;
  }
}
