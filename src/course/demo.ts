import { demoPlan } from './demo-plan.ts';
import type { Demo, DemoWish } from './demo-wish.ts';
import { demoHeldCount } from './demo-wish.ts';
import { DemoWorld } from './demo-world.ts';

/**
 * An invented evening class of 12, half way through its term, whose next session is today or tomorrow: made by letting
 * the class follow the plain rule evening by evening with uncertain minutes.
 *
 * @param wish  seed, moment, route, pattern and its figures
 * @returns     events and people; the same wish gives the same demo
 * @source      common practice, no published source
 */
export function demoCourse(wish: DemoWish): Demo {
  const w = new DemoWorld(wish);
  w.setUp();
  for (let k = 0; k < demoHeldCount; k++) {
    w.prepare(k);
    w.evening(k);
  }
  w.prepare(demoHeldCount - 1, true);
  w.openBench();
  w.asideNotes();
  w.publish(demoPlan(w.state(), wish));
  return {
    course: w.course,
    shop: w.shop,
    events: w.events,
    people: w.people,
    next: w.session(demoHeldCount),
  };
}
