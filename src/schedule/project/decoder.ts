import type { CompiledProject } from './compile.ts';
import { generate, makeProfile, type Profile } from './generate.ts';
import { makeKeySorter } from './sort.ts';

/** A schedule seen from one end: starts counted from that end, and how long it is. */
export interface Side {
  readonly starts: Int32Array;
  makespan: number;
}

/** Called after every schedule with its starts as counted from that end; answers whether to stop. */
export type Seen = (side: Side, isForward: boolean) => boolean;

/** Generates schedules in both directions of time. */
export interface Decoder {
  readonly profile: Profile;
  /** From the beginning, in the order of the list. */
  forward(list: Int32Array, into: Side): void;
  /** From the end: `into` counts from the end backwards. The list names the last activity first. */
  backward(list: Int32Array, into: Side): void;
  /** Fills `keys` with the place of each activity counted from the other end (its finish turned round). */
  turn(side: Side, keys: Int32Array): void;
  /** Sorts the activities by rising key in the given direction; ties keep precedence. */
  sortForward(keys: Int32Array, mostKey: number, into: Int32Array): void;
  sortBackward(keys: Int32Array, mostKey: number, into: Int32Array): void;
  /** Pushes everything as late as it goes, then as early as it goes: never longer than before. Answers whether `seen` stopped it. */
  justify(side: Side, seen: Seen): boolean;
}

/**
 * Makes a decoder with its own working store.
 *
 * @param project  the compiled project
 * @returns        the decoder
 * @source         from memory
 */
export function makeDecoder(project: CompiledProject): Decoder {
  const profile = makeProfile(project);
  const sorter = makeKeySorter();
  const backOrder = project.order.slice().reverse();
  const keys = new Int32Array(project.count);
  const list = new Int32Array(project.count);
  const late: Side = makeSide(project.count);
  const decoder: Decoder = {
    profile,
    forward: (order, into) => {
      into.makespan = generate(project, order, project.before, profile, into.starts);
    },
    backward: (order, into) => {
      into.makespan = generate(project, order, project.after, profile, into.starts);
    },
    turn: (side, turned) => {
      const { starts, makespan } = side;
      const { durations, count } = project;
      for (let j = 0; j < count; j++) turned[j] = makespan - starts[j]! - durations[j]!;
    },
    sortForward: (sortKeys, mostKey, into) => sorter.sort(project.order, sortKeys, mostKey, into),
    sortBackward: (sortKeys, mostKey, into) => sorter.sort(backOrder, sortKeys, mostKey, into),
    justify: (side, seen) => {
      decoder.turn(side, keys);
      decoder.sortBackward(keys, side.makespan, list);
      decoder.backward(list, late);
      if (seen(late, false)) return true;
      decoder.turn(late, keys);
      decoder.sortForward(keys, late.makespan, list);
      decoder.forward(list, side);
      return seen(side, true);
    },
  };
  return decoder;
}

/** Makes room for one schedule. */
export function makeSide(count: number): Side {
  return { starts: new Int32Array(count), makespan: 0 };
}

/** Copies one schedule over another. */
export function copySide(from: Side, to: Side): void {
  to.starts.set(from.starts);
  to.makespan = from.makespan;
}
