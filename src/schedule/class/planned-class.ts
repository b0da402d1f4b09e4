import { type ClassBound, classBound } from './bounds.ts';
import { type CompiledClass, compileClass } from './compile.ts';
import { makeClassDecoder } from './decode.ts';
import { type Measures, makeMeasurer, usualObjectives } from './measure.ts';
import type { Placement } from './placement.ts';
import { type ClassProblem, endOf, type PlanEntry } from './problem.ts';

/** A plan with everything needed to judge it. */
export interface PlannedClass {
  /** The problem that was planned: with more sessions behind the last when the course needs them. */
  readonly problem: ClassProblem;
  readonly entries: readonly PlanEntry[];
  readonly measures: Measures;
  readonly bound: ClassBound;
  /** Session in which the last build of each course is finished, counted from 1. */
  readonly sessionsByCourse: readonly {
    readonly courseId: string;
    readonly sessions: number;
    readonly given: number;
  }[];
  /** What the steps of this plan wait for behind their forerunners, the most first; the own other work is left out. */
  readonly waitedFor: readonly {
    readonly resourceId: string;
    readonly name: string;
    readonly minutes: number;
  }[];
  readonly iterations: number;
  readonly isCancelled: boolean;
}

/**
 * A plan that was made before, judged as a new one would be.
 *
 * @param problem  the class problem
 * @param entries  a plan that holds
 * @param dueMin   clock minute by which each course should be finished, by course id
 * @param bound    the bound of this problem, when it is known
 * @returns        the plan with its measures and its bound
 * @source         arithmetic
 */
export function judgedPlan(
  problem: ClassProblem,
  entries: readonly PlanEntry[],
  dueMin: Readonly<Record<string, number>> = {},
  bound?: ClassBound,
): PlannedClass {
  const compiled = compileClass(problem);
  const decoder = makeClassDecoder(compiled);
  decoder.fix(entries);
  const placement = decoder.decode(new Int32Array(0));
  const measurer = makeMeasurer(
    compiled,
    usualObjectives,
    problem.courses.map((c) => dueMin[c.id]),
  );
  return {
    problem,
    entries,
    measures: measurer.measures(placement),
    bound: bound ?? classBound(compiled),
    sessionsByCourse: sessionsByCourse(problem, problem, entries),
    waitedFor: [],
    iterations: 0,
    isCancelled: false,
  };
}

/** What the steps of a plan wait for, the most first. @source arithmetic */
export function waitedFor(compiled: CompiledClass, placement: Placement): PlannedClass['waitedFor'] {
  const waited = new Float64Array(compiled.rowCount + 1);
  for (let a = 0; a < compiled.activities.length; a++)
    if (placement.blockedBy[a]! >= 0) waited[placement.blockedBy[a]!]! += placement.waited[a]!;
  return [
    ...compiled.problem.resources.map((r, row) => ({
      resourceId: r.id,
      name: r.name,
      minutes: waited[row]!,
    })),
    { resourceId: 'helping hand', name: 'a second pair of hands', minutes: waited[compiled.rowCount]! },
  ]
    .filter((w) => w.minutes > 0)
    .sort((a, b) => b.minutes - a.minutes);
}

/** In which session each course ends, and how many it was given. @source arithmetic */
export function sessionsByCourse(
  given: ClassProblem,
  planned: ClassProblem,
  entries: readonly PlanEntry[],
): PlannedClass['sessionsByCourse'] {
  const courseOf = new Map(planned.activities.map((a) => [a.id, a.courseId]));
  return given.courses.map((course) => {
    const last = entries.reduce(
      (end, e) => (courseOf.get(e.activityId) === course.id ? Math.max(end, endOf(e)) : end),
      Number.NEGATIVE_INFINITY,
    );
    const sessions = planned.windows.filter((w) => w.kind === 'session' && w.courseId === course.id);
    return {
      courseId: course.id,
      sessions: sessions.filter((w) => w.beginMin < last).length,
      given: given.windows.filter((w) => w.kind === 'session' && w.courseId === course.id).length,
    };
  });
}
