import { readFileSync } from 'node:fs';
import path from 'node:path';
import { buildReducer, foldBuild } from '../src/course/build-facts.ts';
import { classState } from '../src/course/class-state.ts';
import { foldCourse } from '../src/course/course-facts.ts';
import { demoCourse } from '../src/course/demo.ts';
import type { RecordEvent } from '../src/course/event.ts';
import { addEvents, foldEvents } from '../src/course/fold.ts';
import { foldShop } from '../src/course/shop-facts.ts';
import { during, opening } from '../src/course/tonight.ts';
import { sheetOfPattern } from '../src/figures/pattern-sheet.ts';
import { numberOf } from '../src/graph/sheet.ts';
import { readPattern } from '../src/pattern/pattern-file.ts';
import { ownRoute } from '../src/route/route.ts';
import { middleOf } from './_middle.ts';

const root = path.resolve(import.meta.dirname ?? '.', '..');
/** 30 builds with a full term folded from nothing within this. */
const FOLD_LIMIT_MS = 50;
const BUILD_COUNT = 30;
/** Events of a build that is finished, readings and rests with it. */
const EVENTS_A_BUILD = 450;
const ROUNDS = 15;

function timed(rounds: number, work: () => number): { readonly middleMs: number; readonly checksum: number } {
  const times: number[] = [];
  let checksum = 0;
  for (let i = 0; i < rounds; i++) {
    const from = performance.now();
    const sum = work();
    times.push(performance.now() - from);
    checksum += sum;
  }
  return { middleMs: middleOf(times), checksum };
}

/** The longest builds of the demo, lengthened with their own events to a full term. */
function fullTerm(events: readonly RecordEvent[]): RecordEvent[][] {
  return Array.from({ length: BUILD_COUNT }, (_, b) => {
    const own = events.filter((e) => e.stream === `build:b${(b % 12) + 1}`);
    const spanMs = (own.at(-1)?.time ?? 0) - (own[0]?.time ?? 0) + 1;
    return Array.from({ length: EVENTS_A_BUILD }, (_, i) => {
      const round = Math.floor(i / own.length);
      const e = own[i % own.length] as RecordEvent;
      return {
        ...e,
        id: `${b}-${i}`,
        stream: `build:x${b}` as const,
        counter: i + 1,
        time: e.time + round * spanMs,
      };
    });
  });
}

/** Prints how long folding, adding one event and the pages of a session take, in the middle of several. */
export async function run(): Promise<void> {
  const pattern = readPattern(readFileSync(path.join(root, 'data/patterns/small-steel-string.yaml'), 'utf8'));
  const sheet = sheetOfPattern(pattern);
  const nowMs = Date.UTC(2031, 2, 11, 18);
  const wish = {
    seed: 1,
    nowMs,
    route: ownRoute(),
    pattern: { revision: 'r1', name: pattern.name, text: 'pattern' },
    instrument: 'steel' as const,
    figure: (id: string) => numberOf(sheet, id),
  };
  const from = performance.now();
  const demo = demoCourse(wish);
  const demoMs = performance.now() - from;
  const builds = fullTerm(demo.events);
  const fold = timed(ROUNDS, () => builds.reduce((sum, list) => sum + foldBuild(list).operations.size, 0));
  const backward = builds.map((list) => [...list].reverse());
  const late = timed(ROUNDS, () => backward.reduce((sum, list) => sum + foldBuild(list).operations.size, 0));
  const one = builds[0] as RecordEvent[];
  const before = foldEvents(buildReducer, one.slice(0, -1));
  const add = timed(ROUNDS * 10, () => addEvents(buildReducer, before, one.slice(-1)).events.length);
  const of = (stream: string) => demo.events.filter((e) => e.stream === stream);
  const state = () =>
    classState({
      route: ownRoute(),
      course: foldCourse(of('course:demo')),
      builds: new Map(Array.from({ length: 12 }, (_, i) => [`b${i + 1}`, foldBuild(of(`build:b${i + 1}`))])),
      shop: foldShop(of('shop:main')),
      people: demo.people,
    });
  const states = Array.from({ length: ROUNDS * 2 }, state);
  let k = 0;
  const open = timed(ROUNDS, () => opening(states[k++] as ReturnType<typeof state>, nowMs).assigned.length);
  const live = timed(ROUNDS, () => during(states[k++] as ReturnType<typeof state>, nowMs).assigned.length);
  const rows: readonly (readonly [string, number, string])[] = [
    [
      `${BUILD_COUNT} builds of ${EVENTS_A_BUILD} events folded from nothing`,
      fold.middleMs,
      `limit ${FOLD_LIMIT_MS}`,
    ],
    ['the same, come in backwards', late.middleMs, `limit ${FOLD_LIMIT_MS}`],
    ['one event added to a build', add.middleMs, ''],
    ['opening of a class of 12', open.middleMs, ''],
    ['running session of a class of 12', live.middleMs, ''],
    [`demo course of ${demo.events.length} events made`, demoMs, 'once'],
  ];
  for (const [what, ms, note] of rows)
    console.log(`${what.padEnd(50)} ${ms.toFixed(2).padStart(9)} ms  ${note}`);
  console.log(`checksum ${fold.checksum + late.checksum + add.checksum + open.checksum + live.checksum}`);
  if (Math.max(fold.middleMs, late.middleMs) > FOLD_LIMIT_MS) process.exitCode = 1;
}
