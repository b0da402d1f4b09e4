import { type CompiledClass, compileClass } from './compile.ts';
import { makeClassDecoder } from './decode.ts';
import { mirrorClass } from './mirror.ts';
import type { Placement } from './placement.ts';
import { listByKeys, tailMinutes } from './priority.ts';

/**
 * Orders by what has to follow, with one learner a little ahead of the next, so that they do not all want the same
 * station at once; what has a date of its own first; and one course whole before the others.
 */
export function openingLists(compiled: CompiledClass): Int32Array[] {
  const tails = tailMinutes(compiled);
  const rank = rankInCourse(compiled);
  const ahead = [10, 20, 30, 45, 60].map((aheadMin) =>
    tails.map(
      (tail, a) => aheadMin * Math.min(...compiled.builds[a]!.map((l) => rank[l]!), rank.length) - tail,
    ),
  );
  const courseCount = compiled.courseLearners.length;
  const oneByOne =
    courseCount === 1
      ? []
      : Array.from({ length: courseCount }, (_, first) =>
          tails.map(
            (tail, a) => (compiled.courseOf[a] === first ? 0 : 1e6 * (1 + compiled.courseOf[a]!)) - tail,
          ),
        );
  return [...datedFirst(compiled, tails), ...ahead, ...oneByOne].map((keys) => {
    const list = new Int32Array(keys.length);
    listByKeys(compiled, keys, list);
    return list;
  });
}

/** Steps with a date of their own, and what comes before them, ahead of everything else; none without such a step. */
function datedFirst(compiled: CompiledClass, tails: Float64Array): Float64Array[] {
  const isDated = compiled.activities.map((a) => a.dueMin !== undefined);
  if (!isDated.includes(true)) return [];
  for (const a of compiled.order.toReversed()) isDated[a] ||= compiled.followers[a]!.some((f) => isDated[f]);
  return [tails.map((tail, a) => (isDated[a] ? -1e6 : 0) - tail)];
}

function rankInCourse(compiled: CompiledClass): number[] {
  const seen = new Map<number, number>();
  return Array.from(compiled.learnerCourse, (course) => {
    const rank = seen.get(course) ?? 0;
    seen.set(course, rank + 1);
    return rank;
  });
}

/**
 * Plans the class backwards in the order of the plan's ends; the turned-round order is what it makes of that. */
export function makePushBack(compiled: CompiledClass): (placement: Placement, list: Int32Array) => void {
  const mirrored = compileClass(mirrorClass(compiled.problem));
  const decoder = makeClassDecoder(mirrored);
  const keys = new Float64Array(compiled.activities.length);
  return (placement, list) => {
    for (let a = 0; a < keys.length; a++) keys[a] = -placement.end[a]!;
    listByKeys(mirrored, keys, list);
    const late = decoder.decode(list);
    for (let a = 0; a < keys.length; a++)
      keys[a] = late.end[a]! > 0 ? -late.end[a]! : -mirrored.grid.slotCount;
    listByKeys(compiled, keys, list);
  };
}
