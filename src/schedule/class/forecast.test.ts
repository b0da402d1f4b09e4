import { describe, expect, it } from 'vitest';
import { expectClose } from '../../../test/support/expect-close.ts';
import { joinPlayed, makeCoursePlayer, readForecast, type Uncertainty } from './forecast.ts';
import { planClass } from './plan.ts';
import { type ClassProblem, endOf } from './problem.ts';
import { forecastSensitivities } from './sensitivities.ts';
import { smallClass, step, weekly } from './small-class.fixture.ts';

const nothing: Uncertainty = { minutesSpread: 0, absentChance: 0, scrapChance: 0, failChance: 0 };
const minutes = { lowMin: 10, likelyMin: 20, highMin: 40 };

/** Six steps of 20 minutes each behind one another for two learners: three fit into a session of 60. */
const problem: ClassProblem = smallClass(
  ['Ada', 'Ben'],
  ['Ada', 'Ben'].flatMap((l) =>
    [0, 1, 2, 3, 4, 5].map((i) =>
      step(`${l}/s${i}`, l, 20, {
        uncertainty: minutes,
        ...(i === 2 ? { at: 'saw' } : {}),
        after: i === 0 ? [] : [{ activityId: `${l}/s${i - 1}`, lagMin: 0 }],
      }),
    ),
  ),
  { windows: weekly(10, 60) },
);
const { entries } = planClass(problem, { iterations: 40 });
const setUp = { problem, entries, dueMin: { evening: 3 * 10_080 }, seed: 4 };
const play = (uncertainty: Uncertainty, runs: number, seed = 4): ReturnType<typeof readForecast> => {
  const own = { ...setUp, uncertainty, seed };
  return readForecast(own, makeCoursePlayer(own).play(0, runs));
};

describe('courses played through', () => {
  it('are the plan itself when nothing is left to chance', () => {
    const { learners } = play(nothing, 5);
    const planned = Math.max(...entries.filter((e) => e.activityId.startsWith('Ada')).map(endOf));
    expect(learners[0]).toMatchObject({ p10Min: planned, p50Min: planned, p90Min: planned });
  });

  it('depend only on the seed and the number of the run, so that they can be split', () => {
    const player = makeCoursePlayer(setUp);
    const whole = player.play(0, 60);
    const parts = joinPlayed([makeCoursePlayer(setUp).play(0, 25), makeCoursePlayer(setUp).play(25, 60)]);
    expect([...parts.finishMin]).toEqual([...whole.finishMin]);
    expectClose(
      parts.lostMin.reduce((a, b) => a + b, 0),
      whole.lostMin.reduce((a, b) => a + b, 0),
      { tol: 1e-6, source: 'arithmetic' },
    );
  });

  it('have p10 <= p50 <= p90, a chance between 0 and 1, and a finish that is later with more chance in it', () => {
    const calm = play({ ...nothing, minutesSpread: 0.5 }, 300);
    const wild = play({ absentChance: 0.3, scrapChance: 0.1, failChance: 0.05 }, 300);
    for (const l of [...calm.learners, ...wild.learners, ...wild.courses]) {
      expect(l.p10Min).toBeLessThanOrEqual(l.p50Min);
      expect(l.p50Min).toBeLessThanOrEqual(l.p90Min);
      expect(l.chance).toBeGreaterThanOrEqual(0);
      expect(l.chance).toBeLessThanOrEqual(1);
    }
    expect(wild.courses[0]!.p90Min).toBeGreaterThan(calm.courses[0]!.p90Min);
    expect(wild.courses[0]!.chance).toBeLessThan(calm.courses[0]!.chance!);
  });

  it('match the closed form of a learner who misses sessions', () => {
    // Ada needs two sessions of the three before the date and misses each with chance 0.3; Ben never misses one and needs
    // the same saw, which never stands in the way: chance = 1 - P(2 or 3 missed) = 1 - (3 * 0.09 * 0.7 + 0.027) = 0.784
    const { learners } = play({ ...nothing, absentOf: { Ada: 0.3, Ben: 0 } }, 4000);
    expectClose(learners[0]!.chance, 0.784, { tol: 0.025, source: 'binomial distribution' });
    expectClose(learners[1]!.chance, 1, { tol: 0.001, source: 'arithmetic' });
  });

  it('have room for a plan that needs far more sessions than the course has', () => {
    const short = {
      ...problem,
      windows: weekly(1, 60),
      activities: problem.activities.map((a) => ({
        ...a,
        after: a.after.map((l) => ({ ...l, lagMin: 40_000 })),
      })),
    };
    const plan = planClass(short, { iterations: 5 });
    const own = { problem: short, entries: plan.entries, uncertainty: nothing, seed: 4 };
    const { courses } = readForecast(own, makeCoursePlayer(own).play(0, 3));
    expect(courses[0]!.p50Session).toBe(plan.sessionsByCourse[0]!.sessions);
    expect(courses[0]!.p50Session).toBeGreaterThan(20);
  });

  it('follow the pace: a slow learner is done later', () => {
    const slow = play({ ...nothing, pace: { Ada: { factor: 1.6, logSd: 0 } } }, 20).learners[0]!;
    expect(slow.p50Min).toBeGreaterThan(play(nothing, 20).learners[0]!.p50Min);
  });

  it('name the station everything waits for', () => {
    const crowded = smallClass(
      ['Ada', 'Ben', 'Cleo'],
      ['Ada', 'Ben', 'Cleo'].map((l) => step(`${l}/saw`, l, 40, { at: 'saw', uncertainty: minutes })),
    );
    const own = {
      problem: crowded,
      entries: planClass(crowded, { iterations: 5 }).entries,
      uncertainty: nothing,
      dueMin: { evening: 10_080 },
    };
    expect(readForecast(own, makeCoursePlayer(own).play(0, 20)).bottlenecks[0]).toMatchObject({
      id: 'saw',
      shareFrac: 1,
    });
    const [best] = forecastSensitivities(own, 20);
    // three saws would let all three be done in the first session; a second one already lets the third be done in the second
    expect(best).toMatchObject({ kind: 'one more', id: 'saw' });
    expect(best!.earlierMin).toBeGreaterThan(0);
  });
});
