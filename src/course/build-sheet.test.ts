import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { sheetOfPattern } from '../figures/pattern-sheet.ts';
import { numberOf } from '../graph/sheet.ts';
import { readPattern } from '../pattern/pattern-file.ts';
import { planRoute } from '../route/planned-route.ts';
import { readingOf } from '../route/reading-of.ts';
import { ownRoute } from '../route/route.ts';
import type { Reading } from '../route/route-types.ts';
import { type BuildFacts, foldBuild } from './build-facts.ts';
import {
  judgeContext,
  judgeReading,
  limitsInBuild,
  readingNumber,
  sheetOfBuild,
  shopMean,
} from './build-sheet.ts';
import type { RecordEvent } from './event.ts';
import { rescuesFor } from './rescues-for.ts';

const practice = 'common practice, no published source';
const route = ownRoute();
const steel = readPattern(readFileSync('data/patterns/small-steel-string.yaml', 'utf8'));
const reading = (id: string): Reading => readingOf(route, id) as Reading;

function build(...drafts: readonly (readonly [string, object])[]): BuildFacts {
  const setUp = { course: 'c', person: 'p', instrument: 'steel', pattern: 'r1', handed: 'right' };
  return foldBuild(
    [['build-set-up', setUp] as const, ...drafts].map(
      ([kind, body], i): RecordEvent => ({
        id: `e${i}`,
        stream: 'build:b1',
        kind,
        device: 'd',
        counter: i + 1,
        time: 60_000 * (i + 1),
        by: 'p',
        body,
      }),
    ),
  );
}
const read = (id: string, value: number, spot?: string) =>
  ['reading', { op: id.split('.')[0], reading: id, value, unit: 'mm', ...(spot ? { spot } : {}) }] as const;
const context = (facts: BuildFacts) => ({
  ...judgeContext(route, steel, facts, [facts]),
  plan: planRoute(route, { instrument: 'steel' }),
  pattern: steel,
});

describe('sheetOfBuild', () => {
  it('puts the measured plate in place of the drawn one, and everything behind it follows in this build alone', () => {
    const facts = build(
      read('T10.1', 2.61, 'bridge, treble side'),
      read('T10.1', 2.58, 'bridge, bass side'),
      read('T10.1', 2.4, 'lower bout, centre'),
    );
    const sheet = sheetOfBuild(route, steel, facts);
    expectClose(numberOf(sheet, 'top.thickness.final'), 2.58, { tol: 1e-9, source: 'arithmetic' });
    const drawn = sheetOfPattern(steel);
    const left = (s: typeof sheet) => numberOf(s, 'rosette.wood_left.least_at_cutting') as number;
    // [practice] max(1, 0.45 t) + (before - t): 1.161 + 0.62 against 1.26 + 0.4
    expectClose(left(sheet), 1.781, { tol: 0.001, source: practice });
    expectClose(left(drawn), 1.66, { tol: 0.001, source: practice });
  });

  it('decides on the least spot at the bridge, not on the mean or the lower bout', () => {
    const facts = build(read('T10.1', 2.61, 'bridge, treble side'), read('T10.1', 2.4, 'lower bout, centre'));
    expect(readingNumber(reading('T10.1'), facts.readings.get('T10.1') ?? [])).toBe(2.61);
  });

  it('lets the last reading of a spot stand, and what was read stand above what was aimed at', () => {
    const facts = build(
      ['own-figure-set', { figure: 'top.thickness.final', value: 2.9, unit: 'mm', reason: 'own target' }],
      read('T10.1', 3.1, 'bridge, treble side'),
      read('T10.1', 2.92, 'bridge, treble side'),
    );
    expect(numberOf(sheetOfBuild(route, steel, facts), 'top.thickness.final')).toBe(2.92);
    expect(numberOf(sheetOfBuild(route, steel, facts, 'top.thickness.final'), 'top.thickness.final')).toBe(
      2.9,
    );
  });

  it('mirrors the brace plan of a left-handed build only', () => {
    const left = build();
    const facts = { ...left, setUp: { ...left.setUp, handed: 'left' as const } } as BuildFacts;
    const x = (f: BuildFacts) =>
      JSON.stringify(
        sheetOfBuild(route, steel, f).cells[
          sheetOfBuild(route, steel, f).catalogue.indexById.get('brace.segments') as number
        ],
      );
    expect(x(facts)).not.toBe(x(left));
  });
});

