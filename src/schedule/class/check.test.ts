import { describe, expect, it } from 'vitest';
import { classFaults } from './check.ts';
import type { PlanEntry } from './problem.ts';
import { smallClass, step } from './small-class.fixture.ts';

describe('the checker finds planted faults', () => {
  const problem = smallClass(
    ['Ada', 'Ben'],
    [
      step('Ada/cut', 'Ada', 20, { at: 'saw', teacherMin: 10 }),
      step('Ada/sand', 'Ada', 10, {
        at: 'sander',
        setting: 'thin',
        setUpMin: 5,
        after: [{ activityId: 'Ada/cut', lagMin: 5 }],
      }),
      step('Ben/sand', 'Ben', 10, { at: 'sander', setting: 'thick', setUpMin: 5, helperMin: 5 }),
      step('Ben/glue', 'Ben', 10, {
        at: 'frame',
        rests: [{ resourceId: 'frame', restMin: 60 }],
        releaseMin: 610,
      }),
      step('Ada/glue', 'Ada', 10, { at: 'frame' }),
    ],
    {
      resources: smallClass([], []).resources.map((r) =>
        r.id === 'saw' ? { ...r, closures: [{ beginMin: 650, endMin: 700 }] } : r,
      ),
      learners: [
        { id: 'Ada', courseId: 'evening' },
        { id: 'Ben', courseId: 'evening', awayWindowIds: ['session-2'] },
      ],
    },
  );
  const at = (id: string, beginMin: number, minutes: number, more: Partial<PlanEntry> = {}): PlanEntry => ({
    activityId: id,
    pieces: [{ beginMin, endMin: beginMin + minutes }],
    wayIndex: 0,
    attendantIds: [],
    ...more,
  });
  const good = [
    at('Ada/cut', 600, 20, { attendantIds: ['teacher'] }),
    at('Ada/sand', 630, 10, { setUpBeginMin: 625 }),
    at('Ben/sand', 645, 10, { setUpBeginMin: 640, helperId: 'Ada' }),
    at('Ben/glue', 620, 10),
    at('Ada/glue', 10680, 10),
  ];
  const change = (id: string, next: PlanEntry | undefined): PlanEntry[] =>
    good.flatMap((e) => (e.activityId === id ? (next === undefined ? [] : [next]) : [e]));

  it('and nothing in a sound plan', () => {
    expect(classFaults(problem, good)).toEqual([]);
  });

  it.each([
    ['a step left out', change('Ada/glue', undefined), 'Ada/glue is not planned.'],
    [
      'a step too early after its forerunner',
      change('Ada/sand', at('Ada/sand', 622, 10, { setUpBeginMin: 617 })),
      'it has to wait until 625 for Ada/cut',
    ],
    [
      'a step outside the session',
      change('Ada/glue', at('Ada/glue', 700, 10)),
      'Ada/glue lies from 700 to 710, outside its sessions.',
    ],
    ['a step over the bell', change('Ben/glue', at('Ben/glue', 655, 10)), 'outside its sessions'],
    [
      'two things of one learner at once',
      change('Ada/glue', at('Ada/glue', 605, 10)),
      'Ada is held 2 times, there are 1',
    ],
    [
      'a frame that still holds another',
      change('Ada/glue', at('Ada/glue', 650, 10)),
      'frame is held 2 times',
    ],
    [
      'a helper who is busy',
      change('Ben/sand', at('Ben/sand', 632, 10, { setUpBeginMin: 626, helperId: 'Ada' })),
      'Ada is held 2 times',
    ],
    [
      'nobody to help',
      change('Ben/sand', at('Ben/sand', 645, 10, { setUpBeginMin: 640 })),
      'needs a second pair of hands',
    ],
    [
      'help from oneself',
      change('Ben/sand', at('Ben/sand', 645, 10, { setUpBeginMin: 640, helperId: 'Ben' })),
      'cannot help at the own work',
    ],
    ['no teacher', change('Ada/cut', at('Ada/cut', 600, 20)), 'needs one of teacher and has nobody'],
    [
      'no change-over',
      change('Ben/sand', at('Ben/sand', 645, 10, { helperId: 'Ada' })),
      'wants sander set to thick; it stands at thin and only 0 of 5 minutes',
    ],
    ['wrong minutes', change('Ada/glue', at('Ada/glue', 10680, 8)), 'has 8 minutes planned, it takes 10'],
    ['a start before its release', change('Ben/glue', at('Ben/glue', 605, 10)), 'before it may at 610'],
    ['a session the learner misses', change('Ben/glue', at('Ben/glue', 10680, 10)), 'which Ben misses'],
    [
      'a closed station',
      change('Ada/cut', at('Ada/cut', 640, 20, { attendantIds: ['teacher'] })),
      'while it is closed from 650 to 700',
    ],
    [
      'a piece broken off',
      change('Ada/glue', {
        ...good[4]!,
        pieces: [
          { beginMin: 10680, endMin: 10685 },
          { beginMin: 10690, endMin: 10695 },
        ],
      }),
      'broken off although it may not stop',
    ],
    ['a step planned twice', [...good, good[4]!], 'Ada/glue is planned twice.'],
    ['an unknown step', [...good, at('Eve/cut', 10680, 5)], 'Eve/cut is planned but is no activity'],
  ])('%s', (_, entries, sentence) => {
    expect(classFaults(problem, entries).join('\n')).toContain(sentence);
  });

  it('a frozen step that was moved, and a new one in the past', () => {
    const live = { ...problem, state: { nowMin: 640, fixed: [good[0]!] } };
    expect(
      classFaults(live, change('Ada/cut', at('Ada/cut', 605, 20, { attendantIds: ['teacher'] }))).join('\n'),
    ).toContain('Ada/cut stands as it is and was moved.');
    expect(classFaults(live, good).join('\n')).toContain('Ada/sand begins at 630, before now (640).');
  });
});
