import { describe, expect, it } from 'vitest';
import { minutesAsked } from './minutes-asked.ts';
import { smallClass, step, weekly } from './small-class.fixture.ts';

describe('minutes asked and there are', () => {
  it('sums the minutes asked and there are', () => {
    const problem = smallClass(
      ['Ada', 'Ben'],
      [
        step('Ada/a', 'Ada', 40, { teacherMin: 40, at: 'saw' }),
        step('Ben/a', 'Ben', 40, { teacherMin: 40, helperMin: 10 }),
      ],
      { windows: weekly(1, 60) },
    );
    const rows = new Map(minutesAsked(problem).map((r) => [r.resourceId, r]));
    expect(rows.get('teacher')).toMatchObject({ askedMin: 80, thereMin: 60, overFullMin: 20 });
    expect(rows.get('saw')).toMatchObject({ askedMin: 40, thereMin: 60, overFullMin: 0 });
    expect(rows.get('learners evening')).toMatchObject({ askedMin: 90, thereMin: 120 });
    // over-full by most comes first
    expect(minutesAsked(problem)[0]!.resourceId).toBe('teacher');
  });
});
