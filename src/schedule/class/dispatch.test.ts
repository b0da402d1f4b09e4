import { describe, expect, it } from 'vitest';
import { dispatch, type SessionNow } from './dispatch.ts';
import type { Activity, ClassProblem, PlanEntry } from './problem.ts';
import { smallClass, step } from './small-class.fixture.ts';

const at = (id: string, beginMin: number, minutes: number): PlanEntry => ({
  activityId: id,
  pieces: [{ beginMin, endMin: beginMin + minutes }],
  wayIndex: 0,
  attendantIds: [],
});
const classOf = (...activities: Activity[]): ClassProblem => smallClass(['Ada', 'Ben'], activities);
const now = (problem: ClassProblem, more: Partial<SessionNow> = {}): SessionNow => ({
  problem,
  nowMin: 610,
  presentIds: ['Ada', 'Ben'],
  happened: [],
  runningIds: [],
  plan: problem.activities.map((a, i) => at(a.id, 600 + i, 1)),
  ...more,
});
const offersOf = (session: SessionNow, learner: string): string[] =>
  dispatch(session)
    .learners.find((l) => l.learnerId === learner)!
    .offers.map((o) => o.activityId);
const waitingOf = (session: SessionNow, learner: string): string | undefined =>
  dispatch(session).learners.find((l) => l.learnerId === learner)!.waiting;

describe('a live session', () => {
  it('offers the two steps the plan has next, with a reason', () => {
    const problem = classOf(
      step('Ada/a', 'Ada', 10, { at: 'bench' }),
      step('Ada/b', 'Ada', 10),
      step('Ada/c', 'Ada', 10),
    );
    const [ada] = dispatch(now(problem)).learners;
    expect(ada!.offers.map((o) => o.activityId)).toEqual(['Ada/a', 'Ada/b']);
    expect(ada!.offers[0]!.reason).toBe(
      'bench is free now; 10 minutes fit before the bell; the plan has it next.',
    );
  });

  it('offers nothing to who is not here', () => {
    expect(
      dispatch(now(classOf(step('Ada/a', 'Ada', 10)), { presentIds: ['Ben'] })).learners.map(
        (l) => l.learnerId,
      ),
    ).toEqual(['Ben']);
  });

  it.each([
    ['a step longer than the minutes left', step('Ada/a', 'Ada', 55), {}, 'only 50 are left'],
    [
      'a gluing that cannot be cleaned up before the bell',
      step('Ada/a', 'Ada', 48, { at: 'frame', rests: [{ resourceId: 'frame', restMin: 600 }] }),
      {},
      'with clamping and cleaning',
    ],
    [
      'a gluing that must be released when nobody is there',
      step('Ada/a', 'Ada', 20, { at: 'frame', rests: [{ resourceId: 'frame', restMin: 40 }] }),
      {},
      'nobody is there then',
    ],
    [
      'a machine without a key',
      step('Ada/a', 'Ada', 10, { at: 'saw' }),
      { keyHolders: { saw: ['Ben'] } },
      'Ada has no key for saw',
    ],
    [
      'a busy station',
      step('Ada/a', 'Ada', 10, { at: 'saw' }),
      { happened: [at('Ben/saw', 605, 40)], runningIds: ['Ben/saw'] },
      'saw is free in 35 minutes',
    ],
    [
      'a step whose forerunner rests',
      step('Ada/a', 'Ada', 10, { after: [{ activityId: 'Ben/saw', lagMin: 100 }] }),
      { happened: [at('Ben/saw', 600, 5)] },
      'it rests for 95 more minutes',
    ],
    [
      'a step whose forerunner is open',
      step('Ada/a', 'Ada', 10, { after: [{ activityId: 'Ben/saw', lagMin: 0 }] }),
      {},
      'it waits for "Ben/saw"',
    ],
    [
      'work for two when one is alone',
      step('Ada/a', 'Ada', 10, { helperMin: 5 }),
      { presentIds: ['Ada'] },
      'no second pair of hands',
    ],
  ])('never offers %s', (_, activity, change, words) => {
    const session = now(
      classOf(activity, step('Ben/saw', 'Ben', 40, { at: 'saw' })),
      change as Partial<SessionNow>,
    );
    expect(offersOf(session, 'Ada')).toEqual([]);
    expect(waitingOf(session, 'Ada')).toContain(words);
  });

  it('lets a gluing rest on over the bell when that does no harm, but never without the time to clean up', () => {
    const glue = (minutes: number) =>
      classOf(step('Ada/a', 'Ada', minutes, { at: 'frame', rests: [{ resourceId: 'frame', restMin: 40 }] }));
    expect(offersOf(now(glue(20)), 'Ada')).toEqual([]);
    expect(offersOf(now(glue(20), { mayRestOn: true }), 'Ada')).toEqual(['Ada/a']);
    expect(offersOf(now(glue(48), { mayRestOn: true }), 'Ada')).toEqual([]);
  });

  it('lets a learner without a key work while somebody stands beside the whole time', () => {
    const problem = classOf(step('Ada/a', 'Ada', 10, { at: 'saw', teacherMin: 10 }));
    expect(offersOf(now(problem, { keyHolders: { saw: [] } }), 'Ada')).toEqual(['Ada/a']);
    const teacherBusy = {
      ...classOf(
        step('Ada/a', 'Ada', 10, { at: 'saw', teacherMin: 10 }),
        step('Ben/x', 'Ben', 40, { teacherMin: 40 }),
      ),
    };
    const running = { ...at('Ben/x', 605, 40), attendantIds: ['teacher'] };
    expect(
      offersOf(
        now(teacherBusy, { keyHolders: { saw: [] }, happened: [running], runningIds: ['Ben/x'] }),
        'Ada',
      ),
    ).toEqual([]);
  });

  it('names useful work while a machine is busy', () => {
    const problem = classOf(
      step('Ada/saw', 'Ada', 10, { at: 'saw' }),
      step('Ada/carve', 'Ada', 30, { at: 'bench', mayStop: true }),
      step('Ben/saw', 'Ben', 40, { at: 'saw' }),
    );
    const session = now(problem, { happened: [at('Ben/saw', 605, 40)], runningIds: ['Ben/saw'] });
    const [offer] = dispatch(session).learners[0]!.offers;
    expect(offer).toMatchObject({ activityId: 'Ada/carve' });
    expect(offer!.reason).toContain('useful while waiting');
  });

  it('forms a batch of one setting, what the machine stands at first, and what is to be released', () => {
    const problem = classOf(
      step('Ada/thin', 'Ada', 5, { at: 'sander', setting: 'thin', setUpMin: 5 }),
      step('Ben/thin', 'Ben', 5, { at: 'sander', setting: 'thin', setUpMin: 5 }),
      step('Ada/glue', 'Ada', 5, { at: 'frame', rests: [{ resourceId: 'frame', restMin: 20 }] }),
    );
    const { batches, settings, releases } = dispatch(
      now(problem, { settings: { sander: 'thick' }, happened: [at('Ada/glue', 580, 5)] }),
    );
    expect(batches).toEqual([
      { stationId: 'sander', setting: 'thin', activityIds: ['Ada/thin', 'Ben/thin'] },
    ]);
    expect(settings).toEqual([{ stationId: 'sander', setting: 'thin', isSet: false, forCount: 2 }]);
    expect(releases).toEqual([{ activityId: 'Ada/glue', resourceId: 'frame', atMin: 605, isOver: true }]);
  });
});
