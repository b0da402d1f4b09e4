import type { CompiledClass } from './compile.ts';

/**
 * How much has to follow each activity: longest way to the end in session minutes, where a rest in clock time
 * counts as the session minutes that pass meanwhile on average, at most half a session when it is short.
 *
 * @param compiled  the compiled class
 * @returns         tail of each activity including its own minutes, min
 * @source          common practice, no published source
 */
export function tailMinutes(compiled: CompiledClass): Float64Array {
  const tails = new Float64Array(compiled.activities.length);
  const share = compiled.sessionCalendar.map((calendar) => sessionShare(compiled, calendar.minutesBefore));
  for (let i = compiled.order.length - 1; i >= 0; i--) {
    const a = compiled.order[i]!;
    const { perClockMin, sessionMin } = share[compiled.courseOf[a]!]!;
    let behind = 0;
    for (const f of compiled.followers[a]!) {
      const link = compiled.before[f]!.find((l) => l.activity === a)!;
      const lag = Math.max(link.lagMin * perClockMin, Math.min(link.lagMin, sessionMin / 2));
      behind = Math.max(behind, tails[f]! + lag);
    }
    const isSession = compiled.activities[a]!.where === 'session';
    tails[a] = behind + (isSession ? compiled.ways[a]![0]!.durationMin : sessionMin / 4);
  }
  return tails;
}

function sessionShare(
  compiled: CompiledClass,
  minutesBefore: Int32Array,
): { perClockMin: number; sessionMin: number } {
  const { clockMin, slotCount } = compiled.grid;
  const total = minutesBefore[slotCount]!;
  const span = slotCount === 0 ? 1 : clockMin[slotCount - 1]! - clockMin[0]! + 1;
  let sessions = 1;
  for (let s = 1; s < slotCount; s++) if (clockMin[s]! - clockMin[s - 1]! > 1) sessions++;
  return { perClockMin: total / span, sessionMin: Math.max(1, total / sessions) };
}

/**
 * Sorts the activities by rising key and lets nothing stand before what it follows.
 *
 * @param compiled  the compiled class
 * @param keys      one key per activity; changed so that followers come no earlier than what they follow
 * @param list      receives the order
 * @source          arithmetic
 */
export function listByKeys(compiled: CompiledClass, keys: Float64Array, list: Int32Array): void {
  const { order, before } = compiled;
  for (let i = 0; i < order.length; i++) {
    const a = order[i]!;
    let key = keys[a]!;
    for (const link of before[a]!) {
      const other = keys[link.activity]! + 1e-7;
      if (other > key) key = other;
    }
    keys[a] = key;
  }
  list.set(order);
  list.sort((a, b) => keys[a]! - keys[b]!);
}
