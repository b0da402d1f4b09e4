import type { CompiledProject, Rows } from './compile.ts';

/** Working store of the decoder, reused from schedule to schedule. */
export interface Profile {
  readonly free: readonly Int32Array[];
  /** First slot that still holds the empty value in every word. */
  touched: number;
  /** Schedules generated with it so far. */
  schedules: number;
}

/** Makes an empty profile for a project. */
export function makeProfile(project: CompiledProject): Profile {
  return {
    free: project.words.map((word) => new Int32Array(project.horizon + 1).fill(word.full)),
    touched: 0,
    schedules: 0,
  };
}

/**
 * Serial schedule generation: takes the activities in the order of the list and starts each as early as its
 * forerunners and the free capacity allow.
 *
 * @param project   the compiled project
 * @param list      a precedence-feasible order in the direction of `before`
 * @param before    who has to be done first (swap for a backward pass)
 * @param profile   working store
 * @param starts    receives the start of each activity, counted from the beginning of that direction
 * @returns         the makespan in the project's compiled unit
 * @source          from memory
 */
export function generate(
  project: CompiledProject,
  list: Int32Array,
  before: Rows,
  profile: Profile,
  starts: Int32Array,
): number {
  const words = project.words;
  for (let w = 0; w < words.length; w++) profile.free[w]!.fill(words[w]!.full, 0, profile.touched);
  const makespan =
    words.length === 1
      ? generateOneWord(project, list, before, profile.free[0]!, starts)
      : words.length === 2
        ? generateTwoWords(project, list, before, profile.free[0]!, profile.free[1]!, starts)
        : generateManyWords(project, list, before, profile.free, starts);
  profile.touched = makespan;
  profile.schedules++;
  return makespan;
}

// The three loops below are one algorithm unrolled for the number of words: the search for a free window looks
// at its last slot first, so a conflict moves the window past it at once and no slot is looked at twice.

function generateOneWord(
  project: CompiledProject,
  list: Int32Array,
  before: Rows,
  free: Int32Array,
  starts: Int32Array,
): number {
  const { durations } = project;
  const { row, items } = before;
  const { demand, guard } = project.words[0]!;
  const count = list.length;
  let makespan = 0;
  for (let at = 0; at < count; at++) {
    const job = list[at]!;
    let start = 0;
    for (let p = row[job]!, last = row[job + 1]!; p < last; p++) {
      const other = items[p]!;
      const finish = starts[other]! + durations[other]!;
      if (finish > start) start = finish;
    }
    const duration = durations[job]!;
    const need = demand[job]!;
    let end = start + duration;
    if (need !== 0) {
      let floor = start;
      let slot = end - 1;
      while (slot >= floor) {
        if (((free[slot]! - need) & guard) !== guard) {
          start = slot + 1;
          floor = end;
          end = start + duration;
          slot = end - 1;
        } else slot--;
      }
      for (let s = start; s < end; s++) free[s]! -= need;
    }
    starts[job] = start;
    if (end > makespan) makespan = end;
  }
  return makespan;
}

function generateTwoWords(
  project: CompiledProject,
  list: Int32Array,
  before: Rows,
  freeA: Int32Array,
  freeB: Int32Array,
  starts: Int32Array,
): number {
  const { durations } = project;
  const { row, items } = before;
  const { demand: demandA, guard: guardA } = project.words[0]!;
  const { demand: demandB, guard: guardB } = project.words[1]!;
  const count = list.length;
  let makespan = 0;
  for (let at = 0; at < count; at++) {
    const job = list[at]!;
    let start = 0;
    for (let p = row[job]!, last = row[job + 1]!; p < last; p++) {
      const other = items[p]!;
      const finish = starts[other]! + durations[other]!;
      if (finish > start) start = finish;
    }
    const duration = durations[job]!;
    const needA = demandA[job]!;
    const needB = demandB[job]!;
    let end = start + duration;
    if (needA !== 0 || needB !== 0) {
      let floor = start;
      let slot = end - 1;
      while (slot >= floor) {
        if (((freeA[slot]! - needA) & guardA) !== guardA || ((freeB[slot]! - needB) & guardB) !== guardB) {
          start = slot + 1;
          floor = end;
          end = start + duration;
          slot = end - 1;
        } else slot--;
      }
      for (let s = start; s < end; s++) {
        freeA[s]! -= needA;
        freeB[s]! -= needB;
      }
    }
    starts[job] = start;
    if (end > makespan) makespan = end;
  }
  return makespan;
}

function generateManyWords(
  project: CompiledProject,
  list: Int32Array,
  before: Rows,
  free: readonly Int32Array[],
  starts: Int32Array,
): number {
  const { durations, words } = project;
  const { row, items } = before;
  let makespan = 0;
  for (const job of list) {
    let start = 0;
    for (let p = row[job]!, last = row[job + 1]!; p < last; p++) {
      const other = items[p]!;
      start = Math.max(start, starts[other]! + durations[other]!);
    }
    const duration = durations[job]!;
    for (let settled = false; !settled; ) {
      settled = true;
      for (let w = 0; w < words.length; w++) {
        const need = words[w]!.demand[job]!;
        if (need === 0) continue;
        const moved = firstWindow(free[w]!, need, words[w]!.guard, start, duration);
        if (moved > start) {
          start = moved;
          settled = false;
        }
      }
    }
    for (let w = 0; w < words.length; w++) {
      const need = words[w]!.demand[job]!;
      if (need === 0) continue;
      const slots = free[w]!;
      for (let s = start; s < start + duration; s++) slots[s]! -= need;
    }
    starts[job] = start;
    makespan = Math.max(makespan, start + duration);
  }
  return makespan;
}

function firstWindow(free: Int32Array, need: number, guard: number, from: number, duration: number): number {
  let start = from;
  let end = start + duration;
  let floor = start;
  let slot = end - 1;
  while (slot >= floor) {
    if (((free[slot]! - need) & guard) !== guard) {
      start = slot + 1;
      floor = end;
      end = start + duration;
      slot = end - 1;
    } else slot--;
  }
  return start;
}
