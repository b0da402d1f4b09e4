import type { Graph } from './nested-dissection.ts';

/**
 * A fill-reducing elimination order: again and again the node whose elimination joins the fewest unknowns (their
 * count bounded from above, as in approximate minimum degree).
 *
 * @param graph   symmetric adjacency without self loops
 * @param weight  how many unknowns each node carries; > 0
 * @returns       order[k] = the node eliminated as number k
 * @source        from memory
 */
export function minimumDegree(graph: Graph, weight: Int32Array): Int32Array {
  const n = weight.length;
  const state = makeState(graph, weight);
  const order = new Int32Array(n);
  for (let k = 0; k < n; k++) {
    const pivot = takeLightest(state);
    order[k] = pivot;
    eliminate(state, pivot);
  }
  return order;
}

interface State {
  readonly weight: Int32Array;
  /** Neighbours that are still variables, not reached through an element. */
  readonly near: number[][];
  /** Elements (eliminated nodes) a variable belongs to. */
  readonly elements: number[][];
  /** Variables of each element; emptied when it is absorbed. */
  readonly members: number[][];
  readonly isGone: Uint8Array;
  readonly isAbsorbed: Uint8Array;
  readonly degree: Int32Array;
  /** Doubly linked lists of variables by degree. */
  readonly head: Int32Array;
  readonly next: Int32Array;
  readonly previous: Int32Array;
  readonly mark: Int32Array;
  readonly outside: Int32Array;
  readonly outsideStamp: Int32Array;
  lowest: number;
  stamp: number;
}

function makeState(graph: Graph, weight: Int32Array): State {
  const n = weight.length;
  const total = weight.reduce((sum, w) => sum + w, 0);
  const state: State = {
    weight,
    near: Array.from({ length: n }, (_, i) => [
      ...graph.neighbour.subarray(graph.start[i]!, graph.start[i + 1]!),
    ]),
    elements: Array.from({ length: n }, () => []),
    members: Array.from({ length: n }, () => []),
    isGone: new Uint8Array(n),
    isAbsorbed: new Uint8Array(n),
    degree: new Int32Array(n),
    head: new Int32Array(total + 1).fill(-1),
    next: new Int32Array(n).fill(-1),
    previous: new Int32Array(n).fill(-1),
    mark: new Int32Array(n),
    outside: new Int32Array(n),
    outsideStamp: new Int32Array(n),
    lowest: 0,
    stamp: 0,
  };
  for (let i = n - 1; i >= 0; i--) {
    let sum = 0;
    for (const j of state.near[i]!) sum += weight[j]!;
    insert(state, i, sum);
  }
  return state;
}

function insert(state: State, i: number, degree: number): void {
  state.degree[i] = degree;
  const first = state.head[degree]!;
  state.next[i] = first;
  state.previous[i] = -1;
  if (first >= 0) state.previous[first] = i;
  state.head[degree] = i;
  if (degree < state.lowest) state.lowest = degree;
}

function remove(state: State, i: number): void {
  const [before, after] = [state.previous[i]!, state.next[i]!];
  if (before >= 0) state.next[before] = after;
  else state.head[state.degree[i]!] = after;
  if (after >= 0) state.previous[after] = before;
}

function takeLightest(state: State): number {
  while (state.head[state.lowest]! < 0) state.lowest++;
  const pivot = state.head[state.lowest]!;
  remove(state, pivot);
  return pivot;
}

/** Makes the pivot an element and brings the degrees of its variables up to date. One unbroken algorithm. */
function eliminate(state: State, pivot: number): void {
  const { weight, near, elements, members, isGone, isAbsorbed, mark } = state;
  isGone[pivot] = 1;
  const stamp = ++state.stamp;
  const list: number[] = [];
  let size = 0;
  const take = (i: number): void => {
    if (isGone[i] || mark[i] === stamp) return;
    mark[i] = stamp;
    size += weight[i]!;
    list.push(i);
  };
  for (const i of near[pivot]!) take(i);
  for (const e of elements[pivot]!) {
    for (const i of members[e]!) take(i);
    isAbsorbed[e] = 1;
    members[e] = [];
  }
  members[pivot] = list;
  near[pivot] = [];
  elements[pivot] = [];
  // how much of every touched element lies outside the new one
  for (const i of list)
    for (const e of elements[i]!) {
      if (isAbsorbed[e]) continue;
      if (state.outsideStamp[e] !== stamp) {
        state.outsideStamp[e] = stamp;
        let whole = 0;
        for (const j of members[e]!) if (!isGone[j]) whole += weight[j]!;
        state.outside[e] = whole;
      }
      state.outside[e]! -= weight[i]!;
    }
  for (const i of list) {
    const kept: number[] = [pivot];
    let degree = size - weight[i]!;
    for (const e of elements[i]!) {
      if (isAbsorbed[e] || state.outside[e] === 0) continue;
      kept.push(e);
      degree += state.outside[e]!;
    }
    elements[i] = kept;
    const others: number[] = [];
    for (const j of near[i]!)
      if (!isGone[j] && mark[j] !== stamp) {
        others.push(j);
        degree += weight[j]!;
      }
    near[i] = others;
    remove(state, i);
    insert(state, i, Math.min(degree, state.head.length - 1));
  }
}
