import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../../test/support/expect-close.ts';
import { classBound } from './bounds.ts';
import { classFaults } from './check.ts';
import { type CompiledClass, compileClass } from './compile.ts';
import { makeClassDecoder } from './decode.ts';
import { makeMeasurer, usualObjectives } from './measure.ts';
import { planClass } from './plan.ts';
import type { ClassProblem, PlanEntry } from './problem.ts';
import { smallClass, step, weekly } from './small-class.fixture.ts';

/** Two learners with four steps each, one step together, some work before the session, absences; drawn. */
const tinyClass = fc.infiniteStream(fc.integer({ min: 0, max: 9999 })).map((draw): ClassProblem => {
  const next = (below: number): number => draw.next().value! % below;
  const names = ['Ada', 'Ben'];
  const own = names.flatMap((l) =>
    [0, 1, 2].map((i) =>
      step(`${l}/s${i}`, next(8) === 0 ? undefined : l, 5 + next(45), {
        buildIds: [l],
        where: 'session',
        ...(next(2) === 0 ? { at: ['saw', 'sander', 'frame'][next(3)]! } : {}),
        ...(next(3) === 0 ? { teacherMin: 5 + next(10) } : {}),
        ...(next(5) === 0 ? { helperMin: 5 } : {}),
        ...(next(4) === 0 ? { rests: [{ resourceId: 'frame', restMin: next(11_000) }] } : {}),
        mayStop: next(4) === 0,
        after: Array.from({ length: i }, (_, k) => k)
          .filter(() => next(3) > 0)
          .map((k) => ({ activityId: `${l}/s${k}`, lagMin: next(2) === 0 ? next(12_000) : 0 })),
      }),
    ),
  );
  const together = step('both/t', undefined, 10 + next(40), {
    memberIds: names,
    buildIds: names,
    after: next(2) === 0 ? names.map((l) => ({ activityId: `${l}/s${next(3)}`, lagMin: next(400) })) : [],
  });
  return smallClass(names, [...own, together], {
    windows: weekly(14, 50 + next(30)),
    learners: names.map((id) => ({
      id,
      courseId: 'evening',
      ...(next(3) === 0 ? { awayWindowIds: [`session-${1 + next(3)}`] } : {}),
    })),
  });
});

/** Calls back for every order in which nothing stands before what it follows. */
function everyOrder(compiled: CompiledClass, visit: (list: Int32Array) => void): void {
  const count = compiled.activities.length;
  const list = new Int32Array(count);
  const used = new Uint8Array(count);
  const extend = (at: number): void => {
    if (at === count) visit(list);
    for (let a = 0; a < count; a++) {
      if (used[a] === 1 || compiled.before[a]!.some((l) => used[l.activity] === 0)) continue;
      used[a] = 1;
      list[at] = a;
      extend(at + 1);
      used[a] = 0;
    }
  };
  extend(0);
}

/** Shortest of the plans of every order there is, each of them judged by the checker when it is the shortest so far. */
function shortestOfAll(problem: ClassProblem): number {
  const compiled = compileClass(problem);
  const decoder = makeClassDecoder(compiled);
  const measurer = makeMeasurer(compiled, usualObjectives, [undefined]);
  let best = Number.MAX_SAFE_INTEGER;
  everyOrder(compiled, (list) => {
    const placement = decoder.decode(list);
    if (!placement.isComplete) return;
    const { makespanMin } = measurer.measures(placement);
    if (makespanMin >= best) return;
    best = makespanMin;
    expect(classFaults(problem, decoder.entries())).toEqual([]);
  });
  return best;
}

describe('the bound', () => {
  it('is never over the shortest plan of all orders, and often meets it (seed 31)', () => {
    let met = 0;
    let runs = 0;
    fc.assert(
      fc.property(tinyClass, (problem) => {
        const bound = classBound(compileClass(problem)).makespanMin;
        const best = shortestOfAll(problem);
        expect(bound).toBeLessThanOrEqual(best);
        runs++;
        if (bound === best) met++;
      }),
      { seed: 31, numRuns: 60 },
    );
    expect(met).toBeGreaterThan(runs / 3);
  }, 60_000);

  it('counts all of the own work that has to come before a step, not only its longest chain', () => {
    // Three steps of 50 minutes take three sessions of 60, for two do not fit into one; the gluing of 20 then lies in
    // session 4, and after twenty hours of rest it is signed in session 5. The longest chain alone is over in session 3.
    const before = [0, 1, 2].map((i) => step(`Ada/s${i}`, 'Ada', 50));
    const problem = smallClass(
      ['Ada'],
      [
        ...before,
        step('Ada/glue', 'Ada', 20, { after: before.map((b) => ({ activityId: b.id, lagMin: 0 })) }),
        step('Ada/sign', 'Ada', 10, { after: [{ activityId: 'Ada/glue', lagMin: 1200 }] }),
      ],
    );
    const { measures, bound } = planClass(problem, { iterations: 100, seed: 1 });
    expectClose(measures.makespanMin, 250, {
      tol: 0.5,
      source: 'argued above: four sessions and 10 minutes',
    });
    expectClose(bound.makespanMin, 250, { tol: 0.5, source: 'argued above' });
  });

  it('follows what really happened, also out of order and quicker than planned', () => {
    const chain = smallClass(
      ['Ada'],
      [
        step('Ada/a', 'Ada', 50),
        step('Ada/b', 'Ada', 50, { after: [{ activityId: 'Ada/a', lagMin: 0 }] }),
        step('Ada/c', 'Ada', 20, { after: [{ activityId: 'Ada/b', lagMin: 0 }] }),
      ],
    );
    const done = (activityId: string, beginMin: number, endMin: number): PlanEntry => ({
      activityId,
      pieces: [{ beginMin, endMin }],
      wayIndex: 0,
      attendantIds: [],
    });
    // b was done in five minutes although a is still to do; c may follow at once
    const live = { ...chain, state: { nowMin: 610, fixed: [done('Ada/b', 600, 605)] } };
    const { entries, bound, measures } = planClass(live, { iterations: 30, seed: 1 });
    expect(classFaults(live, entries).filter((f) => !f.startsWith('Ada/b'))).toEqual([]);
    // 50 of the 70 minutes left fill this session
    expectClose(measures.makespanMin, 80, { tol: 0.5, source: 'arithmetic' });
    expectClose(bound.makespanMin, 80, { tol: 0.5, source: 'arithmetic' });
  });
});
