import { InputError } from '../quantity/input-error.ts';
import type { ClassProblem, PlanEntry } from '../schedule/class/problem.ts';

/** A step that is done or running. Without times it is long over and nothing of it rests any more. */
export interface DoneStep {
  readonly learnerId: string;
  readonly operationId: string;
  /** Undefined: the whole operation. */
  readonly partIndex: number | undefined;
  readonly beginMin: number | undefined;
  /** Undefined with a begin: still running. */
  readonly endMin: number | undefined;
}

/**
 * The problem with what has happened: steps done without times are taken out, steps with times stand as they were.
 *
 * @param problem  the whole course
 * @param done     what is done or running
 * @param nowMin   the moment; undefined when the course has not begun
 * @returns        the problem from now on
 * @throws InputError when a running step has no moment to run at
 * @assumes        an activity with several members is done when it is done for all of them
 * @source         arithmetic
 */
export function withProgress(
  problem: ClassProblem,
  done: readonly DoneStep[],
  nowMin: number | undefined,
): ClassProblem {
  if (done.length === 0 && nowMin === undefined) return problem;
  const named = new Map<string, DoneStep>();
  for (const d of done) {
    const key = `${d.learnerId}|${d.operationId}|${d.partIndex ?? 'whole'}`;
    if (!named.has(key)) named.set(key, d);
  }
  const stepOf = (learner: string, operationId: string, partIndex: number): DoneStep | undefined =>
    named.get(`${learner}|${operationId}|${partIndex}`) ?? named.get(`${learner}|${operationId}|whole`);
  const over = new Set<string>();
  const fixed: PlanEntry[] = [];
  for (const activity of problem.activities) {
    const steps = activity.buildIds.map((l) => stepOf(l, activity.operationId, activity.partIndex));
    if (steps.length === 0 || steps.some((s) => s === undefined)) continue;
    const timed = steps.find((s) => s!.beginMin !== undefined);
    if (timed === undefined) over.add(activity.id);
    else
      fixed.push({
        activityId: activity.id,
        pieces: [
          {
            beginMin: timed.beginMin!,
            endMin: timed.endMin ?? runningUntil(activity.id, timed, activity.ways[0]!.durationMin, nowMin),
          },
        ],
        wayIndex: 0,
        attendantIds: [],
      });
  }
  const latest = Math.max(0, ...fixed.map((e) => e.pieces[0]!.beginMin));
  const activities = problem.activities
    .filter((a) => !over.has(a.id))
    .map((a) => ({ ...a, after: a.after.filter((l) => !over.has(l.activityId)) }));
  const kept = new Set(activities.map((a) => a.id));
  return {
    ...problem,
    activities,
    spans: (problem.spans ?? []).filter((s) => kept.has(s.fromActivityId) && kept.has(s.untilActivityId)),
    state: { nowMin: nowMin ?? latest + 1, fixed },
  };
}

function runningUntil(id: string, step: DoneStep, minutes: number, nowMin: number | undefined): number {
  if (nowMin === undefined)
    throw new InputError(
      'course-now',
      `"${id}" is running, but the progress has no "now"; give the moment as 2026-10-06T19:10.`,
      'progress',
    );
  return Math.max(nowMin, step.beginMin! + minutes);
}
