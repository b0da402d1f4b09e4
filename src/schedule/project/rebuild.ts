import type { Random } from '../../numeric/random.ts';
import type { CompiledProject, Rows } from './compile.ts';
import { copySide, type Decoder, makeSide, type Seen, type Side } from './decoder.ts';

/** Search that takes part of the order out and puts it back at random places that precedence allows. */
export interface Rebuilder {
  /** One try from the current schedule. `heatFrac` is the rise accepted with chance 1/e. Answers whether it was stopped. */
  step(heatFrac: number, seen: Seen): boolean;
}

/**
 * Makes the rebuilder.
 *
 * @param project    the compiled project
 * @param decoder    working decoder
 * @param random     seeded chance
 * @param from       the schedule to begin with, counted from the beginning
 * @returns          the rebuilder
 * @source           from memory
 */
export function makeRebuilder(
  project: CompiledProject,
  decoder: Decoder,
  random: Random,
  from: Side,
): Rebuilder {
  const { count } = project;
  let current = makeSide(count);
  let trial = makeSide(count);
  const spare = makeSide(count);
  copySide(from, current);
  const keys = new Int32Array(count);
  const list = new Int32Array(count);
  const order = makeReorder(project, random);

  const generateFrom = (side: Side, toForward: boolean, into: Side, isShaken: boolean): void => {
    decoder.turn(side, keys);
    if (toForward) decoder.sortForward(keys, side.makespan, list);
    else decoder.sortBackward(keys, side.makespan, list);
    if (isShaken) order(list, keys, side.makespan, toForward);
    if (toForward) decoder.forward(list, into);
    else decoder.backward(list, into);
  };

  return {
    step: (heatFrac, seen) => {
      // shaken and generated from the end of time, then pushed back to its beginning
      generateFrom(current, false, spare, true);
      if (seen(spare, false)) return true;
      generateFrom(spare, true, trial, false);
      if (seen(trial, true)) return true;
      const rise = trial.makespan - current.makespan;
      if (rise <= 0 || random.next() < Math.exp(-rise / (heatFrac * current.makespan))) {
        [current, trial] = [trial, current];
      }
      return false;
    },
  };
}

/** Shakes a list: takes some activities out and puts each back between its forerunners and followers. */
function makeReorder(
  project: CompiledProject,
  random: Random,
): (list: Int32Array, keys: Int32Array, makespan: number, isForward: boolean) => void {
  const { count } = project;
  const places = new Float64Array(count);
  const upper = new Float64Array(count);
  const taken = new Uint8Array(count);
  return (list, keys, makespan, isForward) => {
    const before = isForward ? project.before : project.after;
    const after = isForward ? project.after : project.before;
    for (let i = 0; i < count; i++) places[list[i]!] = i;
    chooseTaken(project, keys, makespan, random, taken);
    // upper limit from the kept followers, from the end backwards; then new places from the front
    for (let i = count - 1; i >= 0; i--) {
      const job = list[i]!;
      if (taken[job] === 0) continue;
      upper[job] = limit(
        after,
        job,
        (other) => (taken[other] === 1 ? upper[other]! : places[other]!),
        count,
        Math.min,
      );
    }
    for (let i = 0; i < count; i++) {
      const job = list[i]!;
      if (taken[job] === 0) continue;
      const low = limit(before, job, (other) => places[other]!, -1, Math.max);
      places[job] = low + (upper[job]! - low) * (0.000001 + 0.999998 * random.next());
    }
    insertionSort(list, places);
  };
}

function limit(
  rows: Rows,
  job: number,
  placeOf: (other: number) => number,
  start: number,
  choose: (a: number, b: number) => number,
): number {
  let value = start;
  for (let p = rows.row[job]!; p < rows.row[job + 1]!; p++) value = choose(value, placeOf(rows.items[p]!));
  return value;
}

function chooseTaken(
  project: CompiledProject,
  keys: Int32Array,
  makespan: number,
  random: Random,
  taken: Uint8Array,
): void {
  const { count, durations } = project;
  taken.fill(0);
  const share = 0.02 + 0.13 * random.next();
  const kind = random.next();
  if (kind < 0.6) {
    const length = Math.max(1, Math.round(makespan * share));
    const from = random.below(Math.max(1, makespan - length + 1));
    for (let j = 0; j < count; j++)
      if (keys[j]! < from + length && keys[j]! + durations[j]! > from) taken[j] = 1;
  } else if (kind < 0.8) {
    for (let j = 0; j < count; j++) if (random.next() < share) taken[j] = 1;
  } else walk(project, random, Math.max(2, Math.round(count * share)), taken);
}

function walk(project: CompiledProject, random: Random, wanted: number, taken: Uint8Array): void {
  let job = random.below(project.count);
  for (let step = 0; step < wanted; step++) {
    taken[job] = 1;
    const rows = random.next() < 0.5 ? project.before : project.after;
    const degree = rows.row[job + 1]! - rows.row[job]!;
    job =
      degree === 0 || random.next() < 0.1
        ? random.below(project.count)
        : rows.items[rows.row[job]! + random.below(degree)]!;
  }
}

function insertionSort(list: Int32Array, places: Float64Array): void {
  for (let i = 1; i < list.length; i++) {
    const job = list[i]!;
    const place = places[job]!;
    let at = i - 1;
    while (at >= 0 && places[list[at]!]! > place) {
      list[at + 1] = list[at]!;
      at--;
    }
    list[at + 1] = job;
  }
}
