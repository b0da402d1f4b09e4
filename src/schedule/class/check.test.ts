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
    ['a step without a time', change('Ada/glue', { ...good[4]!, pieces: [] }), 'is planned without a time'],
    [
      'a way there is not',
      change('Ada/glue', at('Ada/glue', 10680, 10, { wayIndex: 3 })),
      'is done in way 3, which it does not have',
    ],
    [
      'somebody else in the place of the teacher',
      change('Ada/cut', at('Ada/cut', 600, 20, { attendantIds: ['Ben'] })),
      'needs one of teacher and has Ben',
    ],
    [
      'a change-over while the station is at work',
      change('Ben/sand', at('Ben/sand', 645, 10, { setUpBeginMin: 635, helperId: 'Ada' })),
      'sander is held 2 times',
    ],
    ['a step planned twice', [...good, good[4]!], 'Ada/glue is planned twice.'],
    ['an unknown step', [...good, at('Eve/cut', 10680, 5)], 'Eve/cut is planned but is no activity'],
  ])('%s', (_, entries, sentence) => {
    expect(classFaults(problem, entries).join('\n')).toContain(sentence);
  });

  const long = smallClass(
    ['Ada', 'Ben'],
    [
      step('Ada/carve', 'Ada', 40, { mayStop: true, jigIds: ['template'] }),
      step('Ben/draw', 'Ben', 10, { jigIds: ['template'] }),
      step('Ada/in', 'Ada', 10),
      step('Ada/out', 'Ada', 10),
      step('Ben/in', 'Ben', 10),
      step('Ben/out', 'Ben', 10),
    ],
    {
      resources: [...smallClass([], []).resources, { id: 'mould', name: 'mould', kind: 'jig', capacity: 1 }],
      spans: ['Ada', 'Ben'].map((buildId) => ({
        resourceId: 'mould',
        buildId,
        fromActivityId: `${buildId}/in`,
        untilActivityId: `${buildId}/out`,
        untilEdge: 'end' as const,
        restMin: 15,
      })),
    },
  );
  const pieces = (...list: [number, number][]): Partial<PlanEntry> => ({
    pieces: list.map(([beginMin, endMin]) => ({ beginMin, endMin })),
  });
  const sound = [
    at('Ada/carve', 0, 0, pieces([640, 660], [10680, 10700])),
    at('Ben/draw', 600, 10),
    at('Ada/in', 600, 10),
    at('Ada/out', 610, 10),
    at('Ben/in', 635, 10),
    at('Ben/out', 645, 10),
  ];
  const other = (id: string, next: PlanEntry): string =>
    classFaults(
      long,
      sound.map((e) => (e.activityId === id ? next : e)),
    ).join('\n');

  it('in work that may stop, in jigs and in things held over many steps', () => {
    expect(classFaults(long, sound)).toEqual([]);
    expect(other('Ada/carve', at('Ada/carve', 0, 0, pieces([630, 650], [10680, 10700])))).toContain(
      'is broken off at 650, before the session ends at 660',
    );
    expect(other('Ada/carve', at('Ada/carve', 0, 0, pieces([640, 660], [20760, 20780])))).toContain(
      'is broken off at 660 and not gone on with in the next session',
    );
    expect(other('Ada/carve', at('Ada/carve', 0, 0, pieces([10700, 10740], [640, 640])))).toContain(
      'backwards in time',
    );
    expect(other('Ben/draw', at('Ben/draw', 650, 10))).toContain('template is held 2 times');
    expect(other('Ben/in', at('Ben/in', 630, 10))).toContain('mould is held 2 times');
  });

  it('a frozen step that was moved, and a new one in the past', () => {
    const live = { ...problem, state: { nowMin: 640, fixed: [good[0]!] } };
    expect(
      classFaults(live, change('Ada/cut', at('Ada/cut', 605, 20, { attendantIds: ['teacher'] }))).join('\n'),
    ).toContain('Ada/cut stands as it is and was moved.');
    expect(classFaults(live, good).join('\n')).toContain('Ada/sand begins at 630, before now (640).');
  });
});
