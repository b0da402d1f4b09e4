import { beforeAll, describe, expect, it } from 'vitest';
import { nominalFigures } from '../route/nominal-figures.fixture.ts';
import { ownRoute } from '../route/route.ts';
import { planClass } from '../schedule/class/plan.ts';
import { beginOf } from '../schedule/class/problem.ts';
import { foldBuild } from './build-facts.ts';
import {
  type CivilClock,
  classPlanning,
  othersMark,
  partOf,
  pinKeyOf,
  stepsToPublish,
} from './class-plan.ts';
import { type ClassState, classState } from './class-state.ts';
import { foldCourse } from './course-facts.ts';
import { demoCourse } from './demo.ts';
import type { RecordEvent } from './event.ts';
import { planFormat, writePlanText } from './plan-text.ts';
import { foldShop } from './shop-facts.ts';

const nowMs = Date.UTC(2031, 2, 11, 12);
const clock: CivilClock = {
  timeZone: 'Europe/Vienna',
  minuteOf: (ms) => Math.floor(ms / 60_000),
  msOf: (minute) => minute * 60_000,
};
const demo = demoCourse({
  seed: 1,
  nowMs,
  route: ownRoute(),
  pattern: { revision: 'r1', name: 'Pattern', text: 'text' },
  instrument: 'steel',
  figure: (id) => nominalFigures[id]?.[0],
});

let counter = 1e6;
function said(stream: string, kind: string, body: object): RecordEvent {
  counter++;
  return {
    id: `x${counter}`,
    stream: stream as RecordEvent['stream'],
    kind,
    device: 'z',
    counter,
    time: nowMs + counter - 1e6,
    by: 'teacher',
    body,
  };
}

function stateOf(more: readonly RecordEvent[] = []): ClassState {
  const events = [...demo.events, ...more];
  const of = (stream: string) => events.filter((e) => e.stream === stream);
  const streams = new Set(events.map((e) => e.stream).filter((s) => s.startsWith('build:')));
  return classState({
    route: ownRoute(),
    course: foldCourse(of('course:demo')),
    builds: new Map([...streams].map((s) => [s.slice('build:'.length), foldBuild(of(s))])),
    shop: foldShop(of('shop:main')),
    people: demo.people,
  });
}

describe('the plan of a class', () => {
  let publish: RecordEvent;
  let first: ReturnType<typeof classPlanning>;
  let entryCount = 0;
  beforeAll(() => {
    first = classPlanning(stateOf(), { clock, nowMs });
    const plan = planClass(first.problem, { seed: 1, iterations: 3 });
    const steps = stepsToPublish(plan.problem, plan.entries, clock);
    entryCount = steps.length;
    publish = said('course:demo', 'plan-published', { format: planFormat, steps: writePlanText(steps) });
  });

  it('names nobody: learners are the ids of their builds', () => {
    const names = new Set(demo.people.map((p) => p.label));
    expect(first.problem.learners.some((l) => names.has(l.id))).toBe(false);
    expect(names.has(String((publish.body as { steps: string }).steps.split('\t')[3]))).toBe(false);
  });

  it('comes back out of the record as it was published', () => {
    const again = classPlanning(stateOf([publish]), { clock, nowMs });
    const fixed = new Set(again.problem.state?.fixed.map((e) => e.activityId));
    const open = again.published.filter((e) => !fixed.has(e.activityId));
    expect(open.length).toBeGreaterThan(300);
    expect(open.length).toBeLessThanOrEqual(entryCount);
    expect(open.every((e) => beginOf(e) >= clock.minuteOf(nowMs))).toBe(true);
  });

  it('keeps a pinned step in its session when it is planned anew, and gives it free when the pin is withdrawn', () => {
    const before = classPlanning(stateOf([publish]), { clock, nowMs });
    const sessions = before.problem.windows.filter(
      (w) => w.kind === 'session' && w.beginMin > clock.minuteOf(nowMs),
    );
    const byId = new Map(before.problem.activities.map((a) => [a.id, a]));
    const last = before.published.toSorted((a, b) => beginOf(b) - beginOf(a));
    const entry = last.find((e) => {
      const a = byId.get(e.activityId);
      return (
        a !== undefined &&
        a.where === 'session' &&
        a.buildIds.length === 1 &&
        e.pieces.length === 1 &&
        a.ways.length === 1 &&
        a.ways[0]!.attendance.length === 0
      );
    })!;
    const activity = byId.get(entry.activityId)!;
    const target = sessions.find((w) => w.beginMin > beginOf(entry)) ?? sessions.at(-1)!;
    const pin = said('course:demo', 'step-pinned', {
      op: activity.operationId,
      part: partOf(activity),
      builds: activity.buildIds,
      session: 'evening-30',
      startMs: clock.msOf(target.beginMin),
      endMs: clock.msOf(target.beginMin + 10),
      ...(activity.ways[0]?.stationId === undefined ? {} : { station: activity.ways[0].stationId }),
    });
    const pinned = classPlanning(stateOf([publish, pin]), { clock, nowMs });
    expect([...pinned.pins]).toEqual([[activity.id, pin.id]]);
    const plan = planClass(pinned.problem, { seed: 1, iterations: 3 });
    expect(beginOf(plan.entries.find((e) => e.activityId === activity.id)!)).toBe(target.beginMin);
    const undone = said('course:demo', 'event-withdrawn', { event: pin.id });
    expect(classPlanning(stateOf([publish, pin, undone]), { clock, nowMs }).pins.size).toBe(0);
    expect(pinKeyOf(activity)).toContain(activity.operationId);
  });

  it('closes a station that is out of order for the sessions told, and leaves out who is absent', () => {
    const state = stateOf([
      said('shop:main', 'station-out-of-order', { station: 'thickness-sander', reason: 'belt torn' }),
      said('course:demo', 'absent', { session: 'evening-16', person: 'p3' }),
    ]);
    const { problem } = classPlanning(state, { clock, nowMs, outForSessions: 2 });
    const [closure] = problem.resources.find((r) => r.id === 'thickness-sander')?.closures ?? [];
    const sessions = problem.windows.filter((w) => w.kind === 'session' && w.endMin > clock.minuteOf(nowMs));
    expect(closure!.beginMin).toBe(clock.minuteOf(nowMs));
    expect(closure!.endMin).toBeGreaterThanOrEqual(sessions[1]!.endMin);
    expect(closure!.endMin).toBeLessThan(sessions[2]!.beginMin);
    expect(problem.learners.find((l) => l.id === 'b3')?.awayWindowIds).toHaveLength(1);
  });

  it('lets published work of another course of the shop stand and plans round it', () => {
    const one = stateOf([publish]);
    const other = { course: one.course, builds: one.builds };
    const { problem } = classPlanning({ ...one, others: [other] }, { clock, nowMs });
    const theirs = problem.activities.filter((a) => a.id.startsWith(othersMark));
    const fixed = new Set(problem.state?.fixed.map((e) => e.activityId));
    expect(theirs.length).toBeGreaterThan(300);
    expect(theirs.every((a) => fixed.has(a.id))).toBe(true);
  });

  it('learns minutes from work of which start and end are known', () => {
    expect(first.recordCount).toBeGreaterThan(50);
    expect(first.learned.usedFrac).toBeGreaterThan(0.2);
    expect(first.learned.usedFrac).toBeLessThanOrEqual(1);
    expect(first.learned.operations.length).toBeGreaterThan(5);
  });
});