describe('judgeReading', () => {
  it('judges a plate against its own target, not against what was just read', () => {
    const facts = build(
      ['own-figure-set', { figure: 'top.thickness.final', value: 2.9, unit: 'mm', reason: 'own target' }],
      read('T10.1', 2.7),
    );
    const c = context(facts);
    expect(limitsInBuild(c, reading('T10.1')).hard).toEqual({ low: 2.85, high: 3 });
    expect(judgeReading(c, reading('T10.1'), 2.92)?.state).toBe('met');
    expect(judgeReading(c, reading('T10.1'), 2.7)?.state).toBe('broken');
  });

  it('is doubtful nearer to the limit than the calliper repeats (0.03), and keeps the numbers it was judged by', () => {
    const v = judgeReading(context(build()), reading('T10.1'), 2.77);
    expect(v).toMatchObject({ state: 'doubtful', low: 2.75, aim: 2.8 });
    expect(v?.words).toBe(
      'thickness 2.77 mm, wanted between 2.75 and 2.9 mm: doubtful, nearer to the limit than the tool repeats; read it again.',
    );
    expect(judgeReading(context(build()), reading('T10.1'), 2.78)?.state).toBe('met');
  });

  it('gives the room three words', () => {
    const c = context(build());
    expect([34, 37, 45, 55, 60].map((v) => judgeReading(c, reading('R6.2'), v)?.state)).toEqual([
      'broken',
      'doubtful',
      'met',
      'doubtful',
      'broken',
    ]);
  });

  it('does not call the right value doubtful because the tool is coarse', () => {
    expect(judgeReading(context(build()), reading('F6.1'), 0)?.state).toBe('met');
    expect(judgeReading(context(build()), reading('F6.1'), 0.03)?.state).toBe('doubtful');
    expect(judgeReading(context(build()), reading('F6.1'), 0.06)?.state).toBe('broken');
  });

  it('judges by the mean of the own shop once there are five builds of the pattern', () => {
    const others = [110, 112, 108, 111, 109].map((hz) => build(read('U8.2', hz)));
    const mine = build();
    expect(shopMean(route, others.slice(0, 4), 'U8.2')).toBeUndefined();
    const c = { ...context(mine), builds: [...others, mine] };
    expectClose(limitsInBuild(c, reading('U8.2')).hard.low, 110 * 0.92, { tol: 1e-9, source: practice });
    expect(judgeReading({ ...c, builds: [] }, reading('R9.2'), 1)).toBeUndefined();
  });
});

describe('rescuesFor', () => {
  it('gives nothing for a reading that is met', () => {
    expect(rescuesFor(context(build()), 'T10', reading('T10.1'), 2.82)).toEqual([]);
  });

  it('computes what a thin plate asks of ring and bars', () => {
    const [r, ...rest] = rescuesFor(context(build()), 'T10', reading('T10.1'), 2.6);
    expect(rest).toEqual([]);
    expect(r).toMatchObject({ action: 'adjust', decision: 'carry on' });
    expect(r?.numbers.some((n) => n.figure === 'brace.x.height' && n.value > 15 && n.value < 16)).toBe(true);
  });

  it('says what replacing takes beyond the scrap limit: the steps done, their hours and rests, the wood', () => {
    const facts = build(
      ...['T1', 'T2', 'T3', 'T4', 'T5', 'T6', 'T7', 'T8', 'T9', 'T10'].map(
        (op) => ['step-done', { op }] as const,
      ),
    );
    const found = rescuesFor(context(facts), 'T10', reading('T10.1'), 2.46);
    expect(found.map((r) => [r.action, r.decision])).toEqual([
      ['stop', 'replace'],
      ['stop', 'replace'],
    ]);
    const hours = found[1]?.numbers[0]?.value;
    // likely minutes of T1 to T10: 25+15+12+20+25+10+20+20+15+15 = 177
    expectClose(hours, 177 / 60, { tol: 1e-9, source: 'from memory' });
    // usual rests: joint 24 h, ring 12 h
    expectClose(found[1]?.numbers[1]?.value, 36 / 24, { tol: 1e-9, source: 'from memory' });
    expect(found[1]?.sentence).toContain('2 top half 530 mm x 205 mm x 4.5 mm');
  });

  it('turns an action 0.5 too high into saddle or neck', () => {
    const facts = build(read('U6.1', 2.3), read('U6.2', 2.8));
    const [r] = rescuesFor(context(facts), 'U6', reading('U6.1'), 2.3);
    const value = (label: RegExp) => r?.numbers.find((n) => label.test(n.label))?.value;
    expectClose(value(/off the saddle/), 1, { tol: 1e-9, source: 'plane-geometry' });
    expectClose(value(/lean the neck back/), 0.203, { tol: 0.001, source: 'plane-geometry' });
    expectClose(value(/off the heel/), 0.33, { tol: 0.005, source: 'plane-geometry' });
  });

  it('moves a rest back by 1.09 mm for 3 cents at a scale of 628, when the saddle gives as much', () => {
    const [r] = rescuesFor(context(build()), 'U6', reading('U6.3'), 3);
    expectClose(r?.numbers[0]?.value, 1.09, { tol: 0.005, source: 'equal-temperament' });
    expect(r?.action).toBe('adjust');
    expect(rescuesFor(context(build()), 'U6', reading('U6.3'), 5)[0]?.action).toBe('stop');
  });
});
