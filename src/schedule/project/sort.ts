/** Sorts activities by whole keys: stable counting sort with its own store. */
export interface KeySorter {
  /** Fills `into` with the members of `order`, rising by key; equal keys keep the order they had. */
  sort(order: Int32Array, keys: Int32Array, mostKey: number, into: Int32Array): void;
}

/** Makes a sorter. */
export function makeKeySorter(): KeySorter {
  let places = new Int32Array(1024);
  return {
    sort(order, keys, mostKey, into) {
      if (places.length < mostKey + 2) places = new Int32Array(2 * (mostKey + 2));
      else places.fill(0, 0, mostKey + 2);
      const count = order.length;
      for (let i = 0; i < count; i++) places[keys[order[i]!]! + 1]!++;
      for (let k = 0; k <= mostKey; k++) places[k + 1]! += places[k]!;
      for (let i = 0; i < count; i++) {
        const job = order[i]!;
        into[places[keys[job]!]!++] = job;
      }
    },
  };
}
