import { MINUTE_MS } from '../quantity/time.ts';
import { planClass } from '../schedule/class/plan.ts';
import { type CivilClock, classPlanning, stepsToPublish } from './class-plan.ts';
import type { ClassState } from './class-state.ts';
import type { DemoWish } from './demo-wish.ts';
import { writePlanText } from './plan-text.ts';

/** Plans made for the demo: few, so that it is there at once. */
const iterations = 4;

/** The plan of what is left of the invented class, as text to be published. */
export function demoPlan(state: ClassState, wish: DemoWish): string {
  const offsetMin = wish.utcOffsetMin ?? 0;
  const clock: CivilClock = {
    timeZone: 'UTC',
    minuteOf: (ms) => Math.floor(ms / MINUTE_MS) + offsetMin,
    msOf: (minute) => (minute - offsetMin) * MINUTE_MS,
  };
  const { routeProblem: problem, dueMin } = classPlanning(state, { clock, nowMs: wish.nowMs });
  const plan = planClass(problem, {
    seed: wish.seed,
    iterations,
    dueMin: { course: dueMin },
  });
  return writePlanText(stepsToPublish(plan.problem, plan.entries, clock));
}
