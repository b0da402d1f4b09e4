import { describe, expect, it } from 'vitest';
import { nominalFigures } from '../route/nominal-figures.fixture.ts';
import { ownRoute } from '../route/route.ts';
import { foldBuild } from './build-facts.ts';
import { type ClassState, classState } from './class-state.ts';
import { courseFileText } from './course-export.ts';
import { foldCourse } from './course-facts.ts';
import { courseProblem, readCourseFile } from './course-file.ts';
import { demoCourse } from './demo.ts';
import { foldShop } from './shop-facts.ts';

const nowMs = Date.UTC(2031, 2, 11, 12);
const civil = (ms: number) => {
  const text = new Date(ms).toISOString();
  return { date: text.slice(0, 10), time: text.slice(11, 16) };
};

function demoState(): ClassState {
  const demo = demoCourse({
    seed: 1,
    nowMs,
    route: ownRoute(),
    pattern: { revision: 'r1', name: 'Pattern', text: 'text' },
    instrument: 'steel',
    figure: (id) => nominalFigures[id]?.[0],
  });
  const of = (stream: string) => demo.events.filter((e) => e.stream === stream);
  const streams = new Set(demo.events.map((e) => e.stream).filter((s) => s.startsWith('build:')));
  const builds = new Map([...streams].map((s) => [s.slice('build:'.length), foldBuild(of(s))]));
  return classState({
    route: ownRoute(),
    course: foldCourse(of('course:demo')),
    builds,
    shop: foldShop(of('shop:main')),
    people: demo.people,
  });
}

describe('a course as a file', () => {
  const state = demoState();
  const text = courseFileText(state, { timeZone: 'Europe/Vienna', civil, nowMs });
  const file = readCourseFile(text, ownRoute() as never);

  it('has every learner and every session of the record', () => {
    expect(file.setUp.courses[0]?.learners).toHaveLength(12);
    expect(file.sessions).toHaveLength(
      [...state.course.sessions.values()].filter((s) => s.cancelled === undefined).length,
    );
  });

  it('asks the planner for nothing that is done and rests no more', () => {
    const names = new Map(
      [...state.course.learners.values()].map((l) => [state.people.get(l.person)?.label, l.build]),
    );
    const problem = courseProblem(file);
    const fixed = new Set(problem.state?.fixed.map((f) => f.activityId));
    const open = problem.activities.filter((a) => !fixed.has(a.id) && a.buildIds.length === 1);
    expect(open.length).toBeGreaterThan(300);
    const wrong = open.filter((a) => {
      const build = names.get(a.buildIds[0]);
      return state.builds.get(build ?? '')?.operations.get(a.operationId)?.doneMs !== undefined;
    });
    expect(wrong.map((a) => a.id)).toEqual([]);
  });
});
