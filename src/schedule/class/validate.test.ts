import { describe, expect, it } from 'vitest';
import { planClass } from './plan.ts';
import { step, twoLearners } from './small-class.fixture.ts';

describe('bad classes are one sentence', () => {
  const base = twoLearners();
  it.each([
    [
      'a circle',
      {
        activities: [
          step('a', 'Ada', 5, { after: [{ activityId: 'b', lagMin: 0 }] }),
          step('b', 'Ada', 5, { after: [{ activityId: 'a', lagMin: 0 }] }),
        ],
      },
      'These wait for each other in a circle: a -> b -> a',
    ],
    [
      'an unknown station',
      { activities: [step('a', 'Ada', 5, { at: 'lathe' })] },
      '"a" is done at "lathe", which this shop does not have',
    ],
    [
      'a session that ends before it begins',
      { windows: [{ id: 's', courseId: 'evening', kind: 'session' as const, beginMin: 10, endMin: 5 }] },
      'Session "s" ends before it begins',
    ],
    ['no session left', { windows: [] }, 'Course "Evening" has zero sessions left'],
    ['negative minutes', { activities: [step('a', 'Ada', -5)] }, 'The work of "a" is -5 minutes'],
    [
      'an unknown forerunner',
      { activities: [step('a', 'Ada', 5, { after: [{ activityId: 'q', lagMin: 0 }] })] },
      '"a" comes after "q", which is not given',
    ],
    [
      'a learner called like the teacher',
      { learners: [{ id: 'teacher', courseId: 'evening' }] },
      '"teacher" is a learner and also a station, jig or person of the shop',
    ],
    [
      'an unknown course',
      { learners: [{ id: 'Ada', courseId: 'noon' }] },
      'Learner "Ada" belongs to course "noon", which is not given',
    ],
  ])('%s', (_, change, sentence) => {
    expect(() => planClass({ ...base, ...change }, { iterations: 150, seed: 3 })).toThrow(sentence);
  });
});
